//! Estimating the spreads and the fixed effects of a binomial mixed model.

use std::cell::RefCell;

use super::super::{
    dense,
    minimise::{curvature, minimise, minimise_roughly},
    mixed::{Estimate, NotFitted, Term},
};
use super::{Latent, Link, Mode, Observation};

/// A binomial mixed model with its counts.
#[derive(Debug, Clone)]
pub struct BinomialModel {
    link: Link,
    /// For each record (k, n).
    counts: Vec<(u32, u32)>,
    n_fixed: usize,
    fixed: Vec<Vec<(usize, f64)>>,
    terms: Vec<Term>,
}

/// A fitted binomial mixed model.
#[derive(Debug, Clone)]
pub struct BinomialFit {
    /// The fixed effects, on the linear scale.
    pub fixed: Vec<Estimate>,
    /// The variance of each term, on the linear scale. 0 is an answer.
    pub variances: Vec<f64>,
    /// ln of the likelihood at its highest.
    pub ln_likelihood: f64,
    firsts: Vec<usize>,
    spreads: Vec<f64>,
    mode: Mode,
}

/// Fixed effects are searched for from a start that gives them a prior this wide.
const NEARLY_FLAT: f64 = 1e-4;

impl BinomialModel {
    /// A model of counts (k, n), with an intercept unless [`BinomialModel::fixed`] says otherwise.
    pub fn of(link: Link, counts: Vec<(u32, u32)>) -> Self {
        let fixed = vec![vec![(0, 1.0)]; counts.len()];
        Self { link, counts, n_fixed: 1, fixed, terms: Vec::new() }
    }

    /// Fixed effects: how many, and for each record (effect, value). None may be a combination
    /// of others.
    #[must_use]
    pub fn fixed(mut self, n_fixed: usize, rows: Vec<Vec<(usize, f64)>>) -> Self {
        debug_assert_eq!(rows.len(), self.counts.len(), "a row a record");
        (self.n_fixed, self.fixed) = (n_fixed, rows);
        self
    }

    /// One more random term, of which the first effect of each level is taken.
    #[must_use]
    pub fn random(mut self, term: Term) -> Self {
        debug_assert_eq!(term.rows.len(), self.counts.len(), "a row a record");
        self.terms.push(term);
        self
    }

    /// Estimates spreads and fixed effects together, with the random effects integrated out by
    /// Laplace's approximation.
    pub fn fit(&self) -> Result<BinomialFit, NotFitted> {
        if self.counts.iter().all(|&(_, n)| n == 0) {
            return Err(NotFitted::TooFewRecords);
        }
        let t = self.terms.len();
        let warm = Warm::new(self, self.n_fixed);
        let (start, bounds) = (vec![1.0; t], vec![0.0; t]);
        let rough = minimise_roughly(|spreads| warm.deviance(spreads, &[]), &start, &bounds);
        let mode = warm.mode(&rough.at, &[]).ok_or(NotFitted::NotSettled)?;
        let betas = &mode.at[mode.at.len() - self.n_fixed..];
        let start = [&rough.at, betas].concat();
        let bounds = [bounds, vec![f64::NEG_INFINITY; self.n_fixed]].concat();
        let warm = Warm::new(self, 0);
        let deviance = |x: &[f64]| warm.deviance(&x[..t], &x[t..]);
        let lowest = minimise(deviance, &start, &bounds);
        let mut at = lowest.at;
        for i in 0..t {
            // As in the linear model: a spread of nearly nothing that fits no better than none.
            let nearly = at[i];
            if nearly < 1e-2 {
                at[i] = 0.0;
                if deviance(&at) > lowest.value + 1e-8 {
                    at[i] = nearly;
                }
            }
        }
        if !lowest.settled || at.iter().any(|x| !x.is_finite() || x.abs() > 1e3) {
            return Err(NotFitted::NotSettled);
        }
        let mode = warm.mode(&at[..t], &at[t..]).ok_or(NotFitted::NotSettled)?;
        let moved: Vec<usize> = (0..at.len()).filter(|&i| i >= t || at[i] > 0.0).collect();
        let errors = errors(deviance, &at, &moved);
        Ok(BinomialFit {
            fixed: (t..at.len()).map(|i| Estimate { value: at[i], se: errors[i] }).collect(),
            variances: at[..t].iter().map(|spread| spread * spread).collect(),
            ln_likelihood: mode.ln_evidence,
            firsts: self.firsts(),
            spreads: at[..t].to_vec(),
            mode,
        })
    }

    /// The first unknown of each term, and one past the last of all.
    fn firsts(&self) -> Vec<usize> {
        let mut next = 0;
        let mut firsts = vec![0];
        firsts.extend(self.terms.iter().map(|term| {
            next += term.levels;
            next
        }));
        firsts
    }

    /// Writes other spreads and fixed effects into observations of the same pattern.
    fn renew(&self, observations: &mut [Observation], spreads: &[f64], betas: &[f64]) {
        for (record, observation) in observations.iter_mut().enumerate() {
            let Some(route) = observation.routes.first_mut() else { continue };
            let mut parts = route.parts.iter_mut();
            for (term, spread) in self.terms.iter().zip(spreads) {
                let rows = term.rows[record].iter().filter(|(effect, ..)| *effect == 0);
                // The rows lead: led by the parts, the end of a term would swallow one.
                for (&(.., x), part) in rows.zip(parts.by_ref()) {
                    part.1 = spread * x;
                }
            }
            let known = self.fixed[record].iter().filter_map(|&(i, x)| Some(betas.get(i)? * x));
            route.offset = known.sum();
        }
    }

