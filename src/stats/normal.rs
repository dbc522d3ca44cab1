//! The standard normal distribution, accurate to the last digits far into its tails.
//!
//! Source: W. J. Cody 1969, Math. Comp. 23:631–637, in the form of W. J. Cody 1993, ACM Trans.
//! Math. Softw. 19:22–32 (algorithm 715, ANORM).

use std::f64::consts::SQRT_2;

use statrs::function::erf::erfc_inv;

/// 1/√(2π).
const FRAC_1_SQRT_2PI: f64 = 0.398_942_280_401_432_7;
/// ln √(2π).
const LN_SQRT_2PI: f64 = 0.918_938_533_204_672_8;
/// Up to here around 0 the first approximation holds.
const NEAR: f64 = 0.674_489_75;
/// From here outwards the third one holds: √32.
const FAR: f64 = 5.656_854_249_492_381;

/// The density φ(x).
pub fn density(x: f64) -> f64 {
    (-0.5 * x * x - LN_SQRT_2PI).exp()
}

/// The chance Φ(x) of a value below x.
pub fn below(x: f64) -> f64 {
    let z = x.abs();
    if z <= NEAR {
        return 0.5 + middle(x);
    }
    let tail = bell(z) * if z < FAR { shoulder(z) } else { far_tail(z) };
    if x < 0.0 { tail } else { 1.0 - tail }
}

/// The chance 1 − Φ(x) of a value above x, without cancellation.
pub fn above(x: f64) -> f64 {
    below(-x)
}

/// ln Φ(x), finite for every x that can be squared.
pub fn ln_below(x: f64) -> f64 {
    ln_below_and_slope(x).0
}

/// φ(x)/Φ(x), the slope of ln Φ(x): near 0 for large x, near −x far below 0.
pub fn slope_of_ln_below(x: f64) -> f64 {
    ln_below_and_slope(x).1
}

/// ln Φ(x) and its slope, for less than the two apart would take.
pub fn ln_below_and_slope(x: f64) -> (f64, f64) {
    if x > -FAR {
        let below = below(x);
        (below.ln(), density(x) / below)
    } else {
        let tail = far_tail(-x);
        (tail.ln() - 0.5 * x * x, FRAC_1_SQRT_2PI / tail)
    }
}

/// The value with chance `p` below it, Φ⁻¹(p). Shares of 0 and below give −∞, of 1 and above +∞.
pub fn quantile(p: f64) -> f64 {
    if p <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if p >= 1.0 {
        return f64::INFINITY;
    }
    // The lower half keeps small shares exact. The first guess is good to ten digits; a step of
    // Newton on ln Φ makes it good to all.
    let lower = p.min(1.0 - p);
    let guess = -SQRT_2 * erfc_inv(2.0 * lower);
    let x = guess - (ln_below(guess) - lower.ln()) / slope_of_ln_below(guess);
    if p <= 0.5 { x } else { -x }
}

/// exp(−z²/2), with z² taken apart so that its rounding does no harm.
fn bell(z: f64) -> f64 {
    let coarse = (z * 16.0).trunc() / 16.0;
    (-0.5 * coarse * coarse).exp() * (-0.5 * (z - coarse) * (z + coarse)).exp()
}

/// The value of a polynomial whose coefficients stand with the highest power first.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().fold(0.0, |sum, c| sum * x + c)
}

/// Φ(x) − ½ near the middle.
fn middle(x: f64) -> f64 {
    const OVER: [f64; 5] = [
        0.065_682_337_918_207_45,
        2.235_252_035_460_684,
        161.028_231_068_555_88,
        1_067.689_485_460_371,
        18_154.981_253_343_56,
    ];
    const UNDER: [f64; 5] = [
        1.0,
        47.202_581_904_688_245,
        976.098_551_737_776_7,
        10_260.932_208_618_979,
        45_507.789_335_026_73,
    ];
    x * polynomial(&OVER, x * x) / polynomial(&UNDER, x * x)
}

