//! A page of lists over one record: the season, a plant, a cross, a pairing.
//!
//! What such pages have in common stands here once: the record is put together by the worker,
//! the lists are filled, ordered and filtered when it comes, and the cursor moves the same way
//! in all of them. A [`Sheet`] says only what is its own.

use std::{collections::BTreeSet, fmt};

use ratatui::layout::Rect;

use super::{
    basis::Basis,
    diary::{self, Row},
    links::{self, Link},
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    widget::{
        Canvas,
        listing::{Key, Listing},
        lists::{Lists, Outcome, Shape},
        section,
        table::{self, Cell, Column, Table},
    },
    worker::Later,
};
use crate::book::{PlantId, Spot};
use crate::views::Desk;

/// Puts a record together.
pub(super) type Work<R> = Box<dyn FnOnce(&Desk) -> R + Send>;

/// What is peculiar to one sort of page.
pub(super) trait Sheet: fmt::Debug {
    /// What it is drawn from.
    type Record: fmt::Debug + Send + 'static;

    /// The columns of its lists, in the order in which one goes through them.
    const COLUMNS: &'static [&'static [Column]];

    /// What the page is of.
    fn place(&self) -> Place;

    /// Whether the page is of one season.
    const OF_A_SEASON: bool = false;

    /// Whether the page shows forecasts.
    const WEIGHS: bool = false;

    /// The work to be done for the record; `None` where there is no such thing any more.
    fn work(&self, around: &Around<'_>) -> Option<Work<Self::Record>>;

    /// Makes what depends on the room as well as on the record.
    fn fit(&mut self, _record: &Self::Record, _around: &Around<'_>) {}

    /// Rows of a list that can be seen at once.
    fn height(&self, record: &Self::Record, lists: &Lists, list: usize, around: &Around<'_>)
    -> u16;

    /// Rows of a list.
    fn n_rows(&self, record: &Self::Record, list: usize) -> usize;

    /// Whether a list can be ordered; all can be filtered.
    fn sorts(&self, _list: usize) -> bool {
        true
    }

    /// What a row is ordered by.
    fn key(
        &self,
        record: &Self::Record,
        at: (usize, usize),
        row: usize,
        around: &Around<'_>,
    ) -> Key;

    /// What in the book a row is about, where that is less than the page it leads to.
    fn spot(&self, _record: &Self::Record, _row: usize, _around: &Around<'_>) -> Option<Spot> {
        None
    }

    /// The words of a row that a filter looks at.
    fn letters(
        &self,
        record: &Self::Record,
        list: usize,
        row: usize,
        around: &Around<'_>,
    ) -> String;

    /// What a row opens.
    fn opens(&self, record: &Self::Record, list: usize, row: usize) -> Option<Place>;

    /// One line that says what is shown.
    fn says(&self, record: &Self::Record, around: &Around<'_>) -> String;

    /// Draws the page.
    fn draw(
        &self,
        record: &Self::Record,
        lists: &Lists,
        canvas: &mut Canvas<'_>,
        around: &Around<'_>,
    );
}

/// A sheet with its record and its lists.
#[derive(Debug)]
pub(super) struct SheetPage<S: Sheet> {
    sheet: S,
    basis: Basis,
    coming: Later<S::Record>,
    lists: Lists,
}

impl<S: Sheet> SheetPage<S> {
    pub(super) fn new(sheet: S) -> Self {
        let lists = Lists::new(S::COLUMNS.len());
        Self { sheet, basis: Basis::default(), coming: Later::Unasked, lists }
    }

    fn shapes(&self, around: &Around<'_>) -> Vec<Shape<'static>> {
        let Some(record) = self.coming.here() else { return Vec::new() };
        let lists = S::COLUMNS.iter().enumerate();
        lists
            .map(|(i, columns)| Shape {
                height: self.sheet.height(record, &self.lists, i, around),
                columns,
            })
            .collect()
    }

    fn arrange(&mut self, list: usize, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        let (sheet, listing) = (&self.sheet, &mut self.lists.all[list]);
        if !sheet.sorts(list) {
            listing.sorted = None;
        }
        let sieve = listing.sieve();
        listing.arrange(
            sheet.n_rows(record, list),
            |row| sieve(&|| sheet.letters(record, list, row, around)),
            |row, column| sheet.key(record, (list, column), row, around),
        );
    }

    /// Fills the lists, and lets every window follow its cursor.
    fn fill(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        self.sheet.fit(record, around);
        for list in 0..S::COLUMNS.len() {
            self.arrange(list, around);
        }
        let shapes = self.shapes(around);
        self.lists.settle(&shapes);
        self.lists.follow(&shapes);
    }
}

impl<S: Sheet> Page for SheetPage<S> {
    fn place(&self) -> Place {
        self.sheet.place()
    }

    fn says(&self, around: &Around<'_>) -> String {
        if let Some(record) = self.coming.here() {
            return self.sheet.says(record, around);
        }
        let name = self.place().name(around.desk, around.glyphs());
        format!("{name}: {}.", self.coming.instead())
    }

    fn spot(&self, around: &Around<'_>) -> Option<Spot> {
        let row = self.lists.current().and_then(Listing::row)?;
        self.sheet.spot(self.coming.here()?, row, around)
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        let list = self.lists.current();
        let row = list.and_then(Listing::row);
        let under = self
            .coming
            .here()
            .zip(row)
            .and_then(|(record, row)| self.sheet.opens(record, self.lists.at, row))
            .filter(|place| *place != self.place());
        Stand {
            under,
            n_lists: S::COLUMNS.len(),
            sorts: self.sheet.sorts(self.lists.at),
            filters: true,
            seasons: S::OF_A_SEASON,
            walks: matches!(under, Some(Place::Plant(_))),
            filtered: list.is_some_and(|list| !list.filter.is_empty()),
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        if let Some(may_stand) = self.basis.moved(around, S::OF_A_SEASON)
            && let Some(work) = self.sheet.work(around)
        {
            let asked = around.worker.ask(around.desk, move |desk, _| work(desk));
            self.coming.renew(asked, may_stand);
        }
        self.coming.settle();
        self.fill(around);
    }

    fn waits(&self) -> bool {
        self.coming.is_asked()
    }

    fn weighs(&self) -> bool {
        S::WEIGHS
    }

    fn plants(&self, _: &Around<'_>) -> Vec<PlantId> {
        let (Some(record), Some(list)) = (self.coming.here(), self.lists.current()) else {
            return Vec::new();
        };
        let rows = (0..list.len()).filter_map(|line| list.row_at(line));
        let places = rows.filter_map(|row| self.sheet.opens(record, self.lists.at, row));
        let plants = places.filter_map(|place| match place {
            Place::Plant(plant) => Some(plant),
            _ => None,
        });
        let mut seen = BTreeSet::new();
        plants.filter(|plant| seen.insert(*plant)).collect()
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let shapes = self.shapes(around);
        match self.lists.take(input, &shapes) {
            Outcome::Step(step) => step,
            Outcome::Arrange(list) => {
                self.arrange(list, around);
                self.lists.follow(&self.shapes(around));
                Step::Taken
            }
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match self.coming.here() {
            Some(record) => self.sheet.draw(record, &self.lists, canvas, around),
            None => section::instead(canvas, canvas.area(), self.coming.instead()),
        }
    }
}

/// A list of a sheet, ready to be drawn.
pub(super) fn table<'a, S: Sheet>(
    lists: &'a Lists,
    list: usize,
    cell: &'a dyn Fn(usize, usize) -> Cell<'a>,
) -> Table<'a> {
    Table {
        columns: S::COLUMNS[list],
        listing: &lists.all[list],
        list,
        focused: lists.at == list,
        cell,
    }
}

/// What there is to say of a list beside its heading.
pub(super) fn note<S: Sheet>(
    lists: &Lists,
    list: usize,
    n_all: usize,
    around: &Around<'_>,
) -> String {
    section::note(&lists.all[list], n_all, S::COLUMNS[list], around.glyphs())
}

/// Draws a list of links under a heading.
pub(super) fn draw_links<S: Sheet>(
    canvas: &mut Canvas<'_>,
    area: Rect,
    heading: &str,
    (lists, list): (&Lists, usize),
    all: &[Link],
    around: &Around<'_>,
) {
    let rest = section::draw(canvas, area, heading, "");
    let cell = |row: usize, column| links::cell(around, &all[row], column);
    table::bare(canvas, rest, &table::<S>(lists, list, &cell));
    if all.is_empty() {
        section::instead(canvas, rest, "Its parents are not in the book.");
    }
}

/// Draws what happened under a heading, or a sentence where nothing did.
pub(super) fn draw_diary<S: Sheet>(
    canvas: &mut Canvas<'_>,
    area: Rect,
    (heading, nothing): (&str, &str),
    (lists, list): (&Lists, usize),
    rows: &[Row],
) {
    let rest = section::draw(canvas, area, heading, "");
    let cell = |row: usize, column| diary::cell(&rows[row], column);
    table::bare(canvas, rest, &table::<S>(lists, list, &cell));
    if rows.is_empty() {
        section::instead(canvas, rest, nothing);
    }
}
