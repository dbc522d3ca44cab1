//! How wide the ranges of rates are.

use crate::merit::{self, Interval};

/// How wide the ranges are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Levels {
    /// Of a plain rate.
    pub rate: f64,
    /// Of a rate steadied by all the others.
    pub shrunk: f64,
}

impl Default for Levels {
    fn default() -> Self {
        Self { rate: 0.95, shrunk: 0.90 }
    }
}

impl Levels {
    /// All ranges at one level.
    pub fn all(level: f64) -> Self {
        Self { rate: level, shrunk: level }
    }

    /// `k` of `n` with its range; none where there is nothing to judge by.
    pub fn rate(self, k: u32, n: u32) -> Option<Interval> {
        merit::share(k, n, self.rate)
    }
}
