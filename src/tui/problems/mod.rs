//! What is wrong with the book: where, what, and the way out.

use ratatui::layout::Rect;

use super::{
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    said,
    theme::Role,
    widget::{
        Canvas,
        listing::Key,
        lists::{Lists, Outcome, Shape},
        section,
        table::{self, Cell, Column, Table},
        text,
    },
};
use crate::book::{Problem, Severity};

const COLUMNS: &[Column] = &[
    Column::words("file", 22, 40, 1),
    Column::figures("line", 5, 2),
    Column::figures("column", 6, 3),
    Column::words("what is wrong", 24, 200, 0),
];

/// Rows for the one under the cursor, told in full below the list.
const IN_FULL: u16 = 8;

/// The page.
#[derive(Debug)]
pub(super) struct Problems {
    lists: Lists,
    basis: Basis,
}

impl Default for Problems {
    fn default() -> Self {
        Self { lists: Lists::new(1), basis: Basis::default() }
    }
}

impl Problems {
    /// The list, and below it what is told in full.
    fn parts(body: Rect) -> (Rect, Rect) {
        let full = IN_FULL.min(body.height / 2);
        let list = section::above(body, body.height - full);
        (list, section::below(body, list.height + u16::from(full > 4)))
    }

    fn shapes(around: &Around<'_>) -> [Shape<'static>; 1] {
        let height = Self::parts(around.body).0.height.saturating_sub(2);
        [Shape { height, columns: COLUMNS }]
    }

    fn arrange(&mut self, around: &Around<'_>) {
        let list = &mut self.lists.all[0];
        let sieve = list.sieve();
        let problems = around.problems;
        list.arrange(
            problems.len(),
            |row| sieve(&|| format!("{} {}", problems[row].file, words(&problems[row]))),
            |row, column| key(&problems[row], column),
        );
        self.lists.follow(&Self::shapes(around));
    }
}

fn words(problem: &Problem) -> String {
    match problem.severity {
        Severity::Warning => format!("warning: {}", problem.message),
        Severity::Error => problem.message.clone(),
    }
}

fn key(problem: &Problem, column: usize) -> Key {
    let number = |n: usize| Key::number(u32::try_from(n).ok().map(f64::from));
    match column {
        0 => Key::label(problem.file.as_str()),
        1 => number(problem.line),
        2 => number(problem.column),
        _ => Key::label(words(problem)),
    }
}

fn cell(problem: &Problem, column: usize) -> Cell<'_> {
    // Of a file as a whole no line is told.
    let number =
        |n: usize| if problem.line == 0 { Cell::Blank } else { Cell::quiet(n.to_string()) };
    match column {
        0 => Cell::text(problem.file.as_str()),
        1 => number(problem.line),
        2 => number(problem.column),
        _ => Cell::text(words(problem)),
    }
}

/// Tells one in full: where it is, the sentence, and the way out.
fn in_full(window: &mut Canvas<'_>, problem: &Problem) {
    let place = match problem.line {
        0 => problem.file.clone(),
        line => format!("{}, line {line}, column {}", problem.file, problem.column),
    };
    window.say(1, 0, &place, Role::Strong);
    let room = usize::from(window.area().width.saturating_sub(2)).min(110);
    let ellipsis = window.theme().glyphs().ellipsis;
    let mut y = 1;
    for (sentence, role) in [(words(problem), Role::Text), (problem.hint.clone(), Role::Quiet)] {
        for line in text::wrap(&sentence, room, ellipsis) {
            window.say(1, y, &line, role);
            y += 1;
        }
    }
}

impl Page for Problems {
    fn place(&self) -> Place {
        Place::Problems
    }

    fn says(&self, around: &Around<'_>) -> String {
        let n = match around.problems.len() {
            0 => return "Nothing in this book is amiss.".to_owned(),
            1 => "1 thing in this book is amiss".to_owned(),
            n => format!("{} things in this book are amiss", said::grouped(n)),
        };
        said::fitting(
            [
                format!("{n}. What could not be read is left out until it is mended."),
                format!("{n}: where, and the way out."),
                format!("{n}."),
            ],
            around.line_room(),
        )
    }

    fn stand(&self, around: &Around<'_>) -> Stand {
        Stand {
            n_lists: 1,
            sorts: !around.problems.is_empty(),
            filtered: self.lists.current().is_some_and(|list| !list.filter.is_empty()),
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        if self.basis.moved(around, false).is_none() {
            return self.lists.follow(&Self::shapes(around));
        }
        self.arrange(around);
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        match self.lists.take(input, &Self::shapes(around)) {
            Outcome::Step(step) => step,
            Outcome::Arrange(_) => {
                self.arrange(around);
                Step::Taken
            }
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let (list, full) = Self::parts(canvas.area());
        let listing = &self.lists.all[0];
        let n_all = around.problems.len();
        let note = section::note(listing, n_all, COLUMNS, around.glyphs());
        let rest = section::draw(canvas, list, "problems", &note);
        if listing.is_empty() {
            let sentence =
                if n_all == 0 { "There is nothing to mend." } else { "None is like that." };
            return section::instead(canvas, rest, sentence);
        }
        let cell = |row: usize, column: usize| cell(&around.problems[row], column);
        let table = Table { columns: COLUMNS, listing, list: 0, focused: true, cell: &cell };
        table::draw(canvas, rest, &table);
        if let Some(problem) = listing.row().and_then(|row| around.problems.get(row)) {
            in_full(&mut canvas.within(full), problem);
        }
    }
}
