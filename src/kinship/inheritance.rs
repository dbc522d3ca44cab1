//! How alleles pass from parents to offspring: ploidy and double reduction.
//!
//! Recursions after O. Kempthorne 1957, *An Introduction to Genetic Statistics*; A. Gallais 2003,
//! *Quantitative Genetics and Breeding Methods in Autopolyploid Plants*; R. J. Kerr et al. 2012,
//! Theor. Appl. Genet. 124:1271–1282.

use thiserror::Error;

use crate::book::{Book, most_double_reduction};

/// The rules by which a crop inherits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inheritance {
    ploidy: f64,
    double_reduction: f64,
}

/// A ploidy or a double reduction that no plant has.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum NotPossible {
    /// Only even ploidies up to 8 are worked with.
    #[error("A ploidy of {0} cannot be worked with: it must be 2, 4, 6 or 8.")]
    Ploidy(u8),
    /// More double reduction than there can be.
    #[error(
        "A double reduction of {rate} is not possible at ploidy {ploidy}: it must lie between 0 \
         and {most:.4}."
    )]
    DoubleReduction {
        /// What was asked for.
        rate: f64,
        /// At which ploidy.
        ploidy: u8,
        /// The most that is possible.
        most: f64,
    },
}

impl Inheritance {
    /// Rules for a number of chromosome sets (2, 4, 6 or 8) and a probability of double
    /// reduction: that two different alleles of one gamete are copies of one parental allele.
    ///
    /// How much of it there can be is said by [`most_double_reduction`].
    pub fn new(ploidy: u8, double_reduction: f64) -> Result<Self, NotPossible> {
        if !matches!(ploidy, 2 | 4 | 6 | 8) {
            return Err(NotPossible::Ploidy(ploidy));
        }
        let most = most_double_reduction(ploidy);
        if !(0.0..=most).contains(&double_reduction) {
            return Err(NotPossible::DoubleReduction { rate: double_reduction, ploidy, most });
        }
        Ok(Self { ploidy: f64::from(ploidy), double_reduction })
    }

    /// The rules of a book: its own where it has any, else those of the crop.
    pub fn of(book: &Book) -> Result<Self, NotPossible> {
        let (about, crop) = (book.about(), book.crop());
        Self::new(
            about.ploidy.unwrap_or(crop.ploidy),
            about.double_reduction.unwrap_or(crop.double_reduction),
        )
    }

    /// The rules of a book or, where it asks for what no plant has, those of the crop; a crop of
    /// which nothing is known counts as diploid. The check says what is amiss.
    pub fn of_or_nearest(book: &Book) -> Self {
        let crop = book.crop();
        Self::of(book)
            .or_else(|_| Self::new(crop.ploidy, crop.double_reduction))
            .unwrap_or(Self { ploidy: 2.0, double_reduction: 0.0 })
    }

    /// The number of chromosome sets, v.
    pub fn ploidy(&self) -> f64 {
        self.ploidy
    }

    /// F of offspring: `c (g(s) + g(p)) + e θ(s, p)`, with `g(x) = α + (1 − α) F(x)`,
    /// `c = (v/2 − 1) / (2(v − 1))` and `e = (v/2) / (v − 1)`. `parents` are F(s) and F(p).
    pub fn offspring(&self, parents: [f64; 2], coancestry: f64) -> f64 {
        let half = self.ploidy / 2.0;
        let c = (half - 1.0) / (2.0 * (self.ploidy - 1.0));
        let e = half / (self.ploidy - 1.0);
        let alpha = self.double_reduction;
        let g = |f: f64| alpha + (1.0 - alpha) * f;
        c * (g(parents[0]) + g(parents[1])) + e * coancestry
    }

    /// What the coancestry of its parents adds to F of offspring: `e` of [`Inheritance::offspring`].
    pub fn share_of_coancestry(&self) -> f64 {
        self.ploidy / 2.0 / (self.ploidy - 1.0)
    }

    /// The relationship of a plant to itself, 1 + (v − 1) F.
    pub fn own_relationship(&self, inbreeding: f64) -> f64 {
        1.0 + (self.ploidy - 1.0) * inbreeding
    }

    /// F of the offspring of full sibs whose parents are unrelated and not inbred, without double
    /// reduction: 1/(4(v − 1)). F means little from one ploidy to another; as a share of this it
    /// does.
    pub fn full_sib_mating(&self) -> f64 {
        1.0 / (4.0 * (self.ploidy - 1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_plant_has_is_refused() {
        assert!(Inheritance::new(3, 0.0).is_err() && Inheritance::new(0, 0.0).is_err());
        assert!(Inheritance::new(10, 0.0).is_err());
        assert!(Inheritance::new(2, 0.01).is_err() && Inheritance::new(2, 0.0).is_ok());
        assert!(Inheritance::new(4, 1.0 / 6.0).is_ok() && Inheritance::new(4, 0.2).is_err());
        assert!(Inheritance::new(8, -0.01).is_err() && Inheritance::new(8, f64::NAN).is_err());
    }

    #[test]
    fn full_sib_mating_is_what_the_recursion_gives() {
        for ploidy in [2, 4, 6, 8] {
            let rules = Inheritance { ploidy: f64::from(ploidy), double_reduction: 0.0 };
            let sibs = 0.25 * 2.0 * rules.own_relationship(0.0) / rules.ploidy();
            let by_hand = rules.offspring([0.0, 0.0], sibs);
            assert!((by_hand - rules.full_sib_mating()).abs() < 1e-15);
        }
    }
}
