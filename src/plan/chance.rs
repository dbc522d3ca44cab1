//! Seeded chance for playing seasons through, and reading ranges off what came.

use rand_chacha::{
    ChaCha8Rng,
    rand_core::{Rng, SeedableRng},
};

/// A stream of chance that is the same every time.
pub(super) struct Chance(ChaCha8Rng);

impl Chance {
    pub(super) fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number from 0 up to 1.
    pub(super) fn share(&mut self) -> f64 {
        // 53 bits fill the mantissa exactly.
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A whole number below `n`, which is not 0.
    pub(super) fn below(&mut self, n: usize) -> usize {
        let high = (u128::from(self.0.next_u64()) * n as u128) >> 64;
        usize::try_from(high).unwrap_or_default()
    }
}

/// The value that so many hundredths of a sorted list lie below.
pub(super) fn hundredth<T: Copy + Default>(sorted: &[T], hundredths: usize) -> T {
    let last = sorted.len().saturating_sub(1);
    sorted.get((last * hundredths + 50) / 100).copied().unwrap_or_default()
}
