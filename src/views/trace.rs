//! The lineage of a plant: everyone it came from and everyone that came from it.

use std::collections::BTreeMap;

use crate::book::{CrossId, PlantId};

use super::Desk;

/// Through which parent an ancestor is reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Through the seed parent.
    Seed,
    /// Through the pollen parent.
    Pollen,
    /// Through both.
    Both,
}

/// A plant it came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ancestor {
    /// The plant.
    pub plant: PlantId,
    /// Generations back, by the shortest way; 1 is a parent.
    pub generation: u32,
    /// Through which parent.
    pub side: Side,
}

/// A plant that came from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Descendant {
    /// The plant.
    pub plant: PlantId,
    /// Generations on, by the shortest way; 1 is an offspring.
    pub generation: u32,
}

/// A plant's lineage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trace {
    /// The plant.
    pub plant: PlantId,
    /// Everyone it came from, nearest first.
    pub ancestors: Vec<Ancestor>,
    /// Everyone that came from it, nearest first.
    pub descendants: Vec<Descendant>,
}

/// The lineage of a plant, at most so many generations up and down.
pub fn trace(desk: &Desk, plant: PlantId, up: Option<u32>, down: Option<u32>) -> Trace {
    let by_seed = ancestors(desk, plant, up, true);
    let by_pollen = ancestors(desk, plant, up, false);
    let mut found: BTreeMap<PlantId, Ancestor> = BTreeMap::new();
    for (side, list) in [(Side::Seed, by_seed), (Side::Pollen, by_pollen)] {
        for (plant, generation) in list {
            found
                .entry(plant)
                .and_modify(|known| {
                    known.side = Side::Both;
                    known.generation = known.generation.min(generation);
                })
                .or_insert(Ancestor { plant, generation, side });
        }
    }
    let mut ancestors: Vec<Ancestor> = found.into_values().collect();
    ancestors.sort_by_key(|a| (a.generation, a.plant));
    Trace { plant, ancestors, descendants: descendants(desk, plant, down) }
}

fn ancestors(desk: &Desk, plant: PlantId, up: Option<u32>, seed: bool) -> Vec<(PlantId, u32)> {
    let (by_seed, by_pollen) = desk.parents(plant);
    let mut known: BTreeMap<PlantId, u32> = BTreeMap::new();
    let mut row: Vec<PlantId> = if seed { &by_seed } else { &by_pollen }.plants().collect();
    let mut generation = 1;
    while !row.is_empty() && up.is_none_or(|most| generation <= most) {
        let mut next = Vec::new();
        for id in row {
            if id != plant && !known.contains_key(&id) {
                known.insert(id, generation);
                let (seed, pollen) = desk.parents(id);
                next.extend(seed.plants().chain(pollen.plants()));
            }
        }
        row = next;
        generation += 1;
    }
    known.into_iter().collect()
}

fn descendants(desk: &Desk, plant: PlantId, down: Option<u32>) -> Vec<Descendant> {
    let mut children: BTreeMap<PlantId, Vec<CrossId>> = BTreeMap::new();
    for id in desk.book().cross_ids() {
        let (seed, pollen) = desk.parties(id);
        for parent in seed.plants().chain(pollen.plants()) {
            children.entry(parent).or_default().push(id);
        }
    }
    let mut found = Vec::new();
    let mut seen = std::collections::BTreeSet::from([plant]);
    let mut row = vec![plant];
    let mut generation = 1;
    while !row.is_empty() && down.is_none_or(|most| generation <= most) {
        let mut next = Vec::new();
        for parent in row {
            for &cross in children.get(&parent).map_or(&[][..], |list| &list[..]) {
                next.extend(desk.book().family(cross).filter(|&child| seen.insert(child)));
            }
        }
        next.sort_unstable();
        found.extend(next.iter().map(|&plant| Descendant { plant, generation }));
        row = next;
        generation += 1;
    }
    found
}
