//! What this book is: whose it is, the crop, the beds, the frosts, the aims.

use chrono::NaiveDate;

use super::{Entry, GardenDeed, Season};

/// A bed and how many plants it takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bed {
    /// Its name.
    pub name: Box<str>,
    /// Rows in it.
    pub rows: u16,
    /// Places along each row.
    pub places: u16,
}

/// The frosts around one season.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Frost {
    /// The season.
    pub season: Season,
    /// The last frost of spring.
    pub last: Option<NaiveDate>,
    /// The first frost of autumn.
    pub first: Option<NaiveDate>,
}

/// What is wanted of a trait.
#[derive(Debug, Clone, PartialEq)]
pub enum Want {
    /// More is better.
    More,
    /// Less is better.
    Less,
    /// Between these two values.
    Between(f64, f64),
}

/// One thing the raiser is after.
#[derive(Debug, Clone, PartialEq)]
pub struct Aim {
    /// A trait of the crop file, or `bloom_mm`, `height_cm`.
    pub of: Box<str>,
    /// What is wanted.
    pub want: Want,
    /// How much it matters, against the other aims.
    pub weight: f64,
}

/// How new codes are proposed. `YY` stands for the year, `#` for digits of a running count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Patterns {
    /// For crosses.
    pub cross: Box<str>,
    /// For seedlings.
    pub seedling: Box<str>,
}

impl Default for Patterns {
    fn default() -> Self {
        Self { cross: "YYX##".into(), seedling: "YY-###".into() }
    }
}

/// The first page of a book.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct About {
    /// The garden's name.
    pub garden: Box<str>,
    /// Who raises here.
    pub raiser: Option<Box<str>>,
    /// The name of the crop file.
    pub crop: Box<str>,
    /// Ploidy, where the book differs from the crop.
    pub ploidy: Option<u8>,
    /// Double reduction, where the book differs from the crop.
    pub double_reduction: Option<f64>,
    /// Which of the crop's size tables is used.
    pub sizes: Option<Box<str>>,
    /// The day this book calls today; only books laid out for show have one.
    pub today: Option<NaiveDate>,
    /// The beds.
    pub beds: Vec<Bed>,
    /// The frosts, season by season.
    pub frosts: Vec<Frost>,
    /// What the raiser is after.
    pub aims: Vec<Aim>,
    /// How new codes are proposed.
    pub patterns: Patterns,
    /// A remark.
    pub note: Option<Box<str>>,
    /// What has happened in the garden that belongs to no plant.
    pub diary: Vec<Entry<GardenDeed>>,
}

/// The most double reduction that is taken at a ploidy: the probability that two different alleles
/// of one gamete are copies of one parental allele.
///
/// A diploid gamete has one allele only. From four sets on it is 1/6, the most that a tetraploid
/// can have: complete equational segregation, where crossing over has moved the two copies of
/// every allele to different centromeres (K. Mather 1935, J. Genet. 30:53–78; R. A. Fisher & K.
/// Mather 1943, Ann. Eugen. 12:1–23; both from memory). With v sets, of the v/2 centromeres that
/// go to one pole a copy's fellow is on one with probability (v/2 − 1)/(v − 1), and is then one of
/// the two alleles there, so that a pair of the gamete are copies with probability
/// [half of that by v/2 − 1](equational_double_reduction). If chromosomes that exchanged stayed
/// together on top of that, it would be 1/(v − 2): 1/4 of a hexaploid, 1/6 of an octoploid. So 1/6
/// is certain to be possible at four sets only, and ruled out at none of these.
pub fn most_double_reduction(ploidy: u8) -> f64 {
    if ploidy < 4 { 0.0 } else { 1.0 / 6.0 }
}

/// The double reduction of complete equational segregation with centromeres that part at random,
/// 1/(2(v − 1)): 1/6, 1/10 and 1/14 at ploidy 4, 6 and 8. More than this nobody has to expect; of
/// chromatids that part at random it is 1/(2v − 1), 1/7, 1/11 and 1/15 (J. B. S. Haldane 1930, J.
/// Genet. 22:359–372, from memory). Summed over the pairs of a gamete these are the 1/6, 3/10 and
/// 3/7 (or 1/7, 3/11 and 2/5) that are often given, which count gametes, not pairs.
pub fn equational_double_reduction(ploidy: u8) -> f64 {
    if ploidy < 4 { 0.0 } else { 1.0 / (2.0 * (f64::from(ploidy) - 1.0)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every way in which the centromeres of a cell can part, each of which bears the copies of
    /// two neighbouring alleles of a ring: the copies of every allele lie on different ones.
    #[test]
    fn equational_segregation_counted_out_is_what_the_formula_says() {
        for sets in [4_u8, 6, 8] {
            let n = u32::from(sets);
            let (mut pairs, mut alike) = (0_u32, 0_u32);
            for pole in (0_u32..1 << n).filter(|pole| pole.count_ones() == n / 2) {
                for side in 0_u32..1 << n {
                    let here = (0..n).filter(|i| pole >> i & 1 == 1);
                    let gamete: Vec<u32> = here.map(|i| (i + (side >> i & 1)) % n).collect();
                    for (i, a) in gamete.iter().enumerate() {
                        pairs += u32::try_from(gamete.len() - i - 1).unwrap_or_default();
                        alike += u32::from(gamete[i + 1..].contains(a));
                    }
                }
            }
            let share = f64::from(alike) / f64::from(pairs);
            assert!((share - equational_double_reduction(sets)).abs() < 1e-12, "{sets}: {share}");
            assert!(share <= most_double_reduction(sets) + 1e-12);
        }
    }

    #[test]
    fn no_more_is_taken_than_the_most_there_can_be() {
        assert!(most_double_reduction(2).abs() < f64::EPSILON);
        for sets in [4_u8, 6, 8] {
            let together = 1.0 / (f64::from(sets) - 2.0);
            assert!(most_double_reduction(sets) <= together + 1e-12, "{sets}");
        }
    }
}
