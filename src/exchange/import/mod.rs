//! Spreadsheets in: files of comma-separated values to a changed book.
//!
//! Several files of four kinds come in together, rows in any order; what each kind may hold is
//! told by its header. Nothing is written here and no file is opened: a
//! plan is the book as it would be, to be shown or saved by whoever asked.

mod report;

pub use report::{FileReport, Remark, Report};

use crate::book::{Book, Problem, Severity};

/// What is to be done with rows that are wrong or that contradict each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Take the good rows and set the bad ones aside, instead of refusing all.
    pub skip_bad: bool,
    /// What to do where one cross has numbered plants and totals.
    pub overlap: Overlap,
}

/// What to do where one cross has numbered plants and totals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Overlap {
    /// Refuse, because plants may be counted twice.
    #[default]
    Refuse,
    /// The totals are those of the whole family, the numbered plants among them.
    CountsWin,
    /// The numbered plants are the whole family; the totals are left out.
    PlantsWin,
}

/// What came of reading the files.
#[derive(Debug)]
pub enum Outcome {
    /// They can be taken in.
    Ready(Box<Import>),
    /// Something is wrong and nothing is taken in: every fault, in the order of the files.
    Refused(Vec<Problem>),
}

/// The book as it will be, and what changed.
#[derive(Debug)]
pub struct Import {
    /// The book with the rows in it.
    pub book: Book,
    /// What was done.
    pub report: Report,
    /// Which records differ from the book before.
    pub changed: Changed,
    /// With [`Options::skip_bad`], the rows set aside, a file for each that has any.
    pub set_aside: Vec<SetAside>,
    /// With [`Options::skip_bad`], what is wrong with them.
    pub problems: Vec<Problem>,
}

/// The records that differ from the book before.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Changed {
    /// Varieties new or altered, by id.
    pub varieties: Vec<Box<str>>,
    /// Varieties gone, because they are seedlings of this book, by id.
    pub varieties_gone: Vec<Box<str>>,
    /// Crosses new or altered, by code.
    pub crosses: Vec<Box<str>>,
}

/// The rows of one file that were not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// The file, as it was named.
    pub name: String,
    /// How many rows.
    pub rows: usize,
    /// The rows as CSV with the columns of the file, and a last column saying what is wrong.
    /// Mended, it can be taken in as it is.
    pub csv: String,
}

/// Works out what the book would be with these files in it; each is a name and its bytes.
pub fn plan(book: &Book, files: &[(String, Vec<u8>)], options: Options) -> Outcome {
    // The interface stands for those who build on it; the reading follows.
    let _ = options;
    let problem = |(name, _): &(String, Vec<u8>)| Problem {
        file: name.clone(),
        line: 1,
        column: 1,
        severity: Severity::Error,
        message: format!("Nothing can be taken into {} yet.", book.about().garden),
        hint: "Wait for the next version.".to_owned(),
    };
    Outcome::Refused(files.iter().map(problem).collect())
}

/// What a file of this kind holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Named plants, one a row.
    Varieties,
    /// Numbered plants, one a row.
    Seedlings,
    /// Looks at plants already known, one a row.
    Looks,
    /// Families of which only totals are known, one a row.
    Counts,
}

impl Kind {
    /// The word for a file of this kind.
    pub fn word(self) -> &'static str {
        match self {
            Self::Varieties => "varieties",
            Self::Seedlings => "seedlings",
            Self::Looks => "looks",
            Self::Counts => "counts",
        }
    }
}
