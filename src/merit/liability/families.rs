//! What a book has to tell: counts of families, and the word on each plant that became a parent.

use std::collections::BTreeMap;

use crate::book::{Book, CrossId, Father, PlantId, Season, Totals};
use crate::lineage::{Link, Parents, Pedigree};

use super::Outcome;

/// A count that was made in one season: of a family without the plants that became parents, or
/// of one such plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seen {
    pub(super) cross: CrossId,
    /// The plant, where it is a word on one that became a parent.
    pub(super) plant: Option<PlantId>,
    /// The season; absent where nobody knows.
    pub(super) season: Option<Season>,
    pub(super) k: u32,
    pub(super) n: u32,
    /// Whether one plant fathered all, though it may not be known which.
    pub(super) is_one: bool,
}

/// Two plants that may be the parents of a family; none stands for a plant that the book does not
/// know.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Way {
    pub(super) weight: f64,
    pub(super) seed: Option<PlantId>,
    pub(super) pollen: Option<PlantId>,
}

/// Seasons, and lots that share a father without a name, are counted apart.
type Group<'a> = (Option<Season>, bool, Option<&'a str>);

/// What a book has to tell.
#[derive(Debug, Default)]
pub(super) struct Record {
    /// Everything that was counted, in the order of the book.
    pub(super) seen: Vec<Seen>,
    /// The plants of which the answer was yes and that never became parents, in roll order, with
    /// the season.
    pub(super) liked: Vec<(PlantId, Season)>,
}

/// Reads a book.
pub(super) fn record(book: &Book, pedigree: &Pedigree, outcome: Outcome) -> Record {
    let mut used = pedigree.used().to_vec();
    used.sort_unstable();
    let mut record = Record::default();
    for id in book.cross_ids() {
        let cross = book.cross(id);
        let several = ways(pedigree, id).len() > 1;
        let mut groups: BTreeMap<Group<'_>, (u32, u32)> = BTreeMap::new();
        let mut parents = Vec::new();
        for (plant, seedling) in book.family(id).zip(&cross.seedlings) {
            let Some((season, yes)) = outcome.of(&seedling.diary) else { continue };
            let lot = seedling.lot.as_deref();
            let is_one = cross.father_of(lot) == Father::One;
            if used.binary_search(&plant).is_ok() {
                let (k, season) = (u32::from(yes), Some(season));
                parents.push(Seen { cross: id, plant: Some(plant), season, k, n: 1, is_one });
                continue;
            }
            if yes {
                record.liked.push((plant, season));
            }
            let group = (Some(season), is_one, lot.filter(|_| is_one && several));
            let (k, n) = groups.entry(group).or_default();
            *k += u32::from(yes);
            *n += 1;
        }
        if let Some(totals) = &cross.totals
            && let Some((k, n)) = outcome.of_totals(totals)
            && n > 0
        {
            let season = season_of_totals(totals, cross.season);
            let is_one = cross.father_of(None) == Father::One;
            let (kept, judged) = groups.entry((season, is_one, None)).or_default();
            *kept = kept.saturating_add(k.min(n));
            *judged = judged.saturating_add(n);
        }
        record.seen.extend(groups.into_iter().map(|((season, is_one, _), (k, n))| Seen {
            cross: id,
            plant: None,
            season,
            k,
            n,
            is_one,
        }));
        record.seen.append(&mut parents);
    }
    record
}

fn season_of_totals(totals: &Totals, made: Option<Season>) -> Option<Season> {
    totals.judged_season.or_else(|| made.map(Season::next))
}

/// The ways in which the family of a cross may have come about.
pub(super) fn ways(pedigree: &Pedigree, cross: CrossId) -> Vec<Way> {
    let parents = pedigree.parents_of(pedigree.family_of_cross(cross));
    let side = |links: &[Link]| {
        let known: Vec<_> = links.iter().map(|link| (link.plant, link.weight)).collect();
        with_rest(&known)
    };
    let (seed, pollen) = (side(parents.seed), side(parents.pollen));
    if is_same(parents) {
        // The same candidates on both sides of a selfing are one plant, not two.
        let both = |(plant, weight)| Way { weight, seed: plant, pollen: plant };
        return seed.into_iter().map(both).collect();
    }
    let pairs = seed.iter().flat_map(|s| pollen.iter().map(move |p| (s, p)));
    pairs.map(|(s, p)| Way { weight: s.1 * p.1, seed: s.0, pollen: p.0 }).collect()
}

/// Whether both sides name the same candidates.
fn is_same(parents: Parents<'_>) -> bool {
    parents.seed.len() > 1 && parents.seed == parents.pollen
}

/// The plants of one side with their probabilities, scaled so that they sum to 1; what the known
/// ones leave is a plant that nobody knows.
pub(super) fn with_rest(side: &[(PlantId, f64)]) -> Vec<(Option<PlantId>, f64)> {
    let known: f64 = side.iter().map(|(_, weight)| weight).sum();
    let whole = known.max(1.0);
    let mut all: Vec<(Option<PlantId>, f64)> =
        side.iter().map(|&(plant, weight)| (Some(plant), weight / whole)).collect();
    if known < 1.0 - 1e-9 {
        all.push((None, 1.0 - known));
    }
    all
}
