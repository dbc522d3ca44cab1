//! Figures as they are written on a sheet, and as they stand in JSON.

use serde::Serialize;

use crate::book::{Counts, Figure, PlantId, PlantRecord};
use crate::views::{
    Desk, Interval, Party,
    sibs::{BLOOM_MM, FIRST_BLOOM_DAY, HEIGHT_CM},
    words,
};

/// A rate in JSON.
#[derive(Debug, Serialize)]
pub(super) struct RateRow {
    p: f64,
    low: f64,
    high: f64,
    level: f64,
}

/// Counts in JSON: those that nobody wrote down are absent.
#[derive(Debug, Serialize)]
pub(super) struct CountsRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    heads: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seeds: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sown: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    up: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    planted: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bloomed: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    judged: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    kept: Option<u32>,
}

impl From<Interval> for RateRow {
    fn from(Interval { p, low, high, level }: Interval) -> Self {
        Self { p, low, high, level }
    }
}

impl From<Counts> for CountsRow {
    fn from(counts: Counts) -> Self {
        Self {
            heads: counts.known(Figure::Heads),
            seeds: counts.known(Figure::Seeds),
            sown: counts.known(Figure::Sown),
            up: counts.known(Figure::Up),
            planted: counts.known(Figure::Planted),
            bloomed: counts.known(Figure::Bloomed),
            judged: counts.known(Figure::Judged),
            kept: counts.known(Figure::Kept),
        }
    }
}

/// A plant in JSON: what it is called and, where its number is borne by others too, its id.
#[derive(Debug, Serialize)]
pub(super) struct PlantName<'a> {
    plant: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<&'a str>,
}

impl<'a> PlantName<'a> {
    pub(super) fn of(desk: &'a Desk, plant: PlantId) -> Self {
        Self { plant: desk.label(plant), id: own_id(desk, plant) }
    }
}

/// A plant on a sheet.
pub(super) fn plant_text(desk: &Desk, plant: PlantId) -> String {
    words::plant(desk.book(), plant).into_owned()
}

/// The id of a seedling that cannot be told from others by its number.
fn own_id(desk: &Desk, plant: PlantId) -> Option<&str> {
    match desk.book().plant(plant) {
        PlantRecord::Seedling(_, seedling) => seedling.id.as_deref(),
        PlantRecord::Variety(_) => None,
    }
}

/// A party in JSON: candidates as `A|B`, nothing where nobody knows.
pub(super) fn party(desk: &Desk, party: &Party) -> Option<String> {
    party.name(desk.book(), "|")
}

/// A party on a sheet.
pub(super) fn party_text(desk: &Desk, party: &Party) -> String {
    party.name_by(|plant| plant_text(desk, plant), " or ").unwrap_or_else(|| "?".to_owned())
}

/// A cross or pairing on a sheet, seed parent first.
pub(super) fn pair_text(desk: &Desk, seed: &Party, pollen: &Party) -> String {
    if seed == pollen && seed.plant().is_some() {
        return format!("{} selfed", party_text(desk, seed));
    }
    format!("{} × {}", party_text(desk, seed), party_text(desk, pollen))
}

/// `9 of 22`; a dash where there is nothing to count.
pub(super) fn k_of_n(k: u32, n: u32) -> String {
    if n == 0 { "–".to_owned() } else { format!("{k} of {n}") }
}

/// A share in whole percent.
pub(super) fn percent(share: f64) -> String {
    words::whole_percent(share)
}

/// A rate and its range, as two cells.
pub(super) fn rate_cells(rate: Option<Interval>) -> [String; 2] {
    rate.map_or_else(Default::default, |rate| {
        let (low, high) = (rate.low * 100.0, rate.high * 100.0);
        [percent(rate.p), format!("{low:.0}–{high:.0}")]
    })
}

/// The title over a column of ranges: `95 % range`.
pub(super) fn range_title(level: f64) -> String {
    let hundred = (level * 1000.0).round() / 10.0;
    format!("{hundred} % range")
}

/// A length of a list with its noun: `1 plant`, `23 plants`.
pub(super) fn many(n: usize, noun: &str) -> String {
    words::many(u32::try_from(n).unwrap_or(u32::MAX), noun)
}

/// A count; nothing where it is not known.
pub(super) fn count<N: ToString>(n: Option<N>) -> String {
    n.map_or_else(String::new, |n| n.to_string())
}

/// A measure with at most one digit after the point.
pub(super) fn measure(value: Option<f64>) -> String {
    value.map_or_else(String::new, |value| format!("{}", (value * 10.0).round() / 10.0))
}

/// What is measured, as a heading.
pub(super) fn measure_name(name: &str) -> &str {
    match name {
        BLOOM_MM => "bloom, mm",
        HEIGHT_CM => "height, cm",
        FIRST_BLOOM_DAY => "first bloom, day of the year",
        score => score,
    }
}
