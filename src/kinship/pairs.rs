//! The coancestry of pairs and sets of plants, and what a pairing would give.

use crate::book::PlantId;

use super::{Kinship, columns::Walk, nodes::Part};

/// As many plants are walked for together.
const LANES: usize = 8;

/// The relationship of one plant to every other.
#[derive(Debug, Clone)]
pub struct Column<'k> {
    kinship: &'k Kinship,
    plant: PlantId,
    rows: Vec<f64>,
}

impl Kinship {
    /// What a plant is made of: itself where it is a parent, else its parents' shares.
    pub(super) fn parts(&self, plant: PlantId) -> (Option<Part>, &[Part]) {
        match self.nodes.node_of(plant) {
            Some(node) => (Some(Part { node, share: 1.0 }), &[]),
            None => (None, self.nodes.parts(self.nodes.stock(self.nodes.stock_of(plant)))),
        }
    }

    /// The relationship of a plant to every other: ask this once where many others are compared
    /// with one. Costs a walk over the plants used as parents.
    pub fn column(&self, plant: PlantId) -> Column<'_> {
        let rows = self.rows::<1>(&[plant]).into_iter().map(|[row]| row).collect();
        Column { kinship: self, plant, rows }
    }

    fn rows<const N: usize>(&self, plants: &[PlantId]) -> Vec<[f64; N]> {
        let entries = plants.iter().take(N).enumerate().flat_map(|(lane, &plant)| {
            let (own, parents) = self.parts(plant);
            let parts = own.into_iter().chain(parents.iter().copied());
            parts.map(move |part| (lane, part.node, part.share))
        });
        let to = super::nodes::small(self.nodes.len()).saturating_sub(1);
        let mut walk = Walk::<N>::new(self.nodes.len());
        walk.times(&self.nodes, &self.sampling_of_node, entries, to).to_vec()
    }

    /// What `rows` has for a plant other than the one the rows are of.
    fn read(&self, plant: PlantId, rows: impl Fn(u32) -> f64) -> f64 {
        let (own, parents) = self.parts(plant);
        own.iter().chain(parents).map(|part| part.share * rows(part.node)).sum()
    }

    /// The coancestry θ of two plants: the probability that an allele copy drawn from the one and
    /// one drawn from the other are identical by descent.
    pub fn coancestry(&self, a: PlantId, b: PlantId) -> f64 {
        self.relationship(a, b) / self.rules.ploidy()
    }

    /// The additive relationship of two plants, ploidy × coancestry.
    pub fn relationship(&self, a: PlantId, b: PlantId) -> f64 {
        if a == b {
            return self.rules.own_relationship(self.inbreeding(a));
        }
        self.column(a).relationship(b)
    }

    /// The coancestry of every plant with every other, by rows, in the order given.
    pub fn matrix(&self, plants: &[PlantId]) -> Vec<f64> {
        let n = plants.len();
        let mut matrix = vec![0.0; n * n];
        for (first, group) in (0..n).step_by(LANES).zip(plants.chunks(LANES)) {
            let rows = self.rows::<LANES>(group);
            for (lane, &a) in group.iter().enumerate() {
                let row = &mut matrix[(first + lane) * n..(first + lane + 1) * n];
                for (cell, &b) in row.iter_mut().zip(plants) {
                    let relationship = if a == b {
                        self.rules.own_relationship(self.inbreeding(a))
                    } else {
                        self.read(b, |node| rows[node as usize][lane])
                    };
                    *cell = relationship / self.rules.ploidy();
                }
            }
        }
        matrix
    }

    /// The mean coancestry of a set, each plant with each and with itself, weighted by numbers
    /// that need not sum to 1. None for a set without weight.
    pub fn mean_coancestry(&self, set: &[(PlantId, f64)]) -> Option<f64> {
        let whole: f64 = set.iter().map(|(_, weight)| weight).sum();
        if whole <= 0.0 {
            return None;
        }
        let mut set: Vec<(PlantId, f64)> = set.to_vec();
        set.sort_unstable_by_key(|&(plant, _)| plant);
        let mut own_sampling = 0.0;
        let mut entries: Vec<Part> = Vec::new();
        for same in set.chunk_by(|a, b| a.0 == b.0) {
            let weight = same.iter().map(|(_, weight)| weight / whole).sum::<f64>();
            let (own, parents) = self.parts(same[0].0);
            if own.is_none() {
                own_sampling += weight * weight * self.sampling(same[0].0);
            }
            let parts = own.iter().chain(parents);
            entries.extend(parts.map(|p| Part { node: p.node, share: p.share * weight }));
        }
        let mut walk = Walk::<1>::new(self.nodes.len());
        let start = entries.iter().map(|part| (0, part.node, part.share));
        let rows = walk.times(&self.nodes, &self.sampling_of_node, start, 0);
        let among: f64 = entries.iter().map(|p| p.share * rows[p.node as usize][0]).sum();
        Some((among + own_sampling) / self.rules.ploidy())
    }

    /// F of the offspring of two plants; of a selfing where they are the same.
    pub fn inbreeding_of_offspring(&self, seed: PlantId, pollen: PlantId) -> f64 {
        self.column(seed).inbreeding_of_offspring(pollen)
    }
}

impl Column<'_> {
    /// The plant it is of.
    pub fn plant(&self) -> PlantId {
        self.plant
    }

    /// The additive relationship to another plant, or to itself.
    pub fn relationship(&self, other: PlantId) -> f64 {
        if other == self.plant {
            return self.kinship.rules.own_relationship(self.kinship.inbreeding(other));
        }
        self.kinship.read(other, |node| self.rows[node as usize])
    }

    /// The coancestry with another plant, or with itself.
    pub fn coancestry(&self, other: PlantId) -> f64 {
        self.relationship(other) / self.kinship.rules.ploidy()
    }

    /// F of the offspring with another plant, or of a selfing.
    pub fn inbreeding_of_offspring(&self, other: PlantId) -> f64 {
        let parents = [self.plant, other].map(|plant| self.kinship.inbreeding(plant));
        self.kinship.rules.offspring(parents, self.coancestry(other))
    }

    /// The Mendelian sampling variance of the offspring with another plant, or of a selfing.
    pub fn sampling_of_offspring(&self, other: PlantId) -> f64 {
        let rules = self.kinship.rules;
        let own = |plant| rules.own_relationship(self.kinship.inbreeding(plant));
        let passed_on = if other == self.plant {
            own(other)
        } else {
            0.25 * (own(self.plant) + own(other)) + 0.5 * self.relationship(other)
        };
        (rules.own_relationship(self.inbreeding_of_offspring(other)) - passed_on).max(0.0)
    }
}
