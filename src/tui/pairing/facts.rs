//! What is said of a pairing below its ranges: how it stands among others, where its forecast
//! comes from, and how near of kin the two are.

use crate::merit::liability::Sources;
use crate::tui::{facts::Fact, page::Around, said, worker::Later};
use crate::views::{Interval, pairing::Page as Record, told, words};

/// What is forecast of it, if that is there, and its chance to be the best of those that were made
/// or could be.
pub(super) fn forecast(
    record: &Record,
    sources: &Later<Option<Sources>>,
    around: &Around<'_>,
) -> Option<(Interval, Option<f64>)> {
    let weighed = around.forecasts().here()?;
    let pairing = &record.row.pairing;
    if let Some(at) = record.place {
        return weighed.made.get(at).map(|forecast| (forecast.chance, Some(forecast.best)));
    }
    let plants = pairing.seed.plant().zip(pairing.pollen.plant());
    let untried = plants.and_then(|(seed, pollen)| weighed.place(seed, pollen));
    if let Some(row) = untried.and_then(|at| weighed.untried.get(at)) {
        return Some((row.forecast?, row.chance_best));
    }
    // Of a selfing, or of a plant that is gone, a forecast is to be had all the same.
    Some((sources.here()?.as_ref()?.whole, None))
}

/// What is said.
pub(super) fn of(
    record: &Record,
    sources: &Later<Option<Sources>>,
    around: &Around<'_>,
) -> Vec<Fact<'static>> {
    let mut all = Vec::new();
    let forecasts = around.forecasts().here();
    let best = forecast(record, sources, around).and_then(|(_, best)| best);
    if let (Some(best), Some(weighed)) = (best, forecasts) {
        let (best, n) = (words::whole_percent(best), weighed.made.len());
        let said = if record.place.is_none() {
            let n = said::grouped(n + weighed.untried.len());
            format!("{best}, among the {n} pairs that were made or could be")
        } else {
            format!("{best}, among the {} made", said::many(n, "pairing", "pairings"))
        };
        all.push(Fact::Words("the best", said));
    }
    match sources {
        Later::Here(Some(sources)) => {
            let said = said::with_ends(&told::sources(sources), around.glyphs());
            all.push(Fact::Words("why", said));
        }
        Later::Asked(_) | Later::AskedAnew(..) => {
            all.push(Fact::Words("why", "working it out".to_owned()));
        }
        Later::Here(None) | Later::Unasked | Later::Failed => {}
    }
    all.push(Fact::Words("offspring", inbreeding(record, around)));
    if let Some(gone) = gone(record, around) {
        all.push(Fact::Words("but", gone));
    }
    all
}

/// Why a pair that was never made cannot be made any more.
fn gone(record: &Record, around: &Around<'_>) -> Option<String> {
    let pairing = Some(&record.row.pairing).filter(|_| record.place.is_none())?;
    let plants = [pairing.seed.plant()?, pairing.pollen.plant()?];
    let gone = plants.into_iter().find(|&plant| !around.desk.brief(plant).is_alive())?;
    Some(format!("{} is gone", around.desk.label(gone)))
}

fn inbreeding(record: &Record, around: &Around<'_>) -> String {
    if record.closeness <= 0.0 {
        return "not inbred, as far as the book knows their kin".to_owned();
    }
    let through = record.through.map_or_else(String::new, |plant| {
        format!(", most of it through {}", around.desk.label(plant))
    });
    format!("{}{through}", words::closeness(record.closeness))
}
