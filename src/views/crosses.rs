//! What became of each cross: one line from heads through packets to plants.

use std::cmp::Ordering;

use crate::book::{By, Counts, CrossId, Head, HeadState, Season};

use super::{Desk, Interval, Levels, Party};

/// Heads by how they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Heads {
    /// All that were pollinated.
    pub pollinated: u32,
    /// Still on the plant or drying.
    pub hanging: u32,
    /// Rotted.
    pub rotted: u32,
    /// Gone for another reason.
    pub lost: u32,
    /// Threshed, with seed.
    pub ripe: u32,
    /// Threshed, and empty.
    pub empty: u32,
    /// Seeds from the ripe ones.
    pub seeds: u32,
}

/// One cross.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The cross.
    pub cross: CrossId,
    /// The season in which it was made.
    pub season: Option<Season>,
    /// The seed parent.
    pub seed: Party,
    /// The pollen parent; after a selfing the seed parent.
    pub pollen: Party,
    /// By hand or by bees.
    pub by: By,
    /// Its heads that have a record of their own.
    pub heads: Heads,
    /// Packets of its seed.
    pub packets: u32,
    /// Seeds left in them, where all were counted.
    pub left: Option<u32>,
    /// Counts over all its seasons.
    pub counts: Counts,
    /// Kept of judged.
    pub rate: Option<Interval>,
}

impl Heads {
    /// Counts heads by how they stand.
    pub fn of<'a>(heads: impl IntoIterator<Item = &'a Head>) -> Self {
        let mut sum = Self::default();
        for head in heads {
            sum.pollinated += 1;
            match head.state() {
                HeadState::Hanging => sum.hanging += 1,
                HeadState::Rotted => sum.rotted += 1,
                HeadState::Lost => sum.lost += 1,
                HeadState::Empty => sum.empty += 1,
                HeadState::Ripe(seeds) => {
                    sum.ripe += 1;
                    sum.seeds = sum.seeds.saturating_add(seeds);
                }
            }
        }
        sum
    }
}

/// The line of one cross.
pub fn row(desk: &Desk, id: CrossId, levels: Levels) -> Row {
    let cross = desk.book().cross(id);
    let (seed, pollen) = desk.parties(id).clone();
    let counts = desk.counts(id);
    Row {
        cross: id,
        season: cross.season,
        seed,
        pollen,
        by: cross.by,
        heads: Heads::of(&cross.heads),
        packets: u32::try_from(cross.lots.len()).unwrap_or(u32::MAX),
        left: cross.lots.iter().map(crate::book::Lot::left).sum(),
        counts,
        rate: levels.rate(counts.kept, counts.judged),
    }
}

/// How a share stands to what is usual: below or above it only where its whole range is.
pub fn beside_usual(share: Interval, usual: f64) -> Ordering {
    if usual <= 0.0 {
        Ordering::Equal
    } else if share.high < usual {
        Ordering::Less
    } else if share.low > usual {
        Ordering::Greater
    } else {
        Ordering::Equal
    }
}

/// The crosses made in a season, or all of them, in the order of the book.
pub fn list(desk: &Desk, season: Option<Season>) -> Vec<CrossId> {
    desk.book()
        .cross_ids()
        .filter(|&id| season.is_none() || desk.book().cross(id).season == season)
        .collect()
}
