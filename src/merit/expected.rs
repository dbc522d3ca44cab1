//! How many of so many will come through, where the share is known only from counts.

use crate::book::Usual;
use crate::stats::numbers::{Share, chance_of_at_least};

/// How many may be expected to come through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// On average.
    pub n: f64,
    /// At least so many, with the chance below.
    pub low: u32,
    /// And at most so many.
    pub high: u32,
    /// The chance that it is between the two, with as much left out below as above.
    pub level: f64,
}

/// How many of `n` will come through, when `k` of `of` came through before, drawn towards the
/// usual share. The range takes in both that the share is uncertain and the luck of the draw.
/// None where nothing was seen before and nothing is usual.
pub fn expected(n: u32, (k, of): (u32, u32), usual: &Usual, level: f64) -> Option<Expected> {
    let value = usual.value.clamp(0.0, 1.0);
    let worth = usual.worth.max(0.0);
    let a = f64::from(k.min(of)) + value * worth;
    let b = f64::from(of - k.min(of)) + (1.0 - value) * worth;
    if a + b <= 0.0 {
        return None;
    }
    let share = Share::Beta { a, b };
    let tail = (1.0 - level) / 2.0;
    // The most of which it is still true that at least so many come through with a chance.
    let most = |enough: &dyn Fn(f64) -> bool| {
        let (mut yes, mut no) = (0, n.saturating_add(1));
        while no - yes > 1 {
            let middle = yes + (no - yes) / 2;
            if enough(chance_of_at_least(middle, n, &[share])) {
                yes = middle;
            } else {
                no = middle;
            }
        }
        yes
    };
    Some(Expected {
        n: f64::from(n) * share.mean(),
        low: most(&|chance| chance >= 1.0 - tail),
        high: most(&|chance| chance > tail),
        level,
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn usual(value: f64, worth: f64) -> Usual {
        Usual { value, worth, source: "".into() }
    }

    /// From the probabilities of the beta-binomial, summed one by one: of 20 with 8.25 and 1.75
    /// the mean is 16.5 and the 5 % and 95 % quantiles are 11 and 20; with 90 and 10 they are 18,
    /// 15 and 20.
    #[test]
    fn ranges_are_those_of_the_beta_binomial() {
        let before = expected(20, (0, 0), &usual(0.825, 10.0), 0.9).unwrap();
        assert!((before.n - 16.5).abs() < 1e-9, "{before:?}");
        assert_eq!((before.low, before.high), (11, 20));
        let after = expected(20, (90, 100), &usual(0.5, 0.0), 0.9).unwrap();
        assert_eq!((after.low, after.high), (15, 20));
    }

    #[test]
    fn nothing_is_expected_out_of_nothing() {
        assert_eq!(expected(20, (0, 0), &usual(0.0, 0.0), 0.9), None);
        let none = expected(0, (3, 9), &usual(0.5, 1.0), 0.9).unwrap();
        assert_eq!((none.low, none.high), (0, 0));
    }
}
