//! Unknowns with a normal prior, seen through counts: where their posterior peaks, and how wide
//! it is there.

use std::sync::Arc;

use super::super::{dense::dot, sparse};
use super::{Link, Observation, likelihood::Local};

/// The unknowns: a normal prior by its mean and the inverse of its covariance, and the pattern of
/// the observations.
#[derive(Debug, Clone)]
pub struct Latent {
    link: Link,
    mean: Vec<f64>,
    ln_det_precision: f64,
    prior: sparse::Symmetric,
    plan: Arc<sparse::Plan>,
    /// For each observation: the unknowns it touches, and where each pair of them stands in the
    /// matrix (the lower triangle, by rows).
    touched: Vec<(Vec<usize>, Vec<usize>)>,
}

/// The peak of a posterior and the normal approximation around it.
#[derive(Debug, Clone)]
pub struct Mode {
    /// The unknowns at the peak.
    pub at: Vec<f64>,
    /// ln of the likelihood with the unknowns integrated out, by Laplace's approximation.
    pub ln_evidence: f64,
    /// Whether the curvature is the very one at the peak. With candidate routes that can fail to
    /// be positive definite, and the expected curvature takes its place.
    pub is_exact: bool,
    ldl: sparse::Ldl,
}

/// When a step promises to gain less than this in ln posterior, the peak is near.
const NEAR: f64 = 1e-9;
const MOST_STEPS: usize = 100;

impl Latent {
    /// Unknowns with this prior: their means, and the entries (row, column, value) of one
    /// triangle of the inverse of their covariance with ln of its determinant. Only the pattern
    /// of the observations is looked at here; [`Latent::mode`] takes any with the same pattern.
    pub fn new(
        link: Link,
        mean: Vec<f64>,
        precision: Vec<(usize, usize, f64)>,
        ln_det_precision: f64,
        pattern: &[Observation],
    ) -> Self {
        let n = mean.len();
        let lists: Vec<Vec<usize>> = pattern
            .iter()
            .map(|observation| {
                let parts = observation.routes.iter().flat_map(|route| &route.parts);
                let mut unknowns: Vec<usize> = parts.map(|&(unknown, _)| unknown).collect();
                unknowns.sort_unstable();
                unknowns.dedup();
                unknowns
            })
            .collect();
        let pairs = lists.iter().flat_map(|list| {
            list.iter().enumerate().flat_map(|(i, &a)| list[..=i].iter().map(move |&b| (a, b, 0.0)))
        });
        let prior = sparse::Symmetric::new(n, precision.into_iter().chain(pairs));
        let touched = lists
            .into_iter()
            .map(|list| {
                let places = list.iter().enumerate().flat_map(|(i, &a)| {
                    let prior = &prior;
                    list[..=i].iter().filter_map(move |&b| prior.position(a, b))
                });
                let places = places.collect();
                (list, places)
            })
            .collect();
        let plan = Arc::new(sparse::Plan::of(&prior, 0));
        Self { link, mean, ln_det_precision, prior, plan, touched }
    }

    /// Searches for the peak, from `start` if one near it is known. None where it cannot be found,
    /// which takes numbers that are none.
    pub fn mode(&self, observations: &[Observation], start: Option<&[f64]>) -> Option<Mode> {
        let mut at = start.map_or_else(|| self.mean.clone(), <[f64]>::to_vec);
        let mut here = self.look(observations, &at)?;
        let (mut ldl, mut is_exact) = self.factor(observations, &here)?;
        for _ in 0..MOST_STEPS {
            let step = ldl.solve(&here.slopes);
            let promised = dot(&step, &here.slopes);
            if promised.is_nan() {
                return None;
            }
            // One step more from so near doubles the digits; the determinant below needs them.
            let is_near = promised < NEAR;
            let Some((x, look)) = self.step(observations, &at, &here, &step, is_near) else {
                break;
            };
            (at, here) = (x, look);
            (ldl, is_exact) = self.factor(observations, &here)?;
            if is_near {
                break;
            }
        }
        let (ln_det, _) = ldl.ln_dets();
        let ln_evidence = here.ln_posterior + 0.5 * (self.ln_det_precision - ln_det);
        Some(Mode { at, ln_evidence, is_exact, ldl })
    }

