//! Dealing places out among pairs: the most for the places there are, within limits.
//!
//! Choices are numbered, and so are parents; what they stand for is the business of whoever asks.
//! A search finds a good plan at once, the exact solver proves it or finds a better one, and
//! [`broken`] looks every plan over with code of its own.

mod exact;
mod kin;
mod look_over;
mod search;

use thiserror::Error;

pub use kin::Kin;
pub use look_over::{Broken, broken};

use kin::Load;

/// A pair that may be given places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// Its parents; the same one twice for a selfing.
    pub parents: [usize; 2],
    /// What one place of it is worth.
    pub worth: f64,
    /// Places that it is given at least, where it is chosen.
    pub least: u32,
    /// Places that it is given at most.
    pub most: u32,
    /// Whether it has to be chosen.
    pub must: bool,
}

/// What may not be exceeded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// Places in all.
    pub places: u32,
    /// Pairs in all.
    pub pairs: u32,
    /// Pairs of one parent.
    pub per_parent: u32,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// The pairs.
    pub choices: Vec<Choice>,
    /// How many parents there are.
    pub n_parents: usize,
    /// The limits.
    pub limits: Limits,
    /// How near of kin the planted may be, where that is limited.
    pub kin: Option<Kin>,
}

/// Places for each choice, and what that is worth.
#[derive(Debug, Clone, PartialEq)]
pub struct Dealt {
    /// Places, choice by choice.
    pub places: Vec<u32>,
    /// Their worth in all.
    pub worth: f64,
}

/// A plan, and how good it is known to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The plan.
    pub dealt: Dealt,
    /// No plan is worth more than this.
    pub bound: f64,
    /// Whether that leaves nothing to be gained.
    pub is_optimal: bool,
}

/// Why no plan keeps all limits.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CannotBe {
    /// The pairs that have to be chosen ask for more places than there are.
    #[error("the pairs asked for need {needed} places, and there are {places}")]
    Places {
        /// Places that they need.
        needed: u32,
        /// Places that there are.
        places: u32,
    },
    /// More pairs have to be chosen than may be.
    #[error("{needed} pairs are asked for, and at most {pairs} may be chosen")]
    Pairs {
        /// Pairs that have to be chosen.
        needed: u32,
        /// Pairs that may be.
        pairs: u32,
    },
    /// One parent has to be in more pairs than it may be.
    #[error("a parent is asked for in {needed} pairs, and at most {per_parent} are allowed")]
    PerParent {
        /// Which parent.
        parent: usize,
        /// Pairs that it has to be in.
        needed: u32,
        /// Pairs that it may be in.
        per_parent: u32,
    },
    /// Nothing that can be planted is so little of kin.
    #[error("the least kinship found is {least}, and {most} is the limit")]
    Kin {
        /// The least mean coancestry that was found.
        least: f64,
        /// The limit.
        most: f64,
    },
}

/// Work after which the exact solver stops and says how far it is: branches looked into. A number
/// and not a time, so that the same question has the same answer on every machine.
pub const USUAL_EFFORT: u64 = 20_000;

/// Shares of the worth below which two plans are equally good.
const SAME: f64 = 1e-6;

impl Question {
    /// What a plan is worth.
    pub fn worth(&self, places: &[u32]) -> f64 {
        self.choices.iter().zip(places).map(|(choice, &n)| choice.worth * f64::from(n)).sum()
    }

    /// The mean coancestry of what would be planted, each plant with each and with itself; none
    /// where nothing is planted or kinship is not known.
    pub fn kinship(&self, places: &[u32]) -> Option<f64> {
        self.kin.as_ref()?.mean(&Load::of(self, places))
    }

    fn dealt(&self, places: Vec<u32>) -> Dealt {
        let worth = self.worth(&places);
        Dealt { places, worth }
    }

    /// Whether what has to be chosen can be.
    fn musts(&self) -> Result<(), CannotBe> {
        let musts = || self.choices.iter().filter(|choice| choice.must);
        let Limits { places, pairs, per_parent } = self.limits;
        let mut in_pairs = vec![0_u32; self.n_parents];
        for choice in musts() {
            let [a, b] = choice.parents;
            in_pairs[a] += 1;
            in_pairs[b] += u32::from(a != b);
        }
        let needed = u32::try_from(musts().count()).unwrap_or(u32::MAX);
        if needed > pairs {
            return Err(CannotBe::Pairs { needed, pairs });
        }
        if let Some((parent, &needed)) = in_pairs.iter().enumerate().find(|&(_, &n)| n > per_parent)
        {
            return Err(CannotBe::PerParent { parent, needed, per_parent });
        }
        let needed = musts().fold(0_u32, |sum, choice| sum.saturating_add(choice.least));
        if needed > places {
            return Err(CannotBe::Places { needed, places });
        }
        Ok(())
    }
}

/// A good plan at once, by search. Nothing is said of how good it is.
///
/// # Errors
/// [`CannotBe`] where no plan keeps the limits, as far as the search can tell.
pub fn soon(question: &Question) -> Result<Dealt, CannotBe> {
    question.musts()?;
    search::search(question)
}

/// The best plan, or the best found with that much effort and a bound on what could be better.
///
/// # Errors
/// [`CannotBe`] where no plan keeps the limits.
pub fn choose(question: &Question, effort: u64) -> Result<Plan, CannotBe> {
    let first = soon(question);
    let (proved, bound) = exact::solve(question, first.as_ref().ok(), effort);
    let best = match (first, proved) {
        (Ok(first), Some(proved)) if proved.worth > first.worth => proved,
        (Ok(first), _) => first,
        (Err(_), Some(proved)) => proved,
        (Err(cannot), None) => return Err(cannot),
    };
    debug_assert!(broken(question, &best.places).is_empty(), "a plan breaks its limits");
    let bound = bound.unwrap_or_else(|| exact::loose_bound(question)).max(best.worth);
    let is_optimal = bound - best.worth <= SAME * best.worth.abs().max(1.0);
    Ok(Plan { dealt: best, bound, is_optimal })
}
