//! Ancestors and descendants, generation by generation.
//!
//! A plant is met once, by its shortest way. The marks and queues live in a [`Scratch`] that is
//! kept from one question to the next, so that a question costs only what it finds.

use crate::book::PlantId;

use super::{FamilyId, Link, Offspring, Pedigree};

/// On which side of a plant an ancestor stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Behind its seed parent only.
    Seed,
    /// Behind its pollen parent only.
    Pollen,
    /// Behind both.
    Both,
}

/// A plant from which another may descend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ancestor {
    /// The plant.
    pub plant: PlantId,
    /// Generations back by the shortest way; a parent is 1.
    pub generation: u32,
    /// On which side.
    pub side: Side,
    /// Whether some way leads there through known parents only.
    pub certain: bool,
}

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

/// Room to work in, to be kept from one question to the next.
#[derive(Debug, Clone, Default)]
pub struct Scratch {
    /// What is known so far of each parent or each family; all zero between questions.
    marks: Vec<u8>,
    queue: Vec<u32>,
    met: Vec<u32>,
    ancestors: Vec<Ancestor>,
    families: Vec<DescendantFamily>,
}

const SEED: u8 = 1;
const POLLEN: u8 = 2;
const CERTAIN: u8 = 4;
const MET: u8 = 8;
/// Nothing new can be learnt of the plant that was asked about.
const ITSELF: u8 = SEED | POLLEN | CERTAIN | MET;

impl Scratch {
    fn ready(&mut self, n: usize) {
        if self.marks.len() < n {
            self.marks.resize(n, 0);
        }
        self.queue.clear();
        self.met.clear();
    }
}

fn side(marks: u8) -> Side {
    match marks & (SEED | POLLEN) {
        SEED => Side::Seed,
        POLLEN => Side::Pollen,
        _ => Side::Both,
    }
}

impl Pedigree {
    /// The ancestors of a plant, nearest first and the seed side before the pollen side, at most
    /// `limit` generations back. A plant in a loop is not listed among its own ancestors.
    pub fn ancestors(&self, plant: PlantId, limit: Option<u32>) -> Vec<Ancestor> {
        let mut scratch = Scratch::default();
        self.ancestors_in(plant, limit, &mut scratch);
        scratch.ancestors
    }

    /// The same, in a room to work in that can be used again.
    pub fn ancestors_in<'s>(
        &self,
        plant: PlantId,
        limit: Option<u32>,
        scratch: &'s mut Scratch,
    ) -> &'s [Ancestor] {
        scratch.ready(self.used().len());
        scratch.ancestors.clear();
        let own = self.used_number(plant);
        if let Some(own) = own {
            scratch.marks[own as usize] = ITSELF;
        }
        let limit = limit.unwrap_or(u32::MAX);
        if limit > 0 {
            let parents = self.parents(plant);
            scratch.meet_ancestors(parents.seed, SEED | CERTAIN | MET, 1);
            scratch.meet_ancestors(parents.pollen, POLLEN | CERTAIN | MET, 1);
        }
        let mut next = 0;
        for generation in 2..=limit {
            let wave = next..scratch.queue.len();
            if wave.is_empty() {
                break;
            }
            next = wave.end;
            for i in wave {
                let used = scratch.queue[i];
                let carried = scratch.marks[used as usize];
                let parents = self.parents_of(self.used_family(used));
                scratch.meet_ancestors(parents.seed, carried, generation);
                scratch.meet_ancestors(parents.pollen, carried, generation);
            }
        }
        let Scratch { marks, met, ancestors, .. } = scratch;
        for (ancestor, &used) in ancestors.iter_mut().zip(met.iter()) {
            let mark = &mut marks[used as usize];
            ancestor.side = side(*mark);
            ancestor.certain = *mark & CERTAIN != 0;
            *mark = 0;
        }
        if let Some(own) = own {
            marks[own as usize] = 0;
        }
        ancestors
    }

    /// The plants that descend or may descend from a plant, nearest first, at most `limit`
    /// generations on. A plant in a loop is not listed among its own descendants.
    pub fn descendants(&self, plant: PlantId, limit: Option<u32>) -> Vec<Descendant> {
        let mut found = Vec::new();
        for family in self.descendant_families_in(plant, limit, &mut Scratch::default()) {
            let DescendantFamily { family, generation, certain } = *family;
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
        scratch.ready(self.n_families());
        scratch.families.clear();
        let limit = limit.unwrap_or(u32::MAX);
        if limit > 0
            && let Some(used) = self.used_number(plant)
        {
            scratch.meet_families(self.offspring_of(used), MET | CERTAIN, 1);
        }
        let mut next = 0;
        for generation in 2..=limit {
            let wave = next..scratch.queue.len();
            if wave.is_empty() {
                break;
            }
            next = wave.end;
            for i in wave {
                let family = FamilyId(scratch.queue[i]);
                let carried = scratch.marks[family.index()];
                for used in self.used_in(family) {
                    scratch.meet_families(self.offspring_of(used), carried, generation);
                }
            }
        }
        let Scratch { marks, families, .. } = scratch;
        for found in families.iter_mut() {
            let mark = &mut marks[found.family.index()];
            found.certain = *mark & CERTAIN != 0;
            *mark = 0;
        }
        families
    }
}

impl Scratch {
    /// Marks parents with what is carried to them, and queues those of which that is news.
    fn meet_ancestors(&mut self, links: &[Link], carried: u8, generation: u32) {
        for link in links {
            let carried = if link.is_certain() { carried } else { carried & !CERTAIN };
            let mark = &mut self.marks[link.used as usize];
            if carried & !*mark == 0 {
                continue;
            }
            if *mark == 0 {
                self.met.push(link.used);
                self.ancestors.push(Ancestor {
                    plant: link.plant,
                    generation,
                    side: Side::Both,
                    certain: false,
                });
            }
            *mark |= carried;
            self.queue.push(link.used);
        }
    }

    fn meet_families(&mut self, offspring: &[Offspring], carried: u8, generation: u32) {
        for &Offspring { family, certain, .. } in offspring {
            let carried = if certain { carried } else { carried & !CERTAIN };
            let mark = &mut self.marks[family.index()];
            if carried & !*mark == 0 {
                continue;
            }
            if *mark == 0 {
                self.families.push(DescendantFamily { family, generation, certain: false });
            }
            *mark |= carried;
            self.queue.push(family.0);
        }
    }
}
