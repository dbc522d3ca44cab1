//! How the page of a parent is drawn.

use ratatui::layout::Rect;

use super::{FAMILIES, KIN, OFFSPRING, PARTNERS, Parent, TRAITS, rows};
use crate::tui::{
    facts as lines,
    page::Around,
    plants,
    sheet::{note, table},
    widget::{Canvas, lists::Lists, range, section, table},
};
use crate::views::parent::Page as Record;

pub(super) fn draw(
    page: &Parent,
    record: &Record,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    around: &Around<'_>,
) {
    let layout = page.layout(record, around);
    lines::draw(canvas, layout.facts, &rows::facts(record, &page.slow, around));
    if record.row.is_none() {
        let area = section::below(around.body, 1);
        return section::instead(canvas, area, "No cross of this book names it as a parent.");
    }
    let parts: [(usize, &str, &str); 5] = [
        (PARTNERS, "its partners, the best first", "Nothing of it has been judged yet."),
        (KIN, "parents near of kin to it", "No parent is known to be of its kin."),
        (TRAITS, "what its seedlings are, with an average partner", "Nothing was measured yet."),
        (FAMILIES, "its families beside their parents", "Not enough records yet."),
        (OFFSPRING, "its offspring, named or parents", "None is named or a parent yet."),
    ];
    for (list, heading, nothing) in parts {
        let area = layout.lists[list];
        if area.is_empty() {
            continue;
        }
        let n = super::Sheet::n_rows(page, record, list);
        let shown = if n == 0 { String::new() } else { note::<Parent>(lists, list, n, around) };
        let rest = section::draw(canvas, area, heading, &shown);
        if n == 0 {
            let waits = page.slow.instead().filter(|_| matches!(list, TRAITS | FAMILIES));
            section::instead(canvas, rest, waits.unwrap_or(nothing));
            continue;
        }
        let cell = |row: usize, column| match list {
            PARTNERS => rows::partner_cell(around, record, row, column),
            KIN => rows::kin_cell(around, &record.kin[row], column),
            TRAITS => rows::trait_cell(around, &page.slow.traits()[row], column),
            FAMILIES => rows::family_cell(around, record, &page.slow.families()[row], column),
            _ => plants::cell(around, page.offspring[row], plants::Beside::FullSib, column),
        };
        let drawn = table::<Parent>(lists, list, &cell);
        table::draw(canvas, rest, &drawn);
        if list == PARTNERS
            && let Some((x, wide)) = drawn.places(rest.width)[rows::RANGE]
        {
            let head = Rect::new(rest.x + x, rest.y, wide, rest.height.min(1));
            range::draw_scale(canvas, head, rows::SCALE);
        }
    }
}
