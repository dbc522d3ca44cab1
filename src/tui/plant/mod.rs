//! The page of a plant: facts, where it came from, its diary, its offspring, its sibs.

mod facts;
mod layout;
mod offspring;
mod view;

use crate::book::PlantId;
use crate::views::{
    Levels,
    plant::{self, Page as Record},
};

use super::{
    diary::{self, Row},
    links::{self, Link},
    page::Around,
    place::Place,
    plants,
    sheet::{Sheet, SheetPage, Work},
    widget::{Canvas, listing::Key, lists::Lists, table::Column},
};
use layout::Layout;

/// The lists, in the order in which one goes through them.
const FROM: usize = 0;
const DIARY: usize = 1;
const OFFSPRING: usize = 2;
const SIBS: usize = 3;

/// The page.
#[derive(Debug)]
pub(super) struct Plant {
    id: PlantId,
    from: Vec<Link>,
    diary: Vec<Row>,
}

impl Plant {
    pub(super) fn page(id: PlantId) -> SheetPage<Self> {
        SheetPage::new(Self { id, from: Vec::new(), diary: Vec::new() })
    }

    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        Layout::of(around, &facts::of(record, around), self.from.len(), record)
    }
}

impl Sheet for Plant {
    type Record = Record;

    const COLUMNS: &'static [&'static [Column]] =
        &[links::COLUMNS, diary::COLUMNS, offspring::COLUMNS, plants::COLUMNS];

    fn place(&self) -> Place {
        Place::Plant(self.id)
    }

    fn work(&self, _: &Around<'_>) -> Option<Work<Record>> {
        let id = self.id;
        Some(Box::new(move |desk| plant::page(desk, id, Levels::default())))
    }

    fn fit(&mut self, record: &Record, around: &Around<'_>) {
        self.from = facts::from(record, around);
        let wide = self.layout(record, around).diary.width;
        self.diary = diary::rows(&record.diary, wide, around);
    }

    fn height(&self, record: &Record, _: &Lists, list: usize, around: &Around<'_>) -> u16 {
        let layout = self.layout(record, around);
        match list {
            FROM => layout.from.height.saturating_sub(1),
            DIARY => layout.diary.height.saturating_sub(1),
            OFFSPRING => layout.offspring.height.saturating_sub(2),
            _ => layout.sibs.height.saturating_sub(2),
        }
    }

    fn n_rows(&self, record: &Record, list: usize) -> usize {
        match list {
            FROM => self.from.len(),
            DIARY => self.diary.len(),
            OFFSPRING => record.offspring.len(),
            _ if record.sibs.plants.len() > 1 => record.sibs.plants.len(),
            _ => 0,
        }
    }

    fn sorts(&self, list: usize) -> bool {
        matches!(list, OFFSPRING | SIBS)
    }

    fn key(
        &self,
        record: &Record,
        (list, column): (usize, usize),
        row: usize,
        around: &Around<'_>,
    ) -> Key {
        match list {
            OFFSPRING => offspring::key(around, &record.offspring[row], column),
            SIBS => plants::key(around, record.sibs.plants[row].plant, column),
            _ => Key::Missing,
        }
    }

    fn letters(&self, record: &Record, list: usize, row: usize, around: &Around<'_>) -> String {
        match list {
            FROM => links::letters(&self.from[row]),
            DIARY => diary::letters(&self.diary[row]),
            OFFSPRING => offspring::letters(around, &record.offspring[row]),
            _ => plants::letters(around, record.sibs.plants[row].plant),
        }
    }

    fn opens(&self, record: &Record, list: usize, row: usize) -> Option<Place> {
        match list {
            FROM => self.from.get(row)?.place,
            DIARY => None,
            OFFSPRING => Some(Place::Cross(record.offspring.get(row)?.cross)),
            _ => Some(Place::Plant(record.sibs.plants.get(row)?.plant)),
        }
    }

    fn says(&self, record: &Record, around: &Around<'_>) -> String {
        facts::says(record, around)
    }

    fn draw(&self, record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(self, record, lists, canvas, around);
    }
}
