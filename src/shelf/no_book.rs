//! Why there is no book to open, and the way out.

use std::{
    io,
    path::{Path, PathBuf},
};

use thiserror::Error;

/// Why there is no book to open. Nothing that a file holds leads here.
#[derive(Debug, Error)]
pub enum OpenError {
    /// The folder does not exist.
    #[error("There is no folder {} here.", .0.display())]
    NoFolder(PathBuf),
    /// The path leads to something else.
    #[error("A book is a folder, and {} is none.", .0.display())]
    NotAFolder(PathBuf),
    /// The folder is empty.
    #[error("The folder {} is empty.", .0.display())]
    Empty(PathBuf),
    /// There is something in the folder, but no first page.
    #[error("The folder {} holds no book: there is no book.ron in it.", .0.display())]
    NoBook(PathBuf),
    /// The folder may not be looked into.
    #[error("You have no permission to look into {} here.", .0.display())]
    NoPermission(PathBuf),
    /// The system failed.
    #[error("The folder {} could not be looked into: {source}.", path.display())]
    Io {
        /// The folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl OpenError {
    /// The way out: a sentence.
    pub fn hint(&self) -> String {
        match self {
            Self::NoFolder(path) | Self::Empty(path) => format!(
                "Start a book there with \"trug new {0}\", look at the demo garden with \
                 \"trug demo\", or name the folder of your book with --book.",
                path.display()
            ),
            Self::NotAFolder(_) | Self::NoBook(_) => {
                "Name the folder of your book with --book, start one with \"trug new DIR\", or \
                 look at the demo garden with \"trug demo\"."
                    .to_owned()
            }
            Self::NoPermission(_) => {
                "Ask the owner of the folder, or name another book with --book.".to_owned()
            }
            Self::Io { .. } => "Look whether the disk is well, and try again.".to_owned(),
        }
    }

    pub(super) fn from_io(path: &Path, source: io::Error) -> Self {
        let path = path.to_owned();
        match source.kind() {
            io::ErrorKind::NotFound => Self::NoFolder(path),
            io::ErrorKind::NotADirectory => Self::NotAFolder(path),
            io::ErrorKind::PermissionDenied => Self::NoPermission(path),
            _ => Self::Io { path, source },
        }
    }
}
