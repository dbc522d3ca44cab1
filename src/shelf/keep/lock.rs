//! One writer at a time.
//!
//! The lock is the system's own: it is let go when the program ends, however it ends, so that no
//! lock outlives its holder. Beside it stands who holds it, for the sentence that another is told.

use std::{
    fs::{self, File, OpenOptions, TryLockError},
    io,
    path::Path,
};

use chrono::NaiveDateTime;
use thiserror::Error;

use crate::book::fit_line;

/// Why a book is open for reading only.
#[derive(Debug, Error)]
pub enum ReadOnly {
    /// Somebody else writes in it.
    #[error("This book is being written in by {by}. It is open here for reading only.")]
    Held {
        /// Who, and since when.
        by: String,
    },
    /// The folder cannot be written in.
    #[error("This book is open for reading only: its folder cannot be written in ({0}).")]
    Folder(io::Error),
    /// Whoever opened it did not mean to write.
    #[error("This book was opened for reading only.")]
    Asked,
}

impl ReadOnly {
    /// The way out: a sentence.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Held { .. } => "Close the other one, and go on here.",
            Self::Folder(_) => "Ask the owner of the folder, or keep your book elsewhere.",
            Self::Asked => "Open it again to write in it.",
        }
    }
}

/// The right to write in a book, for as long as it lives.
#[derive(Debug)]
pub(super) struct Lock {
    file: File,
}

impl Lock {
    /// Takes the lock of a book, if it is free.
    pub(super) fn take(root: &Path, who: &str, now: NaiveDateTime) -> Result<Self, ReadOnly> {
        let folder = root.join(".trug");
        fs::create_dir_all(&folder).map_err(ReadOnly::Folder)?;
        let file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(folder.join("lock"))
            .map_err(ReadOnly::Folder)?;
        let holder = folder.join("holder");
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                let by = fs::read_to_string(holder).unwrap_or_default();
                let by = fit_line(by.trim()).into_string();
                let by = if by.is_empty() { "another program".to_owned() } else { by };
                return Err(ReadOnly::Held { by });
            }
            // A file system without locks: better written in unlocked than not at all.
            Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => {}
            Err(TryLockError::Error(error)) => return Err(ReadOnly::Folder(error)),
        }
        let who = if who.is_empty() { "somebody" } else { who };
        let process = std::process::id();
        let since = now.format("%Y-%m-%d %H:%M");
        // For the sentence only: the lock holds without.
        fs::write(holder, format!("{who} since {since} UTC, process {process}\n")).ok();
        let ignore = folder.join(".gitignore");
        if !ignore.exists() {
            // What lies in here belongs to this machine: shared, it would only collide.
            fs::write(ignore, "*\n").ok();
        }
        Ok(Self { file })
    }
}

impl Drop for Lock {
    /// Lets go at once. Closing the file would not: a program that another thread starts just then
    /// has it open too, until it runs.
    fn drop(&mut self) {
        // The system lets go when the program ends, if it will not now.
        self.file.unlock().ok();
    }
}
