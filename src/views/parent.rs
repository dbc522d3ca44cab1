//! The page of a plant as a parent: what it gave on either side, with whom, what it passes on,
//! who is near of kin to it, and what its offspring went on to do.

use crate::book::{HeadState, PlantId};
use crate::merit::{
    liability::Outcome,
    mean,
    traits::{Estimate, Family, NotEnough, Passed},
};

use super::{Desk, Interval, Levels, given, parents, traits};

/// A plant used as a parent that is near of kin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kin {
    /// The other plant.
    pub plant: PlantId,
    /// The relationship of the two; a parent or a full sib has about one half.
    pub relationship: f64,
    /// How inbred their offspring would be, as a share of what full sibs would give.
    pub of_full_sibs: f64,
}

/// One trait of its offspring.
#[derive(Debug, Clone, PartialEq)]
pub struct TraitRow {
    /// The trait: `bloom_mm`, `height_cm`, or the name of a score.
    pub name: Box<str>,
    /// What it passes on, and how its seedlings lie against those of the other parents; or why that
    /// cannot be told. Nothing where the trait is told, but not of this plant.
    pub told: Result<Option<(Passed, Option<Estimate>)>, NotEnough>,
}

/// One family in one trait.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyRow {
    /// The trait.
    pub name: Box<str>,
    /// The other parent; the plant itself after a selfing.
    pub with: PlantId,
    /// The family against its parents.
    pub family: Family,
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// The plant.
    pub plant: PlantId,
    /// What it gave on either side; none for a plant that never was a parent.
    pub row: Option<parents::Row>,
    /// Seeds of a head that it bore.
    pub seeds: Option<Seeds>,
    /// Its partners, the best first.
    pub partners: Vec<given::Partner>,
    /// The parents nearest of kin to it, the nearest first.
    pub kin: Vec<Kin>,
    /// What its offspring went on to do.
    pub went_on: given::WentOn,
}

/// Seeds of one threshed head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seeds {
    /// Heads that were threshed, empty ones among them.
    pub heads: u32,
    /// The mean.
    pub mean: f64,
    /// The lower end of its 95 % range.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

/// Heads from which on a mean of them has a range.
const LEAST_HEADS: u32 = 3;

/// As many of its kin are told of.
pub const MOST_KIN: usize = 30;

/// Puts the page together: what is quickly told. [`outcome`], [`traits_of`] and [`families`] take
/// longer.
pub fn page(desk: &Desk, plant: PlantId, levels: Levels) -> Page {
    Page {
        plant,
        row: parents::row(desk, plant, levels),
        seeds: seeds(desk, plant),
        partners: given::partners(desk, plant, levels),
        kin: kin(desk, plant, MOST_KIN),
        went_on: given::went_on(desk, plant),
    }
}

/// The chance of an outcome for a seedling of a plant with an average partner; none where the
/// records are too few. Takes a second when first asked for.
pub fn outcome(desk: &Desk, plant: PlantId, outcome: Outcome, levels: Levels) -> Option<Interval> {
    Some(desk.outcome(outcome)?.parent(plant, levels.shrunk))
}

/// Seeds of the heads that a plant bore; none where fewer than three were threshed.
pub fn seeds(desk: &Desk, plant: PlantId) -> Option<Seeds> {
    let used = desk.pedigree().offspring(plant).iter().filter(|of| of.as_seed && of.certain);
    let crosses = used.filter_map(|of| desk.pedigree().cross_of(of.family));
    let heads = crosses.flat_map(|cross| &desk.book().cross(cross).heads);
    let counts: Vec<f64> = heads
        .filter_map(|head| match head.state() {
            HeadState::Ripe(seeds) => Some(f64::from(seeds)),
            HeadState::Empty => Some(0.0),
            HeadState::Hanging | HeadState::Rotted | HeadState::Lost => None,
        })
        .collect();
    let heads = u32::try_from(counts.len()).unwrap_or(u32::MAX);
    if heads < LEAST_HEADS {
        return None;
    }
    let Interval { p, low, high, .. } = mean(&counts, 0.95)?;
    Some(Seeds { heads, mean: p, low: low.max(0.0), high })
}

/// The parents that are nearest of kin to a plant.
pub fn kin(desk: &Desk, plant: PlantId, most: usize) -> Vec<Kin> {
    let column = desk.kinship().column(plant);
    let full = desk.kinship().rules().full_sib_mating();
    let others = desk.pedigree().used().iter().copied().filter(|&other| other != plant);
    let mut kin: Vec<Kin> = others
        .map(|other| Kin {
            plant: other,
            relationship: column.relationship(other),
            of_full_sibs: column.inbreeding_of_offspring(other) / full,
        })
        .filter(|kin| kin.relationship > 0.0)
        .collect();
    kin.sort_by(|a, b| b.relationship.total_cmp(&a.relationship).then(a.plant.cmp(&b.plant)));
    kin.truncate(most);
    kin
}

/// What a plant passes on of every trait that was measured. Takes a second when first asked for.
pub fn traits_of(desk: &Desk, plant: PlantId, levels: Levels) -> Vec<TraitRow> {
    let row = |found: &crate::merit::traits::Trait| TraitRow {
        name: found.name.clone(),
        told: match &found.fitted {
            Ok(fit) => Ok(fit
                .passed_on(plant, levels.shrunk)
                .map(|passed| (passed, fit.general_ability(plant)))),
            Err(why) => Err(*why),
        },
    };
    desk.traits().iter().map(row).collect()
}

/// The families of a plant, trait by trait, the largest first.
pub fn families(desk: &Desk, plant: PlantId) -> Vec<FamilyRow> {
    let mut rows = Vec::new();
    for (name, family) in traits::families(desk) {
        let [a, b] = family.parents;
        if a == plant || b == plant {
            let with = if a == plant { b } else { a };
            rows.push(FamilyRow { name: name.into(), with, family: *family });
        }
    }
    rows.sort_by(|x, y| y.family.n.cmp(&x.family.n).then(x.with.cmp(&y.with)));
    rows
}
