//! Gardens by the dozen, for finding out how far forecasts can be trusted: bare crosses, blooms
//! and verdicts, and the truth behind them.
//!
//! What a raiser does is as it is with real ones: parents are taken out of habit and from the
//! keepers that please most, families are of any size, bees have a hand in it.

use std::{collections::BTreeMap, sync::Arc};

use super::{Dice, Genome, Inheritance, Liking, Nature, dice::index, garden::date};

use crate::book::{
    About, Book, By, Candidate, Crop, Cross, Entry, Parent, PlantDeed, PlantId, Pollen, Season,
    Seedling, Variety, Verdict, When,
};
use crate::stats::normal;

/// What a kind of garden is like. Shares lie between 0 and 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// How genes are handed down.
    pub inheritance: Inheritance,
    /// The share kept among the seedlings of the founders.
    pub kept: f64,
    /// Spread of breeding values among unrelated parents.
    pub parents: f64,
    /// Spread of what a pairing adds.
    pub pairings: f64,
    /// Spread between seasons.
    pub season_spread: f64,
    /// Effect of being as inbred as the child of full sibs.
    pub inbreeding: f64,
    /// How much of a plant's own chance stays with it from year to year.
    pub lasting: f64,
    /// Varieties that are used as parents.
    pub founders: u32,
    /// The share of them that have known parents among the others.
    pub related: f64,
    /// Seasons in which crosses are made.
    pub seasons: i16,
    /// Crosses a season.
    pub pairs: u32,
    /// Seedlings a cross, on average.
    pub seedlings: f64,
    /// How uneven families are: the relative spread of their size.
    pub uneven: f64,
    /// Parents taken from the raiser's own keepers, once there are any.
    pub from_keepers: f64,
    /// Pairs made again because they pleased.
    pub again: f64,
    /// How strongly looks draw the raiser to a keeper.
    pub eye: f64,
    /// Habit: how much each cross that a plant was used in speaks for using it again, against
    /// what spoke for it at first.
    pub habit: f64,
    /// Crosses left to bees, with a few likely fathers.
    pub bees: f64,
    /// How many of them.
    pub candidates: u32,
    /// The share of bee seedlings whose father is none of them.
    pub stranger: f64,
    /// Plants that die before they bloom.
    pub lost: f64,
    /// Plants that do not bloom.
    pub unbloomed: f64,
    /// Plants left without a clear word.
    pub held: f64,
}

/// A garden of a kind: its book, and the truth.
#[derive(Debug)]
pub struct Trialled {
    /// What was written down.
    pub book: Book,
    nature: Nature,
    genes: Dice,
    /// Each plant of the book by its place among those that lived.
    places: BTreeMap<PlantId, usize>,
    plants: Vec<Grown>,
}

#[derive(Debug, Clone)]
struct Grown {
    key: Box<str>,
    genome: Genome,
    worth: f64,
    lasting: f64,
    fondness: f64,
    /// The crosses that it was used in.
    uses: u32,
    /// Likings season by season.
    seen: Vec<f64>,
    is_kept: bool,
}

struct Living<'t> {
    trial: &'t Trial,
    nature: Nature,
    genes: Dice,
    raiser: Dice,
    plants: Vec<Grown>,
    n_founders: usize,
    varieties: Vec<Variety>,
    crosses: Vec<Cross>,
    /// The plants of each cross that were judged, and its parents where they are known.
    families: Vec<([usize; 2], Vec<usize>)>,
    waiting: Vec<Planned>,
}

/// A cross that will be sown next spring.
struct Planned {
    seed: usize,
    pollen: Vec<(usize, f64)>,
    by: By,
}

const FIRST: i16 = 2000;

impl Trial {
    /// The garden that comes of a seed.
    pub fn garden(&self, crop: Arc<Crop>, seed: u64) -> Trialled {
        let mut living = Living::new(self, seed);
        for season in FIRST..=FIRST + self.seasons {
            living.bloom(season);
            if season < FIRST + self.seasons {
                living.cross();
            }
        }
        living.write(crop)
    }

    fn liking(&self) -> Liking {
        let square = |x: f64| x * x;
        let spread =
            1.0 + square(self.parents) + square(self.pairings) + square(self.season_spread);
        Liking {
            mean: normal::quantile(self.kept) * spread.sqrt(),
            parents: self.parents,
            pairings: self.pairings,
            seasons: self.season_spread,
            inbreeding: self.inbreeding,
            lasting: self.lasting,
        }
    }
}

