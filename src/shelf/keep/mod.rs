//! Keeping what is recorded: nothing is lost, and nothing is ever half done.
//!
//! A change is entered in the journal, on the disk, before its files are put in their places;
//! whatever happens in between, the next opening finishes it. Before that, each file is looked
//! at: what an editor or another machine did to it meanwhile is taken in first, part by part.

mod bring_back;
mod earlier;
mod history;
mod journal;
mod keeper;
mod lock;
mod not_kept;
mod pages;
mod recover;
mod system;
mod undo;
mod write_down;

pub use bring_back::NotBroughtBack;
pub use earlier::{DAYS_KEPT, Version};
pub use history::{History, Made};
pub use keeper::{Keeper, Kept, Tools};
pub use lock::ReadOnly;
pub use not_kept::{NotKept, ReadOnlyNow, WhyNot};
pub use system::{Machine, System};
pub use undo::{NotUndone, Undone};

pub(super) use recover::complete;
