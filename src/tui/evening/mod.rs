//! The evening: what happened in a season, what waits for a word, and which pairings stand
//! behind the keepers.

mod layout;
mod rows;
mod view;
mod way;

use crate::views::{
    Levels,
    evening::{self, Evening},
};

use super::{
    page::Around,
    place::Place,
    sheet::{Sheet, SheetPage, Work},
    widget::{Canvas, listing::Key, lists::Lists, range::Scale, table::Column},
};
use layout::{AROUND_PAIRINGS, Layout, Rows};

/// The lists, in the order in which one goes through them.
const WAITING: usize = 0;
const KEEPERS: usize = 1;
const PAIRINGS: usize = 2;
const BEFORE: usize = 3;
/// It stands above the others, and is the one before the first.
const DUE: usize = 4;

/// The first screen.
#[derive(Debug)]
pub(super) struct Review {
    /// The scale of each of the two lists of pairings.
    scales: [Scale; 2],
}

impl Review {
    pub(super) fn page() -> SheetPage<Self> {
        SheetPage::new(Self { scales: [Scale { to: 1.0 }; 2] })
    }
}

impl Sheet for Review {
    type Record = Evening;

    const COLUMNS: &'static [&'static [Column]] =
        &[rows::WAITING, rows::KEEPERS, rows::PAIRINGS, rows::PAIRINGS, rows::DUE];

    const OF_A_SEASON: bool = true;
    const WEIGHS: bool = true;

    fn place(&self) -> Place {
        Place::Evening
    }

    fn work(&self, around: &Around<'_>) -> Option<Work<Evening>> {
        let season = around.season;
        Some(Box::new(move |desk| evening::evening(desk, season, Levels::default())))
    }

    fn fit(&mut self, evening: &Evening, around: &Around<'_>) {
        let of = |list: usize| rows::scale(around, rows::behind(evening, list));
        self.scales = [of(PAIRINGS), of(BEFORE)];
    }

    fn height(&self, _: &Evening, lists: &Lists, list: usize, around: &Around<'_>) -> u16 {
        let layout = layout(lists, around);
        match list {
            WAITING => layout.waiting.height.saturating_sub(1),
            KEEPERS => layout.keepers.height.saturating_sub(1),
            DUE => layout.due.height.saturating_sub(1),
            PAIRINGS => layout.pairings.height.saturating_sub(AROUND_PAIRINGS),
            _ => layout.before.height.saturating_sub(AROUND_PAIRINGS),
        }
    }

    fn n_rows(&self, evening: &Evening, list: usize) -> usize {
        match list {
            WAITING => evening.waiting.len(),
            KEEPERS => evening.keepers.len(),
            DUE => rows::tasks(evening).len(),
            _ => rows::behind(evening, list).len(),
        }
    }

    fn key(&self, evening: &Evening, at: (usize, usize), row: usize, around: &Around<'_>) -> Key {
        rows::key(around, evening, at, row)
    }

    fn letters(&self, evening: &Evening, list: usize, row: usize, around: &Around<'_>) -> String {
        rows::letters(around, evening, list, row)
    }

    fn opens(&self, evening: &Evening, list: usize, row: usize) -> Option<Place> {
        rows::place(evening, list, row)
    }

    fn says(&self, evening: &Evening, around: &Around<'_>) -> String {
        rows::says(evening, around)
    }

    fn draw(&self, evening: &Evening, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(self, evening, lists, canvas, around);
    }
}

fn layout(lists: &Lists, around: &Around<'_>) -> Layout {
    let n = |list: usize| u16::try_from(lists.all[list].len()).unwrap_or(u16::MAX);
    let rows = Rows {
        waiting: n(WAITING),
        keepers: n(KEEPERS),
        pairings: n(PAIRINGS),
        before: n(BEFORE),
        due: n(DUE),
    };
    Layout::of(around.body, rows)
}
