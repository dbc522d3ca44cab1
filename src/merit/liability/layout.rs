//! The unknowns of the model in a row, and how each count depends on them.
//!
//! The mean, the effect of inbreeding, the seasons and the breeding values come first; they are
//! few and have to do with everything. Behind them stand the plants without a name that bore or
//! fathered one cross alone, and what each pairing adds.

use std::collections::BTreeMap;

use crate::book::{CrossId, PlantId, Season};
use crate::kinship::{Column, Descent, Kinship};
use crate::lineage::Pedigree;
use crate::stats::glmm::{Latent, Link, Observation, Route};

use super::{
    Spreads,
    families::{Seen, Way, ways},
};

/// Where the mean stands.
pub(super) const MEAN: usize = 0;
/// Where the effect of being as inbred as the child of full sibs stands.
pub(super) const INBREEDING: usize = 1;
/// Where the seasons begin.
const SEASONS: usize = 2;
/// The spread of the effect of inbreeding before anything is counted.
const INBREEDING_SPREAD: f64 = 0.5;
/// The spread of the mean around the usual share.
const MEAN_SPREAD: f64 = 1.0;

/// What seedlings of two plants have in common.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Offspring {
    /// F as a share of full-sib mating.
    pub(super) inbreeding: f64,
    /// How much of the variance among founders is left among them.
    pub(super) sampling: f64,
}

/// How the liking of some plants depends on the unknowns.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Sum {
    pub(super) weight: f64,
    /// The parents that are known.
    parents: [Option<PlantId>; 2],
    /// Breeding values, by their unknowns.
    pub(super) values: Vec<(usize, f64)>,
    /// What the pairing adds.
    pub(super) pairing: Option<usize>,
    /// The plants without a name: their unknown, and on how many sides.
    pub(super) shared: Option<(usize, f64)>,
    pub(super) inbreeding: f64,
    /// Breeding values that differ from plant to plant, in units of the variance among founders.
    pub(super) genetic: f64,
    /// Whether what the pairing adds differs from plant to plant.
    pub(super) mixed_pairings: bool,
}

/// One count as the model sees it.
#[derive(Debug, Clone)]
pub(super) struct Term {
    pub(super) seen: Seen,
    season: Option<usize>,
    pub(super) sums: Vec<Sum>,
    /// For each sum, the parents that are known.
    parents: Vec<[Option<PlantId>; 2]>,
}

/// All unknowns and counts.
#[derive(Debug)]
pub(super) struct Layout {
    pub(super) descent: Descent,
    pub(super) seasons: Vec<Season>,
    pub(super) terms: Vec<Term>,
    /// The unknown of each pairing.
    pub(super) pairings: BTreeMap<[PlantId; 2], usize>,
    is_split: bool,
    n: usize,
    usual: f64,
}

impl Offspring {
    /// Of two plants, of which none stands for a stranger.
    pub(super) fn of(
        kinship: &Kinship,
        seed: Option<&Column<'_>>,
        pollen: Option<PlantId>,
    ) -> Self {
        let rules = kinship.rules();
        let (f, sampling) = match (seed, pollen) {
            (Some(seed), Some(pollen)) => {
                (seed.inbreeding_of_offspring(pollen), seed.sampling_of_offspring(pollen))
            }
            (one, other) => {
                let known = one.map(Column::plant).or(other);
                let parent = known.map_or(0.0, |plant| kinship.inbreeding(plant));
                let f = rules.offspring([parent, 0.0], 0.0);
                let passed_on = 0.25 * (rules.own_relationship(parent) + 1.0);
                (f, (rules.own_relationship(f) - passed_on).max(0.0))
            }
        };
        Self { inbreeding: f / rules.full_sib_mating(), sampling }
    }
}

/// The same pairing whichever way it was made, unless directions are apart.
pub(super) fn pairing(seed: PlantId, pollen: PlantId, is_split: bool) -> [PlantId; 2] {
    if is_split || seed <= pollen { [seed, pollen] } else { [pollen, seed] }
}

