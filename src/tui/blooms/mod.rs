//! The page of first blooms: how long the plants of a group waited, drawn beside all others, and
//! what holding over one that never flowered is worth.

mod rows;
mod view;

use crate::views::{
    Levels,
    first_bloom::{Line, Of},
    waits::{self, Page as Record, Whose},
};

use super::{
    page::Around,
    place::Place,
    sheet::{Sheet, SheetPage, Work},
    widget::{
        Canvas,
        listing::Key,
        lists::Lists,
        section::{above, below},
        table::Column,
    },
};

/// The list of groups.
const GROUPS: usize = 0;

/// The page.
#[derive(Debug)]
pub(super) struct Blooms {
    whose: Whose,
}

/// Where its parts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Layout {
    curve: ratatui::layout::Rect,
    held_over: ratatui::layout::Rect,
    groups: ratatui::layout::Rect,
}

impl Layout {
    fn of(around: &Around<'_>) -> Self {
        let body = around.body;
        // The curve needs a heading, two lines of words, and an axis below it.
        let high = if body.height < 12 { body.height / 2 } else { (body.height * 3 / 5).min(26) };
        let (curve, rest) = (above(body, high), below(body, high + 1));
        let has_room = rest.height > 4;
        let held_over = above(rest, u16::from(has_room));
        let groups = if has_room { below(rest, 2) } else { rest };
        Self { curve, held_over, groups }
    }
}

impl Blooms {
    pub(super) fn page(whose: Whose) -> SheetPage<Self> {
        SheetPage::new(Self { whose })
    }
}

impl Sheet for Blooms {
    type Record = Record;

    const COLUMNS: &'static [&'static [Column]] = &[rows::COLUMNS];

    fn place(&self) -> Place {
        Place::Blooms(self.whose)
    }

    fn work(&self, _: &Around<'_>) -> Option<Work<Record>> {
        let whose = self.whose;
        Some(Box::new(move |desk| waits::page(desk, whose, Levels::default())))
    }

    fn height(&self, _: &Record, _: &Lists, _: usize, around: &Around<'_>) -> u16 {
        Layout::of(around).groups.height.saturating_sub(2)
    }

    fn n_rows(&self, record: &Record, _: usize) -> usize {
        record.groups.len()
    }

    fn key(
        &self,
        record: &Record,
        (_, column): (usize, usize),
        row: usize,
        around: &Around<'_>,
    ) -> Key {
        rows::key(around, &record.groups[row], column)
    }

    fn letters(&self, record: &Record, _: usize, row: usize, around: &Around<'_>) -> String {
        rows::name(around, &record.groups[row].of)
    }

    fn opens(&self, record: &Record, _: usize, row: usize) -> Option<Place> {
        match record.groups.get(row)?.of {
            Of::Cross(cross) => Some(Place::Cross(cross)),
            Of::Pairing(at) => Some(Place::Pairing(at)),
            Of::Parent(plant) => Some(Place::Plant(plant)),
            Of::Bed(_) | Of::Programme => None,
        }
    }

    fn says(&self, record: &Record, _: &Around<'_>) -> String {
        let Line { bloomed, watched, .. } = record.programme;
        format!("First blooms: of {watched} plants watched {bloomed} opened in their first season.")
    }

    fn draw(&self, record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(record, lists, canvas, around);
    }
}
