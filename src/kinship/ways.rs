//! The ways by which two plants are related, and what each of them contributes.
//!
//! A way goes from one plant up to an ancestor of both and down to the other, and contributes
//! ½^steps × θ(c, c) of that ancestor c, times the probabilities of the candidates on it; over
//! all ways this sums to the coancestry. Source: S. Wright 1922, Am. Nat. 56:330–338; for other
//! ploidies θ(c, c) takes the place of ½ (1 + F).

use std::{cmp::Ordering, collections::BinaryHeap};

use crate::book::PlantId;

use super::{Kinship, nodes::Part};

/// One way between two plants.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// From the first plant up to the ancestor and down to the second; none stands for a father
    /// who is one of several, the same for a whole lot.
    pub plants: Vec<Option<PlantId>>,
    /// Where among them the ancestor stands.
    pub top: usize,
    /// What it contributes to the coancestry.
    pub contribution: f64,
}

/// The ways between two plants.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ways {
    /// Those that contribute most, the largest first.
    pub listed: Vec<Way>,
    /// How many there are.
    pub count: u64,
    /// What all of them contribute together: the coancestry.
    pub total: f64,
    /// Whether every way was looked at; in a huge pedigree only those through the younger
    /// ancestors are, and `count` is of these.
    pub complete: bool,
}

/// Ancestors that are looked at; the table over their pairs grows with the square.
const MOST_ANCESTORS: usize = 2_000;

impl Way {
    /// The ancestor through which it goes; none where that is a father who is one of several.
    pub fn through(&self) -> Option<PlantId> {
        self.plants.get(self.top).copied().flatten()
    }
}

impl Kinship {
    /// The ways between two plants, of which at most `most` are listed.
    pub fn ways(&self, a: PlantId, b: PlantId, most: usize) -> Ways {
        let total = self.coancestry(a, b);
        if a == b {
            let way = Way { plants: vec![Some(a)], top: 0, contribution: total };
            return Ways { listed: vec![way], count: 1, total, complete: true };
        }
        let (forebears, complete) = Forebears::of(self, [End::of(self, a), End::of(self, b)]);
        let table = Table::of(&forebears);
        let [a, b] = forebears.ends;
        let count = table.at(a, b).count;
        Ways { listed: largest(&forebears, &table, most), count, total, complete }
    }
}

/// One of two plants whose ways are looked for.
#[derive(Clone, Copy)]
pub(super) struct End<'k> {
    plant: Option<PlantId>,
    own: Option<Part>,
    parents: &'k [Part],
}

impl<'k> End<'k> {
    fn of(kinship: &'k Kinship, plant: PlantId) -> Self {
        let (own, parents) = kinship.parts(plant);
        Self { plant: Some(plant), own, parents }
    }

    /// A parent, or the father whom a lot has in common.
    pub(super) fn node(node: u32) -> Self {
        Self { plant: None, own: Some(Part { node, share: 1.0 }), parents: &[] }
    }
}

/// The two plants and their ancestors, parents before offspring.
pub(super) struct Forebears {
    pub(super) plants: Vec<Option<PlantId>>,
    /// The parents of each by their places.
    parents: Vec<Vec<Part>>,
    /// θ(c, c) of each.
    pub(super) own: Vec<f64>,
    /// The places of the two.
    pub(super) ends: [usize; 2],
}

