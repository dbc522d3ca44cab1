//! The lineage of a plant: everyone it came from and everyone that came from it.

use crate::book::PlantId;
use crate::kinship::Share;
use crate::lineage::{Ancestor, Descendant};

use super::Desk;

/// A plant's lineage.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// The plant.
    pub plant: PlantId,
    /// Everyone it came from or may have come from, nearest first.
    pub ancestors: Vec<Ancestor>,
    /// Everyone that came from it or may have, nearest first.
    pub descendants: Vec<Descendant>,
    /// What it comes from: founders by share, and all unknown parents together. The shares sum
    /// to 1, however far back was asked for.
    pub founders: Vec<Share>,
    /// F of the plant.
    pub inbreeding: f64,
}

/// The lineage of a plant, at most so many generations up and down.
pub fn trace(desk: &Desk, plant: PlantId, up: Option<u32>, down: Option<u32>) -> Trace {
    let pedigree = desk.pedigree();
    Trace {
        plant,
        ancestors: pedigree.ancestors(plant, up),
        descendants: pedigree.descendants(plant, down),
        founders: desk.kinship().founders(plant),
        inbreeding: desk.kinship().inbreeding(plant),
    }
}
