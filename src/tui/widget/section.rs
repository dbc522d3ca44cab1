//! A heading with a note at its right, and the room below it.

use ratatui::layout::Rect;

use super::{
    Canvas,
    listing::Listing,
    table::{Column, MARGIN},
    text,
};
use crate::tui::{glyphs::Glyphs, page::Around, said, theme::Role};

/// Draws a heading in the first row of `area`. Returns the rest.
pub fn draw(canvas: &mut Canvas<'_>, area: Rect, heading: &str, note: &str) -> Rect {
    let mut window = canvas.within(area);
    let wide = window.area().width;
    let style = window.theme().style(Role::Accent);
    let end = window.put(1, 0, usize::from(wide.saturating_sub(2)), heading, style);
    let note_room = usize::from(wide.saturating_sub(end + 3));
    if text::width(note) <= note_room {
        window.say(end + 2, 0, note, Role::Quiet);
    }
    below(area, 1)
}

/// The room below the first `rows` rows.
pub fn below(area: Rect, rows: u16) -> Rect {
    let rows = rows.min(area.height);
    Rect { y: area.y + rows, height: area.height - rows, ..area }
}

/// The first `rows` rows.
pub fn above(area: Rect, rows: u16) -> Rect {
    Rect { height: rows.min(area.height), ..area }
}

/// Divides an area into a left part of `wide` cells and a right part, with a gap between.
pub fn beside(area: Rect, wide: u16, gap: u16) -> (Rect, Rect) {
    let wide = wide.min(area.width);
    let from = wide.saturating_add(gap).min(area.width);
    let left = Rect { width: wide, ..area };
    (left, Rect { x: area.x + from, width: area.width - from, ..area })
}

/// What there is to say of a list beside its heading: how many rows, in which order, which of
/// them.
pub fn note(listing: &Listing, n_all: usize, columns: &[Column], glyphs: &Glyphs) -> String {
    let mut parts = vec![if listing.len() == n_all {
        said::grouped(n_all)
    } else {
        format!("{} of {}", said::grouped(listing.len()), said::grouped(n_all))
    }];
    if !listing.filter.is_empty() {
        parts.push(format!("with \"{}\"", listing.filter));
    }
    if let Some((by, falling)) = listing.sorted
        && let Some(column) = columns.get(by)
    {
        let sign = if falling { glyphs.falling } else { glyphs.rising };
        parts.push(format!("by {}{sign}", column.head));
    }
    parts.join(", ")
}

/// Says in the one row of `area` what the chances above it rest on.
pub fn basis(canvas: &mut Canvas<'_>, area: Rect, around: &Around<'_>) {
    let room = usize::from(area.width.saturating_sub(MARGIN + 2));
    let words = said::fitting(around.forecasts().basis(&around.weighing.come()), room);
    if text::width(&words) <= room {
        canvas.within(area).say(MARGIN, 0, &words, Role::Quiet);
    }
}

/// Draws a sentence where a list would be, if it has no rows.
pub fn instead(canvas: &mut Canvas<'_>, area: Rect, sentence: &str) {
    let mut window = canvas.within(area);
    let room = usize::from(window.area().width.saturating_sub(3));
    let ellipsis = window.theme().glyphs().ellipsis;
    for (y, line) in (0..window.area().height).zip(text::wrap(sentence, room, ellipsis)) {
        window.say(2, y, &line, Role::Quiet);
    }
}
