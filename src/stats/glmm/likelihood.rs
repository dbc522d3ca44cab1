//! How likely what was counted is, and how that changes with the linear scale.

use statrs::function::factorial::ln_factorial;

use super::Link;

/// One way in which an observation may have come about: η = offset + Σ value × unknown.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Route {
    /// Its probability; the routes of an observation sum to 1.
    pub weight: f64,
    /// What is known of η.
    pub offset: f64,
    /// The unknowns it depends on, each with its factor.
    pub parts: Vec<(usize, f64)>,
}

/// A count of `k` out of `n`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Observation {
    /// How many.
    pub k: u32,
    /// Of how many.
    pub n: u32,
    /// The ways in which it may have come about.
    pub routes: Vec<Route>,
    /// Whether one route holds for all n together, or each of them has taken its own.
    pub is_one: bool,
}

/// The log-likelihood of an observation at some η of each route, with its derivatives.
#[derive(Debug, Clone, Default)]
pub(super) struct Local {
    pub(super) ln_likelihood: f64,
    pub(super) slopes: Vec<f64>,
    /// Minus the second derivatives, by rows; with several routes this need not be positive
    /// definite.
    pub(super) curves: Vec<f64>,
    /// Curvature to be expected, which is never negative: good enough to find the way.
    pub(super) safe: Vec<f64>,
}

impl Observation {
    /// A count with a single route.
    pub fn plain(k: u32, n: u32, offset: f64, parts: Vec<(usize, f64)>) -> Self {
        Self { k, n, routes: vec![Route { weight: 1.0, offset, parts }], is_one: false }
    }

    /// Its counts, with no more kept than there were.
    fn counts(&self) -> (f64, f64) {
        (f64::from(self.k.min(self.n)), f64::from(self.n))
    }

    /// ln of the number of ways to choose k of n.
    pub(super) fn ln_ways(&self) -> f64 {
        let (k, n) = (u64::from(self.k.min(self.n)), u64::from(self.n));
        ln_factorial(n) - ln_factorial(k) - ln_factorial(n - k)
    }

    pub(super) fn at(&self, link: Link, eta: &[f64]) -> Local {
        match (eta.len(), self.is_one) {
            (1, _) => self.single(link, eta[0]),
            (_, true) => self.one_for_all(link, eta),
            (_, false) => self.each_its_own(link, eta),
        }
    }

    fn single(&self, link: Link, eta: f64) -> Local {
        let (ln_likelihood, slope, curve) = self.alone(link, eta);
        Local { ln_likelihood, slopes: vec![slope], curves: vec![curve], safe: vec![curve] }
    }

    /// The log-likelihood, its slope and minus its second derivative by η, where there is one route.
    pub(super) fn alone(&self, link: Link, eta: f64) -> (f64, f64, f64) {
        let (k, n) = self.counts();
        let ln = link.ln_chance(eta);
        let sum = |of: [f64; 2]| k * of[0] + (n - k) * of[1];
        (self.ln_ways() + sum(ln.values), sum(ln.slopes), -sum(ln.curves))
    }

    /// Σ w C(n, k) pᵏ (1 − p)ⁿ⁻ᵏ over the routes.
    fn one_for_all(&self, link: Link, eta: &[f64]) -> Local {
        let c = eta.len();
        let singles: Vec<Local> = eta.iter().map(|&eta| self.single(link, eta)).collect();
        let ln_terms: Vec<f64> = singles
            .iter()
            .zip(&self.routes)
            .map(|(local, route)| route.weight.max(f64::MIN_POSITIVE).ln() + local.ln_likelihood)
            .collect();
        let highest = ln_terms.iter().fold(f64::NEG_INFINITY, |most, &x| most.max(x));
        let sum: f64 = ln_terms.iter().map(|x| (x - highest).exp()).sum();
        let ln_likelihood = highest + sum.ln();
        // How likely each route is after the count.
        let after: Vec<f64> = ln_terms.iter().map(|x| (x - ln_likelihood).exp()).collect();
        let slope = |i: usize| singles[i].slopes[0];
        let (mut curves, mut safe) = (vec![0.0; c * c], vec![0.0; c * c]);
        for i in 0..c {
            for j in 0..c {
                curves[i * c + j] = after[i] * slope(i) * after[j] * slope(j);
            }
            safe[i * c + i] = after[i] * singles[i].curves[0];
            curves[i * c + i] += after[i] * (singles[i].curves[0] - slope(i) * slope(i));
        }
        let slopes = (0..c).map(|i| after[i] * slope(i)).collect();
        Local { ln_likelihood, slopes, curves, safe }
    }

