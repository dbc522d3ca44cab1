//! How the page of first blooms is drawn.

use chrono::NaiveDate;
use ratatui::layout::Rect;

use super::{Blooms, GROUPS, Layout, rows};
use crate::tui::{
    page::Around,
    said,
    sheet::{note, table},
    theme::Role,
    widget::{
        Canvas,
        curve::{self, Plot},
        lists::Lists,
        section, table,
    },
};
use crate::views::{first_bloom::Line, waits::Page as Record, words};

/// Cells for the scale at the left.
const SCALE: u16 = 7;
/// Cells from one date on the axis to the next, at least.
const BETWEEN_DATES: u16 = 12;

pub(super) fn draw(record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let layout = Layout::of(around);
    if record.programme.bloomed == 0 {
        let none = "No first bloom of a plant whose day of planting is known is in this book yet.";
        section::instead(canvas, layout.curve, none);
    } else {
        let row = lists.all[GROUPS].row();
        let line = row.and_then(|row| record.groups.get(row)).unwrap_or(&record.programme);
        chart(record, line, &mut canvas.within(layout.curve), around);
    }
    if !layout.held_over.is_empty() {
        let mut window = canvas.within(layout.held_over);
        let chance = record.held_over_kept;
        let ends = said::ends(&chance, around.glyphs());
        let share = said::percent(chance.p);
        let own = said::of(record.held_over.kept, record.held_over.n);
        let wordings = [
            format!(
                "never in flower in their first season and held over: {share} kept ({ends}), here {own}"
            ),
            format!("no bloom, held over: {share} kept ({ends}), here {own}"),
            format!("held over: {share} kept ({ends})"),
        ];
        window.say(2, 0, &said::fitting(wordings, around.line_room()), Role::Text);
    }
    let shown = note::<Blooms>(lists, GROUPS, record.groups.len(), around);
    let rest = section::draw(canvas, layout.groups, "whose seedlings", &shown);
    if record.groups.is_empty() {
        return section::instead(canvas, rest, "No group of plants was watched yet.");
    }
    let cell = |row: usize, column| rows::cell(around, &record.groups[row], column);
    table::draw(canvas, rest, &table::<Blooms>(lists, GROUPS, &cell));
}

/// The curve of one group beside that of all plants, with what each rests on.
fn chart(record: &Record, line: &Line, canvas: &mut Canvas<'_>, around: &Around<'_>) {
    let area = canvas.area();
    let heading = "in bloom by";
    let planted = line.planted.or(record.programme.planted);
    let usual = planted.and_then(|planted| date(f64::from(planted)));
    let note = usual.map_or_else(String::new, |day| format!("planted about {day}"));
    let rest = section::draw(canvas, area, heading, &note);
    let is_all = line.of == record.programme.of;
    let signs = signs(canvas);
    let (mut y, wide) = (0, rest.width);
    let told = [(signs[0], line), (signs[1], &record.programme)];
    for (sign, line) in told.into_iter().take(if is_all { 1 } else { 2 }) {
        let mut row = canvas.within(Rect { y: rest.y + y, height: 1, ..rest });
        let x = row.say(2, 0, sign, Role::Accent);
        let room = usize::from(wide.saturating_sub(x + 2));
        row.say(x + 1, 0, &tells(line, room, around), Role::Text);
        y += 1;
    }
    let plot_area = section::below(rest, y);
    if plot_area.height < 3 || plot_area.width < SCALE + 10 {
        return;
    }
    let (plot, axis) = (
        section::above(plot_area, plot_area.height - 1),
        section::below(plot_area, plot_area.height - 1),
    );
    for (share, y) in [("100 %", 0), ("50 %", (plot.height - 1) / 2), ("0 %", plot.height - 1)] {
        if y == 0 || y == plot.height - 1 || plot.height >= 5 {
            let mut row = canvas.within(Rect { y: plot.y + y, height: 1, ..plot });
            row.say_right(SCALE - 1, 0, share, Role::Quiet);
        }
    }
    let plot = Rect { x: plot.x + SCALE, width: plot.width - SCALE - 1, ..plot };
    let scale = scale(&record.programme);
    let beside = |day: f64| record.programme.in_bloom(day).map(|(share, _)| share);
    let nothing = |_: f64| None;
    let curve = |day: f64| line.in_bloom(day);
    curve::draw(
        canvas,
        plot,
        &Plot { scale, curve: &curve, beside: if is_all { &nothing } else { &beside } },
    );
    let axis = Rect { x: plot.x, width: plot.width, ..axis };
    dates(canvas, axis, scale, planted.map(f64::from));
}

/// The sign of the curve, and that of the one beside it.
fn signs(canvas: &Canvas<'_>) -> [&'static str; 2] {
    if canvas.theme().is_ascii() { ["***", ". ."] } else { ["⠒⠒⠒", "⠂⠐ "] }
}

/// A group in a line: how many opened, and when half of them had.
fn tells(line: &Line, room: usize, around: &Around<'_>) -> String {
    let name = rows::name(around, &line.of);
    if line.watched == 0 {
        return format!("{name}: none was watched yet");
    }
    let opened = format!("{} opened", said::of(line.bloomed, line.watched));
    let on = |days: f64| line.on(days).and_then(date);
    let half = line.half.and_then(on);
    let (low, high) = line.half_range;
    let ends = [low, high].map(|end| end.and_then(on).unwrap_or_else(|| "?".to_owned()));
    let wordings = match half {
        Some(half) => vec![
            format!(
                "{name}: {opened}, half by {half} ({} {} {})",
                ends[0],
                around.glyphs().to,
                ends[1]
            ),
            format!("{name}: {opened}, half by {half}"),
            format!("{name}: {opened}"),
        ],
        None => vec![format!("{name}: {opened}, never half of them"), format!("{name}: {opened}")],
    };
    said::fitting(wordings, room)
}

/// The days from planting that are drawn: from a week before the first bloom to the last day on
/// which anybody watched.
fn scale(all: &Line) -> (f64, f64) {
    let from = all.steps.first().map_or(0.0, |step| (step.day - 7.0).max(0.0));
    let to = all.last.unwrap_or(from);
    (from, to.max(from + 14.0))
}

/// Writes dates below the axis, as many as there is room for.
fn dates(canvas: &mut Canvas<'_>, area: Rect, (from, to): (f64, f64), planted: Option<f64>) {
    let mut canvas = canvas.within(area);
    let n = canvas.area().width / BETWEEN_DATES;
    for i in 0..n {
        let x = i * BETWEEN_DATES;
        let share = f64::from(x) / f64::from(canvas.area().width.max(1));
        let day = from + (to - from) * share;
        let said = match planted.and_then(|planted| date(planted + day)) {
            Some(date) => date,
            None => words::many(whole(day), "day"),
        };
        canvas.put(x, 0, usize::from(BETWEEN_DATES - 1), &said, canvas.theme().style(Role::Quiet));
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "days of one season")]
fn whole(days: f64) -> u32 {
    days.round().clamp(0.0, 1000.0) as u32
}

/// A day of the year as a date: `14 Sep`.
fn date(day_of_year: f64) -> Option<String> {
    // Any year that is no leap year.
    let first = NaiveDate::from_ymd_opt(2026, 1, 1)?;
    let day = first.checked_add_days(chrono::Days::new(whole(day_of_year - 1.0).into()))?;
    Some(day.format("%-d %b").to_string())
}
