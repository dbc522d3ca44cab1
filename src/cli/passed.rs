//! What parents pass on of what is measured, as part of `trug parents`.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{
    figures::{measure, measure_name, party_text},
    given::EstimateRow,
    sheet::{Sheet, Table},
};
use crate::book::{PlantId, Season};
use crate::merit::traits::{Estimate, NotEnough, Passed};
use crate::views::{
    Desk, Levels,
    parents::Row,
    traits::{self, Aimed},
};

/// One trait of one parent in JSON: the mean of its offspring with an average partner in an
/// average season, and the breeding value behind it.
#[derive(Debug, Serialize)]
pub(super) struct TraitRow {
    value: f64,
    low: f64,
    high: f64,
    level: f64,
    reliability: f64,
    breeding_value: f64,
    /// Against the seedlings of the other parents.
    #[serde(skip_serializing_if = "Option::is_none")]
    general: Option<EstimateRow>,
    /// The first season whose looks it rests on, where a book is too large for all.
    #[serde(skip_serializing_if = "Option::is_none")]
    since: Option<i16>,
}

/// How near the offspring of a parent come to the raiser's aims in JSON.
#[derive(Debug, Serialize)]
pub(super) struct AimsRow {
    points: f64,
    se: f64,
    parts: Vec<PartRow>,
}

#[derive(Debug, Serialize)]
struct PartRow {
    of: Box<str>,
    nearer: f64,
    weight: f64,
}

impl TraitRow {
    fn of(passed: Passed, general: Option<Estimate>, since: Option<Season>) -> Self {
        let Passed { value, low, high, level, reliability, breeding_value } = passed;
        let (general, since) = (general.map(Into::into), since.map(|season| season.0));
        Self { value, low, high, level, reliability, breeding_value, general, since }
    }
}

impl From<Aimed> for AimsRow {
    fn from(aimed: Aimed) -> Self {
        let parts = aimed.parts.into_iter();
        let parts = parts.map(|p| PartRow { of: p.of, nearer: p.nearer, weight: p.weight });
        Self { points: aimed.points, se: aimed.se, parts: parts.collect() }
    }
}

/// The traits of one parent in JSON.
pub(super) fn of(
    desk: &Desk,
    plant: Option<PlantId>,
    levels: Levels,
) -> BTreeMap<String, TraitRow> {
    let Some(plant) = plant else { return BTreeMap::new() };
    let rows = traits::fitted(desk).filter_map(|fit| {
        let passed = fit.passed_on(plant, levels.shrunk)?;
        let row = TraitRow::of(passed, fit.general_ability(plant), fit.since());
        Some((fit.name().to_owned(), row))
    });
    rows.collect()
}

/// The aims of one parent in JSON.
pub(super) fn aims(desk: &Desk, plant: Option<PlantId>) -> Option<AimsRow> {
    traits::aimed(desk, plant?).map(Into::into)
}

/// Adds to a sheet what each parent passes on, and how far that can be told.
pub(super) fn add_to(sheet: &mut Sheet, desk: &Desk, rows: &[Row], levels: Levels) {
    let known = traits::rows(desk);
    let differs = |row: &&traits::Row| row.told.is_ok_and(|told| told.heritability.value > 0.0);
    let told: Vec<&traits::Row> = known.iter().filter(differs).collect();
    if !told.is_empty() {
        let aims = rows
            .iter()
            .map(|row| row.parent.plant())
            .map(|plant| plant.and_then(|plant| traits::aimed(desk, plant)));
        let aims: Vec<Option<Aimed>> = aims.collect();
        let mut table = Table::new().text("parent");
        if aims.iter().any(Option::is_some) {
            table = table.number("towards the aims");
        }
        for row in &told {
            table = table.spare(measure_name(&row.name));
        }
        for (row, aimed) in rows.iter().zip(&aims) {
            let Some(plant) = row.parent.plant() else { continue };
            let passed = traits::passed_on(desk, plant, levels);
            let mut cells = vec![party_text(desk, &row.parent)];
            if aims.iter().any(Option::is_some) {
                cells.push(aimed.as_ref().map_or_else(String::new, points));
            }
            cells.extend(
                told.iter().map(|row| passed.get(&row.name).map_or_else(String::new, range)),
            );
            table.cells(cells);
        }
        sheet.blank();
        sheet.line(format!(
            "What each passes on: the mean of its seedlings with an average partner in an average \
             season, and its {:.0} % range",
            levels.shrunk * 100.0
        ));
        sheet.table(table);
    }
    if !known.is_empty() {
        sheet.blank();
        sheet.line(
            "How far that can be told: of the differences between plants of one season and bed, \
             the share that comes by descent",
        );
        how_far(sheet, &known);
    }
}

fn how_far(sheet: &mut Sheet, known: &[traits::Row]) {
    let mut table = Table::new()
        .text("trait")
        .number("measured of bloomed")
        .number("families")
        .number("average")
        .number("by descent");
    let (mut few, mut alike, mut untold) = (Vec::new(), Vec::new(), Vec::new());
    for row in known {
        let name = measure_name(&row.name);
        let [average, inherited] = match &row.told {
            Ok(told) => {
                if told.heritability.value <= 0.0 {
                    alike.push(name);
                }
                [measure(Some(told.average.value)), share(told.heritability)]
            }
            Err(why) => {
                match why {
                    NotEnough::Measured { .. } => few.push(name),
                    NotEnough::TooMany | NotEnough::Untold(_) => {
                        untold.push(format!("{name}: {why}"));
                    }
                }
                Default::default()
            }
        };
        table.row([
            name.to_owned(),
            format!("{} of {}", row.counted.seedlings, row.counted.bloomed),
            row.counted.families.to_string(),
            average,
            inherited,
        ]);
    }
    sheet.table(table);
    if !few.is_empty() {
        sheet.line(format!(
            "Not enough yet to tell of {}: {}",
            few.join("; "),
            NotEnough::wanted()
        ));
    }
    if !alike.is_empty() {
        let alike = alike.join("; ");
        sheet.line(format!("In {alike} the parents show no difference that chance does not."));
    }
    for line in untold {
        sheet.line(line);
    }
    for row in known {
        if let Ok(traits::Told { since: Some(season), .. }) = row.told {
            let name = measure_name(&row.name);
            sheet.line(format!(
                "{name}: the book is so large that only what was seen from {season} on was reckoned \
                 with"
            ));
        }
    }
}

/// A share of the variance with its standard error, in percent.
fn share(share: Estimate) -> String {
    match share.se {
        Some(se) => format!("{:.0} % ± {:.0}", share.value * 100.0, se * 100.0),
        None => format!("{:.0} %", share.value * 100.0),
    }
}

fn range(passed: &Passed) -> String {
    // Scores run from 1 to 9 or so and need a digit more than millimetres do.
    let digits = usize::from(passed.value.abs() < 20.0);
    let Passed { value, low, high, .. } = passed;
    format!("{value:.digits$}  {low:.digits$}–{high:.digits$}")
}

fn points(aimed: &Aimed) -> String {
    format!("{:+.2} ± {:.2}", aimed.points, aimed.se)
}
