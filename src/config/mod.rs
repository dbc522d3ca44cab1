//! Where things are, and the raiser's settings.
//!
//! Used by the two faces only. Nothing here is needed to read a book: a book is a folder, and
//! whoever names it needs none of this.

mod places;
mod settings;

pub use places::Places;
pub use settings::{Amiss, Settings, Theme};
