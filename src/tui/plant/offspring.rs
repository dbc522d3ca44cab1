//! The crosses a plant was used in.

use crate::tui::{
    page::Around,
    said,
    widget::{
        listing::Key,
        table::{Cell, Column},
    },
};
use crate::views::plant::Offspring;

pub(super) const COLUMNS: &[Column] = &[
    Column::words("cross", 6, 10, 0),
    Column::figures("made", 4, 3),
    Column::words("as", 7, 7, 2),
    Column::words("with", 9, 40, 1),
    Column::figures("kept", 9, 1),
];

/// What stands in a line.
pub(super) fn cell<'a>(around: &Around<'a>, row: &Offspring, column: usize) -> Cell<'a> {
    let desk = around.desk;
    let cross = desk.book().cross(row.cross);
    let counts = desk.counts(row.cross);
    match column {
        0 => Cell::text(&*cross.code),
        1 => Cell::quiet(cross.season.map_or_else(String::new, |season| season.to_string())),
        2 => Cell::quiet(match (row.bore_seed, row.perhaps) {
            (true, false) => "seed",
            (false, false) => "pollen",
            (true, true) => "seed?",
            (false, true) => "pollen?",
        }),
        3 => Cell::text(said::party(desk, &row.with, cross.by)),
        _ if counts.judged > 0 => Cell::text(said::of(counts.kept, counts.judged)),
        _ => Cell::quiet(around.glyphs().unknown),
    }
}

/// What a line is ordered by.
pub(super) fn key(around: &Around<'_>, row: &Offspring, column: usize) -> Key {
    let cross = around.desk.book().cross(row.cross);
    let counts = around.desk.counts(row.cross);
    match column {
        0 => Key::label(&*cross.code),
        1 => Key::number(cross.season.map(|season| season.0.into())),
        2 => Key::label(if row.bore_seed { "seed" } else { "pollen" }),
        3 => Key::label(said::party(around.desk, &row.with, cross.by)),
        _ => Key::number((counts.judged > 0).then_some(counts.kept.into())),
    }
}

/// The words of a line that a filter looks at.
pub(super) fn letters(around: &Around<'_>, row: &Offspring) -> String {
    let cross = around.desk.book().cross(row.cross);
    format!("{} {}", cross.code, said::party(around.desk, &row.with, cross.by))
}
