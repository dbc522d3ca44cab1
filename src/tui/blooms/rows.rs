//! The groups, one line each.

use crate::tui::{
    page::Around,
    said,
    widget::{
        listing::Key,
        table::{Cell, Column},
    },
};
use crate::views::first_bloom::{Line, Of};

pub(super) const COLUMNS: &[Column] = &[
    Column::words("seedlings", 16, 60, 0),
    Column::figures("opened", 12, 1),
    Column::figures("half open", 9, 2),
    Column::figures("range of that", 13, 3),
];

/// Whose the seedlings are.
pub(super) fn name(around: &Around<'_>, of: &Of) -> String {
    let desk = around.desk;
    match of {
        Of::Programme => "all".to_owned(),
        Of::Pairing(at) => said::pairing(desk, *at, around.glyphs()),
        Of::Parent(plant) => format!("of {}", desk.label(*plant)),
        Of::Bed(bed) => format!("in bed {bed}"),
        Of::Cross(cross) => format!("cross {}", desk.book().cross(*cross).code),
    }
}

/// Days as they are said.
fn days(days: f64) -> String {
    format!("{days:.0} days")
}

pub(super) fn cell<'a>(around: &Around<'a>, line: &Line, column: usize) -> Cell<'a> {
    let unknown = || Cell::quiet(around.glyphs().unknown);
    match column {
        0 => Cell::text(name(around, &line.of)),
        1 => Cell::text(said::of(line.bloomed, line.watched)),
        2 => line.half.map_or_else(unknown, |half| Cell::text(days(half))),
        _ => match (line.half, line.half_range) {
            (Some(_), (low, high)) => {
                let end = |end: Option<f64>| end.map_or("?".to_owned(), |end| format!("{end:.0}"));
                Cell::quiet(format!("{}{}{}", end(low), around.glyphs().to, end(high)))
            }
            (None, _) => Cell::Blank,
        },
    }
}

pub(super) fn key(around: &Around<'_>, line: &Line, column: usize) -> Key {
    match column {
        0 => Key::label(name(around, &line.of)),
        1 => Key::count(line.watched),
        2 => Key::number(line.half),
        _ => Key::number(line.half_range.0),
    }
}