/// (1 − Φ(z))/exp(−z²/2) on the shoulders.
fn shoulder(z: f64) -> f64 {
    const OVER: [f64; 9] = [
        1.076_557_677_372_019_2e-8,
        0.398_941_512_088_134_66,
        8.883_149_794_388_377,
        93.506_656_132_177_85,
        597.270_276_394_800_2,
        2_494.537_585_290_372_6,
        6_848.190_450_536_283,
        11_602.651_437_647_35,
        9_842.714_838_383_978,
    ];
    const UNDER: [f64; 9] = [
        1.0,
        22.266_688_044_328_117,
        235.387_901_782_625,
        1_519.377_599_407_554_7,
        6_485.558_298_266_761,
        18_615.571_640_885_097,
        34_900.952_721_145_98,
        38_912.003_286_093_27,
        19_685.429_676_859_99,
    ];
    polynomial(&OVER, z) / polynomial(&UNDER, z)
}

/// (1 − Φ(z))/exp(−z²/2) far out.
fn far_tail(z: f64) -> f64 {
    const OVER: [f64; 6] = [
        0.023_073_441_764_940_174,
        0.215_898_534_057_957,
        0.127_401_161_160_247_36,
        0.022_235_277_870_649_807,
        0.001_421_619_193_227_893_4,
        2.911_287_495_116_879_3e-5,
    ];
    const UNDER: [f64; 6] = [
        1.0,
        1.284_260_096_144_911,
        0.468_238_212_480_865_1,
        0.065_988_137_868_928_56,
        0.003_782_396_332_027_582_4,
        7.297_515_550_839_662e-5,
    ];
    let small = 1.0 / (z * z);
    (FRAC_1_SQRT_2PI - small * polynomial(&OVER, small) / polynomial(&UNDER, small)) / z
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed with 50 digits by Laplace's continued fraction.
    #[test]
    fn tails_keep_their_relative_accuracy() {
        for (x, p) in [
            (-0.5, 0.308_537_538_725_986_9),
            (-1.0, 0.158_655_253_931_457_05),
            (-2.5, 0.006_209_665_325_776_135),
            (-5.0, 2.866_515_718_791_939e-7),
            (-6.0, 9.865_876_450_376_98e-10),
            (-10.0, 7.619_853_024_160_526e-24),
            (-30.0, 4.906_713_927_148_187e-198),
        ] {
            assert!((below(x) / p - 1.0).abs() < 4e-15, "{x}: {:e}", below(x) / p - 1.0);
            assert!((quantile(p) / x - 1.0).abs() < 4e-15, "{x}: {:e}", quantile(p) - x);
            assert!((ln_below(x) / p.ln() - 1.0).abs() < 4e-15, "{x}: {:e}", ln_below(x));
        }
        assert!((ln_below(-40.0) + 804.608_442_013_753_8).abs() < 1e-12);
    }

    #[test]
    fn the_halves_mirror_each_other() {
        for x in [0.1, 0.6745, 1.0, 3.0, 5.7] {
            assert!((below(x) + above(x) - 1.0).abs() < 1e-15, "{x}");
            assert!((quantile(below(x)) - x).abs() < 1e-15 * (x + 1.0 / density(x)), "{x}");
        }
    }

    #[test]
    fn the_slope_is_that_of_the_logarithm() {
        for x in [-50.0, -5.7, -5.6, -1.0, 0.0, 2.0] {
            let steep = (ln_below(x + 1e-5) - ln_below(x - 1e-5)) / 2e-5;
            assert!((slope_of_ln_below(x) - steep).abs() < 1e-6, "{x}");
        }
    }

    #[test]
    fn the_ends_are_infinite() {
        assert!(quantile(0.0) < f64::MIN && quantile(1.0) > f64::MAX);
        assert!(quantile(0.5).abs() < 1e-15);
        assert!(ln_below(-1e6).is_finite());
    }
}
