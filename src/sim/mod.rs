//! Invented gardens with known truth, for the demo, the calibration and the benchmarks.
//!
//! Three things are kept apart: how plants inherit and please ([`Nature`], [`Pool`]), how a
//! garden lives through its seasons ([`Garden`], by its [`Ways`]), and how that life is written
//! down as a book (the scribe). A particular garden is a script on top of these.

mod crossing;
mod dice;
mod facts;
mod garden;
mod genome;
mod large;
mod nature;
mod quillet;
mod raising;
mod scribe;
mod trial;
mod ways;

pub use dice::Dice;
pub use facts::{Family, Fate, HeadEnd, HeadFacts, Plant, PlantYear, Sowing};
pub use garden::Garden;
pub use genome::{Genome, Inheritance, N_TRAITS, Pool, Trait, Values};
pub use large::book_of;
pub use nature::{Liking, Nature};
pub use quillet::{SEED, Truth, quillet};
pub use scribe::{Hand, Scribe};
pub use trial::{Trial, Trialled};
pub use ways::{Habits, Luck, Plan, Way, Ways, Who, Year};
