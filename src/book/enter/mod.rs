//! Writing things down: each deed becomes a [`Change`], looked over before it is done.
//!
//! What cannot be is refused, with the sentences that a check of the whole book would say; what
//! is odd is entered all the same, and said.

mod correct;
mod diary;
mod family;
mod look_over;

use thiserror::Error;

use super::{Change, Fault, Spot};

pub use correct::{join, move_to};
pub use diary::{Diarist, amend, note, several, strike};
pub use family::{Numbering, head, lot, new_cross, new_variety, number};
pub use look_over::look_over;

/// Something written down, ready to be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Entered {
    /// The change.
    pub change: Change,
    /// What is odd about it.
    pub doubts: Vec<Fault>,
}

/// Why something is not written down.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Refused {
    /// It cannot have been so.
    #[error("{}", .0.first().map_or("This cannot be.", |fault| &fault.message))]
    CannotBe(Vec<Fault>),
    /// The key is borne by another already.
    #[error("There is another {what} called \"{key}\" already.")]
    Taken {
        /// What bears it: a plant, a cross, a packet.
        what: &'static str,
        /// The key.
        key: Box<str>,
    },
    /// There is nothing at that spot of the book.
    #[error("This is not in the book any more.")]
    Gone(Spot),
    /// Something that is needed is missing: a sentence.
    #[error("{0}")]
    Missing(&'static str),
}
