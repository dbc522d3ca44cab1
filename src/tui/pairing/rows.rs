//! The crosses of a pairing, side by side.

use crate::tui::{
    page::Around,
    said,
    widget::{
        listing::Key,
        range::{Scale, Spread},
        table::{Cell, Column},
    },
};
use crate::views::pairing::CrossRow;

pub(super) const CROSSES: &[Column] = &[
    Column::words("cross", 6, 12, 0),
    Column::figures("made", 4, 1),
    Column::words("way round", 9, 9, 7),
    Column::figures("planted", 7, 5),
    Column::figures("opened", 7, 6),
    Column::figures("kept", 9, 1),
    Column::words("", 12, 40, 3),
    Column::figures("share", 12, 2),
];

/// Which column of [`CROSSES`] holds the ranges.
pub(super) const RANGE: usize = 6;
pub(super) const SCALE: Scale = Scale { to: 1.0 };

pub(super) fn cell<'a>(around: &Around<'a>, row: &CrossRow, column: usize) -> Cell<'a> {
    let cross = around.desk.book().cross(row.cross);
    match column {
        0 => Cell::text(&*cross.code),
        1 => Cell::quiet(cross.season.map_or_else(String::new, |season| season.to_string())),
        2 => Cell::quiet(if row.turned { "turned" } else { "" }),
        3 => Cell::count(row.counts.planted),
        4 => Cell::count(row.counts.bloomed),
        5 if row.counts.judged > 0 => Cell::text(said::of(row.counts.kept, row.counts.judged)),
        5 => Cell::quiet(around.glyphs().unknown),
        RANGE => row.rate.map_or(Cell::Blank, |rate| {
            Cell::Range(Spread { at: rate.p, low: rate.low, high: rate.high }, SCALE)
        }),
        _ => row.rate.map_or(Cell::Blank, |rate| said::share_cell(&rate, around.glyphs())),
    }
}

pub(super) fn key(around: &Around<'_>, row: &CrossRow, column: usize) -> Key {
    let cross = around.desk.book().cross(row.cross);
    match column {
        0 => Key::label(&*cross.code),
        1 => Key::number(cross.season.map(|season| season.0.into())),
        2 => Key::count(u8::from(row.turned)),
        3 => Key::count(row.counts.planted),
        4 => Key::count(row.counts.bloomed),
        5 => Key::number((row.counts.judged > 0).then_some(row.counts.kept.into())),
        _ => Key::number(row.rate.map(|rate| rate.p)),
    }
}

pub(super) fn letters(around: &Around<'_>, row: &CrossRow) -> String {
    let cross = around.desk.book().cross(row.cross);
    let season = cross.season.map_or_else(String::new, |season| season.to_string());
    format!("{} {season}", cross.code)
}