    /// A step towards the peak, halved until it does not lead down; near the peak, where only
    /// rounding could do that, taken as it is.
    fn step(
        &self,
        observations: &[Observation],
        at: &[f64],
        here: &Look,
        step: &[f64],
        is_near: bool,
    ) -> Option<(Vec<f64>, Look)> {
        let mut share = 1.0;
        while share > 1e-10 {
            let x: Vec<f64> = at.iter().zip(step).map(|(x, step)| x + share * step).collect();
            let look = self.look(observations, &x);
            if let Some(look) = look.filter(|l| is_near || l.ln_posterior >= here.ln_posterior) {
                return Some((x, look));
            }
            share *= 0.5;
        }
        None
    }

    /// The curvature taken apart: the very one where it is positive definite, else the one to be
    /// expected.
    fn factor(&self, observations: &[Observation], look: &Look) -> Option<(sparse::Ldl, bool)> {
        let exact = self.plan.factor(&self.curvature(observations, look, |l| &l.curves));
        exact.map(|ldl| (ldl, true)).or_else(|| {
            let safe = self.curvature(observations, look, |l| &l.safe);
            Some((self.plan.factor(&safe)?, false))
        })
    }

    fn look(&self, observations: &[Observation], x: &[f64]) -> Option<Look> {
        let away: Vec<f64> = x.iter().zip(&self.mean).map(|(x, mean)| x - mean).collect();
        let pull = self.prior.times(&away);
        let mut ln_posterior = -0.5 * dot(&away, &pull);
        let mut slopes: Vec<f64> = pull.iter().map(|pull| -pull).collect();
        let mut locals = Vec::with_capacity(observations.len());
        let mut eta = Vec::new();
        for observation in observations {
            if let [route] = &observation.routes[..] {
                let sum: f64 = route.parts.iter().map(|&(i, value)| value * x[i]).sum();
                let (ln, slope, curve) = observation.alone(self.link, route.offset + sum);
                ln_posterior += ln;
                for &(unknown, value) in &route.parts {
                    slopes[unknown] += slope * value;
                }
                locals.push(At::Alone(curve));
                continue;
            }
            eta.clear();
            eta.extend(observation.routes.iter().map(|route| {
                let sum: f64 = route.parts.iter().map(|&(i, value)| value * x[i]).sum();
                route.offset + sum
            }));
            let local = observation.at(self.link, &eta);
            ln_posterior += local.ln_likelihood;
            for (route, slope) in observation.routes.iter().zip(&local.slopes) {
                for &(unknown, value) in &route.parts {
                    slopes[unknown] += slope * value;
                }
            }
            locals.push(At::Mixed(local));
        }
        ln_posterior.is_finite().then_some(Look { ln_posterior, slopes, locals })
    }

    fn curvature(
        &self,
        observations: &[Observation],
        look: &Look,
        which: impl Fn(&Local) -> &[f64],
    ) -> sparse::Symmetric {
        let mut matrix = self.prior.clone();
        let values = matrix.values_mut();
        let mut rows: Vec<f64> = Vec::new();
        for ((observation, local), (unknowns, places)) in
            observations.iter().zip(&look.locals).zip(&self.touched)
        {
            let (c, m) = (observation.routes.len(), unknowns.len());
            rows.clear();
            rows.resize(c * m, 0.0);
            for (route, row) in observation.routes.iter().zip(rows.chunks_exact_mut(m.max(1))) {
                for &(unknown, value) in &route.parts {
                    if let Ok(at) = unknowns.binary_search(&unknown) {
                        row[at] += value;
                    }
                }
            }
            let mut places = places.iter();
            let curves = match local {
                At::Mixed(local) => which(local),
                At::Alone(curve) => {
                    for i in 0..m {
                        let through = rows[i] * curve;
                        for (j, &place) in (0..=i).zip(&mut places) {
                            values[place] += through * rows[j];
                        }
                    }
                    continue;
                }
            };
            for i in 0..m {
                let through: Vec<f64> = (0..c)
                    .map(|b| (0..c).map(|a| rows[a * m + i] * curves[a * c + b]).sum())
                    .collect();
                for (j, &place) in (0..=i).zip(&mut places) {
                    values[place] += (0..c).map(|b| through[b] * rows[b * m + j]).sum::<f64>();
                }
            }
        }
        matrix
    }
}

/// The posterior at one place.
struct Look {
    ln_posterior: f64,
    slopes: Vec<f64>,
    locals: Vec<At>,
}

/// What one observation adds to the curvature.
enum At {
    /// With a single route, which is so of nearly all; minus the second derivative.
    Alone(f64),
    Mixed(Local),
}

impl Mode {
    /// The posterior covariance times a vector; `at` and this give the mean and the variance of
    /// any sum of unknowns.
    pub fn covariance_times(&self, of: &[f64]) -> Vec<f64> {
        self.ldl.solve(of)
    }

