//! What the full screen begins with: a book, or the page that stands where there is none.

use std::{fmt, path::PathBuf, sync::Arc};

use crate::book::Problem;
use crate::shelf::Keeper;
use crate::views::Desk;

/// A book to be shown.
#[derive(Debug)]
pub struct Shown {
    /// The book, and what was worked out of it.
    pub desk: Arc<Desk>,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
    /// Whoever writes in it; none where it is only shown.
    pub keeper: Option<Box<Keeper>>,
    /// The folder of the raiser's own crop files, to open the book anew.
    pub crops: Option<PathBuf>,
}

impl Shown {
    /// A book that is only shown.
    pub fn only(desk: Arc<Desk>, problems: Vec<Problem>) -> Self {
        Self { desk, problems, keeper: None, crops: None }
    }
}

/// What can be opened where there is no book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Choice {
    /// The demo garden.
    Demo,
    /// A new book in this folder, as it was typed.
    New(String),
}

type Open = dyn FnMut(&Choice) -> Result<Shown, String>;

/// Opens what was chosen, or says in a sentence why that cannot be.
pub struct Opener(Box<Open>);

impl Opener {
    /// An opener that does so.
    pub fn new(open: impl FnMut(&Choice) -> Result<Shown, String> + 'static) -> Self {
        Self(Box::new(open))
    }

    pub(super) fn open(&mut self, choice: &Choice) -> Result<Shown, String> {
        (self.0)(choice)
    }
}

impl fmt::Debug for Opener {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Opener")
    }
}

/// No book, and what can be done about it.
#[derive(Debug)]
pub struct NoBook {
    /// Why there is none: a sentence.
    pub why: String,
    /// A book with nothing in it, to stand behind the page.
    pub desk: Arc<Desk>,
    /// Opens what is chosen.
    pub opener: Opener,
}

/// What the full screen begins with.
#[derive(Debug)]
pub enum Start {
    /// A book.
    Book(Shown),
    /// No book.
    NoBook(NoBook),
}
