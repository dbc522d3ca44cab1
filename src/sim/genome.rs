//! Plants as copies of genes, handed down by real dropping at any even ploidy.
//!
//! Every copy that a founder carries is told apart from every other, so identity by descent is
//! seen and not computed: relationship, inbreeding and the spread within a family come out of
//! the dropping itself, and no formula for them stands here.

use super::Dice;

/// What is inherited. The first is how well a plant is liked; the others are what can be seen
/// of it. Each is in standard deviations of unrelated founders.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Trait {
    /// How well a judge likes the whole plant.
    Liking,
    /// Diameter of the bloom.
    Bloom,
    /// Height.
    Height,
    /// Days to the first bloom.
    Late,
    /// Strength of the stem.
    Stem,
    /// Shapeliness.
    Form,
    /// Yellow in the ground colour.
    Yellow,
    /// Red laid over it.
    Red,
    /// Fullness, from one ring of rays to a closed centre.
    Full,
    /// Rays rolled inward (low) or backward (high).
    Roll,
    /// Seed set.
    Seed,
    /// Tubers made.
    Tubers,
}

/// How many traits there are.
pub const N_TRAITS: usize = 12;

/// A value for every trait.
pub type Values = [f64; N_TRAITS];

/// How much of form, stem and fullness is the same genes as liking.
const SHARED_WITH_LIKING: [(Trait, f64); 3] =
    [(Trait::Form, 0.6), (Trait::Stem, 0.45), (Trait::Full, 0.3)];

/// How inheritance works in a garden.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inheritance {
    /// Copies of each chromosome; even.
    pub ploidy: usize,
    /// Probability that two different copies in one gamete stem from one copy of the parent.
    pub double_reduction: f64,
    /// Places on the chromosomes that matter, each handed down on its own.
    pub n_loci: usize,
}

/// One plant's genes: the copies at the first locus, then at the second, and so on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Genome(Box<[u32]>);

/// Every founder's gene copies and what each does.
#[derive(Debug, Clone)]
pub struct Pool {
    how: Inheritance,
    effects: Vec<[f32; N_TRAITS]>,
}

impl Trait {
    /// Its index into [`Values`].
    pub fn index(self) -> usize {
        self as usize
    }
}

impl Pool {
    /// An empty pool.
    pub fn new(how: Inheritance) -> Self {
        Self { how, effects: Vec::new() }
    }

    /// A founder of copies of its own. Where a target is given, the copies are shifted alike so
    /// that the founder's breeding value is just that; the spread among its gametes stays.
    pub fn founder(&mut self, dice: &mut Dice, targets: &[(Trait, f64)]) -> Genome {
        let n_copies = self.how.n_loci * self.how.ploidy;
        let first = self.effects.len();
        // Summed over all copies the variance of a breeding value is 1.
        let scale = 1.0 / (n_copies as f64).sqrt();
        for _ in 0..n_copies {
            let mut effect: Values = std::array::from_fn(|_| dice.normal());
            let liking = effect[Trait::Liking.index()];
            for (of, shared) in SHARED_WITH_LIKING {
                let own = effect[of.index()];
                effect[of.index()] = shared * liking + (1.0 - shared * shared).sqrt() * own;
            }
            self.effects.push(effect.map(|x| narrow(x * scale)));
        }
        for (of, target) in targets {
            let of = of.index();
            let own = &mut self.effects[first..];
            let sum: f64 = own.iter().map(|e| f64::from(e[of])).sum();
            let shift = (target - sum) / n_copies as f64;
            for effect in own {
                effect[of] = narrow(f64::from(effect[of]) + shift);
            }
        }
        let ids = (first..self.effects.len()).map(|id| u32::try_from(id).unwrap_or(u32::MAX));
        Genome(ids.collect())
    }

    /// A child of two plants, or of one with itself.
    pub fn child(&self, dice: &mut Dice, seed: &Genome, pollen: &Genome) -> Genome {
        let mut copies = Vec::with_capacity(seed.0.len());
        for locus in 0..self.how.n_loci {
            self.gamete(dice, seed, locus, &mut copies);
            self.gamete(dice, pollen, locus, &mut copies);
        }
        Genome(copies.into())
    }

    /// Half of the copies at a locus, drawn without replacement; with double reduction now and
    /// then one of them twice.
    fn gamete(&self, dice: &mut Dice, of: &Genome, locus: usize, into: &mut Vec<u32>) {
        let ploidy = self.how.ploidy;
        let half = ploidy / 2;
        let first = into.len();
        let mut here = [0_u32; 16];
        here[..ploidy].copy_from_slice(&of.0[locus * ploidy..(locus + 1) * ploidy]);
        for i in 0..half {
            let j = i + dice.below(ploidy - i);
            here.swap(i, j);
            into.push(here[i]);
        }
        // One repeated copy makes one pair of the gamete alike.
        let n_pairs = (half * half.saturating_sub(1) / 2) as f64;
        if self.how.double_reduction > 0.0 && dice.chance(self.how.double_reduction * n_pairs) {
            into[first + 1] = into[first];
        }
    }

    /// The breeding values.
    pub fn values(&self, of: &Genome) -> Values {
        let mut sum = [0.0; N_TRAITS];
        for &id in &of.0 {
            for (s, e) in sum.iter_mut().zip(self.effect(id)) {
                *s += f64::from(e);
            }
        }
        sum
    }

