//! Asking for a plan: what a raiser wants, and the limits that stand in the way.

use thiserror::Error;

use crate::book::PlantId;

use super::{
    choose::{self, CannotBe, Choice, Limits, Question},
    field::{Field, Pair, Rates},
    told::{Limit, Next},
};

/// What a raiser asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Places in the bed.
    pub places: u32,
    /// Pairs at most.
    pub pairs: u32,
    /// Pairs of one parent at most.
    pub per_parent: u32,
    /// Seedlings of a pair, at least.
    pub least: u32,
    /// Seedlings of a pair, at most; half as many again as an even share where nothing is said.
    pub most: Option<u32>,
    /// The inbreeding F of seedlings at most.
    pub max_inbreeding: Option<f64>,
    /// The mean coancestry of what is planted at most, each plant with each and with itself.
    pub max_kinship: Option<f64>,
    /// How much the benefit of the doubt counts: standard deviations of a place's worth that are
    /// added to its mean.
    pub daring: f64,
    /// Pairs that have to be in the plan.
    pub with: Vec<[PlantId; 2]>,
    /// Pairs that must not be.
    pub without: Vec<[PlantId; 2]>,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NoPlan {
    /// Fewer than two plants to cross.
    #[error("there are not two plants in the garden that could be crossed")]
    NobodyToCross,
    /// A pair asked for by hand has a parent that is not in the garden.
    #[error("a plant that is asked for is not in the garden, or not kept")]
    NotHere(PlantId),
    /// The limits leave nothing to choose from.
    #[error("no pair keeps these limits")]
    NothingLeft,
    /// The limits cannot be kept together.
    #[error("{0}")]
    CannotBe(CannotBe, Option<PlantId>),
}

impl Field {
    /// Which limit keeps a pair from being chosen at all.
    pub(super) fn barred(&self, at: usize, asked: &Wanted) -> Option<Limit> {
        let pair = &self.pairs[at];
        if has(&asked.with, pair) {
            return None;
        }
        if let Some(hindrance) = pair.hindrance {
            return Some(Limit::Hindered(hindrance));
        }
        if has(&asked.without, pair) {
            return Some(Limit::ByHand);
        }
        let too_inbred = asked.max_inbreeding.is_some_and(|most| pair.inbreeding > most + 1e-12);
        too_inbred.then_some(Limit::Inbreeding)
    }

    /// The question for the solver, and which pair each of its choices is.
    fn question(&self, asked: &Wanted) -> Result<(Question, Vec<usize>), NoPlan> {
        if self.parents.len() < 2 {
            return Err(NoPlan::NobodyToCross);
        }
        for &plant in asked.with.iter().flatten() {
            if self.place_of(plant).is_none() {
                return Err(NoPlan::NotHere(plant));
            }
        }
        let open: Vec<usize> =
            (0..self.pairs.len()).filter(|&at| self.barred(at, asked).is_none()).collect();
        if open.is_empty() {
            return Err(NoPlan::NothingLeft);
        }
        let most = asked.most.unwrap_or_else(|| usual_most(asked, open.len()));
        let choice = |&at: &usize| {
            let pair = &self.pairs[at];
            let place = |plant| self.place_of(plant).unwrap_or_default();
            Choice {
                parents: [place(pair.seed), place(pair.pollen)],
                worth: pair.place.mean + asked.daring * pair.place.sd,
                least: asked.least.min(most).max(1),
                most: most.max(1),
                must: has(&asked.with, pair),
            }
        };
        let question = Question {
            choices: open.iter().map(choice).collect(),
            n_parents: self.parents.len(),
            limits: Limits {
                places: asked.places,
                pairs: asked.pairs,
                per_parent: asked.per_parent,
            },
            kin: asked.max_kinship.map(|most| self.kin(&open, most)),
        };
        Ok((question, open))
    }

    /// A good plan at once; nothing is said of how good it is.
    ///
    /// # Errors
    /// [`NoPlan`] where the limits leave none.
    pub fn soon(&self, asked: &Wanted, rates: &dyn Rates) -> Result<Next, NoPlan> {
        let (question, open) = self.question(asked)?;
        let dealt = choose::soon(&question).map_err(|cannot| self.cannot(cannot))?;
        let bound = f64::INFINITY;
        Ok(self.told(asked, &question, &open, &dealt, (bound, false), rates))
    }

    /// The best plan, or the best found and a bound on what could be better.
    ///
    /// # Errors
    /// [`NoPlan`] where the limits leave none.
    pub fn plan(&self, asked: &Wanted, rates: &dyn Rates) -> Result<Next, NoPlan> {
        let (question, open) = self.question(asked)?;
        let plan = choose::choose(&question, choose::USUAL_EFFORT)
            .map_err(|cannot| self.cannot(cannot))?;
        let proved = (plan.bound, plan.is_optimal);
        Ok(self.told(asked, &question, &open, &plan.dealt, proved, rates))
    }

    /// What the best plan found at once would be worth under other limits: for telling what a limit
    /// costs. None where there is none.
    pub fn worth(&self, asked: &Wanted) -> Option<f64> {
        let (question, _) = self.question(asked).ok()?;
        choose::soon(&question).ok().map(|dealt| dealt.worth)
    }

    fn cannot(&self, cannot: CannotBe) -> NoPlan {
        let parent = match cannot {
            CannotBe::PerParent { parent, .. } => Some(self.parents[parent].plant),
            _ => None,
        };
        NoPlan::CannotBe(cannot, parent)
    }
}

fn has(list: &[[PlantId; 2]], pair: &Pair) -> bool {
    list.iter()
        .any(|&[a, b]| [a, b] == [pair.seed, pair.pollen] || [b, a] == [pair.seed, pair.pollen])
}

/// Half as many again as an even share: the sum is linear, so without a limit a few pairs would
/// get all the places.
fn usual_most(asked: &Wanted, open: usize) -> u32 {
    let pairs = asked.pairs.min(u32::try_from(open).unwrap_or(u32::MAX)).max(1);
    (asked.places.saturating_mul(3)).div_ceil(pairs.saturating_mul(2)).max(asked.least)
}
