//! A mixed model over descent, with everybody of whom nobody is descended taken out exactly.
//!
//! y = Xβ + a + f + p + e. a is what a level has by descent: the shares of its parents plus a
//! part of its own with the variance D σ²; f is common to a group of levels; p stays with a level
//! through all its records. A level without offspring has its own part to itself, so that its
//! records say of the parents' effects what a record with the larger residual D σ² + … would say,
//! and the equations hold parents only. Levels of like parents and like records are counted
//! together. When the equations are solved, everybody's own part follows from its own records.
//!
//! Sources: R. L. Quaas & E. J. Pollak 1980, J. Anim. Sci. 51:1277–1287 (the reduced animal
//! model); the criterion as in [`mixed`](super).

mod batch;
mod equations;
mod fit;
mod model;
mod values;

pub use fit::{Fit, Sum};
pub use model::{Descended, Model, Record, With};

/// The variances of the model.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shares {
    /// Of what a level has by descent, for one without parents.
    pub descent: f64,
    /// Of what a group has in common.
    pub group: f64,
    /// Of what stays with a level through all its records.
    pub lasting: f64,
    /// Of what is left of a single record.
    pub residual: f64,
}

impl Shares {
    /// The variance of one record of a level without parents.
    pub fn whole(&self) -> f64 {
        self.descent + self.group + self.lasting + self.residual
    }

    /// The share of that which comes by descent.
    pub fn by_descent(&self) -> f64 {
        let whole = self.whole();
        if whole > 0.0 { self.descent / whole } else { 0.0 }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests;
