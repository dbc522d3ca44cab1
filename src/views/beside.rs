//! What is to be seen beside a plant that is being judged: how it looked before, its parents, its
//! sibs, and what it has before it.

use crate::book::{Counts, Look, PlantDeed, PlantId, Season, Verdict, When};

use super::{
    Desk, Levels, Party,
    first_bloom::{self, Outlook},
    sibs::{self, Measures},
};

/// A parent, as it looked.
#[derive(Debug, Clone, PartialEq)]
pub struct Parent {
    /// The plant.
    pub plant: PlantId,
    /// What was measured of it.
    pub measures: Measures,
}

/// Everything beside one plant.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// The plant.
    pub plant: PlantId,
    /// The last look of an earlier season.
    pub before: Option<(When, Look)>,
    /// The last word of an earlier season.
    pub word_before: Option<(Verdict, When)>,
    /// Its seed parent, if that is known.
    pub seed: Option<Parent>,
    /// Its pollen parent, if that is known.
    pub pollen: Option<Parent>,
    /// Its full sibs and itself.
    pub counts: Counts,
    /// Means of its sibs, by measure.
    pub sibs: Measures,
    /// What it has before it, if it has not bloomed.
    pub outlook: Option<Outlook>,
}

/// Gathers it, as of a season.
pub fn beside(desk: &Desk, plant: PlantId, season: Season, levels: Levels) -> Beside {
    let diary = desk.book().plant(plant).diary();
    let earlier = diary.iter().rev().filter(|entry| entry.on.season() < season);
    let before = earlier.clone().find_map(|entry| match &entry.did {
        PlantDeed::Look(look) => Some((entry.on, (**look).clone())),
        _ => None,
    });
    let word_before = earlier.clone().find_map(|entry| match &entry.did {
        PlantDeed::Verdict { is, .. } => Some((*is, entry.on)),
        _ => None,
    });
    let (seed, pollen) = desk.parents(plant);
    let parent = |party: &Party| {
        let plant = party.plant()?;
        Some(Parent { plant, measures: Measures::of(desk, plant) })
    };
    let family = sibs::sibs(desk, sibs::Of::Plant(plant), levels);
    let means = family.means.iter().filter_map(|(name, mean)| Some((name.clone(), mean.family?)));
    Beside {
        plant,
        before,
        word_before,
        seed: parent(&seed),
        pollen: parent(&pollen),
        counts: family.counts,
        sibs: Measures { values: means.collect() },
        outlook: first_bloom::outlook(desk, plant, levels),
    }
}
