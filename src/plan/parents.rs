//! Who may be a parent next season, and what stands in the way of others.

use std::collections::BTreeSet;

use chrono::Datelike;

use crate::book::{
    Book, Entry, Life, Parent as Named, PlantDeed, PlantId, PlantRecord, Season, State, When,
};

/// A plant that is in the garden, and what it can do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parent {
    /// The plant.
    pub plant: PlantId,
    /// Whether it can bear seed.
    pub gives_seed: bool,
    /// Whether it can give pollen.
    pub gives_pollen: bool,
    /// The day of the year by which it was in bloom, grown from a tuber: the earliest that is known.
    pub opens: Option<u32>,
}

/// Why a pair cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hindrance {
    /// Neither of the two can bear the seed for the other's pollen.
    NoSeed,
    /// This parent opens too late in the year for seed to ripen.
    TooLate(PlantId),
}

/// From pollen to ripe seed in weeks: four to eight, as the weather leads. Common practice, no
/// source.
const WEEKS_TO_RIPEN: u32 = 6;

/// The plants in the garden that may be parents: kept seedlings that live, and varieties that
/// live and have been used here or have a diary. A variety that is only known as somebody's
/// parent is a name, not a plant.
pub(super) fn parents(book: &Book) -> Vec<Parent> {
    let mut used: BTreeSet<PlantId> = BTreeSet::new();
    for cross in book.crosses() {
        for parent in [&cross.seed, cross.pollen_parent()] {
            used.extend(keys(parent).filter_map(|key| book.by_key(key)));
        }
    }
    let able = |plant: PlantId| {
        let record = book.plant(plant);
        let life = Life::of(record.diary());
        let (gives_seed, gives_pollen) = match record {
            PlantRecord::Variety(variety) => {
                let is_here = used.contains(&plant) || !variety.diary.is_empty();
                if !is_here || life.lost.is_some() || life.state() == State::Discarded {
                    return None;
                }
                (variety.gives_seed != Some(false), variety.gives_pollen != Some(false))
            }
            PlantRecord::Seedling(..) => {
                if !matches!(life.state(), State::Kept | State::Named) {
                    return None;
                }
                (true, true)
            }
        };
        let from_seed = match record {
            PlantRecord::Seedling(..) => life.first_bloom.map(When::season),
            PlantRecord::Variety(_) => None,
        };
        let opens = opens(record.diary(), from_seed);
        Some(Parent { plant, gives_seed, gives_pollen, opens })
    };
    book.plants().filter_map(able).collect()
}

/// The earliest day of the year with a bloom. In its first season a seedling is grown from seed,
/// and later in the year than it will be.
fn opens(diary: &[Entry<PlantDeed>], from_seed: Option<Season>) -> Option<u32> {
    let shows = |did: &PlantDeed| match did {
        PlantDeed::FirstBloom => true,
        PlantDeed::Look(look) => look.shows_bloom(),
        _ => false,
    };
    let blooms = diary.iter().filter(|e| shows(&e.did) && Some(e.on.season()) != from_seed);
    blooms.filter_map(|e| e.on.exact()).map(|day| day.ordinal()).min()
}

fn keys(parent: &Named) -> impl Iterator<Item = &str> {
    let (one, several) = match parent {
        Named::Known(key) => (Some(&**key), &[][..]),
        Named::OneOf(several) => (None, &several[..]),
        Named::Unknown => (None, &[][..]),
    };
    one.into_iter().chain(several.iter().filter(|c| c.weight > 0.0).map(|c| &*c.key))
}

/// What stands in the way of a pair. `frost` is the day of the year on which the first frost of
/// autumn usually comes, where one is known.
pub(super) fn hindrance(a: &Parent, b: &Parent, frost: Option<u32>) -> Option<Hindrance> {
    let can = |seed: &Parent, pollen: &Parent| seed.gives_seed && pollen.gives_pollen;
    if !can(a, b) && !can(b, a) {
        return Some(Hindrance::NoSeed);
    }
    let last = frost?.saturating_sub(7 * WEEKS_TO_RIPEN);
    [a, b]
        .into_iter()
        .find(|p| p.opens.is_some_and(|day| day > last))
        .map(|p| Hindrance::TooLate(p.plant))
}
