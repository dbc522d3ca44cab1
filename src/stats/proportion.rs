//! One share, k of n, and the difference of two, with their intervals.

use statrs::function::erf::erf_inv;

use super::Beta;

/// A figure with its spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The figure.
    pub p: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
    /// How often such an interval is meant to hold the truth: 0.95 for 95 %.
    pub level: f64,
}

/// The score interval of a share, k of n; `None` when n is 0.
///
/// E. B. Wilson 1927, J. Am. Stat. Assoc. 22:209–212. It keeps close to its level even for few
/// trials and for shares near 0 or 1, where the interval of the normal approximation collapses.
/// `k` above `n` counts as `n`; `level` lies between 0 and 1.
pub fn wilson(k: u32, n: u32, level: f64) -> Option<Interval> {
    if n == 0 {
        return None;
    }
    let k = k.min(n);
    let (p, n_trials) = (f64::from(k) / f64::from(n), f64::from(n));
    let z2 = z_squared(level);
    let centre = (p + z2 / (2.0 * n_trials)) / (1.0 + z2 / n_trials);
    let half =
        (z2 * (p * (1.0 - p) + z2 / (4.0 * n_trials)) / n_trials).sqrt() / (1.0 + z2 / n_trials);
    // At the ends the formula gives 0 and 1 but for rounding.
    let low = if k == 0 { 0.0 } else { (centre - half).clamp(0.0, p) };
    let high = if k == n { 1.0 } else { (centre + half).clamp(p, 1.0) };
    Some(Interval { p, low, high, level })
}

/// The equal-tailed posterior interval of a share under Jeffreys' prior, Beta(½, ½).
///
/// L. D. Brown, T. T. Cai, A. `DasGupta` 2001, Stat. Sci. 16:101–133, with their ends: 0 when none
/// of n, 1 when all. The figure is the posterior mean, (k + ½) / (n + 1).
pub fn jeffreys(k: u32, n: u32, level: f64) -> Interval {
    let k = k.min(n);
    let posterior = Beta::new(f64::from(k) + 0.5, f64::from(n - k) + 0.5);
    let mut interval = posterior.interval(level);
    if k == 0 {
        interval.low = 0.0;
    }
    if k == n {
        interval.high = 1.0;
    }
    interval
}

/// The difference of two shares, first less second, each as (k, n); `None` when an n is 0.
///
/// R. G. Newcombe 1998, Stat. Med. 17:873–890, method 10: the two score intervals squared and
/// added, without continuity correction.
pub fn difference(first: (u32, u32), second: (u32, u32), level: f64) -> Option<Interval> {
    let a = wilson(first.0, first.1, level)?;
    let b = wilson(second.0, second.1, level)?;
    let p = a.p - b.p;
    Some(Interval {
        p,
        low: p - (a.p - a.low).hypot(b.high - b.p),
        high: p + (a.high - a.p).hypot(b.p - b.low),
        level,
    })
}

/// The square of the normal deviate that `level` of a normal distribution lies within. The level
/// is kept off 0 and 1 so that the answer is finite.
fn z_squared(level: f64) -> f64 {
    let inner = if level.is_nan() { 0.95 } else { level.clamp(0.0, 1.0 - f64::EPSILON) };
    2.0 * erf_inv(inner).powi(2)
}
