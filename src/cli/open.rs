//! Opening the book that is meant, and what is wrong with it.

use std::path::Path;

use chrono::NaiveDate;

use super::failure::Failure;
use crate::book::{Fault, Problem, Severity};
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

/// A line about faults in a book, where there are any: in its files, in its records, and between
/// them.
pub(super) fn note(opened: &Opened, today: NaiveDate) -> Option<String> {
    let in_files = opened.problems.iter().map(|problem| problem.severity);
    let in_records = faults(opened, today).into_iter().map(|fault| fault.severity);
    let errors = in_files.chain(in_records).filter(|&how| how == Severity::Error).count();
    let (faults, lists) = match errors {
        0 => return None,
        1 => ("There is 1 fault".to_owned(), "says which"),
        n => (format!("There are {n} faults"), "lists them"),
    };
    Some(format!(
        "trug: {faults} in this book; what could be read is counted. `trug check` {lists}."
    ))
}

/// What is wrong with the records and between them.
fn faults(opened: &Opened, today: NaiveDate) -> Vec<Fault> {
    let mut faults = opened.faults(today);
    faults.extend(loop_faults(&opened.book));
    faults
}

/// Everything that is wrong with a book: in its files, in its records, and between them.
pub(super) fn problems(opened: &Opened, today: NaiveDate) -> Vec<Problem> {
    let mut problems = opened.problems_of(&faults(opened, today));
    problems.extend_from_slice(&opened.problems);
    problems.sort();
    problems
}
