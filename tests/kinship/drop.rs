//! Gene dropping: founders get alleles that are all different, every seedling draws its gametes
//! (and its father, where he is one of several), and identical alleles are counted.

use std::collections::BTreeMap;

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use trug::book::{Book, Father, Parent, PlantId, PlantRecord, Pollen};

use super::{Plan, Source, book, kinship, lay_out};

type Rng = ChaCha8Rng;

/// One draw of a whole garden.
struct Draw<'a> {
    book: &'a Book,
    ploidy: usize,
    double_reduction: f64,
    next_allele: u32,
    alleles: BTreeMap<PlantId, Vec<u32>>,
    /// The parent drawn for a whole lot, by lot and side.
    of_lot: BTreeMap<(String, bool), Option<PlantId>>,
    unknown_of_lot: BTreeMap<(String, bool), Vec<u32>>,
}

impl Draw<'_> {
    fn fresh(&mut self) -> Vec<u32> {
        let first = self.next_allele;
        self.next_allele += u32::try_from(self.ploidy).unwrap();
        (first..self.next_allele).collect()
    }

    /// Half of the alleles; with double reduction one of them twice, at a rate that gives any two
    /// alleles of the gamete the chance asked for of being copies of one.
    fn gamete(&self, of: &[u32], rng: &mut Rng) -> Vec<u32> {
        let half = self.ploidy / 2;
        let pairs = (half * half.saturating_sub(1)) as f64 / 2.0;
        let mut pool = of.to_vec();
        let mut gamete = Vec::with_capacity(half);
        if half > 1 && rng.random_range(0.0..1.0) < self.double_reduction * pairs {
            let twice = pool.swap_remove(rng.random_range(0..pool.len()));
            gamete.extend([twice, twice]);
        }
        while gamete.len() < half {
            gamete.push(pool.swap_remove(rng.random_range(0..pool.len())));
        }
        gamete
    }

    fn pick(&self, parent: &Parent, rng: &mut Rng) -> Option<PlantId> {
        let mut left = rng.random_range(0.0..1.0);
        for (key, weight) in parent.candidates() {
            left -= weight;
            if left < 0.0 {
                return self.book.by_key(key);
            }
        }
        None
    }

    /// The alleles of a parent, drawn once for the lot where that is so.
    fn parent(&mut self, parent: &Parent, lot: Option<(&str, bool)>, rng: &mut Rng) -> Vec<u32> {
        let Some((code, side)) = lot else {
            return match self.pick(parent, rng) {
                Some(plant) => self.alleles[&plant].clone(),
                None => self.fresh(),
            };
        };
        let place = (code.to_owned(), side);
        if !self.of_lot.contains_key(&place) {
            let picked = self.pick(parent, rng);
            self.of_lot.insert(place.clone(), picked);
        }
        if let Some(plant) = self.of_lot[&place] {
            return self.alleles[&plant].clone();
        }
        if !self.unknown_of_lot.contains_key(&place) {
            let fresh = self.fresh();
            self.unknown_of_lot.insert(place.clone(), fresh);
        }
        self.unknown_of_lot[&place].clone()
    }

    fn raise(&mut self, plant: PlantId, rng: &mut Rng) {
        let PlantRecord::Seedling(cross, seedling) = self.book.plant(plant) else {
            let alleles = self.fresh();
            self.alleles.insert(plant, alleles);
            return;
        };
        let code = seedling.lot.as_deref().unwrap();
        let is_one = cross.father_of(Some(code)) == Father::One;
        let says_one = cross.lot(code).unwrap().father == Some(Father::One);
        let one_of = |parent: &Parent| is_one && matches!(parent, Parent::OneOf(_));
        let seed_lot = one_of(&cross.seed).then_some((code, true));
        let seed = self.parent(&cross.seed, seed_lot, rng);
        let pollen = match &cross.pollen {
            Pollen::Selfed => seed.clone(),
            Pollen::From(parent) => {
                let shared = one_of(parent) || (says_one && *parent == Parent::Unknown);
                self.parent(parent, shared.then_some((code, false)), rng)
            }
        };
        // A plant of whose parents nothing is known is a founder.
        let is_founder = cross.seed == Parent::Unknown
            && cross.pollen == Pollen::From(Parent::Unknown)
            && !says_one;
        let alleles = if is_founder {
            self.fresh()
        } else {
            [self.gamete(&seed, rng), self.gamete(&pollen, rng)].concat()
        };
        self.alleles.insert(plant, alleles);
    }
}

