//! What can be wrong with records, and where.
//!
//! A [`Fault`] points at a record; whoever knows the file turns it into a [`Problem`], which
//! points at a line and column.

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Something is wrong and some figure may be wrong with it.
    Error,
    /// Odd, and worth a look.
    Warning,
}

/// A place in the records.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Place {
    /// The first page of the book.
    About,
    /// A variety, by id; with the number of a diary entry, from 0.
    Variety(Box<str>, Option<usize>),
    /// A cross, by code.
    Cross(Box<str>),
    /// A head of a cross, both counted from 0; with the number of a diary entry.
    Head(Box<str>, usize, Option<usize>),
    /// A lot of a cross.
    Lot(Box<str>, usize, Option<usize>),
    /// A seedling of a cross.
    Seedling(Box<str>, usize, Option<usize>),
    /// A field of another place, by its name in the files.
    Field(Box<Place>, &'static str),
    /// An item of a list that is a field of another place, counted from 0.
    Item(Box<Place>, &'static str, usize),
}

impl Place {
    /// One of its fields.
    #[must_use]
    pub fn field(self, name: &'static str) -> Self {
        Self::Field(Box::new(self), name)
    }

    /// An item of one of its lists.
    #[must_use]
    pub fn item(self, list: &'static str, n: usize) -> Self {
        Self::Item(Box::new(self), list, n)
    }
}

/// Something wrong with a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Where.
    pub at: Place,
    /// How bad.
    pub severity: Severity,
    /// What is wrong: a sentence.
    pub message: String,
    /// The way out: a sentence.
    pub hint: String,
}

/// Something wrong in a file, with the line and column, both from 1. Line 0 means the file as a
/// whole.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// The file, as a person would name it: relative to the book, or as given.
    pub file: String,
    /// The line.
    pub line: usize,
    /// The column, in characters.
    pub column: usize,
    /// How bad.
    pub severity: Severity,
    /// What is wrong: a sentence.
    pub message: String,
    /// The way out: a sentence.
    pub hint: String,
}