    /// The variance of a trait among the gametes of a plant, without double reduction.
    pub fn gamete_variance(&self, of: &Genome, which: Trait) -> f64 {
        let v = self.how.ploidy as f64;
        of.0.chunks_exact(self.how.ploidy)
            .map(|locus| {
                let value = |&id: &u32| f64::from(self.effect(id)[which.index()]);
                let mean = locus.iter().map(value).sum::<f64>() / v;
                let spread: f64 = locus.iter().map(|id| (value(id) - mean).powi(2)).sum();
                // Half of v drawn without replacement: (v/2)·(v/2)/(v−1) of the mean square.
                v / 4.0 * spread / (v - 1.0)
            })
            .sum()
    }

    /// The share of pairs of copies within a plant that are one founder's copy twice.
    pub fn inbreeding(&self, of: &Genome) -> f64 {
        let v = self.how.ploidy;
        let alike: usize =
            of.0.chunks_exact(v)
                .map(|locus| {
                    (0..v)
                        .map(|i| locus[i + 1..].iter().filter(|&&other| other == locus[i]).count())
                        .sum::<usize>()
                })
                .sum();
        alike as f64 / (self.how.n_loci * v * (v - 1) / 2) as f64
    }

    /// The probability that a copy of one plant and a copy of another are the same founder's.
    pub fn coancestry(&self, a: &Genome, b: &Genome) -> f64 {
        let v = self.how.ploidy;
        let alike: usize =
            a.0.chunks_exact(v)
                .zip(b.0.chunks_exact(v))
                .map(|(a, b)| a.iter().map(|x| b.iter().filter(|&y| y == x).count()).sum::<usize>())
                .sum();
        alike as f64 / (self.how.n_loci * v * v) as f64
    }

    fn effect(&self, id: u32) -> [f32; N_TRAITS] {
        self.effects[usize::try_from(id).unwrap_or(usize::MAX)]
    }
}

#[expect(clippy::cast_possible_truncation, reason = "an effect needs no more than 7 digits")]
fn narrow(x: f64) -> f32 {
    x as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    const OCTOPLOID: Inheritance = Inheritance { ploidy: 8, double_reduction: 0.0, n_loci: 40 };

    fn mean(of: impl Iterator<Item = f64>) -> f64 {
        let all: Vec<f64> = of.collect();
        all.iter().sum::<f64>() / all.len() as f64
    }

    #[test]
    fn a_founder_has_the_breeding_value_that_was_asked_for() {
        let mut dice = Dice::new(3, 1);
        let mut pool = Pool::new(OCTOPLOID);
        let plant = pool.founder(&mut dice, &[(Trait::Liking, 1.5), (Trait::Bloom, -2.0)]);
        let values = pool.values(&plant);
        assert!((values[Trait::Liking.index()] - 1.5).abs() < 1e-4);
        assert!((values[Trait::Bloom.index()] + 2.0).abs() < 1e-4);
        assert!(pool.inbreeding(&plant) == 0.0);
    }

    #[test]
    fn children_fall_around_the_middle_of_their_parents_as_widely_as_the_gametes_say() {
        let mut dice = Dice::new(4, 1);
        let mut pool = Pool::new(OCTOPLOID);
        let a = pool.founder(&mut dice, &[(Trait::Liking, 2.0)]);
        let b = pool.founder(&mut dice, &[(Trait::Liking, -1.0)]);
        let values: Vec<f64> = (0..4000)
            .map(|_| pool.values(&pool.child(&mut dice, &a, &b))[Trait::Liking.index()])
            .collect();
        let middle = mean(values.iter().copied());
        let spread = mean(values.iter().map(|x| (x - middle).powi(2)));
        let expected =
            pool.gamete_variance(&a, Trait::Liking) + pool.gamete_variance(&b, Trait::Liking);
        assert!((middle - 0.5).abs() < 0.05, "{middle}");
        assert!((spread / expected - 1.0).abs() < 0.1, "{spread} against {expected}");
    }

    /// Full-sib mating of unrelated founders gives F = e·θ with e = (v/2)/(v − 1) and θ the
    /// coancestry of full sibs: 0.25, 0.083, 0.050, 0.036 at 2, 4, 6, 8 copies.
    #[test]
    fn dropping_shows_the_inbreeding_that_theory_expects() {
        for (ploidy, expected) in [(2, 0.25), (4, 0.0833), (6, 0.05), (8, 0.0357)] {
            let mut dice = Dice::new(5, 1);
            let mut pool = Pool::new(Inheritance { ploidy, double_reduction: 0.0, n_loci: 60 });
            let (a, b) = (pool.founder(&mut dice, &[]), pool.founder(&mut dice, &[]));
            let f = mean((0..300).map(|_| {
                let x = pool.child(&mut dice, &a, &b);
                let y = pool.child(&mut dice, &a, &b);
                pool.inbreeding(&pool.child(&mut dice, &x, &y))
            }));
            assert!((f - expected).abs() < 0.006, "{ploidy} copies: {f}");
        }
    }

    #[test]
    fn double_reduction_makes_an_outcross_a_little_inbred() {
        let mut dice = Dice::new(6, 1);
        let how = Inheritance { ploidy: 8, double_reduction: 0.1, n_loci: 60 };
        let mut pool = Pool::new(how);
        let (a, b) = (pool.founder(&mut dice, &[]), pool.founder(&mut dice, &[]));
        // F = 2cα with c = (v/2 − 1)/(2(v − 1)).
        let expected = 2.0 * 3.0 / 14.0 * 0.1;
        let f = mean((0..300).map(|_| pool.inbreeding(&pool.child(&mut dice, &a, &b))));
        assert!((f - expected).abs() < 0.006, "{f} against {expected}");
        assert!((pool.coancestry(&a, &a) - 0.125).abs() < 1e-12);
    }
}
