//! Bringing back an earlier version of a file, which is a change like any other.

use thiserror::Error;

use super::{
    super::{
        disk::{self, Did},
        read::{record, text},
        save::SaveError,
    },
    Keeper, Kept, NotKept, Version,
};
use crate::book::{Book, Change, Step};

/// Why an earlier version was not brought back.
#[derive(Debug, Error)]
pub enum NotBroughtBack {
    /// The copy cannot be read as a record.
    #[error("The copy {copy} cannot be read as a page of this book.")]
    Unreadable {
        /// Where it lies, relative to the book.
        copy: String,
    },
    /// Nothing would change.
    #[error("{file} says the same now as it did then.")]
    Same {
        /// The file.
        file: String,
    },
    /// No steps lead there.
    #[error("{file} holds another record now than it did then.")]
    Another {
        /// The file.
        file: String,
    },
    /// It could not be kept.
    #[error(transparent)]
    NotKept(#[from] Box<NotKept>),
}

impl NotBroughtBack {
    /// The way out: a sentence; empty where there is none.
    pub fn hint(&self) -> String {
        match self {
            Self::Unreadable { .. } | Self::Another { .. } => {
                "Look into the copy, and take over by hand what you need.".to_owned()
            }
            Self::Same { .. } => String::new(),
            Self::NotKept(not_kept) => not_kept.why.hint(),
        }
    }
}

impl Keeper {
    /// Makes the record in a file what it was in an earlier version. It can be undone.
    ///
    /// # Errors
    /// [`NotBroughtBack`]; the book is as it was then.
    pub fn bring_back(
        &mut self,
        book: &mut Book,
        version: &Version,
    ) -> Result<Kept, NotBroughtBack> {
        let steps = self.way_back(book, version)?;
        if steps.is_empty() {
            return Err(NotBroughtBack::Same { file: version.file.clone() });
        }
        let what = match version.until {
            Some(until) => {
                format!(
                    "Brought back {} as it was until {}",
                    version.file,
                    until.format("%Y-%m-%d %H:%M")
                )
            }
            None => format!("Brought back {} as it was before", version.file),
        };
        let change = Change::new(what, steps);
        Ok(self.keep_as(book, change, Did::Change).map_err(Box::new)?)
    }

    /// What bringing an earlier version back would change.
    ///
    /// # Errors
    /// [`NotBroughtBack`] where the copy cannot be read, or no steps lead there.
    pub fn way_back(&self, book: &Book, version: &Version) -> Result<Vec<Step>, NotBroughtBack> {
        let mut steps = self.steps_back(book, version)?;
        steps.retain(|step| step.before != step.after);
        Ok(steps)
    }

    /// The steps from a record as it is to an earlier version of it.
    fn steps_back(&self, book: &Book, version: &Version) -> Result<Vec<Step>, NotBroughtBack> {
        let mut bytes = Vec::new();
        let unreadable = || NotBroughtBack::Unreadable { copy: version.copy.clone() };
        let path = self.shelf.root.join(&version.copy);
        let text = text(&path, &mut bytes).map_err(|_flaw| unreadable())?;
        if version.file == "book.ron" {
            let old = record::<disk::About>(text).record.ok_or_else(unreadable)?;
            return Ok(vec![Step::between_pages(book.about(), &old)]);
        }
        if version.file.starts_with("varieties/") {
            let old = record::<disk::Variety>(text).record.ok_or_else(unreadable)?;
            let now = book.variety(&old.id);
            return Ok(Step::between_varieties(now, Some(&old)).into_iter().collect());
        }
        let old = record::<disk::Cross>(text).record.ok_or_else(unreadable)?;
        let now = book.cross_with(&old.code);
        Step::between_crosses(now, Some(&old))
            .ok_or_else(|| NotBroughtBack::Another { file: version.file.clone() })
    }

    /// Puts an earlier version in the place of a file that cannot be read any more. What is in the
    /// file now is kept among the earlier versions. The book must be opened again afterwards.
    ///
    /// # Errors
    /// [`SaveError`] where it cannot be written.
    pub fn replace(&mut self, version: &Version) -> Result<(), SaveError> {
        let copy = self.shelf.root.join(&version.copy);
        let path = self.shelf.root.join(&version.file);
        let content = std::fs::read(&copy).map_err(SaveError::io(&copy))?;
        if path.exists() {
            self.shelf.set_aside(&version.file)?;
        }
        super::super::atomic::write_whole(&path, &content)
    }

    /// Whether a file cannot be written as it was not wholly understood.
    pub fn is_sealed(&self, file: &str) -> bool {
        self.shelf.sealed.contains(file)
    }
}
