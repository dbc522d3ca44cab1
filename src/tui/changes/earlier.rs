//! Earlier versions of the files: what each held, and bringing one back.

use super::{Told, draw_list, draw_told, parts, rows_seen, stand, told};
use crate::shelf::{DAYS_KEPT, Keeper, Version};
use crate::tui::{
    action::Action,
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    said,
    widget::{
        Canvas,
        listing::Key,
        lists::{Lists, Outcome, Shape},
        table::{Cell, Column},
    },
};

const COLUMNS: &[Column] = &[
    Column::words("file", 22, 40, 0),
    Column::words("so until", 17, 17, 0),
    Column::words("before this was done", 16, 200, 1),
];

/// The page.
#[derive(Debug)]
pub(in crate::tui) struct Earlier {
    basis: Basis,
    rows: Vec<Row>,
    lists: Lists,
    /// What the one under the cursor would change, and what there is to say of it.
    told: (String, Vec<Told>),
}

#[derive(Debug)]
struct Row {
    version: Version,
    until: String,
    /// The change before which the file was so.
    before: String,
}

impl Default for Earlier {
    fn default() -> Self {
        Self {
            basis: Basis::default(),
            rows: Vec::new(),
            lists: Lists::new(1),
            told: Default::default(),
        }
    }
}

impl Earlier {
    fn shapes(around: &Around<'_>) -> [Shape<'static>; 1] {
        [Shape { height: rows_seen(around), columns: COLUMNS }]
    }

    fn arrange(&mut self, around: &Around<'_>) {
        let list = &mut self.lists.all[0];
        let sieve = list.sieve();
        let rows = &self.rows;
        list.arrange(
            rows.len(),
            |row| sieve(&|| format!("{} {}", rows[row].version.file, rows[row].before)),
            |row, column| match column {
                0 => Key::label(rows[row].version.file.as_str()),
                1 => Key::number(rows[row].version.until.map(|at| at.and_utc().timestamp() as f64)),
                _ => Key::label(rows[row].before.as_str()),
            },
        );
        self.lists.follow(&Self::shapes(around));
        self.tell(around);
    }

    fn under(&self) -> Option<&Row> {
        self.rows.get(self.lists.current()?.row()?)
    }

    /// Works out how the version under the cursor differs from what the book says now.
    fn tell(&mut self, around: &Around<'_>) {
        self.told = Default::default();
        let (Some(row), Some(keeper)) = (self.under(), around.keeper) else { return };
        self.told = match keeper.way_back(around.desk.book(), &row.version) {
            Ok(steps) if steps.is_empty() => {
                ("It says the same now as it did then.".to_owned(), Vec::new())
            }
            Ok(steps) => ("Enter brings it back. What would be changed:".to_owned(), told(&steps)),
            Err(why) => (format!("{why} {}", why.hint()), Vec::new()),
        };
    }
}

/// The versions, the newest first, with what was done after them.
fn rows(keeper: &Keeper) -> Vec<Row> {
    let history = keeper.history().unwrap_or_default();
    let made: Vec<_> = history.entries().collect();
    let what = |n: u64| made.iter().find(|made| made.n == n).map(|made| made.what.to_string());
    let row = |version: Version| Row {
        until: version
            .until
            .map_or_else(|| "put aside".to_owned(), |at| at.format("%-d %b %Y %H:%M").to_string()),
        before: version.before.and_then(what).unwrap_or_default(),
        version,
    };
    let mut rows: Vec<Row> = keeper.earlier().into_iter().map(row).collect();
    rows.sort_by_key(|row| std::cmp::Reverse((row.version.until, row.version.before)));
    rows
}

fn cell(row: &Row, column: usize) -> Cell<'_> {
    match column {
        0 => Cell::text(row.version.file.as_str()),
        1 => Cell::quiet(row.until.as_str()),
        _ => Cell::quiet(row.before.as_str()),
    }
}

impl Page for Earlier {
    fn place(&self) -> Place {
        Place::Earlier
    }

    fn says(&self, around: &Around<'_>) -> String {
        let n = said::many(self.rows.len(), "earlier version", "earlier versions");
        said::fitting(
            [
                format!("{n} of files, kept for {DAYS_KEPT} days. Times are UTC."),
                format!("{n}, kept for {DAYS_KEPT} days."),
                format!("{n}."),
            ],
            around.line_room(),
        )
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        stand(&self.lists)
    }

    fn refresh(&mut self, around: &Around<'_>) {
        if self.basis.moved(around, false).is_none() {
            return self.lists.follow(&Self::shapes(around));
        }
        self.rows = around.keeper.map(rows).unwrap_or_default();
        self.arrange(around);
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        if let Input::Do(Action::BringBack) = input {
            return self
                .under()
                .map_or(Step::Taken, |row| Step::BringBack(Box::new(row.version.clone())));
        }
        let step = match self.lists.take(input, &Self::shapes(around)) {
            Outcome::Step(step) => step,
            Outcome::Arrange(_) => {
                self.arrange(around);
                Step::Taken
            }
        };
        self.tell(around);
        step
    }

    fn view(&self, canvas: &mut Canvas<'_>, _: &Around<'_>) {
        let (list, full) = parts(canvas.area());
        let cell = |row: usize, column: usize| cell(&self.rows[row], column);
        let words = ("earlier versions", "No file has been changed with this program yet.");
        draw_list(canvas, list, words, (COLUMNS, &self.lists.all[0]), self.rows.len(), &cell);
        let (sentence, told) = &self.told;
        draw_told(canvas, full, sentence, ("now", "then"), told);
    }
}
