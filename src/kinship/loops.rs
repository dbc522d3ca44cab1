//! The loops in the descent of one plant: the ancestors through which its parents are kin, and what
//! each of them adds to its F.
//!
//! F is what the parents were inbred themselves, as far as they pass it on, and a share of their
//! coancestry; the coancestry is the sum over the ways between them (`ways.rs`), each of which goes
//! through one ancestor.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::PlantId;

use super::{
    Kinship,
    nodes::{Kind, Part},
    ways::{End, Forebears},
};

/// The loops behind one plant.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Loops {
    /// F of the plant.
    pub inbreeding: f64,
    /// What each ancestor in common adds to it, the most first; none stands for a father who is
    /// one of several, the same for a whole lot.
    pub through: Vec<(Option<PlantId>, f64)>,
    /// What its parents were inbred already and pass on.
    pub in_parents: f64,
    /// The steps that lie in a loop, each from a plant to a parent of it.
    pub steps: BTreeSet<(PlantId, PlantId)>,
}

impl Kinship {
    /// The loops behind a plant. In a huge pedigree only the younger ancestors are looked at, and
    /// what the others add is counted with what is inbred in the parents.
    pub fn loops(&self, plant: PlantId) -> Loops {
        let stock = self.nodes.stock(self.nodes.stock_of(plant));
        let mut found = Found { of: self, through: BTreeMap::new(), steps: BTreeSet::new() };
        let [seed, pollen] = self.nodes.sides(stock);
        match stock.kind {
            Kind::Founder | Kind::OneOf => {}
            Kind::Selfed => {
                for part in seed.iter().chain(pollen) {
                    found.take(plant, [*part, *part], part.share);
                }
            }
            Kind::Cross => {
                for &s in seed {
                    for &p in pollen {
                        // The shares of each side are halves of the probabilities.
                        found.take(plant, [s, p], 4.0 * s.share * p.share);
                    }
                }
            }
        }
        let mut through: Vec<_> = found.through.into_iter().collect();
        through.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let inbreeding = self.inbreeding(plant);
        let of_loops: f64 = through.iter().map(|(_, adds)| adds).sum();
        let in_parents = inbreeding - of_loops;
        // Below that it is a slip of rounding.
        let in_parents = if in_parents < 1e-12 { 0.0 } else { in_parents };
        Loops { inbreeding, through, in_parents, steps: found.steps }
    }
}

struct Found<'k> {
    of: &'k Kinship,
    through: BTreeMap<Option<PlantId>, f64>,
    steps: BTreeSet<(PlantId, PlantId)>,
}

impl Found<'_> {
    /// Adds the loops that are closed by one pair of parents, which has this probability.
    fn take(&mut self, plant: PlantId, parents: [Part; 2], probability: f64) {
        let ends = parents.map(|part| End::node(part.node));
        let (forebears, _) = Forebears::of(self.of, ends);
        let weight = probability * self.of.rules.share_of_coancestry();
        let [a, b] = forebears.ends;
        let n = forebears.plants.len();
        // What of the whole arrives at each pair of ancestors; the younger ones first, so that
        // each pair has all that it gets before it passes it on.
        let place = |i: usize, j: usize| i.max(j) * (i.max(j) + 1) / 2 + i.min(j);
        let mut arrives = vec![0.0; n * (n + 1) / 2];
        let mut leads = vec![false; n * (n + 1) / 2];
        for i in 0..n {
            for j in 0..=i {
                leads[place(i, j)] = i == j
                    || forebears.steps(i, j).any(|(i, j, share)| share > 0.0 && leads[place(i, j)]);
            }
        }
        if !leads[place(a, b)] {
            return;
        }
        arrives[place(a, b)] = weight;
        for part in parents {
            self.steps.extend(self.of.nodes.plant(part.node).map(|parent| (plant, parent)));
        }
        for i in (0..n).rev() {
            for j in (0..=i).rev() {
                let here = arrives[place(i, j)];
                if here <= 0.0 || !leads[place(i, j)] {
                    continue;
                }
                if i == j {
                    *self.through.entry(forebears.plants[i]).or_default() +=
                        here * forebears.own[i];
                    continue;
                }
                for (up_i, up_j, share) in forebears.steps(i, j) {
                    arrives[place(up_i, up_j)] += here * share;
                    if leads[place(up_i, up_j)] {
                        let (from, to) = if up_i == i { (j, up_j) } else { (i, up_i) };
                        let step = forebears.plants[from].zip(forebears.plants[to]);
                        self.steps.extend(step);
                    }
                }
            }
        }
    }
}
