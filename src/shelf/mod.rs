//! A book on disk: how it lies in its folder, opening it, and writing it back.
//!
//! Opening never fails because of what a file holds. What can be read is read, and everything
//! that is wrong is listed with its file, line and column. A file of which anything had to be
//! left out is *sealed*: nothing here rewrites it until it is mended.
//!
//! This room uses [`crate::book`] and nothing else of ours.

mod amiss;
mod atomic;
pub mod crop_file;
mod demo;
mod disk;
mod files;
mod keep;
mod list;
mod locate;
mod names;
mod no_book;
mod open;
mod quick;
mod read;
mod save;
mod sorting;
mod tree;
mod words;
mod write;

pub use demo::{LaidOut, lay_out};
pub use keep::{
    DAYS_KEPT, History, Keeper, Kept, Machine, Made, NotBroughtBack, NotKept, NotUndone, ReadOnly,
    ReadOnlyNow, System, Tools, Undone, Version, WhyNot,
};
pub use no_book::OpenError;
pub use open::{Opened, open};
pub use save::{SaveError, Saved, Shelf, create, texts, write_book};
