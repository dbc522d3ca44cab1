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
    let x = 3 + NAME + NUMBER + if has_before { NUMBER + 1 } else { 0 };
    let room = rows.area().width.saturating_sub(x);
    let shares: Vec<[String; 2]> =
        evening.steps.iter().map(|step| share(step, room.into(), around)).collect();
    let cells = |[share, of]: &[String; 2]| text::width(share) + text::width(of);
    let widest = shares.iter().map(cells).max().unwrap_or_default();
    let widest = u16::try_from(widest).unwrap_or(u16::MAX);
    let bar = room.saturating_sub(widest.saturating_add(1)).min(24);
    for (y, (step, share)) in (0..rows.area().height).zip(evening.steps.iter().zip(&shares)) {
        number(&mut rows, y, step, has_before);
        if most > 0 {
            let role = if step.along == Along::Kept { Role::Good } else { Role::Quiet };
            bar::draw(&mut rows, x, y, bar, f64::from(step.n) / f64::from(most), role);
        }
        let [share, of] = share;
        let at = x + bar + u16::from(bar > 0);
        rows.pieces(at, y, &[(share, Role::Text), (of, Role::Quiet)]);
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

/// Draws the name of a step and how many reached it.
fn number(canvas: &mut Canvas<'_>, y: u16, step: &Step, has_before: bool) {
    let role = if step.along == Along::Kept { Role::Strong } else { Role::Text };
    canvas.say(2, y, name(step.along), role);
    let x = 1 + NAME + NUMBER;
    canvas.say_right(x, y, &said::grouped(step.n as usize), role);
    if has_before {
        let before = said::grouped(step.before as usize);
        canvas.say_right(x + NUMBER + 1, y, &before, Role::Quiet);
    }
}

/// The share that reached a step, and of what, with what is usual or its range as far as there is
/// room.
fn share(step: &Step, room: usize, around: &Around<'_>) -> [String; 2] {
    let Some(share) = step.share else { return [String::new(), String::new()] };
    let of = match step.along {
        Along::Sown | Along::CameUp | Along::Planted => "sown",
        Along::Opened => "planted",
        Along::Judged => "opened",
        Along::Kept => "judged",
    };
    let said = said::percent(share.p);
    let wordings = match (step.along, step.usual, step.of) {
        (Along::Kept, _, Some(judged)) => {
            let ends = said::ends(&share, around.glyphs());
            vec![format!(" of {of} ({ends})"), format!(" {ends} of {judged}"), format!("  {ends}")]
        }
        (_, Some(usual), _) => {
            vec![format!(" of {of}, usual {:.0}", usual * 100.0), format!(" of {of}")]
        }
        _ => vec![format!(" of {of}")],
    };
    let more = said::fitting(wordings, room.saturating_sub(text::width(&said)));
    [said, more]
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
    let Some(due) = &evening.due else { return remarks };
    let Due { hanging, oldest_days, packets, seeds, oldest_years, .. } = *due;
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
