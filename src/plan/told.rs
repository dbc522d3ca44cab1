//! What a plan comes to: seed, heads, keepers with their range, and what was left out and why.

use std::collections::BTreeMap;

use crate::book::PlantId;

use super::{
    chance::{Chance, hundredth},
    choose::{Dealt, Question},
    field::{Field, Rates},
    next::Wanted,
    parents::Hindrance,
    work::Needed,
};

/// A number of keepers: its mean, and the range that it falls in nine times out of ten.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Keepers {
    /// The mean.
    pub mean: f64,
    /// One time in twenty it is below this.
    pub low: f64,
    /// One time in twenty it is above this.
    pub high: f64,
}

/// A pair of the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planned {
    /// Which of [`Field::pairs`].
    pub pair: usize,
    /// Seedlings to plant.
    pub seedlings: u32,
    /// Seeds to sow for them.
    pub seeds: Option<Needed>,
    /// Heads to pollinate for those.
    pub heads: Option<Needed>,
    /// What should be kept of them.
    pub keepers: Keepers,
}

/// Why a pair that one would expect is not in a plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// It cannot be made.
    Hindered(Hindrance),
    /// It was ruled out by hand.
    ByHand,
    /// Its seedlings would be too inbred.
    Inbreeding,
    /// This parent is in as many pairs as it may be.
    PerParent(PlantId),
    /// There are as many pairs as there may be.
    Pairs,
    /// It would bring what is planted too near of kin.
    Kinship,
    /// The places are better used by others.
    Places,
}

/// A plan for next season.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    /// What was asked.
    pub asked: Wanted,
    /// The pairs, the most seedlings first.
    pub planned: Vec<Planned>,
    /// Pairs of worth that are not in it, the best first, and which limit kept each out.
    pub left_out: Vec<(usize, Limit)>,
    /// What should be kept in all.
    pub keepers: Keepers,
    /// What the plan is worth: expected keepers, with daring counted in.
    pub objective: f64,
    /// No plan within these limits is worth more.
    pub bound: f64,
    /// Whether that is proved to leave nothing to gain.
    pub is_optimal: bool,
    /// The mean coancestry of what is planted; none where nothing is.
    pub kinship: Option<f64>,
}

/// Seasons that are played through for the ranges.
const DRAWS: u32 = 2_000;

const SEED: u64 = 1;

/// Pairs left out that are told of.
const MOST_LEFT_OUT: usize = 6;

impl Field {
    pub(super) fn told(
        &self,
        asked: &Wanted,
        question: &Question,
        open: &[usize],
        dealt: &Dealt,
        (bound, is_optimal): (f64, bool),
        rates: &dyn Rates,
    ) -> Next {
        let mut chosen: Vec<(usize, u32)> = open
            .iter()
            .zip(&dealt.places)
            .filter(|(_, places)| **places > 0)
            .map(|(&pair, &places)| (pair, places))
            .collect();
        chosen.sort_by(|a, b| {
            let worth = |at: usize| self.pairs[at].place.mean;
            b.1.cmp(&a.1).then(worth(b.0).total_cmp(&worth(a.0))).then(a.0.cmp(&b.0))
        });
        let (each, keepers) = self.keepers(&chosen, rates);
        let planned = chosen.iter().zip(each).map(|(&(pair, seedlings), keepers)| {
            let seeds = self.work.seeds(seedlings);
            let heads = seeds.and_then(|seeds| self.work.heads(self.pairs[pair].seed, seeds.usual));
            Planned { pair, seedlings, seeds, heads, keepers }
        });
        let planned: Vec<Planned> = planned.collect();
        Next {
            left_out: self.left_out(asked, question, open, dealt),
            kinship: self.kinship(question, open, dealt),
            asked: asked.clone(),
            planned,
            keepers,
            objective: dealt.worth,
            bound,
            is_optimal,
        }
    }

    /// The mean coancestry of what is planted, whether it is limited or not.
    fn kinship(&self, question: &Question, open: &[usize], dealt: &Dealt) -> Option<f64> {
        let kin = Some(self.kin(open, f64::INFINITY));
        Question { kin, ..question.clone() }.kinship(&dealt.places)
    }

    /// Seasons played through: the keepers of each pair and of all.
    fn keepers(&self, chosen: &[(usize, u32)], rates: &dyn Rates) -> (Vec<Keepers>, Keepers) {
        let keys: Vec<[PlantId; 2]> =
            chosen.iter().map(|&(at, _)| [self.pairs[at].seed, self.pairs[at].pollen]).collect();
        let mut chance = Chance::new(SEED);
        let mut kept: Vec<Vec<f64>> = vec![Vec::new(); chosen.len() + 1];
        for draw in rates.together(&keys, DRAWS) {
            let reach = self.stages.drawn(&mut || chance.share());
            let mut all = 0.0;
            for (at, (&(_, n), rate)) in chosen.iter().zip(&draw).enumerate() {
                let p = reach * rate;
                let k = (0..n).filter(|_| chance.share() < p).count() as f64;
                kept[at].push(k);
                all += k;
            }
            kept[chosen.len()].push(all);
        }
        let mean = |&(at, n): &(usize, u32)| f64::from(n) * self.pairs[at].place.mean;
        let mut each: Vec<Keepers> = kept
            .into_iter()
            .zip(chosen.iter().map(mean).chain([chosen.iter().map(mean).sum()]))
            .map(|(drawn, mean)| ranged(drawn, mean))
            .collect();
        let all = each.pop().unwrap_or(Keepers { mean: 0.0, low: 0.0, high: 0.0 });
        (each, all)
    }

    fn left_out(
        &self,
        asked: &Wanted,
        question: &Question,
        open: &[usize],
        dealt: &Dealt,
    ) -> Vec<(usize, Limit)> {
        let mut order: Vec<usize> = (0..self.pairs.len()).collect();
        let worth = |at: usize| {
            let place = self.pairs[at].place;
            place.mean + asked.daring * place.sd
        };
        order.sort_by(|&a, &b| worth(b).total_cmp(&worth(a)).then(a.cmp(&b)));
        let places: BTreeMap<usize, u32> =
            open.iter().copied().zip(dealt.places.iter().copied()).collect();
        let chosen = || places.iter().filter(|(_, n)| **n > 0).map(|(&at, _)| at);
        let is_full = |plant: PlantId| {
            let pairs = chosen().filter(|&at| {
                let pair = &self.pairs[at];
                pair.seed == plant || pair.pollen == plant
            });
            pairs.count() >= asked.per_parent as usize
        };
        let why = |at: usize| {
            let pair = &self.pairs[at];
            if let Some(limit) = self.barred(at, asked) {
                limit
            } else if let Some(parent) =
                [pair.seed, pair.pollen].into_iter().find(|&plant| is_full(plant))
            {
                Limit::PerParent(parent)
            } else if chosen().count() >= asked.pairs as usize {
                Limit::Pairs
            } else if question.kin.is_some() {
                Limit::Kinship
            } else {
                Limit::Places
            }
        };
        let missing = order.into_iter().filter(|at| places.get(at).is_none_or(|&n| n == 0));
        missing.take(MOST_LEFT_OUT).map(|at| (at, why(at))).collect()
    }
}

fn ranged(mut drawn: Vec<f64>, mean: f64) -> Keepers {
    drawn.sort_by(f64::total_cmp);
    Keepers { mean, low: hundredth(&drawn, 5), high: hundredth(&drawn, 95) }
}
