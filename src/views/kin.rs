//! How near of kin plants are: of two plants, of all, and of what a pairing gives.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::PlantId;
use crate::kinship::{Column, Ways};
use crate::lineage::CommonAncestor;

use super::{Desk, Pairing};

/// As many of the ways by which two plants are related are listed.
pub const MOST_WAYS: usize = 50;

/// How near of kin two plants are.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// The one.
    pub a: PlantId,
    /// The other; the same plant stands for a selfing.
    pub b: PlantId,
    /// θ: the chance that an allele copy drawn from the one and one drawn from the other are
    /// copies of the same one.
    pub coancestry: f64,
    /// Ploidy × θ; 1 for a plant that is not inbred with itself.
    pub relationship: f64,
    /// F of their offspring.
    pub inbreeding_of_offspring: f64,
    /// The same as a share of what full sibs would give.
    pub of_full_sibs: f64,
    /// The ancestors that they have in common, the nearest first.
    pub common: Vec<CommonAncestor>,
    /// The ways by which they are related, the largest first.
    pub ways: Ways,
}

/// How near of kin two plants are.
pub fn pair(desk: &Desk, a: PlantId, b: PlantId) -> Pair {
    let kinship = desk.kinship();
    let coancestry = kinship.coancestry(a, b);
    let inbreeding = kinship.inbreeding_of_offspring(a, b);
    Pair {
        a,
        b,
        coancestry,
        relationship: kinship.relationship(a, b),
        inbreeding_of_offspring: inbreeding,
        of_full_sibs: of_full_sibs(desk, inbreeding),
        common: desk.pedigree().common_ancestors(a, b),
        ways: kinship.ways(a, b, MOST_WAYS),
    }
}

/// How inbred a plant is and through whom, every part as a share of what full sibs would give.
#[derive(Debug, Clone, PartialEq)]
pub struct Loops {
    /// The plant.
    pub plant: PlantId,
    /// F of the plant.
    pub inbreeding: f64,
    /// The same as a share of what full sibs would give.
    pub of_full_sibs: f64,
    /// What each ancestor adds through whom its parents are kin, the most first; none stands for a
    /// father who is one of several, the same for a whole lot.
    pub through: Vec<(Option<PlantId>, f64)>,
    /// What its parents were inbred already and passed on.
    pub in_parents: f64,
    /// The steps that lie in a loop, each from a plant to a parent of it.
    pub steps: BTreeSet<(PlantId, PlantId)>,
}

/// The loops behind a plant; none where it is not inbred as far as is known.
pub fn loops(desk: &Desk, plant: PlantId) -> Option<Loops> {
    let inbreeding = desk.kinship().inbreeding(plant);
    if inbreeding <= 0.0 {
        return None;
    }
    let found = desk.kinship().loops(plant);
    let share = |f| of_full_sibs(desk, f);
    Some(Loops {
        plant,
        inbreeding,
        of_full_sibs: share(inbreeding),
        through: found.through.into_iter().map(|(top, adds)| (top, share(adds))).collect(),
        in_parents: share(found.in_parents),
        steps: found.steps,
    })
}

/// The ancestor through which two plants are most of kin.
pub fn through(desk: &Desk, a: PlantId, b: PlantId) -> Option<PlantId> {
    desk.kinship().ways(a, b, 1).listed.first()?.through()
}

/// Those of some plants that are inbred, with F as a share of what full sibs would give.
pub fn inbred(desk: &Desk, plants: &[PlantId]) -> BTreeMap<PlantId, f64> {
    let of = |&plant: &PlantId| (plant, of_full_sibs(desk, desk.kinship().inbreeding(plant)));
    plants.iter().map(of).filter(|&(_, share)| share > 0.0).collect()
}

/// An inbreeding F as a share of what the offspring of full sibs have. F by itself means little
/// from one ploidy to another.
pub fn of_full_sibs(desk: &Desk, inbreeding: f64) -> f64 {
    inbreeding / desk.kinship().rules().full_sib_mating()
}

/// How inbred the offspring of each of some plants with each of others would be, as shares of full
/// sibs, by rows. None where it is not known who stands there.
pub fn closeness(
    desk: &Desk,
    seed: &[Option<PlantId>],
    pollen: &[Option<PlantId>],
) -> Vec<Option<f64>> {
    let mut all = Vec::with_capacity(seed.len() * pollen.len());
    for plant in seed {
        let column = plant.map(|plant| desk.kinship().column(plant));
        all.extend(pollen.iter().map(|other| {
            let inbreeding = column.as_ref()?.inbreeding_of_offspring((*other)?);
            Some(of_full_sibs(desk, inbreeding))
        }));
    }
    all
}

/// Every variety and seedling with its F, in the order of the roll.
pub fn everybody(desk: &Desk) -> impl ExactSizeIterator<Item = (PlantId, f64)> {
    let kinship = desk.kinship();
    desk.book().plants().map(move |plant| (plant, kinship.inbreeding(plant)))
}

/// The coancestry of each plant with each, by rows, in the order given.
pub fn matrix(desk: &Desk, plants: &[PlantId]) -> Vec<f64> {
    desk.kinship().matrix(plants)
}

/// F of the offspring of each pairing. Where its crosses differ, because they name the same
/// candidates with other weights, it is the mean over them.
pub fn inbreeding_of_pairings<'a>(
    desk: &Desk,
    pairings: impl IntoIterator<Item = &'a Pairing>,
) -> Vec<f64> {
    let kinship = desk.kinship();
    // Pairs never made come seed parent by seed parent.
    let mut column: Option<Column<'_>> = None;
    let f = |pairing: &Pairing| {
        if !pairing.crosses.is_empty() {
            let families = pairing.crosses.iter().map(|&id| desk.pedigree().family_of_cross(id));
            let sum: f64 = families.map(|family| kinship.inbreeding_of_family(family)).sum();
            return sum / pairing.crosses.len() as f64;
        }
        let (Some(seed), Some(pollen)) = (pairing.seed.plant(), pairing.pollen.plant()) else {
            return 0.0;
        };
        let column = match &mut column {
            Some(column) if column.plant() == seed => column,
            other => other.insert(kinship.column(seed)),
        };
        column.inbreeding_of_offspring(pollen)
    };
    pairings.into_iter().map(f).collect()
}
