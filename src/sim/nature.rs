//! How well a seedling will be liked: the model that calibration measures against.
//!
//! Liking is `μ + u(season) + b + w(pairing) + λ·F/F(full sibs) + ε` with ε standard normal, and
//! a plant is worth keeping when that is above 0. b is dropped down the pedigree gene by gene.

use std::collections::BTreeMap;

use statrs::function::erf::erfc;

use super::{Dice, Genome, Inheritance, Pool, Trait};

/// The spreads of liking, on the scale on which one plant's own chance has a spread of 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Liking {
    /// Liking of an average seedling in an average season.
    pub mean: f64,
    /// Spread of breeding values among unrelated parents.
    pub parents: f64,
    /// Spread of what a pairing adds beyond its parents.
    pub pairings: f64,
    /// Spread between seasons.
    pub seasons: f64,
    /// Effect of being as inbred as the child of full sibs.
    pub inbreeding: f64,
    /// How much of a plant's own chance stays with it from year to year, as a share of its
    /// variance.
    pub lasting: f64,
}

/// The true state of things, which nobody in the garden sees.
#[derive(Debug, Clone)]
pub struct Nature {
    how: Inheritance,
    liking: Liking,
    pool: Pool,
    pairings: BTreeMap<(usize, usize), f64>,
}

/// The probability that a standard normal deviate is below `x`.
pub(super) fn below(x: f64) -> f64 {
    0.5 * erfc(-x / std::f64::consts::SQRT_2)
}

impl Nature {
    /// An empty garden.
    pub fn new(how: Inheritance, liking: Liking) -> Self {
        Self { how, liking, pool: Pool::new(how), pairings: BTreeMap::new() }
    }

    /// The spreads of liking.
    pub fn liking(&self) -> &Liking {
        &self.liking
    }

    /// The genes.
    pub fn pool(&self) -> &Pool {
        &self.pool
    }

    /// The genes, to add founders to.
    pub fn pool_mut(&mut self) -> &mut Pool {
        &mut self.pool
    }

    /// Fixes what a pairing adds, instead of leaving it to chance.
    pub fn set_pairing(&mut self, a: usize, b: usize, adds: f64) {
        self.pairings.insert((a.min(b), a.max(b)), adds);
    }

    /// What a pairing adds beyond its parents; drawn when it is first made.
    pub fn pairing(&mut self, dice: &mut Dice, a: usize, b: usize) -> f64 {
        let spread = self.liking.pairings;
        *self.pairings.entry((a.min(b), a.max(b))).or_insert_with(|| spread * dice.normal())
    }

    /// What a season adds.
    pub fn season(&self, dice: &mut Dice) -> f64 {
        self.liking.seasons * dice.normal()
    }

    /// What a plant's genes make of it in an average season, its own chance aside.
    pub fn worth(&self, plant: &Genome, pairing: f64) -> f64 {
        self.liking.mean
            + self.liking.parents * self.pool.values(plant)[Trait::Liking.index()]
            + pairing
            + self.depression(self.pool.inbreeding(plant))
    }

    fn depression(&self, inbreeding: f64) -> f64 {
        let full_sibs = 1.0 / (4.0 * (self.how.ploidy as f64 - 1.0));
        self.liking.inbreeding * inbreeding / full_sibs
    }

    /// The true share of the seedlings of a pairing that would be kept in an average season:
    /// `Φ(η / √(1 + variance among sibs))`, many loci together being as good as normal.
    pub fn keep_rate(&self, seed: &Genome, pollen: &Genome, pairing: f64) -> f64 {
        self.share_kept(seed, pollen, pairing, 0.0)
    }

    /// What could be said of the same by somebody who knew everything of the two parents and
    /// nothing of what their pairing adds: no forecast of a pair never made can do better.
    pub fn keep_rate_by_parents(&self, seed: &Genome, pollen: &Genome) -> f64 {
        self.share_kept(seed, pollen, 0.0, self.liking.pairings.powi(2))
    }

    /// `open` is the variance of what is not known.
    fn share_kept(&self, seed: &Genome, pollen: &Genome, pairing: f64, open: f64) -> f64 {
        let b = |plant| self.liking.parents * self.pool.values(plant)[Trait::Liking.index()];
        let v = self.how.ploidy as f64;
        let (c, e) = ((v / 2.0 - 1.0) / (2.0 * (v - 1.0)), (v / 2.0) / (v - 1.0));
        let alpha = self.how.double_reduction;
        let twice = |plant| alpha + (1.0 - alpha) * self.pool.inbreeding(plant);
        let inbreeding = c * (twice(seed) + twice(pollen)) + e * self.pool.coancestry(seed, pollen);
        let eta = self.liking.mean
            + f64::midpoint(b(seed), b(pollen))
            + pairing
            + self.depression(inbreeding);
        let sibs = self.pool.gamete_variance(seed, Trait::Liking)
            + self.pool.gamete_variance(pollen, Trait::Liking);
        below(eta / (1.0 + open + self.liking.parents.powi(2) * sibs).sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_keep_rate_of_a_pairing_is_the_share_kept_of_many_seedlings() {
        let how = Inheritance { ploidy: 8, double_reduction: 0.0, n_loci: 40 };
        let liking = Liking {
            mean: -0.5,
            parents: 0.73,
            pairings: 0.0,
            seasons: 0.0,
            inbreeding: -0.4,
            lasting: 0.5,
        };
        let mut nature = Nature::new(how, liking);
        let mut dice = Dice::new(9, 1);
        let a = nature.pool_mut().founder(&mut dice, &[(Trait::Liking, 1.4)]);
        let b = nature.pool_mut().founder(&mut dice, &[]);
        let sib = nature.pool().child(&mut dice, &a, &b);
        for (seed, pollen) in [(&a, &b), (&a, &sib), (&sib, &sib)] {
            let n = 6000;
            let kept = (0..n)
                .filter(|_| {
                    let child = nature.pool().child(&mut dice, seed, pollen);
                    nature.worth(&child, 0.2) + dice.normal() > 0.0
                })
                .count();
            let (seen, said) = (kept as f64 / f64::from(n), nature.keep_rate(seed, pollen, 0.2));
            assert!((seen - said).abs() < 0.02, "kept {seen}, said {said}");
        }
    }
}
