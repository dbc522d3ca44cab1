//! How many to raise, so that at least so many turn out as wanted.
//!
//! The smallest n with P(X ≥ r) ≥ q, worked out exactly (J. R. Sedcole 1977, Crop Sci.
//! 17:667–668, gives tables of an approximation). Shares that are themselves known only from
//! counts are integrated over, not plugged in: a share with a beta distribution makes the count
//! beta-binomial (J. G. Skellam 1948, J. R. Stat. Soc. B 10:257–261).

use statrs::function::gamma::ln_gamma;

use super::Beta;

/// What is known of the share that passes one stage on the way, such as germination.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Share {
    /// The share itself.
    Exact(f64),
    /// A beta distribution over the share: as if `a` had passed and `b` had not.
    Beta {
        /// Passed; above 0.
        a: f64,
        /// Did not pass; above 0.
        b: f64,
    },
}

/// No more than this many are ever proposed.
pub const MOST: u32 = 100_000_000;

/// Where two or more shares are uncertain the work grows with the square of the number, so the
/// search stops here.
pub const MOST_UNCERTAIN: u32 = 8_192;

impl Share {
    /// The mean of what is known.
    pub fn mean(self) -> f64 {
        match self {
            Self::Exact(p) => p.clamp(0.0, 1.0),
            Self::Beta { a, b } if a > 0.0 && b > 0.0 => a / (a + b),
            Self::Beta { a, .. } => f64::from(u8::from(a > 0.0)),
        }
    }

    /// The exact share, if this is one; a beta distribution without both counts is one too.
    fn exact(self) -> Option<f64> {
        match self {
            Self::Beta { a, b } if a > 0.0 && b > 0.0 => None,
            _ => Some(self.mean()),
        }
    }
}

/// The chance that at least `r` of `n` come through every stage.
pub fn chance_of_at_least(r: u32, n: u32, stages: &[Share]) -> f64 {
    let p = exact_part(stages);
    let mut uncertain = uncertain_part(stages);
    match (r, uncertain.pop()) {
        (0, _) => 1.0,
        _ if r > n => 0.0,
        (_, None) => binomial_tail(r, n, p),
        (_, Some(first)) => {
            let table = chances(r, n, p, &uncertain);
            through(first, n, &table)
        }
    }
}

/// The fewest to start with so that at least `r` come through every stage with a chance of
/// `assurance`. Absent where no number up to [`MOST`] (or, with several uncertain shares,
/// [`MOST_UNCERTAIN`]) is enough.
pub fn fewest(r: u32, assurance: f64, stages: &[Share]) -> Option<u32> {
    if r == 0 || assurance <= 0.0 {
        return Some(0);
    }
    let p = exact_part(stages);
    let mut uncertain = uncertain_part(stages);
    if assurance >= 1.0 {
        return (p >= 1.0 && uncertain.is_empty()).then_some(r);
    }
    let Some(first) = uncertain.pop() else {
        return search(r, MOST, |n| binomial_tail(r, n, p) >= assurance);
    };
    if p >= 1.0 && uncertain.is_empty() {
        return search(r, MOST, |n| beta_binomial_tail(r, n, first) >= assurance);
    }
    let mut top = r.max(64);
    loop {
        top = top.saturating_mul(2).min(MOST_UNCERTAIN);
        let table = chances(r, top, p, &uncertain);
        let found = search(r, top, |n| through(first, n, &table) >= assurance);
        if found.is_some() || top == MOST_UNCERTAIN {
            return found;
        }
    }
}

/// The product of the shares that are known exactly: thinning twice is thinning by the product.
fn exact_part(stages: &[Share]) -> f64 {
    stages.iter().filter_map(|s| s.exact()).product()
}

fn uncertain_part(stages: &[Share]) -> Vec<(f64, f64)> {
    stages
        .iter()
        .filter_map(|s| match *s {
            Share::Beta { a, b } if s.exact().is_none() => Some((a, b)),
            _ => None,
        })
        .collect()
}

/// The smallest n from `low` to `high` that is enough, where more is never worse.
fn search(low: u32, high: u32, enough: impl Fn(u32) -> bool) -> Option<u32> {
    let (mut short, mut n) = (low.saturating_sub(1), low);
    while !enough(n) {
        if n >= high {
            return None;
        }
        short = n;
        n = n.saturating_mul(2).min(high);
    }
    while n - short > 1 {
        let middle = short + (n - short) / 2;
        if enough(middle) {
            n = middle;
        } else {
            short = middle;
        }
    }
    Some(n)
}

/// P(X ≥ r) of a binomial count of n with chance p, for r ≥ 1.
fn binomial_tail(r: u32, n: u32, p: f64) -> f64 {
    if r > n || p <= 0.0 {
        0.0
    } else if p >= 1.0 {
        1.0
    } else {
        Beta::new(f64::from(r), f64::from(n - r) + 1.0).below(p)
    }
}

/// P(X ≥ r) of a beta-binomial count of n, for r ≥ 1.
fn beta_binomial_tail(r: u32, n: u32, (a, b): (f64, f64)) -> f64 {
    if r > n {
        return 0.0;
    }
    let n = f64::from(n);
    let mut ln_chance = ln_gamma(b + n) - ln_gamma(b) + ln_gamma(a + b) - ln_gamma(a + b + n);
    let mut fewer = 0.0;
    for k in (0..r).map(f64::from) {
        fewer += ln_chance.exp();
        ln_chance += ((n - k) * (a + k) / ((k + 1.0) * (b + n - k - 1.0))).ln();
    }
    (1.0 - fewer).max(0.0)
}

