//! Opening the book that is meant, and what is wrong with it.

use std::path::Path;

use chrono::NaiveDate;

use super::failure::Failure;
use crate::book::{Problem, Severity};
use crate::lineage::loop_faults;
use crate::shelf::{self, Opened, SaveError};

/// Opens the book in a folder.
pub(super) fn open(dir: &Path, crops: Option<&Path>) -> Result<Opened, Failure> {
    shelf::open(dir, crops).map_err(|err| Failure::Shut(err.to_string(), err.hint()))
}

impl From<SaveError> for Failure {
    fn from(err: SaveError) -> Self {
        Self::Shut(err.to_string(), err.hint())
    }
}

/// A line about faults in a book, where there are any.
pub(super) fn note(opened: &Opened) -> Option<String> {
    let errors = opened.problems.iter().filter(|p| p.severity == Severity::Error).count();
    let faults = match errors {
        0 => return None,
        1 => "There is 1 fault".to_owned(),
        n => format!("There are {n} faults"),
    };
    Some(format!(
        "trug: {faults} in this book; what could be read is counted. `trug check` says what is \
         wrong."
    ))
}

/// Everything that is wrong with a book: in its files, in its records, and between them.
pub(super) fn problems(opened: &Opened, today: NaiveDate) -> Vec<Problem> {
    let mut faults = opened.faults(today);
    faults.extend(loop_faults(&opened.book));
    let mut problems = opened.problems_of(&faults);
    problems.extend_from_slice(&opened.problems);
    problems.sort();
    problems
}
