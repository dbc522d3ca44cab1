//! The page of a pairing: its record, what a new seedling of it would do, its crosses, its
//! keepers.

mod rows;
mod view;

use ratatui::layout::Rect;

use crate::book::By;
use crate::views::{
    Levels,
    pairing::{self, Page as Record},
};

use super::{
    links::{self, Link},
    page::Around,
    place::Place,
    plants, said,
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
const CROSSES: usize = 1;
const KEEPERS: usize = 2;

/// Rows of the record: a heading, two ranges and their scale.
const RECORD: u16 = 4;

/// The page.
#[derive(Debug)]
pub(super) struct Pairing {
    at: usize,
    from: Vec<Link>,
}

/// Where its parts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Layout {
    record: Rect,
    from: Rect,
    crosses: Rect,
    keepers: Rect,
}

impl Pairing {
    pub(super) fn page(at: usize) -> SheetPage<Self> {
        SheetPage::new(Self { at, from: Vec::new() })
    }

    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        let body = around.body;
        let n = |n: usize| u16::try_from(n).unwrap_or(u16::MAX);
        let n_from = n(self.from.len()).saturating_add(1);
        let (upper, rest) = if body.width < 100 {
            let high = (RECORD + 1 + n_from).min(body.height / 2);
            (above(body, high), below(body, high + 1))
        } else {
            let high = RECORD.max(n_from).min(body.height / 2);
            (above(body, high), below(body, high + 1))
        };
        let (rec, from) = if body.width < 100 {
            (above(upper, RECORD), below(upper, RECORD + 1))
        } else {
            beside(upper, body.width / 2 - 1, 2)
        };
        let (crosses, keepers) = if body.width < 130 {
            let wanted = n(record.crosses.len()).saturating_add(3);
            let high = wanted.min(rest.height.div_ceil(2));
            (above(rest, high.saturating_sub(1)), below(rest, high))
        } else {
            beside(rest, body.width / 2 - 1, 2)
        };
        Layout { record: rec, from, crosses, keepers }
    }
}

impl Sheet for Pairing {
    type Record = Record;

    const COLUMNS: &'static [&'static [Column]] =
        &[links::COLUMNS, rows::CROSSES, plants::OF_A_FAMILY];

    fn place(&self) -> Place {
        Place::Pairing(self.at)
    }

    fn work(&self, around: &Around<'_>) -> Option<Work<Record>> {
        let pairing = around.desk.pairings().get(self.at)?.clone();
        Some(Box::new(move |desk| pairing::page(desk, &pairing, Levels::default())))
    }

    fn fit(&mut self, record: &Record, around: &Around<'_>) {
        let pairing = &record.row.pairing;
        let by = pairing.crosses.first().map_or(By::Hand, |&id| around.desk.book().cross(id).by);
        self.from = links::parent(around, "seed parent", &pairing.seed, By::Hand);
        self.from.extend(links::parent(around, "pollen parent", &pairing.pollen, by));
    }

    fn height(&self, record: &Record, _: &Lists, list: usize, around: &Around<'_>) -> u16 {
        let layout = self.layout(record, around);
        match list {
            FROM => layout.from.height.saturating_sub(1),
            CROSSES => layout.crosses.height.saturating_sub(2),
            _ => layout.keepers.height.saturating_sub(2),
        }
    }

    fn n_rows(&self, record: &Record, list: usize) -> usize {
        match list {
            FROM => self.from.len(),
            CROSSES => record.crosses.len(),
            _ => record.keepers.len(),
        }
    }

    fn sorts(&self, list: usize) -> bool {
        list != FROM
    }

    fn key(
        &self,
        record: &Record,
        (list, column): (usize, usize),
        row: usize,
        around: &Around<'_>,
    ) -> Key {
        match list {
            CROSSES => rows::key(around, &record.crosses[row], column),
            KEEPERS => plants::key(around, record.keepers[row], column),
            _ => Key::Missing,
        }
    }

    fn letters(&self, record: &Record, list: usize, row: usize, around: &Around<'_>) -> String {
        match list {
            FROM => links::letters(&self.from[row]),
            CROSSES => rows::letters(around, &record.crosses[row]),
            _ => plants::letters(around, record.keepers[row]),
        }
    }

    fn opens(&self, record: &Record, list: usize, row: usize) -> Option<Place> {
        match list {
            FROM => self.from.get(row)?.place,
            CROSSES => Some(Place::Cross(record.crosses.get(row)?.cross)),
            _ => Some(Place::Plant(*record.keepers.get(row)?)),
        }
    }

    fn says(&self, record: &Record, around: &Around<'_>) -> String {
        let pairing = &record.row.pairing;
        let name = said::pairing(around.desk, self.at, around.glyphs());
        let crosses = said::many(pairing.crosses.len(), "cross", "crosses");
        let counts = pairing.counts;
        let kept = if counts.judged > 0 {
            format!("kept {} judged", said::of(counts.kept, counts.judged))
        } else {
            "nothing of it judged yet".to_owned()
        };
        let wordings = [
            format!("{name}: {kept}, in {crosses}."),
            format!("{name}: {kept}."),
            format!("{name}: {}.", said::of(counts.kept, counts.judged)),
        ];
        said::fitting(wordings, around.line_room())
    }

    fn draw(&self, record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(self, record, lists, canvas, around);
    }
}
