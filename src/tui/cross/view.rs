//! How the page of a cross is drawn.

use super::{Cross, FROM, PLANTS, STORY, facts};
use crate::tui::{
    facts as lines,
    page::Around,
    plants,
    sheet::{draw_diary, draw_links, note, table},
    widget::{Canvas, lists::Lists, section, table},
};
use crate::views::cross::Page as Record;

pub(super) fn draw(
    page: &Cross,
    record: &Record,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    around: &Around<'_>,
) {
    let layout = page.layout(record, around);
    lines::draw(canvas, layout.facts, &facts::of(record, around));

    draw_links::<Cross>(canvas, layout.from, "made of", (lists, FROM), &page.from, around);
    let words = ("packets and heads", "None was written down.");
    draw_diary::<Cross>(canvas, layout.story, words, (lists, STORY), &page.story);

    let note = note::<Cross>(lists, PLANTS, record.plants.len(), around);
    let rest = section::draw(canvas, layout.plants, "its plants", &note);
    if record.plants.is_empty() {
        let sentence = if record.has_totals {
            "Its plants bear no numbers; only how many there were is known."
        } else {
            "No plant of it has a number yet."
        };
        return section::instead(canvas, rest, sentence);
    }
    let cell = |row: usize, column| {
        plants::cell(around, record.plants[row], plants::Beside::FullSib, column)
    };
    table::draw(canvas, rest, &table::<Cross>(lists, PLANTS, &cell));
}