    /// C(n, k) pᵏ (1 − p)ⁿ⁻ᵏ with p the mean over the routes.
    fn each_its_own(&self, link: Link, eta: &[f64]) -> Local {
        let routes = eta.len();
        let (k, n) = self.counts();
        let weights = self.routes.iter().map(|route| route.weight);
        let mean = |of: &dyn Fn(f64) -> f64| -> f64 {
            weights.clone().zip(eta).map(|(weight, &eta)| weight * of(eta)).sum()
        };
        let p = mean(&|eta| link.chance(eta)).max(f64::MIN_POSITIVE);
        let q = mean(&|eta| link.chance(-eta)).max(f64::MIN_POSITIVE);
        let derivatives: Vec<(f64, f64)> = weights
            .zip(eta)
            .map(|(weight, &eta)| {
                let (slope, curve) = link.slope(eta);
                (weight * slope, weight * curve)
            })
            .collect();
        let steep = k / p - (n - k) / q;
        let (bent, expected) = (k / (p * p) + (n - k) / (q * q), n / (p * q));
        let (mut curves, mut safe) = (vec![0.0; routes * routes], vec![0.0; routes * routes]);
        for (i, (x, curve)) in derivatives.iter().enumerate() {
            for (j, (y, _)) in derivatives.iter().enumerate() {
                curves[i * routes + j] = bent * x * y;
                safe[i * routes + j] = expected * x * y;
            }
            curves[i * routes + i] -= steep * curve;
        }
        let slopes = derivatives.iter().map(|(slope, _)| steep * slope).collect();
        let ln_likelihood = self.ln_ways() + k * p.ln() + (n - k) * q.ln();
        Local { ln_likelihood, slopes, curves, safe }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of_routes(is_one: bool, weights: &[f64]) -> Observation {
        let routes = weights.iter().map(|&weight| Route { weight, ..Route::default() }).collect();
        Observation { k: 3, n: 8, routes, is_one }
    }

    #[test]
    fn derivatives_are_those_of_the_likelihood() {
        let step = 1e-5;
        for link in [Link::Probit, Link::Logit] {
            for is_one in [true, false] {
                let observation = of_routes(is_one, &[0.5, 0.2, 0.3]);
                let eta = [-0.8, 0.1, 0.9];
                let here = observation.at(link, &eta);
                for i in 0..3 {
                    let moved = |by: f64| {
                        let mut eta = eta;
                        eta[i] += by;
                        observation.at(link, &eta)
                    };
                    let (up, down) = (moved(step), moved(-step));
                    let slope = (up.ln_likelihood - down.ln_likelihood) / (2.0 * step);
                    assert!((slope - here.slopes[i]).abs() < 1e-7, "{link:?} {is_one}");
                    for j in 0..3 {
                        let curve = -(up.slopes[j] - down.slopes[j]) / (2.0 * step);
                        assert!((curve - here.curves[i * 3 + j]).abs() < 1e-7);
                    }
                }
            }
        }
    }

    #[test]
    fn routes_that_are_alike_count_as_one() {
        let single = Observation::plain(3, 8, 0.0, Vec::new()).at(Link::Probit, &[-0.3]);
        for is_one in [true, false] {
            let several = of_routes(is_one, &[0.6, 0.4]).at(Link::Probit, &[-0.3, -0.3]);
            assert!((single.ln_likelihood - several.ln_likelihood).abs() < 1e-12);
            assert!((single.slopes[0] - several.slopes.iter().sum::<f64>()).abs() < 1e-12);
            assert!((single.curves[0] - several.curves.iter().sum::<f64>()).abs() < 1e-9);
        }
    }

    #[test]
    fn a_count_of_none_of_none_says_nothing() {
        let local = Observation::plain(0, 0, 0.0, Vec::new()).at(Link::Logit, &[0.7]);
        assert!(local.ln_likelihood.abs() < 1e-12 && local.slopes[0].abs() < 1e-12);
    }
}
