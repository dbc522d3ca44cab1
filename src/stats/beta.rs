//! The beta distribution: what is believed of a share.

use statrs::function::gamma::ln_gamma;

use super::Interval;

/// Shapes are kept within these, so that every figure is finite. Above the upper end the
/// distribution is a point for all that anybody could count.
const SHAPES: (f64, f64) = (1e-3, 1e9);

/// A beta distribution.
///
/// The incomplete beta function here is our own because that of `statrs` stops its continued
/// fraction at 140 terms, which is too early for shapes in the hundred thousands, and its
/// inverse can fail to end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beta {
    a: f64,
    b: f64,
    /// Logarithm of the beta function of the shapes.
    ln_whole: f64,
}

impl Beta {
    /// The distribution with shapes `a` and `b`, both above 0.
    pub fn new(a: f64, b: f64) -> Self {
        let (a, b) = (a.max(SHAPES.0).min(SHAPES.1), b.max(SHAPES.0).min(SHAPES.1));
        Self { a, b, ln_whole: ln_gamma(a) + ln_gamma(b) - ln_gamma(a + b) }
    }

    /// Its mean.
    pub fn mean(&self) -> f64 {
        self.a / (self.a + self.b)
    }

    /// The probability of a share up to `x`.
    pub fn below(&self, x: f64) -> f64 {
        if x <= 0.0 {
            return 0.0;
        }
        if x >= 1.0 {
            return 1.0;
        }
        // The fraction converges fast on the near side of the bulk.
        if x <= (self.a + 1.0) / (self.a + self.b + 2.0) {
            self.weight(x) * fraction(self.a, self.b, x) / self.a
        } else {
            1.0 - self.weight(x) * fraction(self.b, self.a, 1.0 - x) / self.b
        }
        .clamp(0.0, 1.0)
    }

