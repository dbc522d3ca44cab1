//! What was changed, when and by whom, out of the journal; and what can be undone and redone.

use std::collections::BTreeSet;

use chrono::NaiveDateTime;

use super::{super::disk::Did, journal::Pages};
use crate::book::Change;

/// One change that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// Its number in the history, from 1.
    pub n: u64,
    /// When, in UTC.
    pub at: NaiveDateTime,
    /// By whom; empty where nobody knows.
    pub who: Box<str>,
    /// What was done.
    pub what: Box<str>,
    /// Whether it was undone, and not redone since.
    pub is_undone: bool,
}

/// The changes made to a book.
#[derive(Debug, Default)]
pub struct History {
    pages: Pages,
    /// Numbers of those that stand, in the order in which they would be undone last to first.
    done: Vec<u64>,
    /// Numbers of those that would be redone, the next one last.
    undone: Vec<u64>,
}

impl History {
    pub(super) fn of(pages: Pages) -> Self {
        let (mut done, mut undone) = (Vec::new(), Vec::new());
        for entry in &pages.entries {
            match entry.did {
                Did::Change => {
                    done.push(entry.n);
                    undone.clear();
                }
                Did::Undo(of) => {
                    done.retain(|n| *n != of);
                    undone.push(of);
                }
                Did::Redo(of) => {
                    undone.retain(|n| *n != of);
                    done.push(of);
                }
            }
        }
        Self { pages, done, undone }
    }

    /// Every change that was made, oldest first.
    pub fn entries(&self) -> impl DoubleEndedIterator<Item = Made> + '_ {
        let done: BTreeSet<u64> = self.done.iter().copied().collect();
        let changes = self.pages.entries.iter().filter(|entry| entry.did == Did::Change);
        changes.map(move |entry| Made {
            n: entry.n,
            at: entry.at,
            who: entry.who.clone(),
            what: entry.what.clone(),
            is_undone: !done.contains(&entry.n),
        })
    }

    /// The change with a number, as it was done; none where it cannot be read.
    pub fn change(&self, n: u64) -> Option<Change> {
        let entry = self.pages.entries.iter().find(|entry| entry.n == n)?;
        entry.change().filter(|_| entry.did == Did::Change)
    }

    /// The number of the change that would be undone next.
    pub fn next_undo(&self) -> Option<u64> {
        self.done.last().copied()
    }

    /// The number of the change that would be redone next.
    pub fn next_redo(&self) -> Option<u64> {
        self.undone.last().copied()
    }

    /// The change that undoes the last one.
    pub fn undo(&self) -> Option<Change> {
        self.next_undo().and_then(|n| self.change(n)).map(|change| change.reversed())
    }

    /// The change that does the one undone last again.
    pub fn redo(&self) -> Option<Change> {
        self.next_redo().and_then(|n| self.change(n))
    }

    /// Whether the change with this number stands.
    pub fn stands(&self, n: u64) -> bool {
        self.done.contains(&n)
    }
}
