//! A diary on a page: the date, what happened, and as many lines as that takes.

use super::{
    page::Around,
    theme::Role,
    widget::{
        table::{Cell, Column},
        text,
    },
};
use crate::views::{plant::Line, words};

/// Cells for the date and the blanks around it.
const DATE: u16 = 16;

/// The columns of a diary.
pub(super) const COLUMNS: &[Column] = &[Column::words("", 11, 11, 0), Column::words("", 8, 200, 0)];

/// One line on the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    /// The date, on the first line of an entry.
    date: String,
    text: String,
}

/// The entries, broken to a page `wide` cells wide.
pub(super) fn rows(entries: &[Line], wide: u16, around: &Around<'_>) -> Vec<Row> {
    let dated: Vec<(String, String)> =
        entries.iter().map(|entry| (words::day(entry.on), entry.text.clone())).collect();
    told(&dated, wide, around)
}

/// Entries that are told under a name instead of a date.
pub(super) fn told(entries: &[(String, String)], wide: u16, around: &Around<'_>) -> Vec<Row> {
    let room = usize::from(wide.saturating_sub(DATE).max(8));
    let mut rows = Vec::new();
    for (name, story) in entries {
        let lines = text::wrap(story, room, around.glyphs().ellipsis);
        for (i, text) in lines.into_iter().enumerate() {
            let date = if i == 0 { name.clone() } else { String::new() };
            rows.push(Row { date, text });
        }
    }
    rows
}

/// What stands in a line.
pub(super) fn cell(row: &Row, column: usize) -> Cell<'_> {
    match column {
        0 => Cell::Text(row.date.as_str().into(), Role::Quiet),
        _ => Cell::text(row.text.as_str()),
    }
}

/// The words of a line that a filter looks at.
pub(super) fn letters(row: &Row) -> String {
    format!("{} {}", row.date, row.text)
}
