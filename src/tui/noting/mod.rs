//! Writing down: first what is to be written down of what is under the cursor, then its form.
//!
//! Both come from the table of forms that the shell has too.

mod choosing;
mod filling;
mod view;

use super::{
    action::{Action, Layer},
    keys::Key,
    page::Around,
    place::Place,
    widget::Canvas,
};
use crate::book::{Spot, enter::Entered};

use choosing::Choosing;
use filling::Filling;

/// What lies on the page while something is being written down.
#[derive(Debug)]
pub(super) enum Noting {
    /// The list of what can be written down.
    Choosing(Choosing),
    /// The form.
    Filling(Filling),
}

/// What follows from an action.
#[derive(Debug)]
pub(super) enum Noted {
    /// It stays.
    Stays,
    /// This is to be written.
    Writes(Box<Entered>),
}

impl Noting {
    /// What can be written down of a place, what the cursor is on first.
    pub(super) fn of(place: Option<Place>, on: Option<&Spot>, around: &Around<'_>) -> Self {
        Self::Choosing(Choosing::of(place, on, around))
    }

    pub(super) fn layer(&self) -> Layer {
        match self {
            Self::Choosing(_) => Layer::Deeds,
            Self::Filling(_) => Layer::Form,
        }
    }

    pub(super) fn says(&self) -> String {
        match self {
            Self::Choosing(_) => {
                "What happened? A few letters of the thing and of the deed are enough.".to_owned()
            }
            Self::Filling(filling) => filling.says(),
        }
    }

    /// Takes a key that is no action. Returns whether what was typed has changed.
    pub(super) fn key(&mut self, key: Key) -> bool {
        match self {
            Self::Choosing(choosing) => choosing.key(key),
            Self::Filling(filling) => filling.key(key),
        }
    }

    pub(super) fn paste(&mut self, content: &str) {
        match self {
            Self::Choosing(choosing) => choosing.paste(content),
            Self::Filling(filling) => filling.paste(content),
        }
    }

    pub(super) fn act(&mut self, action: Action, around: &Around<'_>) -> Noted {
        match (&mut *self, action) {
            (Self::Choosing(choosing), Action::Open) => {
                if let Some(filling) = choosing.chosen(around) {
                    *self = Self::Filling(filling);
                }
                Noted::Stays
            }
            (Self::Choosing(choosing), _) => {
                choosing.act(action, around.body.height);
                Noted::Stays
            }
            (Self::Filling(filling), Action::Open) => {
                filling.enter(around).map_or(Noted::Stays, |entered| Noted::Writes(entered.into()))
            }
            (Self::Filling(filling), _) => {
                filling.act(action);
                Noted::Stays
            }
        }
    }

    /// Takes a click on a line. Returns whether it was there already.
    pub(super) fn press(&mut self, line: usize) -> bool {
        match self {
            Self::Choosing(choosing) => choosing.press(line),
            Self::Filling(filling) => {
                filling.go(line);
                false
            }
        }
    }

    pub(super) fn scroll(&mut self, notches: i16, height: u16) {
        if let Self::Choosing(choosing) = self {
            choosing.scroll(notches, height);
        }
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match self {
            Self::Choosing(choosing) => view::choosing(choosing, canvas, around),
            Self::Filling(filling) => view::filling(filling, canvas, around),
        }
    }
}
