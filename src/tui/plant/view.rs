//! How a plant's page is drawn.

use ratatui::layout::Rect;

use super::{COLUMNS, DIARY, FROM, OFFSPRING, Plant, SIBS, facts};
use crate::tui::{
    diary, facts as lines, links,
    page::Around,
    plants, said,
    theme::Role,
    widget::{
        Canvas,
        listing::Key,
        section,
        table::{self, Cell, Table},
    },
};
use crate::views::{
    plant::{Offspring, Page as Record},
    sibs::Kin,
};

impl Plant {
    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        let Some(record) = self.coming.here() else {
            canvas.say(1, 0, self.coming.instead(), Role::Quiet);
            return;
        };
        let layout = self.layout(around);
        lines::draw(canvas, layout.facts, &facts::of(record, around));
        self.from(canvas, layout.from, around);
        self.diary(canvas, layout.diary);
        self.offspring(canvas, layout.offspring, record, around);
        self.sibs(canvas, layout.sibs, record, around);
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

    fn from(&self, canvas: &mut Canvas<'_>, area: Rect, around: &Around<'_>) {
        let rest = section::draw(canvas, area, "came from", "");
        let cell = |row: usize, column| links::cell(around, &self.from[row], column);
        let table = self.table(FROM, &cell);
        table::rows(&mut canvas.within(rest), &table, &table.places(rest.width));
        if self.from.is_empty() {
            section::instead(canvas, rest, "Nobody knows its parents.");
        }
    }

    fn diary(&self, canvas: &mut Canvas<'_>, area: Rect) {
        let rest = section::draw(canvas, area, "diary", "");
        let cell = |row: usize, column| diary::cell(&self.diary[row], column);
        let table = self.table(DIARY, &cell);
        table::rows(&mut canvas.within(rest), &table, &table.places(rest.width));
        if self.diary.is_empty() {
            section::instead(canvas, rest, "Nothing has been written down yet.");
        }
    }

    fn offspring(&self, canvas: &mut Canvas<'_>, area: Rect, record: &Record, around: &Around<'_>) {
        if area.is_empty() {
            return;
        }
        let note = self.note(OFFSPRING, record.offspring.len(), around);
        let rest = section::draw(canvas, area, "crosses it was used in", &note);
        let cell = |row: usize, column| offspring_cell(around, &record.offspring[row], column);
        table::draw(canvas, rest, &self.table(OFFSPRING, &cell));
    }

    fn sibs(&self, canvas: &mut Canvas<'_>, area: Rect, record: &Record, around: &Around<'_>) {
        if area.is_empty() || record.sibs.plants.len() <= 1 {
            return;
        }
        let sibs = &record.sibs;
        let counts = sibs.counts;
        let mut note = self.note(SIBS, sibs.plants.len(), around);
        if counts.judged > 0 {
            note = format!("{note}, family kept {}", said::of(counts.kept, counts.judged));
        }
        let rest = section::draw(canvas, area, "side by side with its sibs", &note);
        let cell = |row: usize, column| {
            let member = sibs.plants[row];
            let kin = match member.kin {
                Kin::Itself => "itself",
                Kin::Full => "",
                Kin::Half(_) => "half sib",
            };
            plants::cell(around, member.plant, kin, column)
        };
        table::draw(canvas, rest, &self.table(SIBS, &cell));
    }
}

/// What stands in a line of the crosses a plant was used in.
fn offspring_cell<'a>(around: &Around<'a>, row: &Offspring, column: usize) -> Cell<'a> {
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

/// What such a line is ordered by.
pub(super) fn offspring_key(around: &Around<'_>, row: &Offspring, column: usize) -> Key {
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

/// The words of such a line that a filter looks at.
pub(super) fn offspring_letters(around: &Around<'_>, row: &Offspring) -> String {
    let cross = around.desk.book().cross(row.cross);
    format!("{} {}", cross.code, said::party(around.desk, &row.with, cross.by))
}
