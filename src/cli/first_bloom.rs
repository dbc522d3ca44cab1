//! First blooms in JSON and on the sheet of the evening: the curves, and the outlook of a plant.

use serde::Serialize;

use super::{
    figures::{RateRow, k_of_n, pair_text, party, percent, plant_text, range_title},
    sheet::{Sheet, Table},
};
use crate::merit::LogRank;
use crate::views::{
    Desk, Levels,
    first_bloom::{self, Between, Line, Of, Outlook, Step},
};

/// Groups with fewer plants than this are left off the sheet.
const LEAST_PLANTS: u32 = 8;
/// As many groups of a kind are told on the sheet.
const MOST_GROUPS: usize = 6;

/// The outlook of a plant, beside its other fields; empty for one that has none.
#[derive(Debug, Default, Serialize)]
pub(super) struct OutlookRow {
    /// The chance that it opens before the frost.
    #[serde(skip_serializing_if = "Option::is_none")]
    opens: Option<RateRow>,
    /// The chance that holding it over ends in a keeper.
    #[serde(skip_serializing_if = "Option::is_none")]
    held_over: Option<RateRow>,
}

impl From<Option<Outlook>> for OutlookRow {
    fn from(outlook: Option<Outlook>) -> Self {
        match outlook {
            Some(Outlook::Opens { chance, .. }) => {
                Self { opens: Some(chance.into()), held_over: None }
            }
            Some(Outlook::HeldOver { chance, .. }) => {
                Self { opens: None, held_over: Some(chance.into()) }
            }
            Some(Outlook::NotKnown) | None => Self::default(),
        }
    }
}

/// All curves, in days from planting.
#[derive(Debug, Serialize)]
pub(super) struct CurvesRow {
    programme: LineRow,
    pairings: Vec<LineRow>,
    parents: Vec<LineRow>,
    beds: Vec<LineRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pairings_differ: Option<LogRankRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    beds_differ: Option<LogRankRow>,
    held_over: HeldOverRow,
}

#[derive(Debug, Serialize)]
struct HeldOverRow {
    n: u32,
    kept: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
}

#[derive(Debug, Default, Serialize)]
struct LineRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bed: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cross: Option<String>,
    n: u32,
    bloomed: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    median: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    median_low: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    median_high: Option<f64>,
    steps: Vec<StepRow>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    between: Vec<BetweenRow>,
}

#[derive(Debug, Serialize)]
struct StepRow {
    day: f64,
    at_risk: u32,
    bloomed: u32,
    survival: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    se: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<f64>,
}

#[derive(Debug, Serialize)]
struct BetweenRow {
    after: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    by: Option<f64>,
    share: f64,
}

#[derive(Debug, Serialize)]
struct LogRankRow {
    chi_square: f64,
    freedom: usize,
    p: f64,
    seen: Vec<f64>,
    expected: Vec<f64>,
}

impl From<&Step> for StepRow {
    fn from(step: &Step) -> Self {
        let &Step { day, at_risk, bloomed, survival, se, range } = step;
        let (low, high) = range.unzip();
        Self { day, at_risk, bloomed, survival, se, low, high }
    }
}

impl From<&Between> for BetweenRow {
    fn from(between: &Between) -> Self {
        let &Between { after, by, share } = between;
        Self { after, by, share }
    }
}

impl From<LogRank> for LogRankRow {
    fn from(test: LogRank) -> Self {
        let LogRank { seen, expected, chi_square, freedom, p, .. } = test;
        Self { chi_square, freedom, p, seen, expected }
    }
}

