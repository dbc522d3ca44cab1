//! How figures, dates and names are said on the screen.

use chrono::NaiveDate;

use super::{
    glyphs::Glyphs,
    theme::Role,
    widget::{table::Cell, text},
};
use crate::book::{By, CrossId, Grain, Season, When};
use crate::views::{Desk, Interval, Party, words};

/// The first of several wordings, the longest of which comes first, that fits in `room` cells; the
/// last where none does.
pub(super) fn fitting(wordings: impl IntoIterator<Item = String>, room: usize) -> String {
    let mut last = String::new();
    for wording in wordings {
        last = wording;
        if text::width(&last) <= room {
            break;
        }
    }
    last
}

/// A day in full: `3 November 2026`.
pub(super) fn today(day: NaiveDate) -> String {
    day.format("%-d %B %Y").to_string()
}

/// A date, without its year where that is the season in question: `14 Sep`, `Sep 2025`.
pub(super) fn day(when: When, season: Season) -> String {
    match when.grain() {
        Grain::Day if when.season() == season => when.first().format("%-d %b").to_string(),
        _ => words::day(when),
    }
}

/// A share in whole percent: `33 %`.
pub(super) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// The two ends of a range in whole percent: `20–48`.
pub(super) fn ends(rate: &Interval, glyphs: &Glyphs) -> String {
    format!("{:.0}{}{:.0}", rate.low * 100.0, glyphs.to, rate.high * 100.0)
}

/// Words with ranges in them, in the letters of the screen.
pub(super) fn with_ends(text: &str, glyphs: &Glyphs) -> String {
    text.replace('–', glyphs.to)
}

/// An estimate with its range, as a cell of a table: `33 %  20–48`.
pub(super) fn share_cell(rate: &Interval, glyphs: &Glyphs) -> Cell<'static> {
    Cell::Pieces(vec![
        (percent(rate.p).into(), Role::Text),
        (format!("{:>7}", ends(rate, glyphs)).into(), Role::Quiet),
    ])
}

/// A score or a mean of scores: `7`, `6.5`.
pub(super) fn score(value: f64) -> String {
    let tenths = (value * 10.0).round() / 10.0;
    format!("{tenths}")
}

/// `9 of 22`.
pub(super) fn of(part: u32, whole: u32) -> String {
    format!("{part} of {whole}")
}

/// A count with its noun: `1 cross`, `1,204 crosses`.
pub(super) fn many(n: usize, one: &str, several: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{} {several}", grouped(n)) }
}

/// A number with commas between thousands.
pub(super) fn grouped(n: usize) -> String {
    let digits = n.to_string();
    let mut said = String::with_capacity(digits.len() + digits.len() / 3);
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            said.push(',');
        }
        said.push(digit);
    }
    said
}

/// A parent in short: its name, how many it may be, or that nobody knows.
pub(super) fn party(desk: &Desk, party: &Party, by: By) -> String {
    match (party, by) {
        (Party::Among(list), By::Bees) => format!("bees ({} likely)", list.len()),
        (Party::Unknown, By::Bees) => "bees".to_owned(),
        (Party::Unknown, By::Hand) => "unknown".to_owned(),
        _ => party.name(desk.book(), " or ").unwrap_or_default(),
    }
}

/// The two parents of a cross, the seed parent first: `Ferry Lantern × 24-031`.
pub(super) fn pair(
    desk: &Desk,
    (seed, pollen): (&Party, &Party),
    by: By,
    glyphs: &Glyphs,
) -> String {
    // Of the seed parent one knows from which plant the head was cut, or bought the packet.
    let mother = party(desk, seed, By::Hand);
    if seed == pollen && seed.plant().is_some() {
        return format!("{mother} selfed");
    }
    format!("{mother} {} {}", glyphs.times, party(desk, pollen, by))
}

/// The names of two parents in at most `room` cells. The longer one is cut, so that both are told
/// from others.
pub(super) fn pair_within(whole: String, room: usize, glyphs: &Glyphs) -> String {
    let between = format!(" {} ", glyphs.times);
    let Some((seed, pollen)) = whole.split_once(&between) else { return whole };
    let room = room.saturating_sub(text::width(&between));
    let (left, right) = (text::width(seed), text::width(pollen));
    if left + right <= room {
        return whole;
    }
    let half = room / 2;
    let (left, right) = match (left <= half, right <= room - half) {
        (true, _) => (left, room - left),
        (_, true) => (room - right, right),
        _ => (half, room - half),
    };
    let [seed, pollen] =
        [(seed, left), (pollen, right)].map(|(name, most)| text::cut(name, most, glyphs.ellipsis));
    format!("{seed}{between}{pollen}")
}

/// The parents of a cross.
pub(super) fn cross(desk: &Desk, cross: CrossId, glyphs: &Glyphs) -> String {
    let (seed, pollen) = desk.parties(cross);
    pair(desk, (seed, pollen), desk.book().cross(cross).by, glyphs)
}

/// The parents of a pairing, by its place in [`Desk::pairings`].
pub(super) fn pairing(desk: &Desk, at: usize, glyphs: &Glyphs) -> String {
    let Some(pairing) = desk.pairings().get(at) else { return String::new() };
    let by = pairing.crosses.first().map_or(By::Hand, |&id| desk.book().cross(id).by);
    pair(desk, (&pairing.seed, &pairing.pollen), by, glyphs)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_said_in_groups_of_three() {
        for (n, said) in [(0, "0"), (999, "999"), (1000, "1,000"), (1_234_567, "1,234,567")] {
            assert_eq!(grouped(n), said);
        }
        assert_eq!(many(1, "cross", "crosses"), "1 cross");
        assert_eq!(many(0, "cross", "crosses"), "0 crosses");
    }
}
