//! Records as text.
//!
//! What is laid out here is what [`super::disk`] reads. A field that holds nothing is not
//! written; every head, packet and plant begins a line, and so does every entry of a diary, so
//! that a change shows in a diff as the lines it is.

mod about;
mod cross;
mod diary;
mod journal;
mod ron;
mod variety;

pub(super) use about::about;
pub(super) use cross::cross;
pub(super) use journal::{quoted, steps};
pub(super) use variety::variety;