/// The curves of a book.
pub(super) fn curves(desk: &Desk, levels: Levels) -> CurvesRow {
    let found = first_bloom::curves(desk, levels);
    let rows = |lines: &[Line]| lines.iter().map(|line| line_row(desk, line)).collect();
    let record = desk.first_bloom().held_over();
    CurvesRow {
        programme: line_row(desk, &found.programme),
        pairings: rows(&found.pairings),
        parents: rows(&found.parents),
        beds: rows(&found.beds),
        pairings_differ: found.pairings_differ.map(Into::into),
        beds_differ: found.beds_differ.map(Into::into),
        held_over: HeldOverRow {
            n: record.n,
            kept: record.kept,
            rate: record.rate(levels.rate).map(Into::into),
        },
    }
}

fn line_row(desk: &Desk, line: &Line) -> LineRow {
    let whose = match &line.of {
        Of::Programme => LineRow::default(),
        Of::Pairing(at) => {
            let pairing = &desk.pairings()[*at];
            LineRow {
                seed_parent: party(desk, &pairing.seed),
                pollen_parent: party(desk, &pairing.pollen),
                ..LineRow::default()
            }
        }
        Of::Parent(plant) => {
            LineRow { parent: Some(plant_text(desk, *plant)), ..LineRow::default() }
        }
        Of::Bed(name) => LineRow { bed: Some(name.to_string()), ..LineRow::default() },
        Of::Cross(id) => {
            LineRow { cross: Some(desk.book().cross(*id).code.to_string()), ..LineRow::default() }
        }
    };
    LineRow {
        n: line.watched,
        bloomed: line.bloomed,
        median: line.half,
        median_low: line.half_range.0,
        median_high: line.half_range.1,
        steps: line.steps.iter().map(Into::into).collect(),
        between: line.between.iter().map(Into::into).collect(),
        ..whose
    }
}

/// Tells on a sheet how long plants wait, all together and group by group.
pub(super) fn told(sheet: &mut Sheet, desk: &Desk, levels: Levels) {
    let found = first_bloom::curves(desk, levels);
    if found.programme.bloomed == 0 {
        return;
    }
    sheet.blank();
    sheet.line("first bloom in the first season, over all seasons: days from planting");
    let mut table = Table::new()
        .text("seedlings")
        .number("opened")
        .number("half were open after")
        .number(range_title(levels.rate));
    let row = |table: &mut Table, line: &Line| {
        let days = |days: Option<f64>| days.map_or_else(|| "?".to_owned(), |d| format!("{d:.0}"));
        let (low, high) = line.half_range;
        table.row([
            name(desk, &line.of),
            k_of_n(line.bloomed, line.watched),
            line.half.map_or_else(|| "not so many".to_owned(), |half| format!("{half:.0} days")),
            line.half.map_or_else(String::new, |_| format!("{}–{}", days(low), days(high))),
        ]);
    };
    row(&mut table, &found.programme);
    for lines in [&found.beds, &found.pairings] {
        let mut large: Vec<&Line> = lines.iter().filter(|l| l.watched >= LEAST_PLANTS).collect();
        large.sort_by(|a, b| b.watched.cmp(&a.watched).then_with(|| a.of.cmp(&b.of)));
        // One group alone is the programme over again.
        for line in large.into_iter().take(MOST_GROUPS).filter(|_| lines.len() > 1) {
            row(&mut table, line);
        }
    }
    sheet.table(table);
    for (what, test) in [("beds", found.beds_differ), ("pairings", found.pairings_differ)] {
        if let Some(test) = test.filter(|test| test.freedom > 0) {
            let chance = percent(test.p);
            sheet.line(format!(
                "if all {what} were alike, chance alone would make them differ this much {chance} \
                 of the time"
            ));
        }
    }
}

fn name(desk: &Desk, of: &Of) -> String {
    match of {
        Of::Programme => "all".to_owned(),
        Of::Pairing(at) => {
            let pairing = &desk.pairings()[*at];
            pair_text(desk, &pairing.seed, &pairing.pollen)
        }
        Of::Parent(plant) => plant_text(desk, *plant),
        Of::Bed(bed) => format!("bed {bed}"),
        Of::Cross(id) => format!("cross {}", desk.book().cross(*id).code),
    }
}