    /// The unknowns as they may be: of standard normal deviates `z`, a draw from the posterior.
    pub fn draw(&self, z: &[f64]) -> Vec<f64> {
        let deviates = self.ldl.deviates(z);
        self.at.iter().zip(deviates).map(|(at, deviate)| at + deviate).collect()
    }

    /// The posterior variance of every unknown.
    pub fn variances(&self) -> Vec<f64> {
        let inverse = self.ldl.inverse();
        (0..self.at.len()).map(|i| inverse.at(i, i).unwrap_or_default()).collect()
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::super::Route;
    use super::*;

    /// Two candidate fathers with effects 0.5 x₀ and 0.5 x₁, and each of them seen elsewhere too.
    fn with_candidates(is_one: bool) -> Vec<Observation> {
        let route = |weight, unknown| Route { weight, offset: -0.5, parts: vec![(unknown, 0.5)] };
        let mixed = Observation { k: 7, n: 30, routes: vec![route(0.6, 0), route(0.4, 1)], is_one };
        let alone = |k, unknown| Observation::plain(k, 25, -0.5, vec![(unknown, 0.5)]);
        vec![mixed, alone(4, 0), alone(12, 1)]
    }

    /// ln of the evidence and the mean of the first unknown, by summing over a fine grid.
    fn by_summing(link: Link, observations: &[Observation]) -> (f64, f64) {
        let (mut whole, mut first) = (0.0, 0.0);
        let step = 0.1;
        for i in -45..=45 {
            for j in -45..=45 {
                let x = [f64::from(i) * step, f64::from(j) * step];
                let ln_likelihood: f64 = observations
                    .iter()
                    .map(|observation| {
                        let eta = observation.routes.iter().map(|route| {
                            let parts = route.parts.iter();
                            route.offset + parts.map(|&(at, value)| value * x[at]).sum::<f64>()
                        });
                        observation.at(link, &eta.collect::<Vec<_>>()).ln_likelihood
                    })
                    .sum();
                let density = (-0.5 * dot(&x, &x)).exp() / std::f64::consts::TAU;
                let mass = (ln_likelihood).exp() * density * step * step;
                whole += mass;
                first += mass * x[0];
            }
        }
        (whole.ln(), first / whole)
    }

    #[test]
    fn the_approximation_is_near_what_summing_gives() {
        for is_one in [true, false] {
            let observations = with_candidates(is_one);
            let precision = vec![(0, 0, 1.0), (1, 1, 1.0)];
            let latent = Latent::new(Link::Probit, vec![0.0; 2], precision, 0.0, &observations);
            let mode = latent.mode(&observations, None).unwrap();
            let (evidence, mean) = by_summing(Link::Probit, &observations);
            assert!((mode.ln_evidence - evidence).abs() < 0.03, "{is_one} {mode:?} {evidence}");
            assert!((mode.at[0] - mean).abs() < 0.1, "{is_one} {} {mean}", mode.at[0]);
            assert!(mode.is_exact);
            let again = latent.mode(&observations, Some(&[5.0, -5.0])).unwrap();
            assert!((again.at[0] - mode.at[0]).abs() < 1e-6, "the start does not matter");
        }
    }

    #[test]
    fn without_counts_the_prior_stands() {
        let precision = vec![(0, 0, 2.0), (1, 0, 0.5), (1, 1, 1.0)];
        let nothing = vec![Observation::plain(0, 0, 0.3, vec![(0, 1.0), (1, 2.0)])];
        let ln_det = 1.75_f64.ln();
        let latent = Latent::new(Link::Logit, vec![0.4, -1.0], precision, ln_det, &nothing);
        let mode = latent.mode(&nothing, None).unwrap();
        assert!((mode.at[0] - 0.4).abs() < 1e-12 && (mode.at[1] + 1.0).abs() < 1e-12);
        assert!(mode.ln_evidence.abs() < 1e-12);
        assert!((mode.variances()[0] - 1.0 / 1.75).abs() < 1e-12);
    }

    #[test]
    fn all_kept_and_none_kept_have_a_peak() {
        for k in [0, 10_000] {
            let count = vec![Observation::plain(k, 10_000, 0.0, vec![(0, 1.0)])];
            let latent = Latent::new(Link::Probit, vec![0.0], vec![(0, 0, 1.0)], 0.0, &count);
            let mode = latent.mode(&count, None).unwrap();
            assert!(mode.at[0].is_finite() && mode.at[0].abs() > 2.0);
            assert!(mode.variances()[0] > 0.0 && mode.variances()[0] < 1.0);
        }
    }
}
