//! The evening: what happened in a season, what waits for a word, and which pairings stand
//! behind the keepers.

mod layout;
mod rows;
mod view;
mod way;

use crate::book::Season;
use crate::views::{
    Levels,
    evening::{self, Evening},
};

use super::{
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    widget::{
        Canvas,
        lists::{Lists, Outcome, Shape},
        table::Column,
    },
    worker::Later,
};
use layout::{AROUND_PAIRINGS, Layout, Rows};

/// The lists, in the order in which one goes through them.
const WAITING: usize = 0;
const KEEPERS: usize = 1;
const PAIRINGS: usize = 2;
const BEFORE: usize = 3;
const COLUMNS: [&[Column]; 4] = [rows::WAITING, rows::KEEPERS, rows::PAIRINGS, rows::PAIRINGS];

/// The first screen.
#[derive(Debug)]
pub(super) struct Review {
    season: Option<Season>,
    coming: Later<Evening>,
    lists: Lists,
}

impl Default for Review {
    fn default() -> Self {
        Self { season: None, coming: Later::Unasked, lists: Lists::new(COLUMNS.len()) }
    }
}

impl Review {
    fn layout(&self, around: &Around<'_>) -> Layout {
        let n = |list: usize| u16::try_from(self.lists.all[list].len()).unwrap_or(u16::MAX);
        let rows = Rows {
            waiting: n(WAITING),
            keepers: n(KEEPERS),
            pairings: n(PAIRINGS),
            before: n(BEFORE),
        };
        Layout::of(around.body, rows)
    }

    fn shapes(&self, around: &Around<'_>) -> [Shape<'static>; 4] {
        let layout = self.layout(around);
        let heights = [
            layout.waiting.height.saturating_sub(1),
            layout.keepers.height.saturating_sub(1),
            layout.pairings.height.saturating_sub(AROUND_PAIRINGS),
            layout.before.height.saturating_sub(AROUND_PAIRINGS),
        ];
        [WAITING, KEEPERS, PAIRINGS, BEFORE]
            .map(|i| Shape { height: heights[i], columns: COLUMNS[i] })
    }

    /// Chooses and orders the rows of a list anew.
    fn arrange(&mut self, list: usize, around: &Around<'_>) {
        let Some(evening) = self.coming.here() else { return };
        let n = match list {
            WAITING => evening.waiting.len(),
            KEEPERS => evening.keepers.len(),
            PAIRINGS => evening.behind.len(),
            _ => evening.behind_before.len(),
        };
        let Some(listing) = self.lists.all.get_mut(list) else { return };
        let sieve = listing.sieve();
        listing.arrange(
            n,
            |row| sieve(&|| rows::letters(around, evening, list, row)),
            |row, column| rows::key(around, evening, (list, column), row),
        );
    }
}

impl Page for Review {
    fn place(&self) -> Place {
        Place::Evening
    }

    fn says(&self, around: &Around<'_>) -> String {
        match self.coming.here() {
            Some(evening) => rows::says(evening),
            None => format!("Season {}: {}.", around.season, self.coming.instead()),
        }
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        let list = self.lists.current();
        let row = list.and_then(super::widget::listing::Listing::row);
        Stand {
            under: self
                .coming
                .here()
                .zip(row)
                .and_then(|(evening, row)| rows::place(evening, self.lists.at, row)),
            n_lists: self.lists.all.len(),
            sorts: true,
            seasons: true,
            filtered: list.is_some_and(|list| !list.filter.is_empty()),
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        let season = around.season;
        if self.season != Some(season) {
            self.season = Some(season);
            self.coming = around
                .worker
                .ask(around.desk, move |desk, _| evening::evening(desk, season, Levels::default()));
            // An answer given on the spot has not been taken in yet either.
            if self.coming.here().is_some() {
                self.arrived(around);
            }
        }
        if self.coming.settle() {
            self.arrived(around);
        }
        self.lists.follow(&self.shapes(around));
    }

    fn waits(&self) -> bool {
        matches!(self.coming, Later::Asked(_))
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        match self.lists.take(input, &self.shapes(around)) {
            Outcome::Step(step) => step,
            Outcome::Arrange(list) => {
                self.arrange(list, around);
                self.lists.follow(&self.shapes(around));
                Step::Taken
            }
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        self.draw(canvas, around);
    }
}

impl Review {
    /// Takes in that the rows have come.
    fn arrived(&mut self, around: &Around<'_>) {
        for list in 0..COLUMNS.len() {
            self.arrange(list, around);
        }
        self.lists.settle(&self.shapes(around));
    }
}
