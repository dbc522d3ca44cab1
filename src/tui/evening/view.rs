//! How the evening is drawn.

use ratatui::layout::Rect;

use super::{BEFORE, DUE, KEEPERS, PAIRINGS, Review, WAITING, layout, rows, way};
use crate::tui::{
    page::Around,
    said,
    sheet::{note, table},
    theme::Role,
    widget::{Canvas, lists::Lists, range, section, table, text},
};
use crate::views::evening::Evening;

pub(super) fn draw(
    page: &Review,
    evening: &Evening,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    around: &Around<'_>,
) {
    let layout = layout(lists, around);
    due(evening, lists, canvas, layout.due, around);
    way::draw(canvas, layout.way, evening, around);
    waiting(evening, lists, canvas, layout.waiting, around);
    keepers(evening, lists, canvas, layout.keepers, around);
    pairings((page, evening, PAIRINGS), lists, canvas, layout.pairings, around);
    if !layout.before.is_empty() {
        pairings((page, evening, BEFORE), lists, canvas, layout.before, around);
    }
}

fn due(evening: &Evening, lists: &Lists, canvas: &mut Canvas<'_>, area: Rect, around: &Around<'_>) {
    let tasks = rows::tasks(evening);
    if tasks.is_empty() || area.is_empty() {
        return;
    }
    let rest = section::draw(canvas, area, "due", &note::<Review>(lists, DUE, tasks.len(), around));
    let cell = |row: usize, column| rows::task(around, &tasks[row], column);
    table::bare(canvas, rest, &table::<Review>(lists, DUE, &cell));
}

fn waiting(
    evening: &Evening,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    area: Rect,
    around: &Around<'_>,
) {
    let note = note::<Review>(lists, WAITING, evening.waiting.len(), around);
    let rest = section::draw(canvas, area, "waits for you", &note);
    if evening.waiting.is_empty() {
        return section::instead(canvas, rest, "Every plant has had its word.");
    }
    let cell = |row: usize, column| rows::waiting(around, evening.waiting[row], column);
    table::bare(canvas, rest, &table::<Review>(lists, WAITING, &cell));
}

fn keepers(
    evening: &Evening,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    area: Rect,
    around: &Around<'_>,
) {
    let mut note = note::<Review>(lists, KEEPERS, evening.keepers.len(), around);
    if evening.older_keepers > 0 {
        note = format!("{note}, {} planted earlier", evening.older_keepers);
    }
    let heading = format!("keepers of {}", evening.season);
    let rest = section::draw(canvas, area, &heading, &note);
    if evening.keepers.is_empty() {
        let sentence = "No plant that opened first in it was kept.";
        return section::instead(canvas, rest, sentence);
    }
    let cell = |row: usize, column| rows::keeper(around, evening.keepers[row], column);
    table::bare(canvas, rest, &table::<Review>(lists, KEEPERS, &cell));
}

fn pairings(
    (page, evening, list): (&Review, &Evening, usize),
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    area: Rect,
    around: &Around<'_>,
) {
    let behind = rows::behind(evening, list);
    let (heading, note) = heading(evening, list, lists, around);
    let rest = section::draw(canvas, area, &heading, &note);
    if behind.is_empty() {
        let sentence = "No keepers in this season, so no pairing stands behind them.";
        return section::instead(canvas, rest, sentence);
    }
    let scale = page.scales[list - PAIRINGS];
    let cell = |row: usize, column| rows::pairing(around, &behind[row], scale, column);
    let table = table::<Review>(lists, list, &cell);
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
        let n_lines = u16::try_from(lists.all[list].len()).unwrap_or(u16::MAX);
        let y = rest.y + n_lines.saturating_add(1).min(body.height);
        let at = Rect::new(rest.x + x, y, wide, u16::from(rest.height > 1));
        range::draw_scale(canvas, at, scale);
        let basis = Rect { x: rest.x, width: x, ..at };
        section::basis(canvas, basis, around);
    }
}

/// The heading of a list of pairings, and beside it the best pairing of the season before,
/// unless that season has a list of its own on the page.
fn heading(evening: &Evening, list: usize, lists: &Lists, around: &Around<'_>) -> (String, String) {
    let before = evening.season.before();
    let note = note::<Review>(lists, list, rows::behind(evening, list).len(), around);
    if list == BEFORE {
        return (format!("behind the keepers of {before}"), note);
    }
    let heading = format!("behind the keepers of {}", evening.season);
    let best = evening.behind_before.first();
    let note = match best.filter(|_| layout(lists, around).before.is_empty()) {
        Some(best) => {
            let name = said::pairing(around.desk, best.pairing, around.glyphs());
            let kept = said::of(best.kept, best.judged);
            let room = usize::from(around.body.width).saturating_sub(text::width(&heading) + 4);
            said::fitting(
                [
                    format!("in {before} most came from {name}: {kept} kept"),
                    format!("most in {before}: {name}, {kept}"),
                ],
                room,
            )
        }
        None => note,
    };
    (heading, note)
}
