//! The mixed-model equations of a model, ready to be solved for any variances.
//!
//! The effects of a term are written u = (Λ ⊗ I) c with ΛΛ′ = G/σ², so that c has the covariance
//! σ² (I ⊗ A) whatever Λ is, and nothing is divided by a variance that may be 0. The equations for
//! c and β are then
//!
//! ```text
//! [ Λ′Z′WZΛ + I ⊗ A⁻¹   Λ′Z′WX ] [c]   [ Λ′Z′Wy ]
//! [ X′WZΛ                X′WX  ] [β] = [ X′Wy   ]
//! ```
//!
//! The records enter only by their sums of products, which are formed once.

use std::{f64::consts::PI, sync::Arc};

use super::{super::dense, super::sparse, Likelihood, Model};

/// One sum of products, or a part of it, on its way into the equations: it is added at `to`,
/// times two of the numbers (1, θ₁, θ₂, …).
#[derive(Debug, Clone, Copy)]
struct Move {
    to: usize,
    value: f64,
    by: [usize; 2],
}

/// The equations.
#[derive(Debug, Clone)]
pub(super) struct Equations {
    pub(super) terms: Vec<Layout>,
    /// The unknown of each fixed effect; none where it is a combination of others.
    pub(super) fixed: Vec<Option<usize>>,
    /// Least-squares estimates of the fixed effects, taken off y beforehand: what is left is small
    /// and loses no digits.
    pub(super) taken_off: Vec<f64>,
    pub(super) n_unknowns: usize,
    pub(super) n_records: usize,
    n_fixed: usize,
    /// The part that is the same for any variances, A⁻¹, on the pattern of the whole.
    base: sparse::Symmetric,
    plan: Arc<sparse::Plan>,
    moves: Vec<Move>,
    right_moves: Vec<Move>,
    /// Weighted sum of squares of what was left of y.
    squares: f64,
    /// ln of the determinants of all A, less that of the weights.
    ln_constant: f64,
}

/// Where a term stands among the unknowns and the parameters.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layout {
    pub(super) first: usize,
    pub(super) levels: usize,
    pub(super) effects: usize,
    /// The first of its parameters: the lower triangle of Λ, by rows.
    pub(super) parameters: usize,
}

/// The equations solved for some θ.
#[derive(Debug, Clone)]
pub(super) struct Solved {
    pub(super) ldl: sparse::Ldl,
    /// c and β.
    pub(super) solution: Vec<f64>,
    /// Weighted squares of residuals plus c′A⁻¹c.
    pub(super) squares: f64,
}

impl Layout {
    pub(super) fn unknown(&self, effect: usize, level: usize) -> usize {
        self.first + effect * self.levels + level
    }

    pub(super) fn parameter(&self, row: usize, column: usize) -> usize {
        self.parameters + row * (row + 1) / 2 + column
    }
}

impl Equations {
    pub(super) fn of(model: &Model) -> Self {
        let mut terms = Vec::new();
        let (mut first, mut parameters) = (0, 0);
        for term in &model.terms {
            let (levels, effects) = (term.levels, term.effects);
            terms.push(Layout { first, levels, effects, parameters });
            first += levels * effects;
            parameters += term.n_parameters();
        }
        let (kept, taken_off) = least_squares(model);
        let mut fixed = vec![None; model.n_fixed];
        for (place, &column) in kept.iter().enumerate() {
            fixed[column] = Some(first + place);
        }
        let n_unknowns = first + kept.len();
        let (products, right, squares) = sums(model, &terms, &fixed, &taken_off, n_unknowns);
        let relations: Vec<(usize, usize, f64)> = relations(model, &terms);
        let spread = |unknown: usize| spread(&terms, first, unknown);
        let mut pattern = relations.clone();
        for (row, column, _) in products.entries() {
            for (p, _) in spread(row) {
                pattern.extend(spread(column).into_iter().map(|(q, _)| (p, q, 0.0)));
            }
        }
        let base = sparse::Symmetric::new(n_unknowns, pattern);
        let mut moves = Vec::new();
        for (row, column, at) in products.entries() {
            let value = products.values()[at];
            for (p, f) in spread(row) {
                for (q, g) in spread(column) {
                    // A diagonal sum meets itself in both orders, of which one triangle is kept;
                    // any other stands for both of its triangles.
                    let value = match (row == column, p == q) {
                        (true, _) if p < q => continue,
                        (false, true) => 2.0 * value,
                        _ => value,
                    };
                    let Some(to) = base.position(p, q) else { continue };
                    moves.push(Move { to, value, by: [f, g] });
                }
            }
        }
        let right_moves = right.iter().enumerate().flat_map(|(unknown, &value)| {
            spread(unknown).into_iter().map(move |(to, f)| Move { to, value, by: [f, 0] })
        });
        let weights = (0..model.n()).map(|record| model.weight(record).ln()).sum::<f64>();
        let ln_dets = model.terms.iter().filter_map(|term| {
            term.relation.as_ref().map(|relation| term.effects as f64 * relation.ln_det)
        });
        Self {
            right_moves: right_moves.collect(),
            plan: Arc::new(sparse::Plan::of(&base, kept.len())),
            ln_constant: ln_dets.sum::<f64>() - weights,
            n_fixed: kept.len(),
            n_records: model.n(),
            terms,
            fixed,
            taken_off,
            n_unknowns,
            base,
            moves,
            squares,
        }
    }

    pub(super) fn n_parameters(&self) -> usize {
        self.terms.last().map_or(0, |t| t.parameters + t.effects * (t.effects + 1) / 2)
    }

    /// Records less fixed effects.
    pub(super) fn freedom(&self) -> usize {
        self.n_records.saturating_sub(self.n_fixed)
    }