impl<'t> Living<'t> {
    fn new(trial: &'t Trial, seed: u64) -> Self {
        let mut living = Self {
            trial,
            nature: Nature::new(trial.inheritance, trial.liking()),
            genes: Dice::new(seed, 1),
            raiser: Dice::new(seed, 3),
            plants: Vec::new(),
            n_founders: 0,
            varieties: Vec::new(),
            crosses: Vec::new(),
            families: Vec::new(),
            waiting: Vec::new(),
        };
        for n in 0..trial.founders {
            let id: Box<str> = format!("variety-{:03}", n + 1).into();
            let mut variety = Variety { id: id.clone(), name: id.clone(), ..Variety::default() };
            let genome = if n >= 2 && living.raiser.chance(trial.related) {
                let [a, b] = living.two_of(living.plants.len());
                variety.seed = Parent::Known(living.plants[a].key.clone());
                variety.pollen = Parent::Known(living.plants[b].key.clone());
                let [a, b] = [a, b].map(|i| living.plants[i].genome.clone());
                living.nature.pool().child(&mut living.genes, &a, &b)
            } else {
                living.nature.pool_mut().founder(&mut living.genes, &[])
            };
            living.varieties.push(variety);
            living.grow(id, genome, 0.0);
        }
        living.n_founders = living.plants.len();
        living
    }

    fn two_of(&mut self, n: usize) -> [usize; 2] {
        let a = self.raiser.below(n);
        let b = (a + 1 + self.raiser.below(n - 1)) % n;
        [a, b]
    }

    fn grow(&mut self, key: Box<str>, genome: Genome, pairing: f64) -> usize {
        let worth = self.nature.worth(&genome, pairing);
        let lasting = self.genes.normal();
        let fondness = (0.7 * self.raiser.normal()).exp();
        let seen = Vec::new();
        let (uses, is_kept) = (0, false);
        self.plants.push(Grown { key, genome, worth, lasting, fondness, uses, seen, is_kept });
        self.plants.len() - 1
    }

    /// The seedlings of last season's crosses bloom and are judged, and the keepers once more.
    fn bloom(&mut self, season: i16) {
        let adds = self.nature.season(&mut self.genes);
        for i in self.n_founders..self.plants.len() {
            if self.plants[i].is_kept {
                self.look(i, adds);
                let plant = &mut self.plants[i];
                let mean = plant.seen.iter().sum::<f64>() / plant.seen.len() as f64;
                plant.is_kept = mean > 0.0;
            }
        }
        for (nth, planned) in std::mem::take(&mut self.waiting).into_iter().enumerate() {
            self.raise(season, nth, &planned, adds);
        }
    }

    fn look(&mut self, i: usize, adds: f64) -> f64 {
        let lasting = self.trial.lasting;
        let own = (1.0 - lasting).sqrt() * self.genes.normal();
        let plant = &mut self.plants[i];
        let liking = plant.worth + adds + lasting.sqrt() * plant.lasting + own;
        plant.seen.push(liking);
        liking
    }

    fn raise(&mut self, season: i16, nth: usize, planned: &Planned, adds: f64) {
        let code = format!("{:02}X{:02}", (season - 1) % 100, nth + 1);
        let n = index(f64::from(self.raiser.count(self.trial.seedlings, self.trial.uneven))).max(1);
        let mut seedlings = Vec::with_capacity(n);
        let mut judged = Vec::new();
        for m in 0..n {
            let father = self.father(planned);
            let mother = self.plants[planned.seed].genome.clone();
            let (genome, pairing) = match father {
                Some(father) => {
                    let genome = self.plants[father].genome.clone();
                    (genome, self.nature.pairing(&mut self.genes, planned.seed, father))
                }
                None => (self.nature.pool_mut().founder(&mut self.genes, &[]), 0.0),
            };
            let genome = self.nature.pool().child(&mut self.genes, &mother, &genome);
            let number: Box<str> = format!("{code}-{:03}", m + 1).into();
            let mut diary = vec![entry(season, 5, 20, PlantDeed::Planted(None))];
            let fate = self.raiser.unit();
            let (lost, unbloomed) = (self.trial.lost, self.trial.unbloomed);
            if fate < lost {
                diary.push(entry(season, 6, 20, PlantDeed::Lost("slugs".into())));
            } else if fate >= lost + unbloomed {
                let i = self.grow(number.clone(), genome, pairing);
                let liking = self.look(i, adds);
                let is_held = self.raiser.chance(self.trial.held);
                self.plants[i].is_kept = liking > 0.0 && !is_held;
                let is = match is_held {
                    true => Verdict::Hold,
                    false if liking > 0.0 => Verdict::Keep,
                    false => Verdict::Discard,
                };
                diary.push(entry(season, 8, 20, PlantDeed::FirstBloom));
                diary.push(entry(season, 9, 20, PlantDeed::Verdict { is, why: None, who: None }));
                judged.push(i);
            }
            seedlings.push(Seedling { number, diary, ..Seedling::default() });
        }
        let key = |i: usize| self.plants[i].key.clone();
        let pollen = match &planned.pollen[..] {
            [(only, _)] if planned.by == By::Hand => Parent::Known(key(*only)),
            several => Parent::OneOf(
                several.iter().map(|&(i, weight)| Candidate { key: key(i), weight }).collect(),
            ),
        };
        self.crosses.push(Cross {
            code: code.into(),
            season: Some(Season(season - 1)),
            seed: Parent::Known(key(planned.seed)),
            pollen: Pollen::From(pollen),
            by: planned.by,
            seedlings,
            ..Cross::default()
        });
        if planned.by == By::Hand {
            self.families.push(([planned.seed, planned.pollen[0].0], judged));
        }
    }

