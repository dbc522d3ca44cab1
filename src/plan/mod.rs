//! What to do next season: which pairs to cross, with how many seedlings each, and how much seed
//! to sow.
//!
//! What the book has taught goes in with all its doubt, numbers to act on come out. This room may
//! use `merit`, `kinship`, `lineage`, `stats` and `book`.

mod chance;
pub mod choose;
pub mod contributions;
mod field;
mod next;
mod parents;
mod place;
mod sow;
mod told;
mod work;

pub use field::{Field, Pair, Rates};
pub use next::{NoPlan, Wanted};
pub use parents::{Hindrance, Parent};
pub use place::{Place, Rate as KeepRate, Stage, Stages};
pub use sow::{Asked, Basis, Need, Rate, sow};
pub use told::{Keepers, Limit, Next, Planned};
pub use work::{Needed, Work};
