//! How the page of a pairing is drawn.

use ratatui::layout::Rect;

use super::{CROSSES, FROM, KEEPERS, Pairing, rows};
use crate::tui::{
    facts,
    page::Around,
    plants, said,
    sheet::{draw_links, note, table},
    theme::Role,
    weighing::Standing,
    widget::{
        Canvas,
        lists::Lists,
        range::{self, Scale, Spread},
        section, table,
    },
};
use crate::views::{Interval, pairing::Page as Record};

/// Cells for the name of a range and for its figures.
const NAME: u16 = 14;
const FIGURES: u16 = 14;

pub(super) fn draw(
    page: &Pairing,
    record: &Record,
    lists: &Lists,
    canvas: &mut Canvas<'_>,
    around: &Around<'_>,
) {
    let layout = page.layout(record, around);
    let used = ranges(page, record, &mut canvas.within(layout.record), around);
    facts::draw(canvas, section::below(layout.record, used), &page.facts);

    draw_links::<Pairing>(canvas, layout.from, "parents", (lists, FROM), &page.from, around);

    let shown = note::<Pairing>(lists, CROSSES, record.crosses.len(), around);
    let rest = section::draw(canvas, layout.crosses, "its crosses", &shown);
    if record.crosses.is_empty() {
        section::instead(canvas, rest, "No cross of the two has been made.");
        return;
    }
    let cell = |row: usize, column| rows::cell(around, &record.crosses[row], column);
    let crosses = table::<Pairing>(lists, CROSSES, &cell);
    table::draw(canvas, rest, &crosses);
    if let Some((x, wide)) = crosses.places(rest.width)[rows::RANGE] {
        let head = Rect::new(rest.x + x, rest.y, wide, rest.height.min(1));
        range::draw_scale(canvas, head, rows::SCALE);
    }

    let shown = note::<Pairing>(lists, KEEPERS, record.keepers.len(), around);
    let rest = section::draw(canvas, layout.keepers, "its keepers, still kept", &shown);
    if record.keepers.is_empty() {
        return section::instead(canvas, rest, "No plant of it is kept today.");
    }
    let cell = |row: usize, column| {
        plants::cell(around, record.keepers[row], plants::Beside::FullSib, column)
    };
    table::draw(canvas, rest, &table::<Pairing>(lists, KEEPERS, &cell));
}

/// What was counted, and what is to be expected of a new seedling, on one scale. Returns the rows
/// used.
fn ranges(page: &Pairing, record: &Record, canvas: &mut Canvas<'_>, around: &Around<'_>) -> u16 {
    let area = canvas.area();
    let counts = record.row.pairing.counts;
    let heading = "a new seedling of it would be kept";
    let room = usize::from(area.width).saturating_sub(heading.len() + 5);
    let forecast = super::facts::forecast(record, &page.sources, around);
    // Of a pair that is not among the rest the forecast comes later than theirs.
    let standing = match around.forecasts() {
        Standing::Here(_) if forecast.is_none() => Standing::UnderWay,
        standing => standing,
    };
    let note = said::fitting(standing.basis(&around.weighing.come()), room);
    let rest = section::draw(canvas, area, heading, &note);
    let (name, chance) = match forecast {
        Some((chance, _)) => ("forecast", chance),
        None => ("steadied", record.row.shrunk),
    };
    let highest = record.row.rate.map_or(0.0, |rate| rate.high).max(chance.high);
    let scale = Scale::reaching(highest);
    let mut rows: Vec<(String, Interval)> = Vec::new();
    if let Some(rate) = record.row.rate {
        rows.push((format!("kept {}", said::of(counts.kept, counts.judged)), rate));
    }
    rows.push((name.to_owned(), chance));
    let wide = rest.width.saturating_sub(NAME + FIGURES + 4).min(60);
    for (y, (name, rate)) in (0..rest.height).zip(&rows) {
        let mut line = canvas.within(Rect { y: rest.y + y, height: 1, ..rest });
        let style = line.theme().style(Role::Text);
        line.put(2, 0, usize::from(NAME), name, style);
        let at = Rect::new(rest.x + NAME + 2, rest.y + y, wide, 1);
        range::draw(&mut line, at, Spread { at: rate.p, low: rate.low, high: rate.high }, scale);
        let x = line.say(NAME + wide + 4, 0, &said::percent(rate.p), Role::Strong);
        line.say(x, 0, &format!("  {}", said::ends(rate, around.glyphs())), Role::Quiet);
    }
    let used = u16::try_from(rows.len()).unwrap_or(u16::MAX);
    range::draw_scale(canvas, Rect::new(rest.x + NAME + 2, rest.y + used, wide, 1), scale);
    used.saturating_add(2)
}
