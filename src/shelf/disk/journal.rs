//! The journal as it lies in its file: the head of each entry, and the steps below it.

use serde::Deserialize;

use super::{
    super::amiss::Amiss,
    About, Cross, Disk, Variety,
    cross::{Head, Lot, Seedling},
};
use crate::book;

/// What kind of entry it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub(in super::super) enum Did {
    /// Something new.
    Change,
    /// An earlier one was taken back.
    Undo(u64),
    /// One that was taken back was done again.
    Redo(u64),
}

/// A file that an entry touches.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct Touched {
    /// Its path.
    pub(in super::super) file: Box<str>,
    /// The id or code of the record in it.
    pub(in super::super) key: Box<str>,
    /// The sum of what was in it.
    pub(in super::super) old: Option<Box<str>>,
    /// The sum of what is to be in it.
    pub(in super::super) new: Option<Box<str>>,
}

/// The first line of an entry.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct JournalHead {
    pub(in super::super) n: u64,
    pub(in super::super) at: Box<str>,
    pub(in super::super) who: Box<str>,
    pub(in super::super) what: Box<str>,
    pub(in super::super) did: Did,
    pub(in super::super) files: Vec<Touched>,
    pub(in super::super) bytes: usize,
    pub(in super::super) sum: Box<str>,
}

/// One step of an entry.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct JournalStep {
    spot: Spot,
    before: Option<Part>,
    after: Option<Part>,
}

#[derive(Deserialize)]
enum Spot {
    About,
    Variety(Box<str>),
    Cross(Box<str>),
    Head(Box<str>, usize),
    Lot(Box<str>, usize),
    Seedling(Box<str>, Box<str>),
}

#[derive(Deserialize)]
enum Part {
    About(Box<About>),
    Variety(Box<Variety>),
    Cross(Box<Cross>),
    Head(Head),
    Lot(Lot),
    Seedling(Seedling),
}

impl JournalStep {
    /// The step, with what was wrong noted in `amiss`.
    pub(in super::super) fn take(self, amiss: &mut Amiss) -> book::Step {
        let spot = match self.spot {
            Spot::About => book::Spot::About,
            Spot::Variety(id) => book::Spot::Variety(id),
            Spot::Cross(code) => book::Spot::Cross(code),
            Spot::Head(code, n) => book::Spot::Head(code, n),
            Spot::Lot(code, n) => book::Spot::Lot(code, n),
            Spot::Seedling(code, key) => book::Spot::Seedling(code, key),
        };
        let before = self.before.map(|part| part.take(amiss));
        let after = self.after.map(|part| part.take(amiss));
        book::Step { spot, before, after }
    }
}

impl Part {
    fn take(self, amiss: &mut Amiss) -> book::Part {
        match self {
            Self::About(about) => book::Part::About(Box::new(about.take(amiss))),
            Self::Variety(variety) => book::Part::Variety(Box::new(variety.take(amiss))),
            Self::Cross(cross) => book::Part::Cross(Box::new(cross.take(amiss))),
            Self::Head(head) => book::Part::Head(head.take(amiss)),
            Self::Lot(lot) => book::Part::Lot(lot.take(amiss)),
            Self::Seedling(seedling) => book::Part::Seedling(seedling.take(amiss)),
        }
    }
}
