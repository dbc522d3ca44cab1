//! What to do next season: how much seed to sow.
//!
//! What the book has taught goes in with all its doubt, numbers to act on come out. This room may
//! use `merit`, `kinship`, `lineage`, `stats` and `book`.

mod sow;

pub use sow::{Asked, Basis, Need, Rate, sow};
