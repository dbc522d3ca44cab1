//! The plain rows behind every screen, table, JSON and page, so that all four show the same
//! figures.
//!
//! A [`Desk`] is an opened book with what is worked out of it once. Every other module asks the
//! desk one question and answers in rows: public fields, no formatting, no terminal. Lists that
//! can be as long as the book are lists of ids, with a function that makes the row of one of
//! them, so that opening a screen never builds more rows than it shows.
//!
//! The words for what stands in a diary live in [`words`], so that everybody says the same.

pub mod bed;
pub mod beside;
mod brief;
pub mod cross;
pub mod crosses;
mod desk;
pub mod evening;
pub mod figures;
pub mod first_bloom;
pub mod forms;
pub mod given;
pub mod kin;
mod levels;
pub mod pairing;
pub mod pairings;
pub mod parent;
pub mod parents;
pub mod part;
mod party;
pub mod plan;
pub mod plant;
mod renewed;
pub mod seed;
pub mod sibs;
pub mod sow;
pub mod told;
pub mod trace;
pub mod traits;
pub mod waits;
pub mod weighed;
pub mod words;

pub use beside::Beside;
pub use brief::Brief;
pub use desk::Desk;
pub use levels::Levels;
pub use pairings::Pairing;
pub use party::Party;
pub use renewed::Renewed;
pub use weighed::Weighed;

pub use crate::merit::Interval;