impl Forebears {
    pub(super) fn of(kinship: &Kinship, ends: [End<'_>; 2]) -> (Self, bool) {
        let nodes = &kinship.nodes;
        let mut is_in = vec![false; nodes.len()];
        for End { own, parents, .. } in ends {
            for part in own.iter().chain(parents) {
                is_in[part.node as usize] = true;
            }
        }
        nodes.mark_ancestors(&mut is_in);
        let mut all: Vec<u32> = nodes.all().filter(|&node| is_in[node as usize]).collect();
        let complete = all.len() <= MOST_ANCESTORS;
        if !complete {
            let is_end = |node| ends.iter().any(|end| end.own.is_some_and(|own| own.node == node));
            all.sort_by_key(|&node| (is_end(node), nodes.levels()[node as usize], node));
            all.drain(..all.len() - MOST_ANCESTORS);
            all.sort_unstable();
        }
        let place = |node: u32| all.binary_search(&node).ok();
        let placed = |parts: &[Part]| -> Vec<Part> {
            let parts = parts.iter();
            let placed = |p: &Part| Some(Part { node: super::nodes::small(place(p.node)?), ..*p });
            parts.filter_map(placed).collect()
        };
        let per_ploidy = |a: f64| a / kinship.rules.ploidy();
        let mut forebears = Self {
            plants: all.iter().map(|&node| nodes.plant(node)).collect(),
            parents: all.iter().map(|&node| placed(nodes.parts_of_node(node))).collect(),
            own: all.iter().map(|&node| per_ploidy(kinship.own(node))).collect(),
            ends: [0, 0],
        };
        for (at, end) in ends.into_iter().enumerate() {
            forebears.ends[at] = end.own.and_then(|part| place(part.node)).unwrap_or_else(|| {
                forebears.plants.push(end.plant);
                forebears.parents.push(placed(end.parents));
                let own = end.plant.map(|plant| kinship.coancestry(plant, plant));
                forebears.own.push(own.unwrap_or_default());
                forebears.plants.len() - 1
            });
        }
        (forebears, complete)
    }

    /// From a pair of plants, the pairs that one step up from the younger leads to.
    pub(super) fn steps(&self, i: usize, j: usize) -> impl Iterator<Item = (usize, usize, f64)> {
        let (from_i, from_j) = match i.cmp(&j) {
            Ordering::Greater => (&self.parents[i][..], &[][..]),
            Ordering::Less => (&[][..], &self.parents[j][..]),
            Ordering::Equal => (&[][..], &[][..]),
        };
        let from_i = from_i.iter().map(move |part| (part.node as usize, j, part.share));
        from_i.chain(from_j.iter().map(move |part| (i, part.node as usize, part.share)))
    }
}

/// The ways between one pair of plants.
#[derive(Clone, Copy, Default)]
struct Cell {
    count: u64,
    /// The largest contribution of any of them.
    best: f64,
}

/// The ways between every pair of forebears; the lower triangle.
struct Table(Vec<Cell>);

impl Table {
    fn of(forebears: &Forebears) -> Self {
        let n = forebears.plants.len();
        let mut table = Self(Vec::with_capacity(n * (n + 1) / 2));
        for i in 0..n {
            for j in 0..=i {
                let mut cell = Cell::default();
                if i == j {
                    cell = Cell { count: 1, best: forebears.own[i] };
                }
                for (i, j, share) in forebears.steps(i, j) {
                    let above = table.at(i, j);
                    cell.count = cell.count.saturating_add(above.count);
                    cell.best = cell.best.max(share * above.best);
                }
                table.0.push(cell);
            }
        }
        table
    }

    fn at(&self, i: usize, j: usize) -> Cell {
        let (high, low) = (i.max(j), i.min(j));
        self.0[high * (high + 1) / 2 + low]
    }
}

/// A pair of ends on the way, and the pair from which it was reached.
struct Made {
    i: usize,
    j: usize,
    share: f64,
    before: Option<usize>,
}

/// A pair that waits, by what the best way through it contributes; of equal ones the one made
/// first comes first.
struct Waiting {
    contribution: f64,
    at: usize,
}

impl Ord for Waiting {
    fn cmp(&self, other: &Self) -> Ordering {
        self.contribution.total_cmp(&other.contribution).then(other.at.cmp(&self.at))
    }
}

impl PartialOrd for Waiting {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Waiting {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Waiting {}

/// The largest ways first: the table knows the best that a pair can still become, so every pair
/// that is looked at lies on a way that will be listed.
fn largest(forebears: &Forebears, table: &Table, most: usize) -> Vec<Way> {
    let [a, b] = forebears.ends;
    let mut made = vec![Made { i: a, j: b, share: 1.0, before: None }];
    let mut waiting = BinaryHeap::from([Waiting { contribution: table.at(a, b).best, at: 0 }]);
    let mut listed = Vec::new();
    while listed.len() < most
        && let Some(Waiting { contribution, at }) = waiting.pop()
        && contribution > 0.0
    {
        let Made { i, j, share, .. } = made[at];
        if i == j {
            listed.push(way(forebears, &made, at, contribution));
            continue;
        }
        for (i, j, step) in forebears.steps(i, j) {
            let share = share * step;
            let contribution = share * table.at(i, j).best;
            if contribution > 0.0 {
                waiting.push(Waiting { contribution, at: made.len() });
                made.push(Made { i, j, share, before: Some(at) });
            }
        }
    }
    listed
}

fn way(forebears: &Forebears, made: &[Made], end: usize, contribution: f64) -> Way {
    let (mut up, mut down) = (vec![made[end].i], Vec::new());
    let mut at = end;
    while let Some(before) = made[at].before {
        if made[before].i == made[at].i {
            down.push(made[before].j);
        } else {
            up.push(made[before].i);
        }
        at = before;
    }
    up.reverse();
    let top = up.len() - 1;
    let plants = up.into_iter().chain(down).map(|place| forebears.plants[place]).collect();
    Way { plants, top, contribution }
}
