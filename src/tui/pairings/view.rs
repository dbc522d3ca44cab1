//! How the page and its ranking are drawn.

use ratatui::layout::Rect;

use super::{
    Pairings, RANKING, Record,
    chances::Chances,
    ranking::{self, COLUMNS, Choice, PAIRING, RANGE},
};
use crate::tui::{
    page::Around,
    theme::Role,
    widget::{
        Canvas, range, section,
        table::{self, Cell, Table},
    },
};

/// The part of the ranking for its lines and their heads: below the heading, above the scale.
pub(super) fn list_area(area: Rect) -> Rect {
    let rest = section::below(area, 1);
    Rect { height: rest.height.saturating_sub(1), ..rest }
}

impl Pairings {
    pub(super) fn draw(&self, record: &Record, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        if record.grid.is_empty() {
            let sentence = "No cross has been made yet. `trug import` brings in a spreadsheet of \
                            seedlings or of counts with their parents.";
            return section::instead(canvas, canvas.area(), sentence);
        }
        let layout = self.layout(record, around);
        if !layout.grid.is_empty() {
            self.draw_grid(record, canvas, layout.grid, around);
        }
        if !layout.ranking.is_empty() {
            self.ranking(record, canvas, layout.ranking, around);
        }
    }

    fn ranking(&self, record: &Record, canvas: &mut Canvas<'_>, area: Rect, around: &Around<'_>) {
        let listing = &self.lists.all[RANKING];
        let chances = Chances::of(record, around);
        let n_untried = chances.n_all() - chances.n_made();
        let is_untried = self.choice == Choice::NeverMade;
        let n_all = if is_untried { n_untried } else { record.rows.len() };
        let mut note = section::note(listing, n_all, COLUMNS, around.glyphs());
        if self.choice != Choice::All {
            note = format!("{}, {note}", self.choice.words(around.season));
        }
        let rest = section::draw(canvas, area, "ranking", &note);
        if listing.is_empty() {
            return section::instead(canvas, rest, "None of them is like that.");
        }
        let body = list_area(area);
        let cell = |room: usize| {
            move |at: usize, column: usize| match chances.pair(at) {
                Some(pair) => ranking::cell(around, pair, (self.scales.0, room), column),
                None => Cell::Blank,
            }
        };
        let whole = cell(usize::MAX);
        let focused = !self.on_grid;
        let table = Table { columns: COLUMNS, listing, list: RANKING, focused, cell: &whole };
        let room = table.places(body.width)[PAIRING].map_or(0, |(_, wide)| usize::from(wide));
        let fitted = cell(room);
        let table = Table { cell: &fitted, ..table };
        table::draw(canvas, body, &table);
        let Some((x, wide)) = table.places(rest.width)[RANGE] else { return };
        let head = Rect::new(rest.x + x, rest.y, wide, rest.height.min(1));
        let content = match wide {
            0..13 => "",
            13..28 => "would be kept",
            _ => "a new seedling would be kept",
        };
        canvas.within(head).say(0, 0, content, Role::Quiet);
        let n_lines = u16::try_from(listing.len()).unwrap_or(u16::MAX);
        let y = rest.y + n_lines.saturating_add(1).min(body.height);
        let at = Rect::new(rest.x + x, y, wide, u16::from(rest.height > 1));
        range::draw_scale(canvas, at, self.scales.0);
        section::basis(canvas, Rect { x: rest.x, width: x, ..at }, around);
    }
}
