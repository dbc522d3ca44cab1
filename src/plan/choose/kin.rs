//! How near of kin the planted are: a quadratic in the places, worked out from their parents.

use super::{Choice, Question};

/// A limit on kinship, and what it takes to work it out.
#[derive(Debug, Clone, PartialEq)]
pub struct Kin {
    /// The coancestry of each parent with each and with itself, by rows.
    pub among: Vec<f64>,
    /// For each choice, by how much the coancestry of one of its seedlings with itself exceeds
    /// that of two of them.
    pub own: Vec<f64>,
    /// The mean coancestry of what is planted, each plant with each and with itself, at most.
    pub most: f64,
}

/// A plan as far as kinship is concerned.
#[derive(Debug, Clone)]
pub(super) struct Load {
    /// Gametes of each parent, in plants.
    gametes: Vec<f64>,
    own: f64,
    pub(super) total: f64,
}

impl Load {
    pub(super) fn of(question: &Question, places: &[u32]) -> Self {
        let places: Vec<f64> = places.iter().map(|&n| f64::from(n)).collect();
        Self::of_shares(question, &places)
    }

    /// The same for numbers that need not be whole.
    pub(super) fn of_shares(question: &Question, places: &[f64]) -> Self {
        let mut load = Self { gametes: vec![0.0; question.n_parents], own: 0.0, total: 0.0 };
        let own = question.kin.as_ref().map(|kin| &kin.own);
        for (at, (choice, &n)) in question.choices.iter().zip(places).enumerate() {
            if n != 0.0 {
                load.add(choice, own.map_or(0.0, |own| own[at]), n);
            }
        }
        load
    }

    pub(super) fn of_gametes(gametes: Vec<f64>) -> Self {
        let total = gametes.iter().sum();
        Self { gametes, own: 0.0, total }
    }

    /// The part of the sum that plants have with themselves alone.
    pub(super) fn own_sum(&self) -> f64 {
        self.own
    }

    fn add(&mut self, choice: &Choice, own: f64, n: f64) {
        for parent in choice.parents {
            self.gametes[parent] += 0.5 * n;
        }
        self.own += own * n;
        self.total += n;
    }
}

impl Kin {
    /// The coancestry of two parents.
    pub fn of(&self, a: usize, b: usize) -> f64 {
        let n = self.among.len().isqrt();
        self.among[a * n + b]
    }

    /// The coancestry of each parent with everything that is planted, times its number.
    pub(super) fn with_all(&self, load: &Load) -> Vec<f64> {
        let rows = self.among.chunks_exact(load.gametes.len().max(1));
        rows.map(|row| row.iter().zip(&load.gametes).map(|(k, c)| k * c).sum()).collect()
    }

    /// The sum over pairs of plants, each with itself as if it were its own sib.
    pub(super) fn among_sibs(load: &Load, with_all: &[f64]) -> f64 {
        load.gametes.iter().zip(with_all).map(|(c, k)| c * k).sum()
    }

    /// The mean coancestry of what is planted.
    pub(super) fn mean(&self, load: &Load) -> Option<f64> {
        if load.total <= 0.0 {
            return None;
        }
        let with_all = self.with_all(load);
        let sum = Self::among_sibs(load, &with_all) + load.own;
        Some(sum / (load.total * load.total))
    }

    /// By how much a plan exceeds the limit; 0 where it does not.
    pub(super) fn excess(&self, load: &Load) -> f64 {
        self.mean(load).map_or(0.0, |mean| (mean - self.most - ROUNDING).max(0.0))
    }
}

/// What sums of this kind lose in rounding.
pub(super) const ROUNDING: f64 = 1e-12;