impl Layout {
    /// `usual` is where the mean lies before anything is counted, on the scale of liking.
    pub(super) fn of(
        pedigree: &Pedigree,
        kinship: &Kinship,
        seen: &[Seen],
        is_split: bool,
        usual: f64,
    ) -> Self {
        let mut seasons: Vec<Season> = seen.iter().filter_map(|seen| seen.season).collect();
        seasons.sort_unstable();
        seasons.dedup();
        let mut layout = Self {
            descent: kinship.descent(pedigree.used().iter().copied()),
            seasons,
            terms: Vec::new(),
            pairings: BTreeMap::new(),
            is_split,
            n: 0,
            usual,
        };
        layout.n = layout.n_core();
        let mut latest: Option<(CrossId, [Vec<Sum>; 2])> = None;
        for &seen in seen {
            let known = latest.take().filter(|(cross, _)| *cross == seen.cross);
            let (_, [each, one]) = latest.insert(
                known.unwrap_or_else(|| (seen.cross, layout.family(pedigree, kinship, seen.cross))),
            );
            let family = if seen.is_one { one } else { each };
            let sums = match seen.plant {
                None => family.clone(),
                Some(plant) => vec![layout.own(kinship, plant, family)],
            };
            let season = seen.season.and_then(|season| layout.season(season));
            let parents = family.iter().map(|sum| sum.parents).collect();
            layout.terms.push(Term { seen, season, sums, parents });
        }
        layout
    }

    /// The unknowns that have to do with everything.
    pub(super) fn n_core(&self) -> usize {
        SEASONS + self.seasons.len() + self.descent.plants().len()
    }

    /// The unknown of a season.
    pub(super) fn season(&self, season: Season) -> Option<usize> {
        Some(SEASONS + self.seasons.binary_search(&season).ok()?)
    }

    /// The unknown of a plant's breeding value.
    pub(super) fn value(&self, plant: PlantId) -> Option<usize> {
        Some(SEASONS + self.seasons.len() + self.descent.place(plant)?)
    }

    /// The unknown of a pairing, if it was ever counted.
    pub(super) fn pairing(&self, seed: PlantId, pollen: PlantId) -> Option<usize> {
        self.pairings.get(&pairing(seed, pollen, self.is_split)).copied()
    }

    /// An unknown for what the plants that nobody knows bring to a whole cross, with the sides
    /// on which they stand.
    fn nameless(&mut self, ways: &[Way]) -> Option<(usize, f64)> {
        let sides = [|way: &Way| way.seed, |way: &Way| way.pollen];
        let unknown = sides.iter().filter(|of| ways.iter().all(|way| of(way).is_none())).count();
        if unknown == 0 {
            return None;
        }
        self.n += 1;
        Some((self.n - 1, unknown as f64))
    }

    /// A family where each seedling may have a father of its own, and where all have one.
    fn family(&mut self, pedigree: &Pedigree, kinship: &Kinship, cross: CrossId) -> [Vec<Sum>; 2] {
        let ways = ways(pedigree, cross);
        let shared = self.nameless(&ways);
        [None, shared].map(|shared| self.sums(kinship, &ways, shared))
    }

    fn sums(&mut self, kinship: &Kinship, ways: &[Way], shared: Option<(usize, f64)>) -> Vec<Sum> {
        let mut column: Option<Column<'_>> = None;
        let mut sums = Vec::with_capacity(ways.len());
        for way in ways {
            if column.as_ref().map(Column::plant) != way.seed {
                column = way.seed.map(|plant| kinship.column(plant));
            }
            let offspring = Offspring::of(kinship, column.as_ref(), way.pollen);
            let known = [way.seed, way.pollen].into_iter().flatten();
            let pairing = match (way.seed, way.pollen) {
                (Some(a), Some(b)) => Some(self.pairing_or_new(a, b)),
                _ => None,
            };
            let n_known = known.clone().count() as f64;
            let n_fresh = 2.0 - n_known - shared.map_or(0.0, |(_, sides)| sides);
            sums.push(Sum {
                weight: way.weight,
                parents: [way.seed, way.pollen],
                values: known.filter_map(|plant| Some((self.value(plant)?, 0.5))).collect(),
                pairing,
                shared,
                inbreeding: offspring.inbreeding,
                genetic: offspring.sampling + 0.25 * n_fresh.max(0.0),
                mixed_pairings: pairing.is_none() && shared.is_none(),
            });
        }
        sums
    }

