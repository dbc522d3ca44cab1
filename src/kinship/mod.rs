//! Kinship at any even ploidy: inbreeding, coancestry, what of a plant comes from whom.
//!
//! Conventions: F(x) is the probability that two *different* allele copies of x are identical by
//! descent, θ(x, y) that one copy drawn from x and one from y are; the relationship a is ploidy ×
//! θ, so that a founder has a = 1. Everything is worked out over the plants used as parents; a
//! seedling that never became one costs nothing, and no matrix over all plants is ever built.
//! This room may use `lineage` and `book`.

mod columns;
mod descent;
mod founders;
mod inbreeding;
mod inheritance;
mod loops;
mod nodes;
mod pairs;
mod related;
mod table;
mod ways;

pub use descent::Descent;
pub use founders::Share;
pub use inbreeding::Kinship;
pub use inheritance::{Inheritance, NotPossible};
pub use loops::Loops;
pub use pairs::Column;
pub use ways::{Way, Ways};
