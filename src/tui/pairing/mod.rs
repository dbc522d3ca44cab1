//! The page of a pairing, made or never made: its record, what a new seedling of it would do and
//! where that forecast comes from, its crosses, its keepers.

mod facts;
mod rows;
mod view;

use std::sync::Arc;

use ratatui::layout::Rect;

use crate::book::By;
use crate::merit::liability::Sources;
use crate::views::{
    Desk, Levels,
    pairing::{self, Page as Record},
    pairings,
};

use super::{
    facts::{Fact, n_rows},
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
    worker::Later,
};

/// The lists, in the order in which one goes through them.
const FROM: usize = 0;
const CROSSES: usize = 1;
const KEEPERS: usize = 2;

/// Rows of the record above the facts: a heading, two ranges and their scale.
const RECORD: u16 = 4;
/// Cells below which everything stands in one column.
const WIDE: u16 = 100;

/// The page.
#[derive(Debug)]
pub(super) struct Pairing {
    place: Place,
    from: Vec<Link>,
    facts: Vec<Fact<'static>>,
    /// Where the forecast comes from, and of which desk that was asked.
    sources: Later<Option<Sources>>,
    asked_of: Option<Arc<Desk>>,
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
    pub(super) fn page(place: Place) -> SheetPage<Self> {
        SheetPage::new(Self {
            place,
            from: Vec::new(),
            facts: Vec::new(),
            sources: Later::Unasked,
            asked_of: None,
        })
    }

    /// The pairing. Two plants that were never put to each other when the page was opened may have
    /// been since.
    fn pairing(&self, desk: &Desk) -> Option<pairings::Pairing> {
        match self.place {
            Place::Pairing(at) => desk.pairings().get(at).cloned(),
            Place::Pair(seed, pollen) => {
                let untried = pairings::Pairing::untried(seed, pollen);
                let sides = [&untried.seed, &untried.pollen];
                let is_it = |made: &&pairings::Pairing| {
                    let own = [&made.seed, &made.pollen];
                    own == sides || own == [sides[1], sides[0]]
                };
                Some(desk.pairings().iter().find(is_it).cloned().unwrap_or(untried))
            }
            _ => None,
        }
    }

    /// Asks where the forecast comes from, as soon as there is one.
    fn ask_sources(&mut self, record: &Record, around: &Around<'_>) {
        let is_new = !self.asked_of.as_ref().is_some_and(|of| Arc::ptr_eq(of, around.desk));
        if is_new && around.forecasts().here().is_some() {
            self.asked_of = Some(Arc::clone(around.desk));
            let pairing = record.row.pairing.clone();
            self.sources = around.worker.ask_slowly(around.desk, move |desk, _| {
                pairings::sources(desk, &pairing, Levels::default())
            });
        } else if is_new {
            self.sources = Later::Unasked;
        }
        self.sources.settle();
    }

    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        let body = around.body;
        let n = |n: usize| u16::try_from(n).unwrap_or(u16::MAX);
        let n_from = n(self.from.len()).saturating_add(1);
        let is_wide = body.width >= WIDE;
        let wide = if is_wide { body.width / 2 - 1 } else { body.width };
        let facts = n_rows(&self.facts, wide, around.glyphs().ellipsis);
        let told = RECORD.saturating_add(facts);
        let high = if is_wide {
            told.max(n_from).min(body.height * 2 / 3)
        } else {
            told.saturating_add(1 + n_from).min(body.height * 2 / 3)
        };
        let (upper, rest) = (above(body, high), below(body, high + 1));
        let (rec, from) = if is_wide {
            beside(upper, body.width / 2 - 1, 2)
        } else {
            let told = told.min(high.saturating_sub(n_from + 1));
            (above(upper, told), below(upper, told + 1))
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

    const WEIGHS: bool = true;

    fn place(&self) -> Place {
        self.place
    }

    fn work(&self, around: &Around<'_>) -> Option<Work<Record>> {
        let pairing = self.pairing(around.desk)?;
        Some(Box::new(move |desk| pairing::page(desk, &pairing, Levels::default())))
    }

    fn fit(&mut self, record: &Record, around: &Around<'_>) {
        let pairing = &record.row.pairing;
        let by = pairing.crosses.first().map_or(By::Hand, |&id| around.desk.book().cross(id).by);
        self.from = links::parent(around, "seed parent", &pairing.seed, By::Hand);
        self.from.extend(links::parent(around, "pollen parent", &pairing.pollen, by));
        self.ask_sources(record, around);
        self.facts = facts::of(record, &self.sources, around);
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
        let name = self.place.name(around.desk, around.glyphs());
        if pairing.crosses.is_empty() {
            return format!("{name}: never made.");
        }
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