    /// The counts at some spreads and fixed effects; those of the fixed effects that are unknown
    /// stand behind the random ones.
    fn observations(&self, spreads: &[f64], betas: &[f64]) -> Vec<Observation> {
        let firsts = self.firsts();
        let n_random = firsts[self.terms.len()];
        (0..self.counts.len())
            .map(|record| {
                let mut parts = Vec::new();
                for (i, term) in self.terms.iter().enumerate() {
                    let rows = term.rows[record].iter().filter(|(effect, ..)| *effect == 0);
                    parts.extend(rows.map(|&(_, level, x)| (firsts[i] + level, spreads[i] * x)));
                }
                let mut offset = 0.0;
                for &(column, x) in &self.fixed[record] {
                    match betas.get(column) {
                        Some(beta) => offset += beta * x,
                        None => parts.push((n_random + column, x)),
                    }
                }
                let (k, n) = self.counts[record];
                Observation::plain(k, n, offset, parts)
            })
            .collect()
    }

    /// Random effects of spread 1, and so many fixed effects with a prior that is nearly flat; with
    /// the observations as they have to be looked at.
    fn latent(&self, n_flat: usize) -> (Latent, Vec<Observation>) {
        let firsts = self.firsts();
        let n_random = firsts[self.terms.len()];
        let mut precision = Vec::new();
        let mut ln_det = 0.0;
        for (term, &first) in self.terms.iter().zip(&firsts) {
            match &term.relation {
                None => precision.extend((first..first + term.levels).map(|i| (i, i, 1.0))),
                Some(relation) => {
                    let entries = relation.inverse.iter();
                    precision.extend(entries.map(|&(i, j, x)| (first + i, first + j, x)));
                    ln_det -= relation.ln_det;
                }
            }
        }
        precision.extend((n_random..n_random + n_flat).map(|i| (i, i, NEARLY_FLAT)));
        let spreads = vec![1.0; self.terms.len()];
        let betas = vec![0.0; self.n_fixed - n_flat];
        let pattern = self.observations(&spreads, &betas);
        let mean = vec![0.0; n_random + n_flat];
        (Latent::new(self.link, mean, precision, ln_det, &pattern), pattern)
    }
}

/// A model on which search after search starts from where the last one ended.
struct Warm<'m> {
    model: &'m BinomialModel,
    latent: Latent,
    /// The counts as they were last looked at, and the mode that was found.
    last: RefCell<(Vec<Observation>, Option<Vec<f64>>)>,
}

impl<'m> Warm<'m> {
    fn new(model: &'m BinomialModel, n_flat: usize) -> Self {
        let (latent, pattern) = model.latent(n_flat);
        Self { model, latent, last: RefCell::new((pattern, None)) }
    }

    fn mode(&self, spreads: &[f64], betas: &[f64]) -> Option<Mode> {
        let (observations, start) = &mut *self.last.borrow_mut();
        self.model.renew(observations, spreads, betas);
        let mode = self.latent.mode(observations, start.as_deref())?;
        *start = Some(mode.at.clone());
        Some(mode)
    }

    fn deviance(&self, spreads: &[f64], betas: &[f64]) -> f64 {
        self.mode(spreads, betas).map_or(f64::INFINITY, |mode| -2.0 * mode.ln_evidence)
    }
}

/// Standard errors by the curvature of the deviance in the numbers that are free to move.
fn errors(deviance: impl Fn(&[f64]) -> f64, at: &[f64], moved: &[usize]) -> Vec<Option<f64>> {
    let some = |x: &[f64]| {
        let mut all = at.to_vec();
        for (&i, &x) in moved.iter().zip(x) {
            all[i] = x;
        }
        deviance(&all)
    };
    let here: Vec<f64> = moved.iter().map(|&i| at[i]).collect();
    let n = here.len();
    let factor = dense::Factor::of(&curvature(some, &here), n);
    let mut errors = vec![None; at.len()];
    if factor.rank() == n {
        let inverse = factor.inverse();
        for (place, &i) in moved.iter().enumerate() {
            let variance = 2.0 * inverse[place * n + place];
            errors[i] = (variance > 0.0).then(|| variance.sqrt());
        }
    }
    errors
}

impl BinomialFit {
    /// The effect of a level of a term at the peak of its posterior, on the linear scale.
    pub fn random(&self, term: usize, level: usize) -> f64 {
        self.spreads[term] * self.mode.at[self.firsts[term] + level]
    }

    /// The posterior variance of the effects of a term, with spreads and fixed effects taken for
    /// known.
    pub fn random_variances(&self, term: usize) -> Vec<f64> {
        let range = self.firsts[term]..self.firsts[term + 1];
        let square = self.spreads[term] * self.spreads[term];
        self.mode.variances()[range].iter().map(|variance| square * variance).collect()
    }
}
