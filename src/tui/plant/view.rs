//! How a plant's page is drawn.

use super::{DIARY, FROM, OFFSPRING, Plant, SIBS, facts, offspring};
use crate::tui::{
    facts as lines,
    page::Around,
    plants, said,
    sheet::{draw_diary, draw_links, note, table},
    widget::{Canvas, lists::Lists, section, table},
};
use crate::views::{plant::Page as Record, sibs::Kin};

pub(super) fn draw(
    page: &Plant,
    record: &Record,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    around: &Around<'_>,
) {
    let layout = page.layout(record, around);
    lines::draw(canvas, layout.facts, &facts::of(record, around));

    draw_links::<Plant>(canvas, layout.from, "came from", (lists, FROM), &page.from, around);
    let words = ("diary", "Nothing has been written down yet.");
    draw_diary::<Plant>(canvas, layout.diary, words, (lists, DIARY), &page.diary);

    if !layout.offspring.is_empty() {
        let note = note::<Plant>(lists, OFFSPRING, record.offspring.len(), around);
        let rest = section::draw(canvas, layout.offspring, "crosses it was used in", &note);
        let cell = |row: usize, column| offspring::cell(around, &record.offspring[row], column);
        table::draw(canvas, rest, &table::<Plant>(lists, OFFSPRING, &cell));
    }
    if !layout.sibs.is_empty() {
        sibs(record, lists, &mut canvas.within(layout.sibs), around);
    }
}

fn sibs(record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let sibs = &record.sibs;
    let counts = sibs.counts;
    let mut note = note::<Plant>(lists, SIBS, sibs.plants.len(), around);
    if counts.judged > 0 {
        note = format!("{note}, family kept {}", said::of(counts.kept, counts.judged));
    }
    let rest = section::draw(canvas, canvas.area(), "side by side with its sibs", &note);
    let cell = |row: usize, column| {
        let member = sibs.plants[row];
        let kin = match member.kin {
            Kin::Itself => plants::Beside::Itself,
            Kin::Full => plants::Beside::FullSib,
            Kin::Half(_) => plants::Beside::HalfSib,
        };
        plants::cell(around, member.plant, kin, column)
    };
    table::draw(canvas, rest, &table::<Plant>(lists, SIBS, &cell));
}
