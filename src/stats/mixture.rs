//! A mixture of normal distributions, and what becomes of it when it is seen through Φ.

use super::{Interval, normal};

/// One of several normal distributions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Component {
    /// Its weight; all weights sum to 1.
    pub weight: f64,
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation, above 0.
    pub sd: f64,
}

/// The chance of a value below x.
pub fn below(mixture: &[Component], x: f64) -> f64 {
    mixture.iter().map(|c| c.weight * normal::below((x - c.mean) / c.sd)).sum()
}

/// The value with chance `p` below it, where `p` lies between 0 and 1.
pub fn quantile(mixture: &[Component], p: f64) -> f64 {
    let z = normal::quantile(p.clamp(1e-12, 1.0 - 1e-12));
    let each = || mixture.iter().map(|c| c.mean + z * c.sd);
    // It lies between the lowest and the highest of the components' own.
    let (mut low, mut high) =
        (each().fold(f64::INFINITY, f64::min), each().fold(f64::NEG_INFINITY, f64::max));
    let mut x = mixture.iter().map(|c| c.weight * (c.mean + z * c.sd)).sum::<f64>();
    for _ in 0..100 {
        let off = below(mixture, x) - p;
        if off < 0.0 {
            low = x;
        } else {
            high = x;
        }
        let density: f64 =
            mixture.iter().map(|c| c.weight / c.sd * normal::density((x - c.mean) / c.sd)).sum();
        let newton = x - off / density;
        let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
        let moved = (next - x).abs();
        x = next;
        if moved <= 1e-9 * (1.0 + x.abs()) {
            break;
        }
    }
    x
}

/// The chance Φ(x) with x spread like this: its mean, and the range that holds `level` of it with
/// as much left out below as above.
pub fn chance(mixture: &[Component], level: f64) -> Interval {
    let mean: f64 =
        mixture.iter().map(|c| c.weight * normal::below(c.mean / (1.0 + c.sd * c.sd).sqrt())).sum();
    let tail = 0.5 * (1.0 - level.clamp(0.0, 1.0));
    let [low, high] = [tail, 1.0 - tail].map(|p| normal::below(quantile(mixture, p)));
    Interval { p: mean, low, high, level }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TWO: [Component; 2] = [
        Component { weight: 0.3, mean: -1.0, sd: 0.1 },
        Component { weight: 0.7, mean: 0.5, sd: 0.8 },
    ];

    #[test]
    fn a_quantile_has_its_chance_below_it() {
        for p in [1e-6, 0.05, 0.29, 0.31, 0.5, 0.95, 1.0 - 1e-6] {
            assert!((below(&TWO, quantile(&TWO, p)) / p - 1.0).abs() < 1e-6, "{p}");
        }
    }

    #[test]
    fn the_mean_chance_is_what_summing_gives() {
        let steps = (-800..800).map(|i| f64::from(i) * 0.01);
        let mean: f64 = steps
            .map(|x| (below(&TWO, x + 0.01) - below(&TWO, x)) * normal::below(x + 0.005))
            .sum();
        let seen = chance(&TWO, 0.9);
        assert!((seen.p - mean).abs() < 1e-5, "{} {mean}", seen.p);
        assert!(seen.low < seen.p && seen.p < seen.high);
    }
}
