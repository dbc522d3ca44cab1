//! The page of a cross: how many of each, its parents, its heads and packets, its plants.

mod facts;
mod view;

use ratatui::layout::Rect;

use crate::book::CrossId;
use crate::views::{
    Levels,
    cross::{self, Page as Record},
};

use super::{
    diary::{self, Row},
    facts as lines,
    links::{self, Link},
    page::Around,
    place::Place,
    plants,
    sheet::{Sheet, SheetPage, Work},
    widget::{
        Canvas,
        listing::Key,
        lists::Lists,
        section::{above, below, beside},
        table::Column,
    },
};

/// The lists, in the order in which one goes through them.
const FROM: usize = 0;
const PLANTS: usize = 1;
const STORY: usize = 2;

/// The page.
#[derive(Debug)]
pub(super) struct Cross {
    id: CrossId,
    from: Vec<Link>,
    story: Vec<Row>,
}

/// Where its parts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Layout {
    facts: Rect,
    from: Rect,
    story: Rect,
    plants: Rect,
}

impl Cross {
    pub(super) fn page(id: CrossId) -> SheetPage<Self> {
        SheetPage::new(Self { id, from: Vec::new(), story: Vec::new() })
    }

    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        let body = around.body;
        let (left, plants) = match body.width {
            0..66 => (above(body, body.height / 2), below(body, body.height / 2)),
            66..110 => beside(body, body.width / 2 - 1, 1),
            _ => beside(body, 56, 2),
        };
        let facts = facts::of(record, around);
        let n_facts = lines::n_rows(&facts, left.width, around.glyphs().ellipsis);
        let n_facts = n_facts.min(left.height / 2);
        let (facts, rest) = (above(left, n_facts), below(left, n_facts + 1));
        let n_from = u16::try_from(self.from.len()).unwrap_or(u16::MAX).saturating_add(1);
        let from = above(rest, n_from);
        Layout { facts, from, story: below(rest, from.height + 1), plants }
    }
}

impl Sheet for Cross {
    type Record = Record;

    const COLUMNS: &'static [&'static [Column]] =
        &[links::COLUMNS, plants::OF_A_FAMILY, diary::COLUMNS];

    fn place(&self) -> Place {
        Place::Cross(self.id)
    }

    fn work(&self, _: &Around<'_>) -> Option<Work<Record>> {
        let id = self.id;
        Some(Box::new(move |desk| cross::page(desk, id, Levels::default())))
    }

    fn fit(&mut self, record: &Record, around: &Around<'_>) {
        self.from = facts::from(record, around);
        let wide = self.layout(record, around).story.width;
        self.story = facts::story(record, wide, around);
    }

    fn height(&self, record: &Record, _: &Lists, list: usize, around: &Around<'_>) -> u16 {
        let layout = self.layout(record, around);
        match list {
            FROM => layout.from.height.saturating_sub(1),
            PLANTS => layout.plants.height.saturating_sub(2),
            _ => layout.story.height.saturating_sub(1),
        }
    }

    fn n_rows(&self, record: &Record, list: usize) -> usize {
        match list {
            FROM => self.from.len(),
            PLANTS => record.plants.len(),
            _ => self.story.len(),
        }
    }

    fn sorts(&self, list: usize) -> bool {
        list == PLANTS
    }

    fn key(&self, record: &Record, at: (usize, usize), row: usize, around: &Around<'_>) -> Key {
        match at {
            (PLANTS, column) => plants::key(around, record.plants[row], column),
            _ => Key::Missing,
        }
    }

    fn letters(&self, record: &Record, list: usize, row: usize, around: &Around<'_>) -> String {
        match list {
            FROM => links::letters(&self.from[row]),
            PLANTS => plants::letters(around, record.plants[row]),
            _ => diary::letters(&self.story[row]),
        }
    }

    fn opens(&self, record: &Record, list: usize, row: usize) -> Option<Place> {
        match list {
            FROM => self.from.get(row)?.place,
            PLANTS => Some(Place::Plant(*record.plants.get(row)?)),
            _ => None,
        }
    }

    fn says(&self, record: &Record, around: &Around<'_>) -> String {
        facts::says(record, around)
    }

    fn draw(&self, record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(self, record, lists, canvas, around);
    }
}
