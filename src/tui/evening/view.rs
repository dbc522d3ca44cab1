//! How the evening is drawn.

use ratatui::layout::Rect;

use super::{BEFORE, COLUMNS, KEEPERS, PAIRINGS, Review, WAITING, rows, way};
use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{
        Canvas, range, section,
        table::{self, Cell, Table},
    },
};
use crate::views::evening::Evening;

impl Review {
    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let Some(evening) = self.coming.here() else {
            canvas.say(1, 0, self.coming.instead(), Role::Quiet);
            return;
        };
        let layout = self.layout(around);
        way::draw(canvas, layout.way, evening, around);
        self.waiting(canvas, layout.waiting, evening, around);
        self.keepers(canvas, layout.keepers, evening, around);
        self.pairings(canvas, (layout.pairings, PAIRINGS), evening, around);
        if !layout.before.is_empty() {
            self.pairings(canvas, (layout.before, BEFORE), evening, around);
        }
    }

    fn note(&self, list: usize, n_all: usize, around: &Around<'_>) -> String {
        section::note(&self.lists.all[list], n_all, COLUMNS[list], around.glyphs())
    }

    fn table<'a>(&'a self, list: usize, cell: &'a dyn Fn(usize, usize) -> Cell<'a>) -> Table<'a> {
        Table {
            columns: COLUMNS[list],
            listing: &self.lists.all[list],
            list,
            focused: self.lists.at == list,
            cell,
        }
    }

    fn waiting(&self, canvas: &mut Canvas<'_>, area: Rect, evening: &Evening, around: &Around<'_>) {
        let note = self.note(WAITING, evening.waiting.len(), around);
        let rest = section::draw(canvas, area, "waiting for a word from you", &note);
        if evening.waiting.is_empty() {
            let sentence = "Every plant of this season has had its word.";
            return section::instead(canvas, rest, sentence);
        }
        let cell = |row: usize, column| rows::waiting(around, evening.waiting[row], column);
        let table = self.table(WAITING, &cell);
        table::rows(&mut canvas.within(rest), &table, &table.places(rest.width));
    }

    fn keepers(&self, canvas: &mut Canvas<'_>, area: Rect, evening: &Evening, around: &Around<'_>) {
        let note = self.note(KEEPERS, evening.keepers.len(), around);
        let heading = format!("keepers of {}", evening.season);
        let rest = section::draw(canvas, area, &heading, &note);
        if evening.keepers.is_empty() {
            let sentence = "No numbered plant that first opened in this season was kept.";
            return section::instead(canvas, rest, sentence);
        }
        let cell = |row: usize, column| rows::keeper(around, evening.keepers[row], column);
        let table = self.table(KEEPERS, &cell);
        table::rows(&mut canvas.within(rest), &table, &table.places(rest.width));
    }

    fn pairings(
        &self,
        canvas: &mut Canvas<'_>,
        (area, list): (Rect, usize),
        evening: &Evening,
        around: &Around<'_>,
    ) {
        let behind = rows::behind(evening, list);
        let (heading, note) = self.heading(list, evening, around);
        let rest = section::draw(canvas, area, &heading, &note);
        if behind.is_empty() {
            let sentence = "No keepers in this season, so no pairing stands behind them.";
            return section::instead(canvas, rest, sentence);
        }
        let scale = rows::scale(behind);
        let cell = |row: usize, column| rows::pairing(around, &behind[row], scale, column);
        let table = self.table(list, &cell);
        let body = Rect { height: rest.height.saturating_sub(1), ..rest };
        table::draw(canvas, body, &table);
        if let Some((x, wide)) = table.places(rest.width)[rows::RANGE] {
            let head = Rect::new(rest.x + x, rest.y, wide, rest.height.min(1));
            let content = match wide {
                0..13 => "",
                13..28 => "would be kept",
                _ => "a new seedling would be kept",
            };
            canvas.within(head).say(0, 0, content, Role::Quiet);
            let y = rest.y + body.height.min(1 + self.n_seen(list, body.height));
            let at = Rect::new(rest.x + x, y, wide, u16::from(rest.height > 1));
            range::draw_scale(canvas, at, scale);
        }
    }

    /// The heading of a list of pairings, and beside it the best pairing of the season before,
    /// unless that season has a list of its own on the page.
    fn heading(&self, list: usize, evening: &Evening, around: &Around<'_>) -> (String, String) {
        let before = evening.season.before();
        let note = self.note(list, rows::behind(evening, list).len(), around);
        if list == BEFORE {
            return (format!("behind the keepers of {before}"), note);
        }
        let heading = format!("pairings behind the keepers of {}", evening.season);
        let best = evening.behind_before.first();
        let note = match best.filter(|_| self.layout(around).before.is_empty()) {
            Some(best) => {
                let name = said::pairing(around.desk, best.pairing, around.glyphs());
                format!("in {before} {name}, {}", said::of(best.kept, best.judged))
            }
            None => note,
        };
        (heading, note)
    }

    fn n_seen(&self, list: usize, height: u16) -> u16 {
        let n = u16::try_from(self.lists.all[list].len()).unwrap_or(u16::MAX);
        n.min(height.saturating_sub(1))
    }
}
