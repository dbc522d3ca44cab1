//! Distributions and intervals; knows no plant.
//!
//! Counts go in, shares with their spread come out. This room uses no other room, reads no files
//! and prints nothing; every formula names where it is from. No input, however poor, gives a
//! `NaN`: where there is no answer the type says so.

mod beta;
mod beta_binomial;
mod proportion;

pub use beta::{Beta, chance_greater};
pub use beta_binomial::{Spread, spread};
pub use proportion::{Interval, difference, jeffreys, wilson};
