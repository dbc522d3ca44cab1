//! What goes into a mixed model: records, fixed effects, random terms.

use super::equations::Equations;

/// The relationship A of the levels of a term, by its inverse.
#[derive(Debug, Clone)]
pub(in crate::stats) struct Relation {
    /// Entries (row, column, value) of one triangle of A⁻¹.
    pub(in crate::stats) inverse: Vec<(usize, usize, f64)>,
    /// ln of the determinant of A.
    pub(in crate::stats) ln_det: f64,
}

/// A random term: one or more effects at each of a number of levels.
#[derive(Debug, Clone)]
pub struct Term {
    pub(in crate::stats) levels: usize,
    pub(in crate::stats) effects: usize,
    /// For each record: (effect, level, value).
    pub(in crate::stats) rows: Vec<Vec<(usize, usize, f64)>>,
    pub(in crate::stats) relation: Option<Relation>,
}

/// Which likelihood the variances maximise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Likelihood {
    /// That of what the fixed effects leave over: variances without the downward bias of the
    /// other.
    Restricted,
    /// That of the records as they are.
    Full,
}

/// A mixed model with its records.
#[derive(Debug, Clone, Default)]
pub struct Model {
    pub(super) y: Vec<f64>,
    /// Absent means 1 for each.
    pub(super) weights: Option<Vec<f64>>,
    pub(super) n_fixed: usize,
    /// For each record: (column, value).
    pub(super) fixed: Vec<Vec<(usize, f64)>>,
    pub(super) terms: Vec<Term>,
}

impl Term {
    /// One effect a level: each record is of one level.
    pub fn of_levels(levels: usize, level_of_record: &[usize]) -> Self {
        let rows = level_of_record.iter().map(|&level| vec![(0, level, 1.0)]).collect();
        Self { levels, effects: 1, rows, relation: None }
    }

    /// One effect a level, and each record a sum of several: (level, value) for each of them, as
    /// for a seedling that is half of each of its parents.
    pub fn of_shares(levels: usize, rows: Vec<Vec<(usize, f64)>>) -> Self {
        let rows = rows
            .into_iter()
            .map(|row| row.into_iter().map(|(level, value)| (0, level, value)).collect())
            .collect();
        Self { levels, effects: 1, rows, relation: None }
    }

    /// Two correlated effects a level: one by itself, one times a number that each record has.
    pub fn with_slopes(levels: usize, level_of_record: &[usize], along: &[f64]) -> Self {
        let rows = level_of_record
            .iter()
            .zip(along)
            .map(|(&level, &x)| vec![(0, level, 1.0), (1, level, x)])
            .collect();
        Self { levels, effects: 2, rows, relation: None }
    }

    /// The same with related levels: entries (row, column, value) of one triangle of the inverse
    /// of their relationship A, and ln of the determinant of A.
    #[must_use]
    pub fn related(mut self, inverse: Vec<(usize, usize, f64)>, ln_det: f64) -> Self {
        self.relation = Some(Relation { inverse, ln_det });
        self
    }

    /// How many variances and covariances the term has.
    pub(super) fn n_parameters(&self) -> usize {
        self.effects * (self.effects + 1) / 2
    }
}

impl Model {
    /// A model of these records, with an intercept unless [`Model::fixed`] says otherwise.
    pub fn of(y: Vec<f64>) -> Self {
        let fixed = vec![vec![(0, 1.0)]; y.len()];
        Self { y, weights: None, n_fixed: 1, fixed, terms: Vec::new() }
    }

    /// Fixed effects: how many, and for each record (effect, value). Effects that are
    /// combinations of earlier ones are left out and have no estimate.
    #[must_use]
    pub fn fixed(mut self, n_fixed: usize, rows: Vec<Vec<(usize, f64)>>) -> Self {
        debug_assert_eq!(rows.len(), self.y.len(), "a row a record");
        (self.n_fixed, self.fixed) = (n_fixed, rows);
        self
    }

    /// Fixed effects of factors, each given by how many levels it has and the level of each
    /// record: all levels of the first, then all of the second, and so on.
    #[must_use]
    pub fn fixed_factors(self, factors: &[(usize, &[usize])]) -> Self {
        let mut rows = vec![Vec::with_capacity(factors.len()); self.y.len()];
        let mut first = 0;
        for &(levels, level_of_record) in factors {
            for (row, &level) in rows.iter_mut().zip(level_of_record) {
                row.push((first + level, 1.0));
            }
            first += levels;
        }
        self.fixed(first, rows)
    }

    /// Weights: the residual of a record has the variance σ²/weight, as that of a mean of so many
    /// records has.
    #[must_use]
    pub fn weights(mut self, weights: Vec<f64>) -> Self {
        debug_assert_eq!(weights.len(), self.y.len(), "a weight a record");
        self.weights = Some(weights);
        self
    }

    /// One more random term.
    #[must_use]
    pub fn random(mut self, term: Term) -> Self {
        debug_assert_eq!(term.rows.len(), self.y.len(), "a row a record");
        self.terms.push(term);
        self
    }

    /// How many records there are.
    pub fn n(&self) -> usize {
        self.y.len()
    }

    pub(super) fn weight(&self, record: usize) -> f64 {
        self.weights.as_ref().map_or(1.0, |weights| weights[record])
    }

    pub(super) fn equations(&self) -> Equations {
        Equations::of(self)
    }
}
