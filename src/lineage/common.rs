//! Ancestors that two plants have in common.

use crate::book::PlantId;

use super::{
    Pedigree,
    ancestors::{Climb, FRESH, by_small_key, generation, is_certain},
};

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
    /// The ancestors that two plants have in common, nearest first. A plant counts among its own
    /// ancestors here, so that of a plant and its offspring the plant itself is the nearest.
    pub fn common_ancestors(&self, a: PlantId, b: PlantId) -> Vec<CommonAncestor> {
        let (mut up_a, mut up_b) = (Climb::default(), Climb::default());
        up_a.up(self, a, u32::MAX);
        up_b.up(self, b, u32::MAX);
        let met = up_a.met.iter().copied().chain(self.used_number(a));
        let both: Vec<u32> = met.filter(|&used| up_b.marks[used as usize] != FRESH).collect();
        let marks = |used: u32| (up_a.marks[used as usize], up_b.marks[used as usize]);
        let mut sorted = vec![0; both.len()];
        let sum = |used: u32| {
            let (mark_a, mark_b) = marks(used);
            generation(mark_a) + generation(mark_b)
        };
        let highest = both.iter().map(|&used| sum(used)).max().unwrap_or_default();
        let key = |_: &[u32], used: u32| sum(used);
        by_small_key(&both, &mut Vec::new(), highest, &mut sorted[..], key, |sorted, at, used| {
            sorted[at] = used;
        });
        // A plant that is no parent has no number, and is its own nearest ancestor all the same.
        let own = (a == b && self.used_number(a).is_none()).then_some(CommonAncestor {
            plant: a,
            from_a: 0,
            from_b: 0,
            certain: true,
        });
        let others = sorted.into_iter().map(|used| {
            let (mark_a, mark_b) = marks(used);
            CommonAncestor {
                plant: self.used()[used as usize],
                from_a: generation(mark_a),
                from_b: generation(mark_b),
                certain: is_certain(mark_a) && is_certain(mark_b),
            }
        });
        own.into_iter().chain(others).collect()
    }
}