/// The share of pairs of allele copies, one from each, that are identical.
fn identical(a: &[u32], b: &[u32]) -> f64 {
    let same = a.iter().map(|x| b.iter().filter(|&y| y == x).count()).sum::<usize>();
    same as f64 / (a.len() * b.len()) as f64
}

/// The share of pairs of different copies of one plant that are identical.
fn identical_within(a: &[u32]) -> f64 {
    let n = a.len() as f64;
    (identical(a, a) * n * n - n) / (n * (n - 1.0))
}

fn known(seed: u8, pollen: u8, plants: u8) -> Plan {
    Plan {
        seed: Source::Known(seed),
        pollen: Source::Known(pollen),
        selfed: false,
        lots: vec![(None, plants)],
    }
}

/// A garden with a selfing, a backcross, a bee lot, two mixed lots, an unknown father of a whole
/// lot, and offspring of them all.
fn garden() -> Book {
    let bees = Plan {
        seed: Source::Known(3),
        pollen: Source::OneOf(vec![(1, 4), (2, 6), (4, 3)]),
        selfed: false,
        lots: vec![(Some(Father::Each), 2)],
    };
    let mixed = Plan {
        seed: Source::Known(0),
        pollen: Source::OneOf(vec![(1, 3), (4, 8)]),
        selfed: false,
        lots: vec![(Some(Father::One), 2), (Some(Father::One), 1)],
    };
    let bought = Plan {
        seed: Source::Known(2),
        pollen: Source::Unknown,
        selfed: false,
        lots: vec![(Some(Father::One), 2)],
    };
    let selfed = Plan {
        seed: Source::Known(4),
        pollen: Source::Unknown,
        selfed: true,
        lots: vec![(None, 2)],
    };
    let plans = [
        known(0, 1, 2),
        bees,
        mixed,
        bought,
        selfed,
        known(5, 6, 1),
        known(7, 8, 1),
        known(10, 11, 1),
        known(12, 13, 1),
        known(14, 0, 1),
        known(17, 16, 1),
    ];
    let (varieties, crosses) = lay_out(&plans);
    book(varieties, crosses)
}

#[test]
fn formulas_agree_with_alleles_dropped_down_the_pedigree() {
    const DRAWS: u32 = 1_500;
    let book = garden();
    for (ploidy, double_reduction) in [(2, 0.0), (4, 0.0), (4, 0.1), (8, 0.0), (8, 1.0 / 15.0)] {
        let kinship = kinship(&book, ploidy, double_reduction);
        let mut rng = Rng::seed_from_u64(u64::from(ploidy));
        let all: Vec<PlantId> = book.plants().collect();
        let n = all.len();
        // Sums and sums of squares of what is counted, pair by pair.
        let mut sums = vec![(0.0, 0.0); n * n];
        for _ in 0..DRAWS {
            let mut draw = Draw {
                book: &book,
                ploidy: usize::from(ploidy),
                double_reduction,
                next_allele: 0,
                alleles: BTreeMap::new(),
                of_lot: BTreeMap::new(),
                unknown_of_lot: BTreeMap::new(),
            };
            for &plant in &all {
                draw.raise(plant, &mut rng);
            }
            for (i, a) in all.iter().enumerate() {
                for (j, b) in all.iter().enumerate().take(i + 1) {
                    let x = if i == j {
                        identical_within(&draw.alleles[a])
                    } else {
                        identical(&draw.alleles[a], &draw.alleles[b])
                    };
                    let (sum, squares) = &mut sums[i * n + j];
                    *sum += x;
                    *squares += x * x;
                }
            }
        }
        let draws = f64::from(DRAWS);
        for (i, &a) in all.iter().enumerate() {
            for (j, &b) in all.iter().enumerate().take(i + 1) {
                let (sum, squares) = sums[i * n + j];
                let mean = sum / draws;
                let error = ((squares / draws - mean * mean).max(0.0) / draws).sqrt();
                let formula = if i == j { kinship.inbreeding(a) } else { kinship.coancestry(a, b) };
                let what = format!("{} and {}", book.plant(a).key(), book.plant(b).key());
                assert!(
                    (mean - formula).abs() < 5.0 * error + 1e-9,
                    "{ploidy}x {what}: {mean} ± {error} dropped, {formula} by formula"
                );
            }
        }
    }
}
