//! Which file each record lies in.

use std::collections::{BTreeMap, BTreeSet};

use super::names::folded;

/// The files of one kind of record, by id or code.
#[derive(Debug, Clone, Default)]
pub(super) struct Files {
    by_code: BTreeMap<Box<str>, Box<str>>,
    /// The names in use, as a system sees them that takes capitals and small letters for the
    /// same: asking each file in turn would make laying out a book quadratic.
    in_use: BTreeSet<String>,
}

impl Files {
    /// The file of a record.
    pub(super) fn get(&self, code: &str) -> Option<&str> {
        self.by_code.get(code).map(|file| &**file)
    }

    /// Notes the file of a record.
    pub(super) fn insert(&mut self, code: Box<str>, file: Box<str>) {
        self.in_use.insert(folded(&file));
        self.by_code.insert(code, file);
    }

    /// Forgets a record and its file.
    pub(super) fn remove(&mut self, code: &str) {
        if let Some(file) = self.by_code.remove(code) {
            self.in_use.remove(&folded(&file));
        }
    }

    /// Whether a file of this name is in use.
    pub(super) fn is_in_use(&self, file: &str) -> bool {
        self.in_use.contains(&folded(file))
    }
}
