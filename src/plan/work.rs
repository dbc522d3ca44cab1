//! From seedlings to work: how much seed to sow for so many plants, and how many heads to pollinate
//! for so much seed.

use std::collections::BTreeMap;

use crate::book::{Book, Cross, HeadState, PlantId};
use crate::stats::numbers::{Share, fewest};

use super::{
    chance::{Chance, hundredth},
    place::Stage,
};

/// How many are needed, as far as it can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Needed {
    /// As likely enough as not.
    pub usual: u32,
    /// Enough only with luck: one time in twenty.
    pub lucky: u32,
    /// Enough nearly always: nineteen times in twenty.
    pub sure: u32,
}

/// What the book tells of heads and seed.
#[derive(Debug, Clone)]
pub struct Work {
    planted_of_sown: Stage,
    /// Seeds of each head whose fate is known, by seed parent.
    by_parent: BTreeMap<PlantId, Vec<u32>>,
    all: Vec<u32>,
    /// Seeds of a head where nothing is counted: the share that ripens, and what is in those.
    usual: (f64, u32),
}

const LUCKY: f64 = 0.05;
const AS_NOT: f64 = 0.5;
const SURE: f64 = 0.95;
/// Heads of the whole book that a seed parent's own are mixed with.
const WORTH: usize = 5;
/// Seasons that are played through for the number of heads.
const TRIES: usize = 400;
/// Nobody pollinates more.
const MOST_HEADS: u32 = 500;

impl Work {
    /// From the crosses of a book.
    pub fn of(book: &Book) -> Self {
        let rates = &book.crop().rates;
        let mut sums = (0_u32, 0_u32);
        let mut by_parent: BTreeMap<PlantId, Vec<u32>> = BTreeMap::new();
        let mut all = Vec::new();
        for cross in book.crosses() {
            let counts = cross.counts();
            if counts.sown > 0 && counts.planted > 0 && counts.planted <= counts.sown {
                sums = (sums.0.saturating_add(counts.planted), sums.1.saturating_add(counts.sown));
            }
            let heads = heads(cross);
            let parent = cross.seed.known().and_then(|key| book.by_key(key));
            if let Some(parent) = parent {
                by_parent.entry(parent).or_default().extend(&heads);
            }
            all.extend(heads);
        }
        let usual = (rates.ripened_of_heads.value, whole(rates.seeds_of_head.value));
        Self {
            planted_of_sown: Stage::of_usual(sums, &rates.planted_of_sown),
            by_parent,
            all,
            usual,
        }
    }

    /// Seeds to sow for so many plants in the bed; none where the book's seed hardly ever comes up.
    pub fn seeds(&self, plants: u32) -> Option<Needed> {
        let Stage { through, lost, .. } = self.planted_of_sown;
        let stages = [Share::Beta { a: through, b: lost }];
        let at = |assurance| fewest(plants, assurance, &stages);
        Some(Needed { usual: at(AS_NOT)?, lucky: at(LUCKY)?, sure: at(SURE)? })
    }

    /// The share of seed sown that ends up planted out.
    pub fn planted_of_sown(&self) -> Stage {
        self.planted_of_sown
    }

    /// Seeds of a head of this parent, empty and rotted ones counted in: its own heads and a few
    /// of the whole book.
    pub fn seeds_of_head(&self, parent: PlantId) -> f64 {
        let own = self.by_parent.get(&parent).map_or(&[][..], Vec::as_slice);
        let sum: f64 = own.iter().map(|&seeds| f64::from(seeds)).sum();
        (sum + WORTH as f64 * self.mean()) / (own.len() + WORTH) as f64
    }

    /// Heads whose fate is known, of a parent.
    pub fn heads_known(&self, parent: PlantId) -> usize {
        self.by_parent.get(&parent).map_or(0, Vec::len)
    }

    fn mean(&self) -> f64 {
        let (ripened, in_ripe) = self.usual;
        let sum: f64 = self.all.iter().map(|&seeds| f64::from(seeds)).sum();
        (sum + WORTH as f64 * ripened * f64::from(in_ripe)) / (self.all.len() + WORTH) as f64
    }

    /// Heads of this parent to pollinate for so much seed: heads like those of the book are
    /// gathered, again and again, until there is enough. None where that would be more than
    /// anybody pollinates.
    pub fn heads(&self, parent: PlantId, seeds: u32) -> Option<Needed> {
        let own = self.by_parent.get(&parent).map_or(&[][..], Vec::as_slice);
        let mut chance = Chance::new(u64::from(seeds));
        let mut tries: Vec<u32> = (0..TRIES)
            .map(|_| {
                let (mut heads, mut got) = (0, 0_u32);
                while got < seeds && heads <= MOST_HEADS {
                    heads += 1;
                    got = got.saturating_add(self.head(own, &mut chance));
                }
                heads
            })
            .collect();
        tries.sort_unstable();
        let at = |hundredths| hundredth(&tries, hundredths);
        let needed = Needed { usual: at(50), lucky: at(5), sure: at(95) };
        (needed.usual <= MOST_HEADS).then_some(needed)
    }

    /// One head: of the parent's own, of the book's, or as is usual.
    fn head(&self, own: &[u32], chance: &mut Chance) -> u32 {
        if let Some(&seeds) = own.get(chance.below(own.len() + WORTH)) {
            return seeds;
        }
        if let Some(&seeds) = self.all.get(chance.below(self.all.len() + WORTH)) {
            return seeds;
        }
        if chance.share() < self.usual.0 { self.usual.1 } else { 0 }
    }
}

/// A usual number of seeds, as a head has it.
fn whole(seeds: f64) -> u32 {
    (0..=MOST_SEEDS).find(|&n| f64::from(n) + 0.5 > seeds).unwrap_or(MOST_SEEDS)
}

/// No head has more.
const MOST_SEEDS: u32 = 1_000;

/// The seeds of each head whose fate is known.
fn heads(cross: &Cross) -> Vec<u32> {
    let of_head = |state| match state {
        HeadState::Ripe(seeds) => Some(seeds),
        HeadState::Rotted | HeadState::Empty | HeadState::Lost => Some(0),
        HeadState::Hanging => None,
    };
    if !cross.heads.is_empty() {
        return cross.heads.iter().filter_map(|head| of_head(head.state())).collect();
    }
    // Only totals: each head with its part.
    let counts = cross.counts();
    if counts.heads == 0 || counts.seeds == 0 {
        return Vec::new();
    }
    let (each, more) = (counts.seeds / counts.heads, counts.seeds % counts.heads);
    (0..counts.heads.min(MOST_HEADS)).map(|at| each + u32::from(at < more)).collect()
}
