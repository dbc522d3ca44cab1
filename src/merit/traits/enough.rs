//! Whether there are records enough to say anything, and if not, what is missing.

use thiserror::Error;

use crate::stats::mixed::NotFitted;

use super::Counted;

/// Plants without which nothing is said.
///
/// With families of full sibs of equal size the standard error of a heritability is about
/// 2 √(2 (1 − t)² (1 + (n − 1) t)² / (n (n − 1) (N − 1))), t being half the heritability, n the
/// size and N the number of families (D. S. Falconer & T. F. C. Mackay 1996, *Introduction to
/// Quantitative Genetics*, chapter 10). With 30 plants of 5 families a heritability of 0.4 has an
/// error of 0.4: below that, not even whether anything is passed on could be told.
pub(super) const LEAST_PLANTS: u32 = 30;
/// Families without which nothing is said.
pub(super) const LEAST_FAMILIES: u32 = 5;
/// What a pairing adds can be told from what its parents pass on only where the same parents were
/// paired in several ways: by so many more pairings than there are parents in them.
pub(super) const LEAST_SPARE_PAIRINGS: usize = 3;
/// Plants looked at more than once without which what stays with a plant is not told from chance.
pub(super) const LEAST_LOOKED_AT_AGAIN: usize = 10;

/// Where there are more parents than this, a trait is fitted to the newer half of the seasons, and
/// so on: the variances take a hundred solutions, and what takes minutes is not asked.
pub(super) const MOST_PARENTS: usize = 1500;
/// The same by the entries of the equations, which say more nearly what a solution costs.
pub(super) const MOST_ENTRIES: usize = 150_000;

/// Why nothing is said of a trait.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NotEnough {
    /// Too few plants, or of too few families.
    #[error(
        "measured {} of {}; {}",
        many(*.plants, "plant", "plants"),
        many(*.families, "family", "families"),
        NotEnough::wanted()
    )]
    Measured {
        /// Plants measured.
        plants: u32,
        /// Families with two or more of them.
        families: u32,
    },
    /// More parents, even behind the newest season, than can be worked through.
    #[error("There are more parents behind the plants than can be worked through.")]
    TooMany,
    /// The records tell nothing.
    #[error("{0}")]
    Untold(#[from] NotFitted),
}

impl NotEnough {
    /// How much there would have to be.
    pub fn wanted() -> String {
        format!(
            "{LEAST_PLANTS} measured plants are wanted, of {LEAST_FAMILIES} families with two or \
             more of them."
        )
    }
}

fn many(n: u32, one: &str, several: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { several })
}

pub(super) fn check(counted: &Counted) -> Result<(), NotEnough> {
    let Counted { plants, families, .. } = *counted;
    if plants < LEAST_PLANTS || families < LEAST_FAMILIES {
        return Err(NotEnough::Measured { plants, families });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The reason given for the thresholds, worked out.
    #[test]
    fn at_the_threshold_an_error_is_as_large_as_a_middling_heritability() {
        let families = f64::from(LEAST_FAMILIES);
        let n = f64::from(LEAST_PLANTS) / families;
        let t: f64 = 0.4 / 2.0;
        let variance =
            2.0 * ((1.0 - t) * (1.0 + (n - 1.0) * t)).powi(2) / (n * (n - 1.0) * (families - 1.0));
        assert!((2.0 * variance.sqrt() - 0.4).abs() < 0.02);
    }

    #[test]
    fn what_is_missing_is_said() {
        let counted = Counted { plants: 12, families: 3, ..Counted::default() };
        let said = check(&counted).map_err(|why| why.to_string());
        assert_eq!(
            said,
            Err("measured 12 plants of 3 families; 30 measured plants are wanted, of 5 families \
                 with two or more of them."
                .to_owned())
        );
    }
}