    /// Who gave the pollen of one seedling: none of the garden, where it is nobody of the list.
    fn father(&mut self, planned: &Planned) -> Option<usize> {
        let mut left = self.genes.unit();
        for &(i, weight) in &planned.pollen {
            left -= weight;
            if left < 0.0 {
                return Some(i);
            }
        }
        None
    }

    /// The crosses of a season.
    fn cross(&mut self) {
        for _ in 0..self.trial.pairs {
            let planned = if self.raiser.chance(self.trial.bees) {
                let seed = self.parent(None);
                let n = index(f64::from(self.trial.candidates)).max(1);
                let mut pollen: Vec<(usize, f64)> = Vec::new();
                for _ in 0..n {
                    let one = self.parent(Some(seed));
                    if pollen.iter().all(|&(other, _)| other != one) {
                        pollen.push((one, 0.5 + self.raiser.unit()));
                    }
                }
                let whole: f64 = pollen.iter().map(|(_, weight)| weight).sum();
                for (_, weight) in &mut pollen {
                    *weight *= (1.0 - self.trial.stranger) / whole;
                }
                Planned { seed, pollen, by: By::Bees }
            } else {
                let [seed, pollen] = self.pair();
                Planned { seed, pollen: vec![(pollen, 1.0)], by: By::Hand }
            };
            for i in std::iter::once(planned.seed).chain(planned.pollen.iter().map(|(i, _)| *i)) {
                self.plants[i].uses += 1;
            }
            self.waiting.push(planned);
        }
    }

    fn pair(&mut self) -> [usize; 2] {
        if self.raiser.chance(self.trial.again) && !self.families.is_empty() {
            let pleased: Vec<f64> = self
                .families
                .iter()
                .map(|(_, judged)| {
                    let kept =
                        judged.iter().filter(|&&i| self.plants[i].seen[0] > 0.0).count() as f64;
                    (kept + 0.2) / (judged.len() as f64 + 1.0)
                })
                .collect();
            return self.families[self.raiser.weighted(&pleased)].0;
        }
        let seed = self.parent(None);
        [seed, self.parent(Some(seed))]
    }

    fn parent(&mut self, not: Option<usize>) -> usize {
        let keepers: Vec<usize> = (self.n_founders..self.plants.len())
            .filter(|&i| self.plants[i].is_kept && Some(i) != not)
            .collect();
        if !keepers.is_empty() && self.raiser.chance(self.trial.from_keepers) {
            let esteem = |&i: &usize| {
                let seen = &self.plants[i].seen;
                seen.iter().sum::<f64>() / seen.len() as f64
            };
            let weights: Vec<f64> = keepers
                .iter()
                .map(|i| (self.trial.eye * esteem(i)).exp() * self.habit(*i))
                .collect();
            return keepers[self.raiser.weighted(&weights)];
        }
        let weights: Vec<f64> = (0..self.n_founders)
            .map(|i| if Some(i) == not { 0.0 } else { self.plants[i].fondness * self.habit(i) })
            .collect();
        self.raiser.weighted(&weights)
    }

    fn habit(&self, i: usize) -> f64 {
        1.0 + self.trial.habit * f64::from(self.plants[i].uses)
    }

    fn write(self, crop: Arc<Crop>) -> Trialled {
        let about = About { crop: crop.name.clone(), ..About::default() };
        let book = Book::new(about, crop, self.varieties, self.crosses);
        let place = |(i, plant): (usize, &Grown)| Some((book.by_key(&plant.key)?, i));
        let places = self.plants.iter().enumerate().filter_map(place).collect();
        Trialled { book, nature: self.nature, genes: self.genes, places, plants: self.plants }
    }
}

impl Trialled {
    /// The true share kept of the seedlings of two plants in an average season. None for a plant
    /// that never bloomed.
    pub fn keep_rate(&mut self, seed: PlantId, pollen: PlantId) -> Option<f64> {
        let (a, b) = (*self.places.get(&seed)?, *self.places.get(&pollen)?);
        let adds = self.nature.pairing(&mut self.genes, a, b);
        Some(self.nature.keep_rate(&self.plants[a].genome, &self.plants[b].genome, adds))
    }

    /// The most that can be known of it before the pair is made: everything of its parents. None
    /// for a plant that never bloomed.
    pub fn keep_rate_by_parents(&self, seed: PlantId, pollen: PlantId) -> Option<f64> {
        let (a, b) = (*self.places.get(&seed)?, *self.places.get(&pollen)?);
        Some(self.nature.keep_rate_by_parents(&self.plants[a].genome, &self.plants[b].genome))
    }
}

fn entry(season: i16, month: u32, day: u32, did: PlantDeed) -> Entry<PlantDeed> {
    Entry { on: When::day(date(season, month, day)), did }
}
