//! What parents pass on of what is measured: bloom, height, scores.
//!
//! One model for each trait: a record is the season, the bed and the plant's standing (fixed),
//! what the plant has by descent (additive, over the whole pedigree, at the ploidy of the book),
//! what its pairing adds, what stays with the plant from look to look, and chance. Variances by
//! restricted maximum likelihood, everything else by best linear unbiased prediction; see
//! [`reduced`](crate::stats::mixed::reduced).
//!
//! The day of first bloom is no such trait: it is known only of plants that bloomed.

mod aims;
mod enough;
mod families;
mod fitted;
mod gathered;
mod records;

pub use aims::{Index, Part, Standing, index};
pub use enough::NotEnough;
pub use families::Family;
pub use fitted::{Passed, Trait, TraitFit, Worth};
pub use records::{BLOOM_MM, Counted, HEIGHT_CM, measured};

pub use crate::stats::{
    mixed::{
        Estimate, NotFitted,
        reduced::{Shares, With},
    },
    regression::Line,
};
