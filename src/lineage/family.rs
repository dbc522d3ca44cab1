//! Families and the links between them.

use crate::book::PlantId;

/// The seedlings of one cross, or one variety by itself: plants that share their parents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FamilyId(pub u32);

/// A plant that is, or may be, one parent of a family.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// The plant.
    pub plant: PlantId,
    /// Its number among the plants used as parents.
    pub(super) used: u32,
    /// The probability that it was this one.
    pub weight: f64,
}

/// What is known of the parents of a family.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parents<'a> {
    /// The seed parent, or the plants that may have been it, in the order written.
    pub seed: &'a [Link],
    /// The pollen parent, or the plants that may have been it.
    pub pollen: &'a [Link],
}

/// A family in which a plant is, or may be, a parent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Offspring {
    /// The family.
    pub family: FamilyId,
    /// Whether the plant is among those that may have borne the seed.
    pub as_seed: bool,
    /// Whether it is among those that may have given the pollen; after a selfing it is both.
    pub as_pollen: bool,
    /// Whether it is known for certain to be a parent.
    pub certain: bool,
}

/// Weights are written by hand, so they need not sum to 1 to the last digit.
const SLACK: f64 = 1e-9;

impl FamilyId {
    pub(super) fn index(self) -> usize {
        self.0 as usize
    }
}

impl Link {
    /// The place of the plant in [`Pedigree::used`](super::Pedigree::used).
    pub fn place(&self) -> usize {
        self.used as usize
    }

    /// Whether nobody else can have been this parent.
    pub fn is_certain(&self) -> bool {
        self.weight >= 1.0 - SLACK
    }
}

impl<'a> Parents<'a> {
    /// The seed parent, if it is known for certain.
    pub fn known_seed(self) -> Option<PlantId> {
        certain(self.seed)
    }

    /// The pollen parent, if it is known for certain.
    pub fn known_pollen(self) -> Option<PlantId> {
        certain(self.pollen)
    }

    /// The probability that the seed parent is a plant that the book does not know.
    pub fn unknown_seed(self) -> f64 {
        rest(self.seed)
    }

    /// The probability that the pollen parent is a plant that the book does not know.
    pub fn unknown_pollen(self) -> f64 {
        rest(self.pollen)
    }

    /// All of them, the seed side first.
    pub fn all(self) -> impl Iterator<Item = &'a Link> {
        self.seed.iter().chain(self.pollen)
    }
}

fn certain(links: &[Link]) -> Option<PlantId> {
    links.first().filter(|link| link.is_certain()).map(|link| link.plant)
}

fn rest(links: &[Link]) -> f64 {
    let rest = 1.0 - links.iter().map(|link| link.weight).sum::<f64>();
    if rest > SLACK { rest } else { 0.0 }
}
