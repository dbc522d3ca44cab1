//! What is wrong with the files, gathered until all of them have been read.

use std::collections::BTreeSet;

use crate::book::{Problem, Severity};

/// A row of a file: which file, and which row of it, both from 0.
pub(super) type RowId = (usize, usize);

/// A cell of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct At {
    /// Which file, from 0.
    pub(super) file: usize,
    /// The line, from 1.
    pub(super) line: usize,
    /// The column, in characters from 1.
    pub(super) column: usize,
    /// Which row of the file, from 0; absent in the header.
    pub(super) row: Option<usize>,
}

/// One fault.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Fault {
    at: At,
    message: String,
    hint: String,
    /// The rows that cannot be taken while it stands; none means that nothing can.
    rows: Vec<RowId>,
}

/// All faults found so far.
#[derive(Debug)]
pub(super) struct Faults<'f> {
    files: &'f [(String, Vec<u8>)],
    list: Vec<Fault>,
}

impl<'f> Faults<'f> {
    pub(super) fn of(files: &'f [(String, Vec<u8>)]) -> Self {
        Self { files, list: Vec::new() }
    }

    /// A file by its name.
    pub(super) fn file(&self, file: usize) -> &'f str {
        self.files.get(file).map_or("", |(name, _)| name)
    }

    /// Where a cell is, as said in a fault of another cell.
    pub(super) fn place(&self, at: At, seen_from: At) -> String {
        if at.file == seen_from.file {
            format!("line {}", at.line)
        } else {
            format!("line {} of {}", at.line, self.file(at.file))
        }
    }

    /// A fault of the row that it stands in.
    pub(super) fn add(&mut self, at: At, message: impl Into<String>, hint: impl Into<String>) {
        self.add_with(at, &[], message, hint);
    }

    /// A fault that lies between the row it stands in and others.
    pub(super) fn add_with(
        &mut self,
        at: At,
        others: &[At],
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        let mut rows: Vec<RowId> = std::iter::once(&at)
            .chain(others)
            .filter_map(|at| at.row.map(|row| (at.file, row)))
            .collect();
        rows.sort_unstable();
        rows.dedup();
        self.list.push(Fault { at, message: message.into(), hint: hint.into(), rows });
    }

    pub(super) fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether some fault is not of a row but of a whole file.
    pub(super) fn spoil_a_file(&self) -> bool {
        self.list.iter().any(|fault| fault.rows.is_empty())
    }

    /// The rows that cannot be taken.
    pub(super) fn rows(&self) -> BTreeSet<RowId> {
        self.list.iter().flat_map(|fault| fault.rows.iter().copied()).collect()
    }

    /// What is wrong with one row, in words.
    pub(super) fn of_rows(&self) -> impl Iterator<Item = (RowId, &str)> {
        self.list.iter().flat_map(|f| f.rows.iter().map(|&row| (row, &*f.message)))
    }

    /// Takes in faults found in another round.
    pub(super) fn append(&mut self, mut more: Self) {
        self.list.append(&mut more.list);
    }

    /// The faults as problems, in the order in which they stand in the files.
    pub(super) fn into_problems(mut self) -> Vec<Problem> {
        self.list.sort();
        let problem = |fault: Fault| Problem {
            file: self.files.get(fault.at.file).map_or_else(String::new, |(name, _)| name.clone()),
            line: fault.at.line,
            column: fault.at.column,
            severity: Severity::Error,
            message: fault.message,
            hint: fault.hint,
        };
        self.list.into_iter().map(problem).collect()
    }
}
