//! The equations of the parents for some variances, and the likelihood.

use std::{f64::consts::PI, sync::Arc};

use super::{
    super::super::{dense, sparse},
    Model, Shares,
    batch::Theta,
};

/// The equations solved for some spreads.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    pub(super) ldl: sparse::Ldl,
    /// The unknowns, each divided by its spread.
    pub(super) solution: Vec<f64>,
    /// Squares of residuals plus those of the effects.
    pub(super) squares: f64,
    /// ln of the determinant of the variance of the records, given the parents.
    ln_records: f64,
}

impl Shares {
    pub(super) fn theta(&self) -> Option<Theta> {
        let all = [self.descent, self.group, self.lasting];
        let sound = all.iter().all(|x| x.is_finite() && *x >= 0.0);
        let theta = Theta {
            descent: (self.descent / self.residual).sqrt(),
            group: (self.group / self.residual).sqrt(),
            lasting: (self.lasting / self.residual).sqrt(),
        };
        (sound && self.residual.is_finite() && self.residual > 0.0).then_some(theta)
    }
}

impl Model {
    /// The left-hand and the right-hand side.
    pub(super) fn sides(&self, theta: &Theta) -> (sparse::Symmetric, Vec<f64>) {
        let mut matrix = self.base.clone();
        let values = matrix.values_mut();
        let mut right = vec![0.0; self.n_unknowns];
        for (batch, places) in self.batches.iter().zip(&self.places) {
            batch.add(
                theta,
                |pair, sum| values[places[pair]] += sum,
                |part, sum| right[batch.parts[part].unknown] += sum,
            );
        }
        (matrix, right)
    }

    fn plan(&self) -> &Arc<sparse::Plan> {
        self.plan.get_or_init(|| Arc::new(sparse::Plan::of(&self.base, self.n_fixed)))
    }

    /// How many entries the factor of the equations has: what solving them exactly costs.
    pub fn n_entries(&self) -> usize {
        self.plan().n_entries()
    }

    pub(super) fn factored(&self, theta: &Theta) -> Option<Solved> {
        let (matrix, right) = self.sides(theta);
        let ldl = self.plan().factor(&matrix)?;
        let solution = ldl.solve(&right);
        let known: f64 =
            self.batches.iter().map(|batch| batch.shrinkage(theta) * batch.totals_squared).sum();
        let squares = (self.squares - known - dense::dot(&solution, &right)).max(0.0);
        let ln_records = self.batches.iter().map(|batch| batch.ln_det(theta)).sum();
        Some(Solved { ldl, solution, squares, ln_records })
    }

    /// Records less fixed effects.
    pub(super) fn freedom(&self) -> usize {
        self.n_records.saturating_sub(self.n_fixed)
    }

    /// −2 ln of the restricted likelihood at a residual variance.
    pub(super) fn deviance(&self, solved: &Solved, residual: f64) -> f64 {
        let (parents, fixed) = solved.ldl.ln_dets();
        let residual = residual.max(f64::MIN_POSITIVE);
        let rest = self.freedom() as f64 * (2.0 * PI * residual).ln() + solved.squares / residual;
        parents + fixed + self.ln_det + solved.ln_records + rest
    }

    /// The same at the best residual variance for the spreads, which is returned with it.
    pub(super) fn best_deviance(&self, solved: &Solved) -> (f64, f64) {
        let residual = solved.squares / self.freedom() as f64;
        (self.deviance(solved, residual), residual)
    }
}
