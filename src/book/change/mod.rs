//! Changes to a book, as values.
//!
//! A [`Change`] is what is done, kept, undone and shown in the history: a sentence, and the parts
//! of the book it touches as they were before and as they are after. Turned round it is its own
//! undoing, and taking it out of the book again leaves every letter as it was.
//!
//! A part is small: a seedling with its diary, not its family. So two changes in one family get
//! into each other's way only where they touch the same plant.

mod apply;
mod between;
mod excerpt;
mod merge;
mod part;
mod rebase;

pub use apply::Stale;
pub use part::{Part, Spot};
pub use rebase::{Clash, Conflict, Side};

/// One part of a book as it was before a change and as it is after; absent means not there.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Which part.
    pub spot: Spot,
    /// As it was.
    pub before: Option<Part>,
    /// As it is from then on.
    pub after: Option<Part>,
}

/// Something done to a book.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// What was done, in a line.
    pub what: Box<str>,
    /// The parts it touches, in the order in which they are changed.
    pub steps: Vec<Step>,
}

impl Step {
    /// The step that takes this one back.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self { spot: self.spot.clone(), before: self.after.clone(), after: self.before.clone() }
    }
}

impl Change {
    /// A change of these steps, without those that change nothing.
    pub fn new(what: impl Into<Box<str>>, steps: Vec<Step>) -> Self {
        let steps = steps.into_iter().filter(|step| step.before != step.after).collect();
        Self { what: what.into(), steps }
    }

    /// Whether it leaves the book as it is.
    pub fn is_nothing(&self) -> bool {
        self.steps.is_empty()
    }

    /// The change that takes this one back, under the same description.
    #[must_use]
    pub fn reversed(&self) -> Self {
        let steps = self.steps.iter().rev().map(Step::reversed).collect();
        Self { what: self.what.clone(), steps }
    }

    /// The codes of the crosses it touches, each once, in order of the steps.
    pub fn crosses(&self) -> Vec<&str> {
        let mut codes: Vec<&str> = Vec::new();
        for code in self.steps.iter().filter_map(|step| step.spot.cross()) {
            if !codes.contains(&code) {
                codes.push(code);
            }
        }
        codes
    }
}
