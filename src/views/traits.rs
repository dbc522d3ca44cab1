//! What parents pass on of what is measured, and how far that can be told.

use std::collections::BTreeMap;

use crate::book::{PlantId, Season};
use crate::merit::traits::{
    self, Estimate, Family, Index, NotEnough, Passed, Standing, Trait, TraitFit, Worth,
};

use super::{Desk, Levels};

/// How one trait is passed on.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The trait: `bloom_mm`, `height_cm`, or the name of a score.
    pub name: Box<str>,
    /// What was measured.
    pub counted: traits::Counted,
    /// What can be told of it, or why nothing can.
    pub told: Result<Told, NotEnough>,
}

/// What can be told of a trait.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Told {
    /// A seedling of average parents in an average season.
    pub average: Estimate,
    /// The share of the variance of single looks that is additive by descent.
    pub heritability: Estimate,
    /// The spread of single looks within a season and a bed.
    pub spread: f64,
    /// The first season whose looks were reckoned with, where the book is too large for all.
    pub since: Option<Season>,
}

/// Where a plant stands against what the raiser is after.
pub type Aimed = Index;

impl Desk {
    /// Every trait that was measured, fitted; worked out when first asked for.
    pub fn traits(&self) -> &[Trait] {
        self.fitted_traits.get_or_init(|| {
            let (book, pedigree, kinship) = (self.book(), self.pedigree(), self.kinship());
            let names = traits::measured(book);
            names.iter().map(|name| Trait::of(book, pedigree, kinship, name)).collect()
        })
    }
}

/// Every trait that was measured: bloom, height, then the scores.
pub fn rows(desk: &Desk) -> Vec<Row> {
    let row = |found: &Trait| Row {
        name: found.name.clone(),
        counted: found.counted,
        told: match &found.fitted {
            Ok(fit) => Ok(Told {
                average: fit.average(),
                heritability: fit.heritability(),
                spread: fit.shares().whole().sqrt(),
                since: fit.since(),
            }),
            Err(why) => Err(*why),
        },
    };
    desk.traits().iter().map(row).collect()
}

/// The traits that can be told.
pub fn fitted(desk: &Desk) -> impl Iterator<Item = &TraitFit> {
    desk.traits().iter().filter_map(|found| found.fitted.as_ref().ok())
}

/// Every family in every trait that can be told, with the name of the trait.
pub fn families(desk: &Desk) -> impl Iterator<Item = (&str, &Family)> {
    fitted(desk).flat_map(|fit| fit.families().iter().map(|family| (fit.name(), family)))
}

/// What the offspring of a plant are on average, trait by trait, where that can be told.
pub fn passed_on(desk: &Desk, plant: PlantId, levels: Levels) -> BTreeMap<Box<str>, Passed> {
    fitted(desk)
        .filter_map(|fit| Some((fit.name().into(), fit.passed_on(plant, levels.shrunk)?)))
        .collect()
}

/// The breeding value of a plant in one trait, where that can be told.
pub fn worth(desk: &Desk, plant: PlantId, name: &str) -> Option<Worth> {
    fitted(desk).find(|fit| fit.name() == name)?.breeding_value(plant)
}

/// How near the offspring of a plant come to what the raiser is after. None where no aim is of a
/// trait that can be told.
pub fn aimed(desk: &Desk, plant: PlantId) -> Option<Aimed> {
    traits::index(&desk.book().about().aims, |name| {
        let fit = fitted(desk).find(|fit| fit.name() == name)?;
        let passed = fit.offspring(plant)?;
        Some(Standing {
            value: passed.value,
            se: passed.se.unwrap_or_default(),
            average: fit.average().value,
            spread: fit.shares().whole().sqrt(),
        })
    })
}
