//! What parents and pairings are worth: keep rates; and how long plants wait for their bloom.
//!
//! Counts of families go in, chances with their spread come out, each saying what it rests on.

mod expected;
mod first_bloom;
pub mod liability;
mod rates;
pub mod traits;

pub use crate::stats::{
    Interval,
    log_rank::{LogRank, log_rank},
    mean,
    survival::Curve,
    turnbull::Curve as Looks,
};
pub use expected::{Expected, expected};
pub use first_bloom::{Frosts, HeldOver, Waited, any_between, held_over, waits};
pub use rates::{Prior, rate, share};