/// The chance, for each count from 0 to `top` before the certain stages and these uncertain ones,
/// that at least r come through them.
fn chances(r: u32, top: u32, p: f64, uncertain: &[(f64, f64)]) -> Vec<f64> {
    let mut table: Vec<f64> = (0..=top).map(|n| binomial_tail(r, n, p)).collect();
    for &stage in uncertain {
        table = (0..=top).map(|n| through(stage, n, &table)).collect();
    }
    table
}

/// The mean of `table` over how many of `n` come through an uncertain stage. The beta-binomial
/// chances are built up each from the one before, up to a common factor that falls out at the
/// end and is cut down whenever it grows too large for a number.
fn through((a, b): (f64, f64), n: u32, table: &[f64]) -> f64 {
    const TOO_LARGE: f64 = 1e200;
    let whole = f64::from(n);
    let (mut k, mut weight, mut weights, mut sum) = (0.0, 1.0, 0.0, 0.0);
    for &then in table.iter().take(n as usize + 1) {
        weights += weight;
        sum += weight * then;
        weight *= (whole - k) * (a + k) / ((k + 1.0) * (b + whole - k - 1.0));
        k += 1.0;
        if weights > TOO_LARGE || weight > TOO_LARGE {
            weight /= TOO_LARGE;
            weights /= TOO_LARGE;
            sum /= TOO_LARGE;
        }
    }
    sum / weights
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The sum written out, to compare with.
    fn slow_tail(r: u32, n: u32, p: f64) -> f64 {
        let ln_choose = |n: u32, k: u32| {
            let g = |x: u32| ln_gamma(f64::from(x) + 1.0);
            g(n) - g(k) - g(n - k)
        };
        let term = |k: u32| {
            (ln_choose(n, k) + f64::from(k) * p.ln() + f64::from(n - k) * (1.0 - p).ln()).exp()
        };
        (r..=n).map(term).sum()
    }

    proptest! {
        #[test]
        fn the_fewest_is_enough_and_one_less_is_not(
            r in 1_u32..12, p in 0.02..0.95_f64, assurance in 0.05..0.99_f64
        ) {
            let stages = [Share::Exact(p)];
            let n = fewest(r, assurance, &stages).unwrap_or(0);
            prop_assert!(slow_tail(r, n, p) >= assurance - 1e-10);
            prop_assert!(n == r || slow_tail(r, n - 1, p) < assurance + 1e-10);
        }

        #[test]
        fn not_knowing_a_share_asks_for_more_seed(r in 1_u32..5, passed in 1_u32..40, of in 40_u32..60) {
            let (a, b) = (f64::from(passed) + 1.0, f64::from(of - passed) + 1.0);
            let known = fewest(r, 0.9, &[Share::Exact(a / (a + b))]);
            let counted = fewest(r, 0.9, &[Share::Beta { a, b }]);
            prop_assert!(counted >= known);
        }

        #[test]
        fn the_order_of_the_stages_does_not_matter(a in 0.5..9.0_f64, b in 0.5..9.0_f64, n in 5_u32..60) {
            let (x, y, z) = (Share::Beta { a, b }, Share::Exact(0.7), Share::Beta { a: b, b: 3.0 });
            let one = chance_of_at_least(3, n, &[x, y, z]);
            let other = chance_of_at_least(3, n, &[z, x, y]);
            prop_assert!((one - other).abs() < 1e-10, "{one} {other}");
            prop_assert!((-1e-12..=1.0 + 1e-12).contains(&one));
        }
    }

    #[test]
    fn a_share_known_from_very_many_is_as_good_as_exact() {
        let counted = [Share::Beta { a: 3e7, b: 7e7 }, Share::Beta { a: 6e7, b: 4e7 }];
        let exact = [Share::Exact(0.3), Share::Exact(0.6)];
        let (one, other) = (chance_of_at_least(4, 30, &counted), chance_of_at_least(4, 30, &exact));
        assert!((one - other).abs() < 1e-5, "{one} {other}");
    }

    /// A uniform share makes every count from 0 to n equally likely.
    #[test]
    fn a_share_of_which_nothing_is_known_makes_all_counts_alike() {
        let flat = [Share::Beta { a: 1.0, b: 1.0 }];
        assert!((chance_of_at_least(3, 9, &flat) - 0.7).abs() < 1e-12);
        assert_eq!(fewest(1, 0.95, &flat), Some(19));
    }

    #[test]
    fn what_cannot_be_reached_is_absent() {
        assert_eq!(fewest(1, 0.9, &[Share::Exact(0.0)]), None);
        assert_eq!(fewest(1, 1.0, &[Share::Exact(0.5)]), None);
        assert_eq!(fewest(3, 1.0, &[Share::Exact(1.0)]), Some(3));
        assert_eq!(fewest(0, 0.9, &[Share::Exact(0.0)]), Some(0));
        let poor = Share::Beta { a: 0.01, b: 5.0 };
        assert_eq!(fewest(1, 0.99, &[poor, poor]), None);
    }
}
