//! The ways from one plant to another: up to an ancestor of both, and down again.
//!
//! A way passes through no plant twice, so these are the paths over which Wright (1922, Am. Nat.
//! 56:330) sums a coefficient of relationship. Walking always from the younger of the two ends
//! to its parents makes each of them exactly once.

use std::{
    cmp::{Ordering, Reverse},
    collections::BinaryHeap,
};

use crate::book::PlantId;

use super::{Ancestor, Pedigree};

/// One way between two plants.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// From the first plant up to the ancestor and down to the second. After a selfing the same
    /// way stands twice, once through the egg and once through the pollen.
    pub plants: Vec<PlantId>,
    /// Where among them the ancestor stands; one of the two ends if the other descends from it.
    pub top: usize,
    /// The probability that this is a way at all, where candidates are on it; 1 if all is known.
    pub weight: f64,
}

/// The ways between two plants.
#[derive(Debug, Clone, PartialEq)]
pub struct Paths {
    /// The shortest of them, shortest first.
    pub listed: Vec<Path>,
    /// How many there are in all.
    pub total: u64,
    /// Whether all were counted; in a huge pedigree only those through near ancestors are.
    pub complete: bool,
}

impl Path {
    /// The ancestor through which it goes.
    pub fn through(&self) -> Option<PlantId> {
        self.plants.get(self.top).copied()
    }

    /// How many times it goes from a plant to its parent or back.
    pub fn steps(&self) -> usize {
        self.plants.len().saturating_sub(1)
    }
}

/// Pairs of ancestors that are held in memory at most.
const MOST_PAIRS: usize = 1 << 21;

impl Pedigree {
    /// The ways between two plants, of which at most `most` are listed.
    ///
    /// Costs the product of their numbers of ancestors.
    pub fn paths(&self, a: PlantId, b: PlantId, most: usize) -> Paths {
        let ([a, b], complete) = Forebears::pair(self, a, b);
        let table = Table::of(&a, &b);
        let total = table.at(a.own, b.own).0;
        Paths { listed: shortest(&a, &b, &table, most), total, complete }
    }
}

/// A plant and its ancestors.
struct Forebears {
    /// Generation and plant, in this order: no plant is an ancestor of one that stands before it.
    keys: Vec<(u32, PlantId)>,
    /// The parents of each, by their place in `keys`, with their weights. A link that closes a
    /// loop is left out.
    parents: Vec<Vec<(usize, f64)>>,
    /// The place of the plant itself.
    own: usize,
}

impl Forebears {
    /// Both climbs, as high as their pairs fit into memory, and whether that is all the way.
    fn pair(pedigree: &Pedigree, a: PlantId, b: PlantId) -> ([Self; 2], bool) {
        let (up_a, up_b) = (pedigree.ancestors(a, None), pedigree.ancestors(b, None));
        let within = |up: &[Ancestor], limit| up.partition_point(|a| a.generation <= limit);
        let pairs = |limit| (within(&up_a, limit) + 1).saturating_mul(within(&up_b, limit) + 1);
        let highest = [&up_a, &up_b].iter().filter_map(|up| up.last()).map(|a| a.generation).max();
        let highest = highest.unwrap_or_default();
        let limit = (0..=highest).rev().find(|&limit| pairs(limit) <= MOST_PAIRS);
        let limit = limit.unwrap_or_default();
        let climb = |plant, up: &[Ancestor]| Self::of(pedigree, plant, &up[..within(up, limit)]);
        ([climb(a, &up_a), climb(b, &up_b)], limit == highest)
    }

    fn of(pedigree: &Pedigree, plant: PlantId, up: &[Ancestor]) -> Self {
        let key = |plant| (pedigree.depth(plant), plant);
        let mut keys: Vec<_> = up.iter().map(|ancestor| key(ancestor.plant)).collect();
        keys.push(key(plant));
        keys.sort_unstable();
        let parents = keys.iter().map(|&child| {
            let links = pedigree.parents(child.1).all();
            let older = links.map(|link| (key(link.plant), link.weight));
            let older = older.filter(|(parent, _)| parent.0 < child.0);
            older.filter_map(|(k, weight)| Some((keys.binary_search(&k).ok()?, weight))).collect()
        });
        Self { parents: parents.collect(), own: keys.binary_search(&key(plant)).unwrap_or(0), keys }
    }
}

