//! What there is to plan with: the plants in the garden, the pairs of them, and what each pair is
//! worth.

use std::collections::BTreeSet;

use crate::book::{Book, Parent as Named, PlantId, Season};
use crate::kinship::Kinship;
use crate::merit::Frosts;

use super::{
    choose::Kin,
    parents::{self, Hindrance, Parent},
    place::{Place, Rate, Stages},
    work::Work,
};

/// Two plants that may be crossed, and what is to be expected of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Who would bear the seed.
    pub seed: PlantId,
    /// Who would give the pollen.
    pub pollen: PlantId,
    /// The keep rate of judged seedlings, as it is believed to be.
    pub rate: Rate,
    /// Expected keepers of one place.
    pub place: Place,
    /// F of the seedlings.
    pub inbreeding: f64,
    /// What stands in the way of the pair, if anything does.
    pub hindrance: Option<Hindrance>,
}

/// Everything that a plan is made from and that does not hang on what is asked.
#[derive(Debug, Clone)]
pub struct Field {
    /// The plants that may be parents.
    pub parents: Vec<Parent>,
    /// The pairs of them.
    pub pairs: Vec<Pair>,
    /// What happens between planting and judging.
    pub stages: Stages,
    /// Seed and heads.
    pub work: Work,
    coancestry: Vec<f64>,
    /// Of each pair, by how much a seedling's coancestry with itself exceeds that with a sib.
    own: Vec<f64>,
    inbreeding_of_full_sibs: f64,
}

/// Where keep rates come from.
pub trait Rates {
    /// Of each pair.
    fn of(&self, pairs: &[[PlantId; 2]]) -> Vec<Rate>;
    /// The same, drawn again and again as they may be together in one season: a row a draw.
    fn together(&self, pairs: &[[PlantId; 2]], draws: u32) -> Vec<Vec<f64>>;
    /// Of an average seedling of one parent, to choose by where they are many.
    fn parent(&self, plant: PlantId) -> f64;
}

/// More parents than these are not weighed against each other: the best stay.
const MOST_PARENTS: usize = 80;

impl Field {
    /// What a book has to plan with. `over` is the last season whose plants had their chance.
    pub fn of(book: &Book, kinship: &Kinship, over: Season, rates: &dyn Rates) -> Self {
        let mut parents = parents::parents(book);
        if parents.len() > MOST_PARENTS {
            parents.sort_by(|a, b| rates.parent(b.plant).total_cmp(&rates.parent(a.plant)));
            parents.truncate(MOST_PARENTS);
            parents.sort_by_key(|parent| parent.plant);
        }
        let plants: Vec<PlantId> = parents.iter().map(|parent| parent.plant).collect();
        let coancestry = kinship.matrix(&plants);
        let inbreeding: Vec<f64> = plants.iter().map(|&plant| kinship.inbreeding(plant)).collect();
        let frost = Frosts::of(book).middle().map(u32::from);
        let made = made(book);
        let stages = Stages::of(book, over);
        let work = Work::of(book);
        let (mut pairs, mut own, mut keys) = (Vec::new(), Vec::new(), Vec::new());
        let rules = kinship.rules();
        for (i, a) in parents.iter().enumerate() {
            for (j, b) in parents.iter().enumerate().skip(i + 1) {
                let (seed, pollen) = direction(a, b, &made, &work);
                let between = coancestry[i * plants.len() + j];
                let f = rules.offspring([inbreeding[i], inbreeding[j]], between);
                let sibs = 0.25
                    * (coancestry[i * plants.len() + i]
                        + coancestry[j * plants.len() + j]
                        + 2.0 * between);
                own.push((rules.own_relationship(f) / rules.ploidy() - sibs).max(0.0));
                keys.push([seed, pollen]);
                pairs.push(Pair {
                    seed,
                    pollen,
                    rate: Rate { mean: 0.0, sd: 0.0 },
                    place: Place { mean: 0.0, sd: 0.0 },
                    inbreeding: f,
                    hindrance: parents::hindrance(a, b, frost),
                });
            }
        }
        for (pair, rate) in pairs.iter_mut().zip(rates.of(&keys)) {
            pair.rate = rate;
            pair.place = stages.place(rate);
        }
        let inbreeding_of_full_sibs = rules.full_sib_mating();
        Self { parents, pairs, stages, work, coancestry, own, inbreeding_of_full_sibs }
    }

    /// F of the offspring of full sibs, to measure inbreeding by.
    pub fn full_sib_mating(&self) -> f64 {
        self.inbreeding_of_full_sibs
    }

    pub(super) fn place_of(&self, plant: PlantId) -> Option<usize> {
        self.parents.iter().position(|parent| parent.plant == plant)
    }

    /// A limit on the kinship of what is planted of these pairs.
    pub(super) fn kin(&self, open: &[usize], most: f64) -> Kin {
        let own = open.iter().map(|&at| self.own[at]).collect();
        Kin { among: self.coancestry.clone(), own, most }
    }
}

/// The pairs of parents known for certain that were made before, seed parent first.
fn made(book: &Book) -> BTreeSet<[PlantId; 2]> {
    let mut made = BTreeSet::new();
    for cross in book.crosses() {
        let plant = |parent: &Named| parent.known().and_then(|key| book.by_key(key));
        if let (Some(seed), Some(pollen)) = (plant(&cross.seed), plant(cross.pollen_parent())) {
            made.insert([seed, pollen]);
        }
    }
    made
}

/// Who bears the seed: as it was done before, else whoever can, else whoever gives more.
fn direction(
    a: &Parent,
    b: &Parent,
    made: &BTreeSet<[PlantId; 2]>,
    work: &Work,
) -> (PlantId, PlantId) {
    let can = |seed: &Parent, pollen: &Parent| seed.gives_seed && pollen.gives_pollen;
    let forward = (a.plant, b.plant);
    let back = (b.plant, a.plant);
    match (can(a, b), can(b, a)) {
        (true, false) => return forward,
        (false, true) => return back,
        _ => {}
    }
    match (made.contains(&[a.plant, b.plant]), made.contains(&[b.plant, a.plant])) {
        (true, false) => forward,
        (false, true) => back,
        _ if work.seeds_of_head(b.plant) > work.seeds_of_head(a.plant) => back,
        _ => forward,
    }
}
