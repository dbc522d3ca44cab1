//! What a plant gave as a parent: its partners, and what its offspring went on to do.

use std::collections::BTreeMap;

use crate::book::{PlantId, Stage, Verdict};

use super::{Desk, Interval, Levels, Party, pairings};

/// A partner, with the record of the pairing in both directions.
#[derive(Debug, Clone, PartialEq)]
pub struct Partner {
    /// The other parent; the plant itself after a selfing.
    pub with: Party,
    /// Which of [`Desk::pairings`] it is.
    pub pairing: usize,
    /// Kept, of so many judged.
    pub kept: u32,
    /// Judged.
    pub judged: u32,
    /// Kept of judged.
    pub rate: Option<Interval>,
    /// The same, steadied by what the other pairings do.
    pub shrunk: Interval,
}

/// What the seedlings of a plant went on to do. Where it was only one of several that may have
/// been the parent, they count for nobody.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WentOn {
    /// Seedlings with a number.
    pub seedlings: u32,
    /// That bloomed.
    pub bloomed: u32,
    /// With a verdict of keep or discard at the first sorting.
    pub judged: u32,
    /// Whose verdict was keep.
    pub kept: u32,
    /// Kept again in a later season, named ones among them.
    pub kept_again: u32,
    /// That were named.
    pub named: Vec<PlantId>,
    /// That became parents.
    pub parents: Vec<PlantId>,
}

/// The partners with which anything was judged, the best first by the steadied rate.
pub fn partners(desk: &Desk, plant: PlantId, levels: Levels) -> Vec<Partner> {
    let of = Party::Plant(plant);
    let mut partners: Vec<Partner> = Vec::new();
    for (at, pairing) in desk.pairings().iter().enumerate() {
        let with = match (&pairing.seed, &pairing.pollen) {
            (seed, other) | (other, seed) if *seed == of => other.clone(),
            _ => continue,
        };
        let row = pairings::row(desk, pairing, levels);
        if row.tried {
            partners.push(Partner {
                with,
                pairing: at,
                kept: pairing.counts.kept,
                judged: pairing.counts.judged,
                rate: row.rate,
                shrunk: row.shrunk,
            });
        }
    }
    partners.sort_by(|a, b| b.shrunk.p.total_cmp(&a.shrunk.p));
    partners
}

/// The partners of every parent, as [`partners`] gives them.
pub fn all_partners(desk: &Desk, levels: Levels) -> BTreeMap<PlantId, Vec<Partner>> {
    let mut all: BTreeMap<PlantId, Vec<Partner>> = BTreeMap::new();
    for (at, pairing) in desk.pairings().iter().enumerate() {
        let row = pairings::row(desk, pairing, levels);
        let (seed, pollen) = (&pairing.seed, &pairing.pollen);
        let mut ends = vec![(seed, pollen), (pollen, seed)];
        ends.dedup();
        for (of, with) in ends.into_iter().filter(|_| row.tried) {
            if let Some(plant) = of.plant() {
                all.entry(plant).or_default().push(Partner {
                    with: with.clone(),
                    pairing: at,
                    kept: pairing.counts.kept,
                    judged: pairing.counts.judged,
                    rate: row.rate,
                    shrunk: row.shrunk,
                });
            }
        }
    }
    for partners in all.values_mut() {
        partners.sort_by(|a, b| b.shrunk.p.total_cmp(&a.shrunk.p));
    }
    all
}

/// What the seedlings of a plant went on to do.
pub fn went_on(desk: &Desk, plant: PlantId) -> WentOn {
    let mut went_on = WentOn::default();
    // A selfing stands among the offspring of both of its sides.
    let used = desk.pedigree().offspring(plant).iter().filter(|of| of.certain);
    let mut families: Vec<_> = used.map(|of| of.family).collect();
    families.dedup();
    let crosses = families.into_iter().filter_map(|family| desk.pedigree().cross_of(family));
    for id in crosses.flat_map(|cross| desk.book().family(cross)) {
        let brief = desk.brief(id);
        let is = |verdict| brief.sorting == Some(verdict);
        went_on.seedlings += 1;
        went_on.bloomed += u32::from(brief.first_bloom.is_some());
        went_on.judged += u32::from(is(Verdict::Keep) || is(Verdict::Discard));
        went_on.kept += u32::from(is(Verdict::Keep));
        match brief.stage {
            Some(Stage::Named) => {
                went_on.kept_again += 1;
                went_on.named.push(id);
            }
            Some(Stage::SecondSeason) => went_on.kept_again += 1,
            Some(Stage::FirstYear) | None => {}
        }
        if !desk.pedigree().offspring(id).is_empty() {
            went_on.parents.push(id);
        }
    }
    went_on
}
