//! Seeded chance: the same seed throws the same garden on every machine.
//!
//! Only raw words are taken from the generator; how they become numbers is written down here, so
//! that no library update can change a garden that was made before.

use rand_chacha::{
    ChaCha8Rng,
    rand_core::{Rng, SeedableRng},
};

/// A seeded source of chance.
#[derive(Debug, Clone)]
pub struct Dice {
    words: ChaCha8Rng,
    spare: Option<f64>,
}

/// The nearest whole number that is not negative.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "clamped to the range of u32 just before"
)]
pub(super) fn whole(x: f64) -> u32 {
    x.round().clamp(0.0, f64::from(u32::MAX)) as u32
}

/// The nearest whole number that is not negative, as an index.
pub(super) fn index(x: f64) -> usize {
    usize::try_from(whole(x)).unwrap_or(usize::MAX)
}

impl Dice {
    /// Dice for one purpose. Purposes are kept apart, so that more throws for one do not change
    /// what another gets.
    pub fn new(seed: u64, purpose: u64) -> Self {
        let mut words = ChaCha8Rng::seed_from_u64(seed);
        words.set_stream(purpose);
        Self { words, spare: None }
    }

    /// A number from 0 up to, not including, 1.
    pub fn unit(&mut self) -> f64 {
        // 53 bits fill the mantissa exactly.
        (self.words.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number between two others.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number below `n`; 0 where `n` is 0.
    pub fn below(&mut self, n: usize) -> usize {
        let wide = u128::from(self.words.next_u64()) * (n as u128);
        usize::try_from(wide >> 64).unwrap_or_default()
    }

    /// A whole number from `low` up to and including `high`.
    pub fn from_to(&mut self, low: u32, high: u32) -> u32 {
        let n = usize::try_from(high.saturating_sub(low)).unwrap_or_default() + 1;
        low + u32::try_from(self.below(n)).unwrap_or_default()
    }

    /// True with probability `p`.
    pub fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    /// A standard normal deviate, by the polar method (Marsaglia & Bray 1964, SIAM Rev. 6:260).
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let x = 2.0 * self.unit() - 1.0;
            let y = 2.0 * self.unit() - 1.0;
            let s = x * x + y * y;
            if s > 0.0 && s < 1.0 {
                let scale = (-2.0 * s.ln() / s).sqrt();
                self.spare = Some(y * scale);
                return x * scale;
            }
        }
    }

    /// How many of `n` come true, each with probability `p`.
    pub fn of(&mut self, n: u32, p: f64) -> u32 {
        (0..n).map(|_| u32::from(self.chance(p))).sum()
    }

    /// A count with this mean, spread wider than chance alone would: seeds in a head, plants in a
    /// family. `unevenness` is the relative standard deviation of the mean itself.
    pub fn count(&mut self, mean: f64, unevenness: f64) -> u32 {
        let mean = mean * (unevenness * self.normal() - unevenness * unevenness / 2.0).exp();
        // Knuth's product of uniforms, in steps, so that the exponential cannot run to 0.
        let (mut left, mut count) = (mean.clamp(0.0, 1e5), 0);
        while left > 0.0 {
            let step = left.min(30.0);
            left -= step;
            let floor = (-step).exp();
            let mut product = self.unit();
            while product > floor {
                count += 1;
                product *= self.unit();
            }
        }
        count
    }

    /// One of a list; `None` of an empty one.
    pub fn one<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        list.get(self.below(list.len()))
    }

    /// One of a list of words; empty of an empty one.
    pub fn word<'a>(&mut self, list: &[&'a str]) -> &'a str {
        self.one(list).copied().unwrap_or_default()
    }

    /// The index of one of several, by weight; 0 where no weight is positive.
    pub fn weighted(&mut self, weights: &[f64]) -> usize {
        let mut left = self.unit() * weights.iter().sum::<f64>();
        for (i, weight) in weights.iter().enumerate() {
            left -= weight;
            if left < 0.0 {
                return i;
            }
        }
        weights.iter().rposition(|w| *w > 0.0).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_and_purpose_throw_the_same() {
        let throws = |seed, purpose| {
            let mut dice = Dice::new(seed, purpose);
            (0..20).map(|_| dice.below(1000)).collect::<Vec<_>>()
        };
        assert_eq!(throws(7, 1), throws(7, 1));
        assert_ne!(throws(7, 1), throws(7, 2));
        assert_ne!(throws(7, 1), throws(8, 1));
    }

    #[test]
    fn deviates_and_counts_have_the_mean_and_spread_they_claim() {
        let mut dice = Dice::new(1, 1);
        let n = 20_000;
        let drawn: Vec<f64> = (0..n).map(|_| dice.normal()).collect();
        let mean = drawn.iter().sum::<f64>() / f64::from(n);
        let var = drawn.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / f64::from(n);
        assert!(mean.abs() < 0.03 && (var - 1.0).abs() < 0.04, "{mean} {var}");
        let total: u32 = (0..n).map(|_| dice.count(70.0, 0.5)).sum();
        assert!((f64::from(total) / f64::from(n) - 70.0).abs() < 1.5, "{total}");
        let hits = (0..n).filter(|_| dice.weighted(&[1.0, 0.0, 3.0]) == 2).count();
        assert!((hits as f64 / f64::from(n) - 0.75).abs() < 0.02, "{hits}");
    }
}
