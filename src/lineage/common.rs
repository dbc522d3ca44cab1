//! Ancestors that two plants have in common.

use crate::book::PlantId;

use super::Pedigree;

/// A plant from which two others may both descend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CommonAncestor {
    /// The plant.
    pub plant: PlantId,
    /// Generations back from the one by the shortest way; 0 if it is that plant itself.
    pub from_a: u32,
    /// Generations back from the other.
    pub from_b: u32,
    /// Whether known parents lead there from both.
    pub certain: bool,
}

impl Pedigree {
    /// The ancestors that two plants have in common, nearest first, then in roll order. A plant
    /// counts among its own ancestors here, so that of a plant and its offspring the plant itself
    /// is the nearest.
    pub fn common_ancestors(&self, a: PlantId, b: PlantId) -> Vec<CommonAncestor> {
        let mut found = Vec::new();
        let behind_b = self.closure(b);
        for (plant, from_a, certain_a) in self.closure(a) {
            let Ok(at) = behind_b.binary_search_by_key(&plant, |&(other, ..)| other) else {
                continue;
            };
            let (_, from_b, certain_b) = behind_b[at];
            found.push(CommonAncestor { plant, from_a, from_b, certain: certain_a && certain_b });
        }
        found.sort_by_key(|common| (common.from_a.saturating_add(common.from_b), common.plant));
        found
    }

    /// A plant and its ancestors, with generations and certainty, in roll order.
    fn closure(&self, plant: PlantId) -> Vec<(PlantId, u32, bool)> {
        let ancestors = self.ancestors(plant, None).into_iter();
        let mut closure: Vec<_> = ancestors
            .map(|a| (a.plant, a.generation, a.certain))
            .chain([(plant, 0, true)])
            .collect();
        closure.sort_unstable();
        closure
    }
}