/// For every pair of an ancestor of the one and an ancestor of the other: how many ways there
/// are between them, and the steps of the shortest.
struct Table {
    width: usize,
    cells: Vec<(u64, u32)>,
}

impl Table {
    fn of(a: &Forebears, b: &Forebears) -> Self {
        let mut table = Self { width: b.keys.len(), cells: Vec::new() };
        table.cells.reserve(a.keys.len() * b.keys.len());
        for i in 0..a.keys.len() {
            for j in 0..b.keys.len() {
                let mut cell = (0_u64, u32::MAX);
                if a.keys[i] == b.keys[j] {
                    cell = (1, 0);
                }
                for (i, j, _) in steps(a, b, i, j) {
                    let (ways, shortest) = table.at(i, j);
                    cell = (cell.0.saturating_add(ways), cell.1.min(shortest.saturating_add(1)));
                }
                table.cells.push(cell);
            }
        }
        table
    }

    fn at(&self, i: usize, j: usize) -> (u64, u32) {
        self.cells[i * self.width + j]
    }
}

/// From a pair of plants, the pairs that one step up from the younger leads to; none once the
/// two are one.
fn steps<'a>(
    a: &'a Forebears,
    b: &'a Forebears,
    i: usize,
    j: usize,
) -> impl Iterator<Item = (usize, usize, f64)> {
    let (from_a, from_b) = match a.keys[i].cmp(&b.keys[j]) {
        Ordering::Greater => (&a.parents[i][..], &[][..]),
        Ordering::Less => (&[][..], &b.parents[j][..]),
        Ordering::Equal => (&[][..], &[][..]),
    };
    let from_a = from_a.iter().map(move |&(i, weight)| (i, j, weight));
    from_a.chain(from_b.iter().map(move |&(j, weight)| (i, j, weight)))
}

/// A pair of ends on the way, and the pair from which it was reached.
struct Made {
    i: usize,
    j: usize,
    n_steps: u32,
    weight: f64,
    before: Option<usize>,
}

/// The shortest ways first: the table knows how far each pair is from meeting, so every pair
/// that is looked at lies on a way that will be listed.
fn shortest(a: &Forebears, b: &Forebears, table: &Table, most: usize) -> Vec<Path> {
    let mut made = vec![Made { i: a.own, j: b.own, n_steps: 0, weight: 1.0, before: None }];
    let mut waiting = BinaryHeap::from([(Reverse(table.at(a.own, b.own).1), 0, Reverse(0))]);
    let mut listed = Vec::new();
    while listed.len() < most
        && let Some((Reverse(length), _, Reverse(at))) = waiting.pop()
    {
        if length == u32::MAX {
            break;
        }
        let Made { i, j, n_steps, weight, .. } = made[at];
        if a.keys[i] == b.keys[j] {
            listed.push(path(a, b, &made, at));
            continue;
        }
        let n_steps = n_steps + 1;
        for (i, j, w) in steps(a, b, i, j) {
            let left = table.at(i, j).1;
            if left < u32::MAX {
                let key = (Reverse(n_steps + left), n_steps, Reverse(made.len()));
                waiting.push(key);
                made.push(Made { i, j, n_steps, weight: weight * w, before: Some(at) });
            }
        }
    }
    listed
}

fn path(a: &Forebears, b: &Forebears, made: &[Made], end: usize) -> Path {
    let (mut up, mut down) = (vec![a.keys[made[end].i].1], Vec::new());
    let mut at = end;
    while let Some(before) = made[at].before {
        if made[before].i == made[at].i {
            down.push(b.keys[made[before].j].1);
        } else {
            up.push(a.keys[made[before].i].1);
        }
        at = before;
    }
    up.reverse();
    Path { top: up.len() - 1, weight: made[end].weight, plants: [up, down].concat() }
}