    fn pairing_or_new(&mut self, seed: PlantId, pollen: PlantId) -> usize {
        let next = self.n;
        let key = pairing(seed, pollen, self.is_split);
        let at = *self.pairings.entry(key).or_insert(next);
        self.n += usize::from(at == next);
        at
    }

    /// A plant that became a parent, by its own breeding value. Where it is not sure which plants
    /// its parents are, what their pairing adds is left open.
    fn own(&self, kinship: &Kinship, plant: PlantId, family: &[Sum]) -> Sum {
        let pairing = match family {
            [only] => only.pairing,
            _ => None,
        };
        Sum {
            weight: 1.0,
            parents: [None; 2],
            values: self.value(plant).map(|value| (value, 1.0)).into_iter().collect(),
            pairing,
            shared: None,
            inbreeding: kinship.inbreeding(plant) / kinship.rules().full_sib_mating(),
            genetic: 0.0,
            mixed_pairings: pairing.is_none(),
        }
    }

    /// The counts at some spreads; those that `is_out` says are not counted.
    pub(super) fn observations(
        &self,
        spreads: &Spreads,
        is_out: impl Fn(&Term) -> bool,
    ) -> Vec<Observation> {
        let observation = |term: &Term| {
            let (k, n) = if is_out(term) { (0, 0) } else { (term.seen.k, term.seen.n) };
            let routes = term.sums.iter().map(|sum| sum.route(spreads, term.season)).collect();
            Observation { k, n, routes, is_one: term.seen.is_one }
        };
        self.terms.iter().map(observation).collect()
    }

    /// The unknowns before anything is counted: breeding values, seasons and pairings of spread 1.
    pub(super) fn latent(&self) -> Latent {
        let first = SEASONS + self.seasons.len();
        let mut mean = vec![0.0; self.n];
        mean[MEAN] = self.usual;
        let mut precision = vec![
            (MEAN, MEAN, MEAN_SPREAD.powi(-2)),
            (INBREEDING, INBREEDING, INBREEDING_SPREAD.powi(-2)),
        ];
        precision.extend((SEASONS..first).map(|i| (i, i, 1.0)));
        precision.extend(self.descent.inverse().iter().map(|&(i, j, x)| (first + i, first + j, x)));
        precision.extend((self.n_core()..self.n).map(|i| (i, i, 1.0)));
        let ln_det = -2.0 * (MEAN_SPREAD.ln() + INBREEDING_SPREAD.ln()) - self.descent.ln_det();
        let some = Spreads { parents: 0.5, pairings: 0.5, seasons: 0.5 };
        let pattern = self.observations(&some, |_| false);
        Latent::new(Link::Probit, mean, precision, ln_det, &pattern)
    }
}

impl Term {
    /// Whether these plants, one or two, may be parents of it.
    pub(super) fn is_of(&self, plants: &[PlantId]) -> bool {
        let is_among = |parents: &[Option<PlantId>; 2]| match plants {
            [a, b] if a == b => parents == &[Some(*a); 2],
            _ => plants.iter().all(|plant| parents.contains(&Some(*plant))),
        };
        self.parents.iter().any(is_among)
    }
}

impl Sum {
    /// On the scale on which what differs from plant to plant has a spread of 1.
    fn route(&self, spreads: &Spreads, season: Option<usize>) -> Route {
        let square = |x: f64| x * x;
        let mut variance = 1.0 + self.genetic * square(spreads.parents);
        if self.mixed_pairings {
            variance += square(spreads.pairings);
        }
        if season.is_none() {
            variance += square(spreads.seasons);
        }
        let scale = variance.sqrt().recip();
        let mut parts = vec![(MEAN, scale), (INBREEDING, scale * self.inbreeding)];
        parts.extend(season.map(|at| (at, scale * spreads.seasons)));
        for &(at, share) in &self.values {
            parts.push((at, scale * spreads.parents * share));
        }
        parts.extend(self.pairing.map(|at| (at, scale * spreads.pairings)));
        parts.extend(self.shared.map(|(at, sides)| (at, scale * spreads.nameless(sides))));
        Route { weight: self.weight, offset: 0.0, parts }
    }
}
