//! The way of a year's seed from sowing to keepers, the heads of the year, and what is due.

use ratatui::layout::Rect;

use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{Canvas, bar, section, text},
};
use crate::views::{
    crosses::Heads,
    evening::{Along, Due, Evening, Step},
    words,
};

/// Cells for the name of a step, and for its number.
const NAME: u16 = 11;
const NUMBER: u16 = 6;

pub(super) fn draw(canvas: &mut Canvas<'_>, area: Rect, evening: &Evening, around: &Around<'_>) {
    let heading = format!("the seed of {}", evening.season);
    let mut window = canvas.within(area);
    let has_before = area.width >= 44;
    let rest = section::draw(&mut window, area, &heading, "");
    if has_before {
        let before = evening.season.before().to_string();
        window.say_right(1 + NAME + 2 * NUMBER + 1, 0, &before, Role::Quiet);
    }
    let mut rows = window.within(rest);
    let most = evening.steps.iter().map(|step| step.n).max().unwrap_or_default();
    for (y, step) in (0..rows.area().height).zip(&evening.steps) {
        draw_step(&mut rows, y, step, most, has_before, around);
    }
    let below = section::below(rest, u16::try_from(evening.steps.len()).unwrap_or(u16::MAX));
    let spare = below.height > 3;
    let mut lines = window.within(section::below(below, u16::from(spare)));
    for (y, remark) in (0..lines.area().height).zip(&remarks(evening)) {
        lines.say(2, y, remark.name, Role::Text);
        let mut x = 1 + NAME + NUMBER;
        lines.say_right(x, y, &said::grouped(remark.n as usize), Role::Text);
        x += if has_before { NUMBER + 3 } else { 2 };
        let room = usize::from(lines.area().width.saturating_sub(x));
        let fits = remark.said.iter().find(|said| text::width(said) <= room);
        if let Some(said) = fits.or(remark.said.last()) {
            lines.say(x, y, said, Role::Quiet);
        }
    }
}

fn name(along: Along) -> &'static str {
    match along {
        Along::Sown => "seed sown",
        Along::CameUp => "came up",
        Along::Planted => "planted",
        Along::Opened => "opened",
        Along::Judged => "judged",
        Along::Kept => "kept",
    }
}

fn draw_step(
    canvas: &mut Canvas<'_>,
    y: u16,
    step: &Step,
    most: u32,
    has_before: bool,
    around: &Around<'_>,
) {
    let wide = canvas.area().width;
    let role = if step.along == Along::Kept { Role::Strong } else { Role::Text };
    canvas.say(2, y, name(step.along), role);
    let mut x = 1 + NAME + NUMBER;
    canvas.say_right(x, y, &said::grouped(step.n as usize), role);
    if has_before {
        x += NUMBER + 1;
        canvas.say_right(x, y, &said::grouped(step.before as usize), Role::Quiet);
    }
    let x = x + 2;
    let said = share(step, around);
    let room = wide.saturating_sub(x);
    let share_wide = 16.min(room);
    let bar_wide = room.saturating_sub(share_wide + 1).min(24);
    if most > 0 {
        let role = if step.along == Along::Kept { Role::Good } else { Role::Quiet };
        bar::draw(canvas, x, y, bar_wide, f64::from(step.n) / f64::from(most), role);
    }
    let mut at = x + bar_wide + u16::from(bar_wide > 0);
    for (content, role) in said {
        at = canvas.say(at, y, &content, role);
    }
}

/// The share that reached a step, and what is usual.
fn share(step: &Step, around: &Around<'_>) -> Vec<(String, Role)> {
    let Some(share) = step.share else { return Vec::new() };
    let mut said = vec![(said::percent(share.p), Role::Text)];
    match (step.along, step.usual, step.of) {
        (Along::Kept, ..) => {
            said.push((format!("  {}", said::ends(&share, around.glyphs())), Role::Quiet));
        }
        (_, Some(usual), _) => said.push((format!(" usual {:.0}", usual * 100.0), Role::Quiet)),
        (..) => {}
    }
    said
}

/// A number beside the way of the seed, with a remark from the longest to the shortest.
#[derive(Debug)]
struct Remark {
    name: &'static str,
    n: u32,
    said: Vec<String>,
}

/// What there is to say of the heads of the season, of those still hanging, and of the tin.
fn remarks(evening: &Evening) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let Heads { pollinated, hanging, rotted, lost, ripe, empty, seeds } = evening.heads;
    if pollinated > 0 {
        let spoilt = rotted + lost + empty;
        let all = format!("{ripe} ripe, {hanging} hanging, {spoilt} came to nothing");
        remarks.push(Remark {
            name: "heads made",
            n: pollinated,
            said: vec![
                format!("{all}, {}", words::many(seeds, "seed")),
                all,
                format!("{ripe} ripe, {hanging} hanging"),
                format!("{ripe} ripe"),
            ],
        });
    }
    let Some(Due { hanging, oldest_days, packets, seeds, oldest_years }) = evening.due else {
        return remarks;
    };
    if hanging > 0 {
        let oldest = oldest_days.map(|days| format!("oldest {}", words::many(days, "day")));
        remarks.push(Remark { name: "hanging", n: hanging, said: oldest.into_iter().collect() });
    }
    if packets > 0 {
        let seeds = words::many(seeds, "seed");
        let years = oldest_years.filter(|years| *years > 0);
        let oldest = years.map(|years| {
            format!("packets, {seeds}, the oldest {}", words::many(years.into(), "year"))
        });
        let said = oldest.into_iter().chain([format!("packets, {seeds}"), seeds]).collect();
        remarks.push(Remark { name: "in the tin", n: packets, said });
    }
    remarks
}
