//! What choosing the best of some number brings, in a trait that is normally distributed.
//!
//! Source: D. S. Falconer & T. F. C. Mackay 1996, *Introduction to Quantitative Genetics*, 4th
//! ed., chapters 11 and 19 and appendix tables A and B.

use statrs::function::gamma::ln_gamma;

use super::{
    dense::{Factor, dot, times},
    normal,
};

/// Where the share `p` of a large population is chosen by truncation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Truncation {
    /// The point of truncation, in standard deviations from the mean.
    pub point: f64,
    /// The mean of the chosen, in standard deviations from the mean: φ(x)/p.
    pub intensity: f64,
    /// The share of the variance that is lost among the chosen: i(i − x).
    pub variance_lost: f64,
}

/// Choosing the share `p` of a large population. Choosing all changes nothing; a share that is
/// not above 0 is taken for the smallest that is.
pub fn truncation(p: f64) -> Truncation {
    if p >= 1.0 || p.is_nan() {
        return Truncation { point: f64::NEG_INFINITY, intensity: 0.0, variance_lost: 0.0 };
    }
    let p = p.max(f64::MIN_POSITIVE);
    let point = -normal::quantile(p);
    let intensity = normal::density(point) / p;
    Truncation { point, intensity, variance_lost: intensity * (intensity - point) }
}

/// The integral of a bump of about this width around `centre` that dies out smoothly at both
/// sides. For such a function the plain sum over even steps is accurate to the last digits (L. N.
/// Trefethen & J. A. C. Weideman 2014, SIAM Rev. 56:385–458).
fn integral(centre: f64, width: f64, of: impl Fn(f64) -> f64) -> f64 {
    const A_WIDTH: i32 = 8;
    const FAR: i32 = 40 * A_WIDTH;
    let step = width / f64::from(A_WIDTH);
    (-FAR..=FAR).map(|k| of(centre + f64::from(k) * step)).sum::<f64>() * step
}

/// About where the value with `worse` of n below it and `better` above it lies, and how far it
/// spreads.
fn about(worse: f64, better: f64) -> (f64, f64) {
    let n = worse + better + 1.0;
    let share = (worse + 0.625) / (n + 0.25);
    let centre = normal::quantile(share);
    let width = (share * (1.0 - share) / (n + 1.0)).sqrt() / normal::density(centre);
    (centre, width)
}

/// The expected value of the `rank`-th best of `n`, in standard deviations from the mean; rank 1
/// is the best. Absent where there is no such rank.
///
/// Source: H. L. Harter 1961, Biometrika 48:151–165.
pub fn expected_rank(rank: u32, n: u32) -> Option<f64> {
    if rank == 0 || rank > n {
        return None;
    }
    let (better, worse) = (f64::from(rank - 1), f64::from(n - rank));
    let ln_ways = ln_gamma(f64::from(n) + 1.0) - ln_gamma(better + 1.0) - ln_gamma(worse + 1.0);
    let (centre, width) = about(worse, better);
    Some(integral(centre, width, |x| {
        let ln_chance = ln_ways + worse * normal::ln_below(x) + better * normal::ln_below(-x);
        x * normal::density(x) * ln_chance.exp()
    }))
}

/// The mean of the best `chosen` of `n`, in standard deviations from the mean: the intensity of
/// selection in a small population. 0 where none or all are chosen.
///
/// One value x is among the best s of n if at most s − 1 of the others are above it, so that the
/// mean is n/s ∫ x φ(x) P(Bin(n − 1, 1 − Φ(x)) < s) dx, or, by parts, n/s ∫ φ²(x) β(Φ(x)) dx with
/// β the density of the beta distribution (n − s, s).
pub fn intensity(chosen: u32, n: u32) -> f64 {
    if chosen == 0 || chosen >= n {
        return 0.0;
    }
    let (s, rest, n) = (f64::from(chosen), f64::from(n - chosen), f64::from(n));
    let ln_ways = ln_gamma(n) - ln_gamma(s) - ln_gamma(rest);
    let (better, worse) = (s - 1.0, rest - 1.0);
    let (centre, width) = about(worse, better);
    let mean = integral(centre, width, |x| {
        let ln_beta = ln_ways + worse * normal::ln_below(x) + better * normal::ln_below(-x);
        normal::density(x).powi(2) * ln_beta.exp()
    });
    mean * n / s
}

