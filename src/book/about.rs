//! What this book is: whose it is, the crop, the beds, the frosts, the aims.

use chrono::NaiveDate;

use super::Season;

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
}

/// The most double reduction that a ploidy allows: the probability that two alleles of one gamete
/// are copies of one parental allele, when every locus lies so far from its centromere that the
/// copies always part (complete equational segregation, K. Mather 1935, J. Genet. 30:53–78, from
/// memory): 1/6 of a tetraploid, 1/14 of an octoploid. A diploid gamete has one allele only.
pub fn most_double_reduction(ploidy: u8) -> f64 {
    if ploidy < 4 { 0.0 } else { 1.0 / (2.0 * (f64::from(ploidy) - 1.0)) }
}
