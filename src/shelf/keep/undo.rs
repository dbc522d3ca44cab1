//! Taking changes back, and doing them again.

use thiserror::Error;

use super::{super::disk::Did, super::save::SaveError, Keeper, Kept, NotKept};
use crate::book::{Book, Change};

/// Why nothing was undone or redone.
#[derive(Debug, Error)]
pub enum NotUndone {
    /// There is nothing to undo.
    #[error("There is nothing to undo.")]
    NothingToUndo,
    /// There is nothing to redo.
    #[error("There is nothing to redo.")]
    NothingToRedo,
    /// No change of this number stands.
    #[error("There is no change {0} that could be undone.")]
    NoSuchChange(u64),
    /// The journal cannot be read.
    #[error(transparent)]
    Journal(#[from] SaveError),
    /// It could not be kept.
    #[error(transparent)]
    NotKept(#[from] Box<NotKept>),
}

/// What was taken back.
#[derive(Debug, Clone, PartialEq)]
pub enum Undone {
    /// A change that was on the disk.
    Kept(Box<Kept>),
    /// A change that had not been written yet.
    LetGo(Change),
}

impl NotUndone {
    /// The way out: a sentence; empty where there is none.
    pub fn hint(&self) -> String {
        match self {
            Self::NothingToUndo | Self::NothingToRedo => String::new(),
            Self::NoSuchChange(_) => "\"trug history\" lists what was changed.".to_owned(),
            Self::Journal(error) => error.hint(),
            Self::NotKept(not_kept) => not_kept.why.hint(),
        }
    }
}

impl Keeper {
    /// Undoes the last change that stands. One that has not been written yet is let go.
    ///
    /// # Errors
    /// [`NotUndone`] where there is none, or what it changed was changed again meanwhile.
    pub fn undo(&mut self, book: &mut Book) -> Result<Undone, NotUndone> {
        if self.waiting.last().is_some_and(|waiting| waiting.entered.is_none()) {
            self.mend_journal().map_err(Box::new)?;
        }
        if let Some(waiting) = self.waiting.pop_if(|waiting| waiting.entered.is_none()) {
            book.apply(&waiting.change.reversed()).ok();
            return Ok(Undone::LetGo(waiting.change));
        }
        let n = self.history()?.next_undo().ok_or(NotUndone::NothingToUndo)?;
        self.undo_one(book, n).map(|kept| Undone::Kept(Box::new(kept)))
    }

    /// Undoes the change of this number, if it stands and nothing has changed the same since.
    ///
    /// # Errors
    /// [`NotUndone`] otherwise.
    pub fn undo_one(&mut self, book: &mut Book, n: u64) -> Result<Kept, NotUndone> {
        let history = self.history()?;
        let change = history.change(n).filter(|_| history.stands(n));
        let change = change.ok_or(NotUndone::NoSuchChange(n))?.reversed();
        Ok(self.keep_as(book, change, Did::Undo(n)).map_err(Box::new)?)
    }

    /// Does the change again that was undone last.
    ///
    /// # Errors
    /// [`NotUndone`] where there is none, or what it changed was changed again meanwhile.
    pub fn redo(&mut self, book: &mut Book) -> Result<Kept, NotUndone> {
        let history = self.history()?;
        let n = history.next_redo().ok_or(NotUndone::NothingToRedo)?;
        let change = history.redo().ok_or(NotUndone::NoSuchChange(n))?;
        Ok(self.keep_as(book, change, Did::Redo(n)).map_err(Box::new)?)
    }
}
