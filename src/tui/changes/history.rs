//! The history: who changed what and when, and what stands in the way of taking one back.

use super::{Told, draw_list, draw_told, parts, rows_seen, stand, told};
use crate::book::Change;
use crate::shelf::{History as Record, Made};
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
    Column::words("when", 12, 16, 0),
    Column::words("who", 6, 12, 2),
    Column::words("what", 20, 200, 0),
    Column::words("", 10, 10, 1),
];

/// The page.
#[derive(Debug)]
pub(in crate::tui) struct History {
    basis: Basis,
    record: Record,
    /// The newest first.
    made: Vec<Made>,
    lists: Lists,
    /// What the one under the cursor would change, and what there is to say of it.
    told: (String, Vec<Told>),
    /// Why there is nothing to show.
    why: Option<String>,
}

impl Default for History {
    fn default() -> Self {
        Self {
            basis: Basis::default(),
            record: Record::default(),
            made: Vec::new(),
            lists: Lists::new(1),
            told: Default::default(),
            why: None,
        }
    }
}

impl History {
    fn shapes(around: &Around<'_>) -> [Shape<'static>; 1] {
        [Shape { height: rows_seen(around), columns: COLUMNS }]
    }

    fn arrange(&mut self, around: &Around<'_>) {
        let list = &mut self.lists.all[0];
        let sieve = list.sieve();
        let made = &self.made;
        list.arrange(
            made.len(),
            |row| sieve(&|| format!("{} {} {}", when(&made[row]), made[row].who, made[row].what)),
            |row, column| match column {
                0 => Key::number(i32::try_from(made[row].n).ok().map(f64::from)),
                1 => Key::label(&*made[row].who),
                _ => Key::label(&*made[row].what),
            },
        );
        self.lists.follow(&Self::shapes(around));
        self.tell(around);
    }

    fn under(&self) -> Option<&Made> {
        self.made.get(self.lists.current()?.row()?)
    }

    /// Works out what taking the one under the cursor back would do, and what stands in the way.
    fn tell(&mut self, around: &Around<'_>) {
        self.told = Default::default();
        let Some(made) = self.under() else { return };
        let Some(change) = self.record.change(made.n) else {
            "What was changed cannot be read any more.".clone_into(&mut self.told.0);
            return;
        };
        let steps = told(&change.steps);
        let sentence = if made.is_undone {
            "Taken back. What it had changed:".to_owned()
        } else if around.desk.book().rebase(&change.reversed()).is_ok() {
            "It can be taken back by itself: enter. What it changed:".to_owned()
        } else {
            let later = self.in_the_way(made.n, &change);
            let later = later.map_or_else(
                || "the files were changed by another program since".to_owned(),
                |later| format!("\"{}\" came after it and has to go first", later.what),
            );
            format!("It cannot be taken back by itself: {later}. What it changed:")
        };
        self.told = (sentence, steps);
    }

    /// The latest change after one that touches the same and stands.
    fn in_the_way(&self, n: u64, change: &Change) -> Option<&Made> {
        let touches = |other: &Change| {
            other.steps.iter().any(|a| change.steps.iter().any(|b| a.spot == b.spot))
        };
        let later = self.made.iter().filter(|made| made.n > n && !made.is_undone);
        later.into_iter().find(|made| self.record.change(made.n).is_some_and(|c| touches(&c)))
    }
}

fn when(made: &Made) -> String {
    made.at.format("%-d %b %Y %H:%M").to_string()
}

fn cell(made: &Made, column: usize) -> Cell<'_> {
    match column {
        0 => Cell::quiet(when(made)),
        1 => Cell::quiet(&*made.who),
        2 if made.is_undone => Cell::quiet(&*made.what),
        2 => Cell::text(&*made.what),
        _ if made.is_undone => Cell::quiet("taken back"),
        _ => Cell::Blank,
    }
}

impl Page for History {
    fn place(&self) -> Place {
        Place::History
    }

    fn says(&self, around: &Around<'_>) -> String {
        if let Some(why) = &self.why {
            return why.clone();
        }
        let n = said::many(self.made.len(), "change", "changes");
        said::fitting(
            [
                format!(
                    "What was changed with this program, the newest first: {n}. Times are UTC."
                ),
                format!("What was changed: {n}. Times are UTC."),
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
        match around.keeper.map(crate::shelf::Keeper::history) {
            Some(Ok(record)) => {
                self.made = record.entries().rev().collect();
                self.record = record;
                self.why = None;
            }
            Some(Err(why)) => self.why = Some(why.to_string()),
            None => self.why = Some("This book is only shown; it has no history here.".to_owned()),
        }
        self.arrange(around);
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        if let Input::Do(Action::UndoOne) = input {
            return self.under().map_or(Step::Taken, |made| Step::UndoOne(made.n));
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
        let cell = |row: usize, column: usize| cell(&self.made[row], column);
        let words = ("history", "Nothing has been changed with this program yet.");
        draw_list(canvas, list, words, (COLUMNS, &self.lists.all[0]), self.made.len(), &cell);
        let (sentence, told) = &self.told;
        draw_told(canvas, full, sentence, ("was", "became"), told);
    }
}
