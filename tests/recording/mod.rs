//! Recording from the full screen: keys in, screen and files out.

mod anyhow;
mod changes;
mod conflicts;
mod walking;
mod writing;

use std::sync::Arc;

use trug::{
    shelf::{Keeper, Machine, Opened, System},
    tui::{Event, Settings, Shown, Stage, Start},
    views::Desk,
};

use crate::keep::Garden;

pub(crate) const USUAL: (u16, u16) = (80, 24);

/// The garden on a full screen on which it can be written in.
pub(crate) fn stage(garden: &Garden) -> Stage {
    stage_with(garden, Arc::new(Machine), USUAL)
}

pub(crate) fn stage_with(garden: &Garden, system: Arc<dyn System>, size: (u16, u16)) -> Stage {
    let (opened, keeper) = garden.open_with(system, crate::keep::at(0));
    shown(opened, keeper, size)
}

fn shown(opened: Opened, keeper: Keeper, size: (u16, u16)) -> Stage {
    let today = opened.book.about().today.unwrap_or(crate::keep::at(2).date());
    let desk = Arc::new(Desk::new(Arc::new(opened.book), today));
    let shown = Shown { keeper: Some(Box::new(keeper)), ..Shown::only(desk, Vec::new()) };
    Stage::begin(Start::Book(shown), Settings::default(), size)
}

pub(crate) fn press(stage: &mut Stage, script: &str) {
    stage.press(script).unwrap_or_else(|| panic!("{script} names a key that there is not"));
}

/// Goes to the page of a plant or a cross by finding it.
pub(crate) fn find(stage: &mut Stage, name: &str) {
    press(stage, "/");
    stage.take(Event::Paste(name.to_owned()));
    press(stage, "<enter>");
}

/// Asserts that the screen says something.
#[track_caller]
pub(crate) fn says(stage: &Stage, words: &str) {
    let text = stage.text();
    assert!(text.contains(words), "no \"{words}\" on\n{text}");
}
