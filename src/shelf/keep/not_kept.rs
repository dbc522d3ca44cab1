//! Why a change is not kept, and the way out.

use std::io;

use thiserror::Error;

use super::{super::save::SaveError, ReadOnly};
use crate::book::{Change, Conflict, Stale};

/// A change that is not on the disk. It is in here, so that it is not lost.
#[derive(Debug, Error)]
#[error("{why}")]
pub struct NotKept {
    /// The change.
    pub change: Change,
    /// Why.
    pub why: WhyNot,
    /// Whether it stands in the book all the same, and waits to be written: see
    /// [`super::Keeper::unsaved`]. Otherwise the book is as it was without it.
    pub is_waiting: bool,
    /// Whether something that others had changed was taken into the book.
    pub has_news: bool,
    /// Changes made after it that cannot stand without it, and were taken out of the book too.
    pub with_it: Vec<Change>,
}

/// Why a change is not kept.
#[derive(Debug, Error)]
pub enum WhyNot {
    /// The book is open for reading only.
    #[error(transparent)]
    ReadOnly(#[from] ReadOnlyNow),
    /// The same was changed meanwhile, and somebody has to say which goes before.
    #[error(transparent)]
    Conflict(#[from] Box<Conflict>),
    /// The book is no longer as the change found it.
    #[error(transparent)]
    Stale(#[from] Stale),
    /// The file was changed in a way that cannot be merged.
    #[error(
        "The file {file} was changed by another program meanwhile and holds another record now."
    )]
    Changed {
        /// The file, relative to the book.
        file: String,
    },
    /// The file could not be written, or may not.
    #[error(transparent)]
    Save(#[from] SaveError),
}

/// Why a book is open for reading only, as a sentence.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{sentence}")]
pub struct ReadOnlyNow {
    /// The sentence.
    pub sentence: String,
    /// The way out.
    pub hint: &'static str,
}

impl From<&ReadOnly> for ReadOnlyNow {
    fn from(why: &ReadOnly) -> Self {
        Self { sentence: why.to_string(), hint: why.hint() }
    }
}

impl WhyNot {
    /// The way out: a sentence.
    pub fn hint(&self) -> String {
        match self {
            Self::ReadOnly(why) => why.hint.to_owned(),
            Self::Conflict(_) => "Look at both, and say which is right.".to_owned(),
            Self::Stale(_) => "Look at it again, and change it as it is now.".to_owned(),
            Self::Changed { .. } => "Open the book again.".to_owned(),
            Self::Save(error) => error.hint(),
        }
    }

    /// Whether the disk is full.
    pub fn is_full_disk(&self) -> bool {
        matches!(self, Self::Save(SaveError::Io { source, .. })
            if source.kind() == io::ErrorKind::StorageFull)
    }
}
