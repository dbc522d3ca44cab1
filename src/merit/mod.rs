//! What parents and pairings are worth: keep rates.
//!
//! Counts of families go in, chances with their spread come out, each saying what it rests on.

mod expected;
mod rates;
pub mod traits;

pub use crate::stats::Interval;
pub use expected::{Expected, expected};
pub use rates::{Prior, rate, share};
