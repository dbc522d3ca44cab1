//! How much of a plant, or of a set of them, comes from each founder.

use std::collections::BTreeMap;

use crate::book::PlantId;

use super::{Kinship, nodes::Part};

/// What comes from one founder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// The founder; none stands for all unknown parents together.
    pub founder: Option<PlantId>,
    /// The expected share of all alleles that comes from it.
    pub share: f64,
}

/// What a set comes from: the share of every founder, and of every unknown parent by itself.
#[derive(Default)]
struct Sources {
    known: BTreeMap<PlantId, f64>,
    unknown: f64,
    /// Σ share² over unknown parents, each a founder of its own.
    unknown_squares: f64,
}

impl Kinship {
    /// What a plant comes from: founders by share, the largest first, and the unknown last. The
    /// shares sum to 1; a founder comes from itself.
    pub fn founders(&self, plant: PlantId) -> Vec<Share> {
        self.founders_of_set(&[(plant, 1.0)])
    }

    /// The same for a set, weighted by numbers that need not sum to 1.
    pub fn founders_of_set(&self, set: &[(PlantId, f64)]) -> Vec<Share> {
        let sources = self.sources(set);
        let known = sources.known.iter();
        let mut shares: Vec<Share> =
            known.map(|(&plant, &share)| Share { founder: Some(plant), share }).collect();
        shares.sort_by(|a, b| b.share.total_cmp(&a.share).then(a.founder.cmp(&b.founder)));
        if sources.unknown > 0.0 {
            shares.push(Share { founder: None, share: sources.unknown });
        }
        shares
    }

    /// How many founders with equal shares would give a set as diverse as this one, 1/Σ share²;
    /// each unknown parent counts as a founder of its own. None for a set without weight.
    ///
    /// Source: R. C. Lacy 1989, Zoo Biol. 8:111–123.
    pub fn effective_founders(&self, set: &[(PlantId, f64)]) -> Option<f64> {
        let sources = self.sources(set);
        let squares: f64 = sources.known.values().map(|share| share * share).sum();
        let squares = squares + sources.unknown_squares;
        (squares > 0.0).then(|| 1.0 / squares)
    }

    fn sources(&self, set: &[(PlantId, f64)]) -> Sources {
        let whole: f64 = set.iter().map(|(_, weight)| weight).sum();
        let mut sources = Sources::default();
        if whole <= 0.0 {
            return sources;
        }
        let mut carried = vec![0.0; self.nodes.len()];
        for &(plant, weight) in set {
            let weight = weight / whole;
            let (own, parents) = self.parts(plant);
            for part in own.iter().chain(parents) {
                carried[part.node as usize] += weight * part.share;
            }
            if own.is_none() {
                sources.take(Some(plant), parents, weight);
            }
        }
        for node in self.nodes.all().rev() {
            let weight = carried[node as usize];
            if weight > 0.0 {
                let parents = self.nodes.parts_of_node(node);
                for part in parents {
                    carried[part.node as usize] += weight * part.share;
                }
                sources.take(self.nodes.plant(node), parents, weight);
            }
        }
        sources
    }
}

impl Sources {
    /// Takes what the parents of a plant leave over.
    fn take(&mut self, plant: Option<PlantId>, parents: &[Part], weight: f64) {
        /// Weights are written by hand, so they need not sum to 1 to the last digit.
        const SLACK: f64 = 1e-9;
        match plant {
            Some(plant) if parents.is_empty() => *self.known.entry(plant).or_default() += weight,
            _ => {
                let rest = 1.0 - parents.iter().map(|part| part.share).sum::<f64>();
                if rest > SLACK {
                    self.unknown += weight * rest;
                    self.unknown_squares += (weight * rest).powi(2);
                }
            }
        }
    }
}