    /// Weighted squares of the records around the fixed effects alone.
    pub(super) fn squares(&self) -> f64 {
        self.squares
    }

    pub(super) fn solve(&self, theta: &[f64]) -> Option<Solved> {
        let by = |index: usize| if index == 0 { 1.0 } else { theta[index - 1] };
        let mut matrix = self.base.clone();
        let values = matrix.values_mut();
        for step in &self.moves {
            values[step.to] += step.value * by(step.by[0]) * by(step.by[1]);
        }
        let mut right = vec![0.0; self.n_unknowns];
        for step in &self.right_moves {
            right[step.to] += step.value * by(step.by[0]);
        }
        let ldl = self.plan.factor(&matrix)?;
        let solution = ldl.solve(&right);
        let squares = (self.squares - dense::dot(&solution, &right)).max(0.0);
        Some(Solved { ldl, solution, squares })
    }

    /// −2 ln of the likelihood at its best σ² given θ.
    pub(super) fn deviance(&self, solved: &Solved, which: Likelihood) -> f64 {
        let n = self.n_for(which);
        self.deviance_at(solved, which, solved.squares / n)
    }

    /// −2 ln of the likelihood at any σ².
    pub(super) fn deviance_at(&self, solved: &Solved, which: Likelihood, residual: f64) -> f64 {
        let n = self.n_for(which);
        let (random, fixed) = solved.ldl.ln_dets();
        let fixed = if which == Likelihood::Restricted { fixed } else { 0.0 };
        let residual = residual.max(f64::MIN_POSITIVE);
        let rest = n * (2.0 * PI * residual).ln() + solved.squares / residual;
        random + fixed + self.ln_constant + rest
    }

    pub(super) fn n_for(&self, which: Likelihood) -> f64 {
        match which {
            Likelihood::Restricted => self.freedom() as f64,
            Likelihood::Full => self.n_records as f64,
        }
    }
}

/// An effect u in terms of c: the unknowns that it is made of, each with the index of its factor.
fn spread(terms: &[Layout], n_random: usize, unknown: usize) -> Vec<(usize, usize)> {
    if unknown >= n_random {
        return vec![(unknown, 0)];
    }
    let after = terms.partition_point(|term| term.first <= unknown);
    let term = &terms[after - 1];
    let (effect, level) =
        ((unknown - term.first) / term.levels, (unknown - term.first) % term.levels);
    (0..=effect)
        .map(|column| (term.unknown(column, level), 1 + term.parameter(effect, column)))
        .collect()
}

/// Which fixed effects can be told apart, and their weighted least-squares estimates.
fn least_squares(model: &Model) -> (Vec<usize>, Vec<f64>) {
    let p = model.n_fixed;
    let mut products = vec![0.0; p * p];
    let mut right = vec![0.0; p];
    for (record, row) in model.fixed.iter().enumerate() {
        let weight = model.weight(record);
        for &(i, x) in row {
            right[i] += weight * x * model.y[record];
            for &(j, z) in row {
                products[i * p + j] += weight * x * z;
            }
        }
    }
    let kept = dense::independent_in_order(&products, p);
    let k = kept.len();
    let mut small = vec![0.0; k * k];
    for (a, &i) in kept.iter().enumerate() {
        for (b, &j) in kept.iter().enumerate() {
            small[a * k + b] = products[i * p + j];
        }
    }
    let some: Vec<f64> = kept.iter().map(|&i| right[i]).collect();
    let mut estimates = vec![0.0; p];
    for (&i, value) in kept.iter().zip(dense::Factor::of(&small, k).solve(&some)) {
        estimates[i] = value;
    }
    (kept, estimates)
}

/// The sums of products of effects with each other and with what is left of y, and the squares
/// of that.
fn sums(
    model: &Model,
    terms: &[Layout],
    fixed: &[Option<usize>],
    taken_off: &[f64],
    n_unknowns: usize,
) -> (sparse::Symmetric, Vec<f64>, f64) {
    let mut entries = Vec::new();
    let mut right = vec![0.0; n_unknowns];
    let mut squares = 0.0;
    let mut row: Vec<(usize, f64)> = Vec::new();
    for record in 0..model.n() {
        row.clear();
        for (term, layout) in model.terms.iter().zip(terms) {
            let effects = term.rows[record].iter();
            row.extend(effects.map(|&(effect, level, x)| (layout.unknown(effect, level), x)));
        }
        let columns = model.fixed[record].iter();
        let known: f64 = columns.clone().map(|&(column, x)| x * taken_off[column]).sum();
        row.extend(columns.filter_map(|&(column, x)| Some((fixed[column]?, x))));
        let (weight, left) = (model.weight(record), model.y[record] - known);
        squares += weight * left * left;
        for (i, &(a, x)) in row.iter().enumerate() {
            right[a] += weight * x * left;
            entries.push((a, a, weight * x * x));
            for &(b, z) in &row[..i] {
                let twice = if a == b { 2.0 } else { 1.0 };
                entries.push((a, b, twice * weight * x * z));
            }
        }
    }
    (sparse::Symmetric::new(n_unknowns, entries), right, squares)
}

/// I ⊗ A⁻¹ of every term.
fn relations(model: &Model, terms: &[Layout]) -> Vec<(usize, usize, f64)> {
    let mut entries = Vec::new();
    for (term, layout) in model.terms.iter().zip(terms) {
        for effect in 0..term.effects {
            let at = |level| layout.unknown(effect, level);
            match &term.relation {
                None => entries.extend((0..term.levels).map(|l| (at(l), at(l), 1.0))),
                Some(relation) => {
                    entries.extend(relation.inverse.iter().map(|&(i, j, x)| (at(i), at(j), x)));
                }
            }
        }
    }
    entries
}
