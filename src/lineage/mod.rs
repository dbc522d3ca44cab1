//! The pedigree: who came from whom.
//!
//! All seedlings of a cross share their parents, so the graph is one of families, not of plants:
//! a book of a million seedlings has as few families and parents as crosses were made, and
//! every question costs as much as the families it touches. Plants that may have been the parent
//! (candidates of a bee cross) count as parents; whatever rests on one of them alone is marked
//! as not certain. This room may use `book`, and petgraph never leaves it.

mod ancestors;
mod common;
mod descendants;
pub mod draw;
mod family;
mod loops;
mod notation;
mod order;
mod paths;
mod pedigree;
mod sibs;

pub use ancestors::{Ancestor, Side};
pub use common::CommonAncestor;
pub use descendants::{Descendant, DescendantFamily};
pub use family::{FamilyId, Link, Offspring, Parents};
pub use loops::loop_faults;
pub use notation::{NotNotation, Notation};
pub use paths::{Path, Paths};
pub use pedigree::Pedigree;
pub use sibs::{Kin, Sib};

/// Room to work in, to be kept from one question to the next so that each costs only what it
/// finds.
#[derive(Debug, Clone, Default)]
pub struct Scratch {
    climb: ancestors::Climb,
    places: Vec<u32>,
    ancestors: Vec<Ancestor>,
    spread: descendants::Spread,
}