/// The approximation of P. M. Burrows 1972, Biometrics 28:1091–1100, to [`intensity`]:
/// i − (n − s)/(2s(n + 1)i).
pub fn intensity_burrows(chosen: u32, n: u32) -> f64 {
    if chosen == 0 || chosen >= n {
        return 0.0;
    }
    let (s, n) = (f64::from(chosen), f64::from(n));
    let i = truncation(s / n).intensity;
    i - (n - s) / (2.0 * s * (n + 1.0) * i)
}

/// The response of a trait to one round of selection on itself, `i h² σ_P`.
pub fn response(intensity: f64, heritability: f64, sd: f64) -> f64 {
    intensity * heritability * sd
}

/// The response of trait y to selection on trait x, `i h_x h_y r_A σ_Py`; `root_h2` are `h_x` and
/// `h_y`, the square roots of the heritabilities.
pub fn correlated_response(
    intensity: f64,
    root_h2: [f64; 2],
    genetic_correlation: f64,
    sd_y: f64,
) -> f64 {
    intensity * root_h2[0] * root_h2[1] * genetic_correlation * sd_y
}

/// The usefulness of a cross, `μ + i h σ_g`: the expected genetic value of those chosen from it.
///
/// Source: F. W. Schnell & H. F. Utz 1975, in *Bericht über die Arbeitstagung der Vereinigung
/// österreichischer Pflanzenzüchter*.
pub fn usefulness(mean: f64, intensity: f64, root_h2: f64, genetic_sd: f64) -> f64 {
    mean + intensity * root_h2 * genetic_sd
}

/// A selection index over several measured traits.
#[derive(Debug, Clone, PartialEq)]
pub struct Index {
    /// The factor of each measured trait.
    pub factors: Vec<f64>,
    /// The standard deviation of the index.
    pub sd: f64,
    /// The correlation of the index with what is wanted.
    pub accuracy: f64,
    /// What one unit of intensity brings in each trait that is weighted.
    pub responses: Vec<f64>,
}

/// The index whose choice brings the most of what is wanted, b = P⁻¹Gv. Source: H. F. Smith
/// 1936, Ann. Eugen. 7:240–250; L. N. Hazel 1943, Genetics 28:476–490.
///
/// With m measured and w wanted traits: `phenotypic` is the m × m matrix P of their variances,
/// `genetic` the m × w matrix G of covariances between measured and wanted, `wanted` the w × w
/// matrix of genetic variances of the wanted, each by rows; `weights` are the w weights v. A
/// trait that is a combination of others has the factor 0.
pub fn index(phenotypic: &[f64], genetic: &[f64], wanted: &[f64], weights: &[f64]) -> Index {
    let per_measured: Vec<f64> = times(genetic, weights);
    let factors = Factor::of(phenotypic, per_measured.len()).solve(&per_measured);
    let sd = dot(&factors, &times(phenotypic, &factors)).max(0.0).sqrt();
    let goal = dot(weights, &times(wanted, weights)).max(0.0).sqrt();
    let share = |x: f64, of: f64| if of > 0.0 { x / of } else { 0.0 };
    let responses = (0..weights.len())
        .map(|j| {
            let with: f64 = factors
                .iter()
                .zip(genetic.chunks_exact(weights.len()))
                .map(|(b, g)| b * g[j])
                .sum();
            share(with, sd)
        })
        .collect();
    Index { factors, sd, accuracy: share(sd, goal), responses }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn choosing_all_or_none_brings_nothing() {
        assert!(truncation(1.0).intensity.abs() < 1e-15);
        assert!(truncation(0.0).intensity.is_finite());
        assert!(intensity(5, 5).abs() < 1e-15 && intensity(0, 5).abs() < 1e-15);
        assert_eq!(expected_rank(6, 5), None);
        assert!(expected_rank(1, 1).is_some_and(|x| x.abs() < 1e-14));
    }

    #[test]
    fn the_mean_of_the_best_is_the_mean_of_their_ranks() {
        for (chosen, n) in [(1, 2), (3, 7), (10, 250), (999, 1000)] {
            let ranks: f64 = (1..=chosen).filter_map(|k| expected_rank(k, n)).sum();
            assert!((intensity(chosen, n) - ranks / f64::from(chosen)).abs() < 1e-9);
        }
    }

    #[test]
    fn a_large_population_is_near_the_endless_one() {
        assert!((intensity(100_000, 1_000_000) - truncation(0.1).intensity).abs() < 1e-5);
    }

    #[test]
    fn an_index_of_useless_measurements_chooses_nothing() {
        let none = index(&[0.0], &[0.0], &[1.0], &[1.0]);
        assert_eq!((none.sd, none.accuracy), (0.0, 0.0));
        assert!(none.responses.iter().all(|r| r.is_finite()));
    }
}
