//! The descendants of a plant, each once by its shortest way.
//!
//! A family is met as a whole, so a hundred thousand seedlings of one cross cost as much as one.

use crate::book::PlantId;

use super::{FamilyId, Offspring, Pedigree, Scratch};

/// A plant that may descend from another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Descendant {
    /// The plant.
    pub plant: PlantId,
    /// Generations on by the shortest way; offspring are 1.
    pub generation: u32,
    /// Whether some way leads there through known parents only.
    pub certain: bool,
}

/// A family whose plants may all descend from a plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DescendantFamily {
    /// The family.
    pub family: FamilyId,
    /// Generations on by the shortest way.
    pub generation: u32,
    /// Whether some way leads there through known parents only.
    pub certain: bool,
}

impl Pedigree {
    /// The plants that descend or may descend from a plant, nearest first, at most `limit`
    /// generations on. A plant in a loop is not listed among its own descendants.
    pub fn descendants(&self, plant: PlantId, limit: Option<u32>) -> Vec<Descendant> {
        let mut scratch = Scratch::default();
        let families = self.descendant_families_in(plant, limit, &mut scratch);
        let n_plants = families.iter().map(|found| self.plants(found.family).len()).sum();
        let mut found = Vec::with_capacity(n_plants);
        for &DescendantFamily { family, generation, certain } in families {
            let plants = self.plants(family).filter(|&other| other != plant);
            found.extend(plants.map(|plant| Descendant { plant, generation, certain }));
        }
        found
    }

    /// The families that descend or may descend from a plant: the same answer at the cost of
    /// families. If the plant is in a loop, its own family is among them.
    pub fn descendant_families_in<'s>(
        &self,
        plant: PlantId,
        limit: Option<u32>,
        scratch: &'s mut Scratch,
    ) -> &'s [DescendantFamily] {
        let spread = &mut scratch.spread;
        spread.down(self, plant, limit.unwrap_or(u32::MAX));
        &spread.found
    }
}

/// A spread through the families, one generation after the other.
#[derive(Debug, Clone, Default)]
pub(super) struct Spread {
    /// Of each family; all zero between questions.
    marks: Vec<u8>,
    queue: Vec<FamilyId>,
    found: Vec<DescendantFamily>,
}

const MET: u8 = 1;
const CERTAIN: u8 = 2;

impl Spread {
    fn down(&mut self, pedigree: &Pedigree, plant: PlantId, limit: u32) {
        let n = pedigree.families().len();
        if self.marks.len() < n {
            self.marks.resize(n, 0);
        }
        self.queue.clear();
        self.found.clear();
        if limit > 0 {
            self.meet(pedigree.offspring(plant), MET | CERTAIN, 1);
        }
        let mut next = 0;
        for generation in 2..=limit {
            let wave = next..self.queue.len();
            if wave.is_empty() {
                break;
            }
            next = wave.end;
            for i in wave {
                let family = self.queue[i];
                let mark = self.marks[family.index()];
                for &used in pedigree.used_in(family) {
                    self.meet(pedigree.offspring_of(used), mark, generation);
                }
            }
        }
        for found in &mut self.found {
            let mark = &mut self.marks[found.family.index()];
            found.certain = *mark & CERTAIN != 0;
            *mark = 0;
        }
    }

    /// Queues the families to which this is news: never met, or met by uncertain ways only.
    fn meet(&mut self, offspring: &[Offspring], mark: u8, generation: u32) {
        for &Offspring { family, certain, .. } in offspring {
            let mark = if certain { mark } else { mark & !CERTAIN };
            let old = &mut self.marks[family.index()];
            if mark & !*old == 0 {
                continue;
            }
            if *old == 0 {
                self.found.push(DescendantFamily { family, generation, certain: false });
            }
            *old |= mark;
            self.queue.push(family);
        }
    }
}
