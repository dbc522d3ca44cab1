//! Distributions, survival, numbers to raise, mixed models; knows no plant.
//!
//! Counts go in, shares with their spread come out. This room uses no other room, reads no files
//! and prints nothing; every formula names where it is from. No input, however poor, gives a
//! `NaN`: where there is no answer the type says so.

pub mod anova;
mod beta;
mod beta_binomial;
pub mod dense;
pub mod diallel;
pub mod dosage;
pub mod glmm;
pub mod log_rank;
mod mean;
pub mod minimise;
pub mod mixed;
pub mod mixture;
pub mod normal;
pub mod numbers;
mod proportion;
pub mod regression;
pub mod selection;
pub mod sparse;
pub mod survival;
pub mod turnbull;

pub use beta::{Beta, chance_greater};
pub use beta_binomial::{Spread, spread};
pub use mean::mean;
pub use proportion::{Interval, difference, jeffreys, wilson};