    /// The share below which lies the probability `p`.
    ///
    /// Newton's steps within a bracket that is halved where a step would leave it: the bracket
    /// closes for any shapes.
    pub fn quantile(&self, p: f64) -> f64 {
        if p.is_nan() || p <= 0.0 {
            return 0.0;
        }
        if p >= 1.0 {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        let mut x = self.mean();
        for _ in 0..100 {
            let over = self.below(x) - p;
            if over > 0.0 {
                high = x;
            } else {
                low = x;
            }
            let step = over * x * (1.0 - x) / self.weight(x);
            let newton = x - step;
            let next =
                if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
            let settled = (next - x).abs() <= 4.0 * f64::EPSILON * next;
            x = next;
            if settled {
                break;
            }
        }
        x
    }

    /// The mean with the equal-tailed range that holds `level` of the probability.
    pub fn interval(&self, level: f64) -> Interval {
        let tail = if level.is_nan() { 0.025 } else { (1.0 - level.clamp(0.0, 1.0)) / 2.0 };
        let low = self.quantile(tail);
        Interval { p: self.mean(), low, high: self.quantile(1.0 - tail).max(low), level }
    }

    /// x^a · (1 − x)^b / B(a, b), which is the density on the log-odds scale.
    fn weight(&self, x: f64) -> f64 {
        (self.a * x.ln() + self.b * (-x).ln_1p() - self.ln_whole).exp()
    }

    /// The same from the log-odds, right also where the share rounds to 0 or 1.
    fn weight_at(&self, log_odds: f64) -> f64 {
        let rest = (-log_odds.abs()).exp().ln_1p();
        let (ln_x, ln_rest) = (log_odds.min(0.0) - rest, -log_odds.max(0.0) - rest);
        (self.a * ln_x + self.b * ln_rest - self.ln_whole).exp()
    }

    /// The probability of log-odds up to this, right also where the share rounds to 0 or 1.
    fn below_at(&self, log_odds: f64) -> f64 {
        if log_odds > 0.0 {
            let mirrored = Self { a: self.b, b: self.a, ln_whole: self.ln_whole };
            1.0 - mirrored.below_at(-log_odds)
        } else if log_odds < -36.0 {
            // Out here the first term of the series is all of it.
            self.weight_at(log_odds) / self.a
        } else {
            self.below(1.0 / (1.0 + (-log_odds).exp()))
        }
    }

    /// The standard deviation of the log-odds, near enough.
    fn log_odds_sd(&self) -> f64 {
        (1.0 / self.a + 1.0 / self.b).sqrt()
    }
}

/// The continued fraction of the incomplete beta function, by the modified method of Lentz
/// (Press et al., Numerical Recipes, §6.4). It takes of the order of √max(a, b) terms.
fn fraction(a: f64, b: f64, x: f64) -> f64 {
    let off_zero = |v: f64| if v.abs() < 1e-300 { 1e-300 } else { v };
    let mut upper = 1.0;
    let mut lower = 1.0 / off_zero(1.0 - (a + b) * x / (a + 1.0));
    let mut value = lower;
    let mut term = 0.0;
    while term < 200_000.0 {
        term += 1.0;
        let even = term * (b - term) * x / ((a + 2.0 * term - 1.0) * (a + 2.0 * term));
        lower = 1.0 / off_zero(1.0 + even * lower);
        upper = off_zero(1.0 + even / upper);
        value *= lower * upper;
        let odd = -(a + term) * (a + b + term) * x / ((a + 2.0 * term) * (a + 2.0 * term + 1.0));
        lower = 1.0 / off_zero(1.0 + odd * lower);
        upper = off_zero(1.0 + odd / upper);
        let change = lower * upper;
        value *= change;
        if (change - 1.0).abs() <= f64::EPSILON {
            break;
        }
    }
    value
}

/// The probability that a share drawn from `a` is greater than one drawn from `b`.
///
/// The integral over the log-odds of the narrower distribution, by equal steps: on the whole
/// line the sum converges faster than any power of the step, and log-odds have no ends where
/// the integrand could be singular.
pub fn chance_greater(a: &Beta, b: &Beta) -> f64 {
    if b.log_odds_sd() < a.log_odds_sd() {
        return 1.0 - chance_greater(b, a);
    }
    let step = (a.log_odds_sd() / 3.0).min(0.25);
    let middle = (a.a / a.b).ln();
    let (mut sum, mut whole) = (0.0, 0.0);
    for side in [-1.0, 1.0] {
        let mut k = if side > 0.0 { 0.0 } else { 1.0 };
        loop {
            let log_odds = middle + side * step * k;
            let weight = a.weight_at(log_odds);
            sum += weight * b.below_at(log_odds);
            whole += weight;
            if weight < 1e-20 {
                break;
            }
            k += 1.0;
        }
    }
    (sum / whole).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(found: f64, expected: f64, tolerance: f64) {
        assert!((found - expected).abs() <= tolerance, "{found}, expected {expected}");
    }

    #[test]
    fn the_distribution_agrees_with_its_closed_forms() {
        for x in [0.001, 0.1, 0.37, 0.5, 0.9, 0.9999_f64] {
            close(Beta::new(1.0, 1.0).below(x), x, 1e-13);
            close(Beta::new(1.0, 7.0).below(x), 1.0 - (1.0 - x).powi(7), 1e-13);
            close(Beta::new(2.5, 1.0).below(x), x.powf(2.5), 1e-13);
            let arcsine = 2.0 / std::f64::consts::PI * x.sqrt().asin();
            close(Beta::new(0.5, 0.5).below(x), arcsine, 1e-13);
        }
    }

    #[test]
    fn large_and_small_shapes_are_right() {
        // Computed with scipy 1.17, betainc.
        close(Beta::new(250_000.5, 750_000.5).below(0.2505), 0.875_749_104_779_632, 1e-9);
        close(Beta::new(3.0, 100_000.0).below(1e-5), 0.080_304_156_195_560_53, 1e-10);
        close(Beta::new(0.001, 5.0).below(1e-6), 0.988_335_669_345_459_2, 1e-12);
        close(Beta::new(1e6, 2.0).below(0.999_999), 0.735_758_514_452_711_5, 1e-9);
    }

    #[test]
    fn quantiles_are_right() {
        // Computed with mpmath 1.4 to 17 digits, the last with scipy 1.17.
        for (a, b, p, x) in [
            (0.5, 20.5, 0.975, 0.116_638_982_904_875_43),
            (0.02, 0.98, 0.95, 0.079_392_496_480_465_66),
            (0.3, 0.2, 0.05, 0.000_765_869_475_819_206),
            (5.319_251, 16.418_59, 0.025, 0.092_908_218_559_139_7),
            (47.319_251, 90.5, 0.95, 0.410_936_977_572_941_6),
            (1234.5, 8766.5, 0.05, 0.118_070_745_250_505_24),
            (250_000.5, 750_000.5, 0.95, 0.250_712_776_234_098_66),
        ] {
            close(Beta::new(a, b).quantile(p), x, 1e-12);
        }
    }

    #[test]
    fn a_quantile_is_where_the_distribution_reaches_it() {
        for a in [0.001, 0.05, 0.5, 1.0, 3.3, 80.0, 5e4] {
            for b in [0.001, 0.05, 0.5, 1.0, 3.3, 80.0, 5e4] {
                let beta = Beta::new(a, b);
                for p in [0.001, 0.025, 0.3, 0.5, 0.95, 0.999] {
                    let x = beta.quantile(p);
                    let (under, over) =
                        (beta.below(x * (1.0 - 1e-12)), beta.below(x * (1.0 + 1e-12)));
                    // A share that rounds to 0 or 1 is as near as it gets.
                    let at_end = !(1e-15..=1.0 - 1e-15).contains(&x);
                    assert!(
                        at_end || (under <= p + 1e-9 && over >= p - 1e-9),
                        "({a}, {b}) at {p}: {x}"
                    );
                }
            }
        }
    }

    #[test]
    fn impossible_shapes_and_shares_give_figures_all_the_same() {
        for a in [f64::NAN, -1.0, 0.0, 1e-300, f64::INFINITY] {
            let beta = Beta::new(a, 2.0);
            let interval = beta.interval(0.9);
            assert!(interval.low <= interval.high && interval.high <= 1.0, "{a}: {interval:?}");
            let chance = chance_greater(&beta, &Beta::new(1.0, 1.0));
            assert!((0.0..=1.0).contains(&chance), "{a}: {chance}");
        }
        assert!(Beta::new(1.0, 1.0).quantile(f64::NAN).abs() < f64::EPSILON);
    }

    #[test]
    fn a_share_exceeds_its_like_half_the_time() {
        for (a, b) in [(0.001, 0.001), (0.05, 3.0), (1.0, 1.0), (30.0, 70.0), (1e5, 1e3)] {
            let beta = Beta::new(a, b);
            close(chance_greater(&beta, &beta), 0.5, 1e-9);
        }
        let (sure, open) = (Beta::new(1e6, 1e6), Beta::new(2.0, 2.0));
        close(chance_greater(&sure, &open), 0.5, 1e-9);
    }
}
