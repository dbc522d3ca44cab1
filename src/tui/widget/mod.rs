//! Pieces that pages are made of. Each draws itself in whatever room it gets, down to none.

pub mod bar;
pub mod canvas;
pub mod curve;
pub mod field;
pub mod listing;
pub mod lists;
pub mod range;
pub mod section;
pub mod swatch;
pub mod table;
pub mod text;

pub use canvas::{Canvas, Hit, Target};
