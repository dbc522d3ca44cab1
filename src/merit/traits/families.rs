//! Families side by side with what their parents promise.

use std::collections::BTreeMap;

use crate::book::PlantId;
use crate::kinship::Descent;
use crate::lineage::Pedigree;

use super::{Estimate, TraitFit, enough, records::Records};

/// The measured offspring of two plants, whichever bore the seed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Family {
    /// The parents, in roll order; the same twice after a selfing.
    pub parents: [PlantId; 2],
    /// Offspring measured.
    pub n: u32,
    /// Their mean, freed from seasons and beds.
    pub mean: f64,
    /// The mean of both parents' own measurements, freed in the same way.
    pub mid_parent: Option<f64>,
    /// What the breeding values of the parents promise, in an average season and bed.
    pub promised: f64,
    /// What the family has beyond that, as far as it is believed.
    pub specific: Option<Estimate>,
}

/// The pairings of two known plants that have measured offspring.
#[derive(Debug, Clone, Default)]
pub(super) struct Pairs {
    groups: BTreeMap<[PlantId; 2], usize>,
    of_level: Vec<Option<usize>>,
}

impl Pairs {
    pub(super) fn of(pedigree: &Pedigree, descent: &Descent, records: &Records) -> Self {
        let mut of_level = vec![None; descent.plants().len()];
        let mut groups: BTreeMap<[PlantId; 2], usize> = BTreeMap::new();
        for seen in records.by_plant() {
            let Some(plant) = seen.first().map(|seen| seen.plant) else { continue };
            let parents = pedigree.parents(plant);
            let (Some(seed), Some(pollen)) = (parents.known_seed(), parents.known_pollen()) else {
                continue;
            };
            let next = groups.len();
            let group = *groups.entry([seed.min(pollen), seed.max(pollen)]).or_insert(next);
            if let Some(level) = descent.place(plant) {
                of_level[level] = Some(group);
            }
        }
        Self { groups, of_level }
    }

    pub(super) fn group_of_level(&self) -> &[Option<usize>] {
        &self.of_level
    }

    pub(super) fn group_of(&self, a: PlantId, b: PlantId) -> Option<usize> {
        self.groups.get(&[a.min(b), a.max(b)]).copied()
    }

    /// Whether the same parents were paired in ways enough.
    pub(super) fn can_be_told(&self) -> bool {
        let mut parents: Vec<PlantId> = self.groups.keys().flatten().copied().collect();
        parents.sort_unstable();
        parents.dedup();
        self.groups.len() >= parents.len() + enough::LEAST_SPARE_PAIRINGS
    }
}

/// The mean of some plants' records.
#[derive(Debug, Clone, Copy, Default)]
struct Mean {
    n: u32,
    sum: f64,
}

/// Every family, with the means of its records and of its parents'.
pub(super) fn all(fitted: &TraitFit, records: &Records, season: &[(usize, f64)]) -> Vec<Family> {
    let usual: f64 = season.iter().map(|&(effect, share)| share * fitted.fit.fixed(effect)).sum();
    let of_row: Vec<f64> = records
        .rows
        .iter()
        .map(|row| usual - row.iter().map(|&effect| fitted.fit.fixed(effect)).sum::<f64>())
        .collect();
    let mut own: BTreeMap<PlantId, f64> = BTreeMap::new();
    let mut of_group = vec![Mean::default(); fitted.pairs.groups.len()];
    for seen in records.by_plant() {
        let freed: f64 = seen.iter().map(|seen| seen.y + of_row[seen.row]).sum();
        let mean = freed / seen.len() as f64;
        own.insert(seen[0].plant, mean);
        let level = fitted.descent.place(seen[0].plant);
        if let Some(group) = level.and_then(|level| fitted.pairs.of_level[level]) {
            of_group[group].n += 1;
            of_group[group].sum += mean;
        }
    }
    let value = |plant| fitted.descent.place(plant).map_or(0.0, |level| fitted.fit.value(level));
    let families = fitted.pairs.groups.iter().map(|(&parents, &group)| {
        let [a, b] = parents;
        let both = own.get(&a).zip(own.get(&b));
        Family {
            parents,
            n: of_group[group].n,
            mean: of_group[group].sum / f64::from(of_group[group].n.max(1)),
            mid_parent: both.map(|(a, b)| f64::midpoint(*a, *b)),
            promised: usual + f64::midpoint(value(a), value(b)),
            specific: fitted.fit.group(group),
        }
    });
    families.collect()
}
