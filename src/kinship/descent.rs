//! Plants with all their ancestors, as a mixed model over the pedigree takes them.

use std::collections::BTreeMap;

use crate::book::PlantId;

use super::{Kinship, nodes::Part};

/// Some plants and all their ancestors, parents before offspring, each with its shares from its
/// parents and its own Mendelian sampling: all there is to the relationship matrix, A = T D T′.
#[derive(Debug, Clone, Default)]
pub struct Descent {
    plants: Vec<Option<PlantId>>,
    parents: Vec<Vec<(usize, f64)>>,
    sampling: Vec<f64>,
    places: BTreeMap<PlantId, usize>,
}

/// A plant without sampling of its own, such as the selfed offspring of a fully inbred one, would
/// make the relationship matrix singular; it is left this much.
const LEAST_SAMPLING: f64 = 1e-10;

impl Kinship {
    /// The plants given and all their ancestors. Unnamed fathers of whole lots are among them.
    pub fn descent(&self, plants: impl IntoIterator<Item = PlantId>) -> Descent {
        let mut with_ancestors = vec![false; self.nodes.len()];
        let mut leaves: Vec<PlantId> = Vec::new();
        for plant in plants {
            let (own, parents) = self.parts(plant);
            for part in own.iter().chain(parents) {
                with_ancestors[part.node as usize] = true;
            }
            if own.is_none() {
                leaves.push(plant);
            }
        }
        leaves.sort_unstable();
        leaves.dedup();
        self.nodes.mark_ancestors(&mut with_ancestors);
        let mut descent = Descent::default();
        let mut places = vec![0; self.nodes.len()];
        for node in self.nodes.all().filter(|&node| with_ancestors[node as usize]) {
            places[node as usize] = descent.plants.len();
            let parts = self.nodes.parts_of_node(node);
            let sampling = self.sampling_of_node[node as usize];
            descent.push(self.nodes.plant(node), parts, &places, sampling);
        }
        for plant in leaves {
            let (_, parts) = self.parts(plant);
            descent.push(Some(plant), parts, &places, self.sampling(plant));
        }
        descent
    }
}

impl Descent {
    fn push(&mut self, plant: Option<PlantId>, parts: &[Part], places: &[usize], sampling: f64) {
        if let Some(plant) = plant {
            self.places.insert(plant, self.plants.len());
        }
        self.plants.push(plant);
        let mut parents: Vec<(usize, f64)> = Vec::with_capacity(parts.len());
        for part in parts {
            let place = places[part.node as usize];
            match parents.iter_mut().find(|(other, _)| *other == place) {
                Some((_, share)) => *share += part.share,
                None => parents.push((place, part.share)),
            }
        }
        self.parents.push(parents);
        self.sampling.push(sampling.max(LEAST_SAMPLING));
    }

    /// Each plant in order; none for an unnamed father.
    pub fn plants(&self) -> &[Option<PlantId>] {
        &self.plants
    }

    /// The place of a plant.
    pub fn place(&self, plant: PlantId) -> Option<usize> {
        self.places.get(&plant).copied()
    }

    /// The parents of each by their places, with the share that comes from each.
    pub fn parents(&self) -> &[Vec<(usize, f64)>] {
        &self.parents
    }

    /// The Mendelian sampling variance of each, in units of the variance among founders.
    pub fn sampling(&self) -> &[f64] {
        &self.sampling
    }

    /// ln of the determinant of the relationship matrix.
    pub fn ln_det(&self) -> f64 {
        self.sampling.iter().map(|d| d.ln()).sum()
    }

    /// The inverse of the relationship matrix, written down directly: for each plant with shares
    /// q from its parents, (e − q)(e − q)′/D. Entries (row, column, value) of the lower triangle;
    /// entries at the same place add up.
    ///
    /// Source: C. R. Henderson 1976, Biometrics 32:69–83; R. L. Quaas 1976, Biometrics
    /// 32:949–953.
    pub fn inverse(&self) -> Vec<(usize, usize, f64)> {
        let mut entries = Vec::new();
        for (place, (parents, sampling)) in self.parents.iter().zip(&self.sampling).enumerate() {
            let weight = 1.0 / sampling;
            let own = [(place, 1.0)];
            let row: Vec<(usize, f64)> =
                own.into_iter().chain(parents.iter().map(|&(p, q)| (p, -q))).collect();
            for (i, &(r, x)) in row.iter().enumerate() {
                for &(c, y) in &row[..=i] {
                    entries.push((r.max(c), r.min(c), weight * x * y));
                }
            }
        }
        entries
    }
}
