//! Rates with their spread.

/// An estimate of a share, between 0 and 1, with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// The estimate.
    pub p: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
    /// The probability that the range is meant to hold the truth with.
    pub level: f64,
}

/// How wide the ranges are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Levels {
    /// Of the plain rate.
    pub rate: f64,
    /// Of the rate drawn towards the others.
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

    /// The plain rate of `k` in `n`; none where there is nothing to judge by.
    pub fn rate(self, k: u32, n: u32) -> Option<Rate> {
        if n == 0 {
            return None;
        }
        let (k, n, z) = (f64::from(k), f64::from(n), 1.959_964);
        let (p, z2) = (k / n, z * z / n);
        let middle = (p + z2 / 2.0) / (1.0 + z2);
        let half = (p * (1.0 - p) * z2 + z2 * z2 / 4.0).sqrt() / (1.0 + z2);
        Some(Rate { p, low: middle - half, high: middle + half, level: self.rate })
    }
}
