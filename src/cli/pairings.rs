//! `trug pairings`: the record of every pairing.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{CountsRow, RateRow, k_of_n, many, pair_text, party, range_title, rate_cells},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::views::{
    Desk, Levels, kin,
    pairings::{self, Directions, Row},
};

/// Which pairs gave keepers, and how sure that is
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug pairings                  every pair over all its seasons, both directions together
  trug pairings --split          A × B and B × A apart
  trug pairings --untried        pairs of living parents that were never made, too")]
pub(super) struct Ask {
    /// Add the pairs of living parents between which no cross was made
    #[arg(long)]
    untried: bool,
    /// Keep the two directions of a pair apart
    #[arg(long)]
    split: bool,
}

#[derive(Debug, Serialize)]
struct PairingRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    seasons: Vec<i16>,
    counts: CountsRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
    shrunk: RateRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    forecast: Option<RateRow>,
    tried: bool,
    inbreeding: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    chance_best: Option<f64>,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let levels = shell.levels();
    let directions = if ask.split { Directions::Apart } else { Directions::Together };
    let mut rows = pairings::rows(&desk, directions, ask.untried, levels);
    pairings::forecast(&desk, &mut rows, directions, levels);
    rows.sort_by(|a, b| b.chance().p.total_cmp(&a.chance().p));
    let json = || -> Vec<PairingRow> {
        let inbreeding = kin::inbreeding_of_pairings(&desk, rows.iter().map(|row| &row.pairing));
        rows.iter().zip(inbreeding).map(|(row, f)| json_row(&desk, row, f)).collect()
    };
    shell.show(json, || sheet(&desk, &rows, levels))
}

fn json_row(desk: &Desk, row: &Row, inbreeding: f64) -> PairingRow {
    let pairing = &row.pairing;
    PairingRow {
        seed_parent: party(desk, &pairing.seed),
        pollen_parent: party(desk, &pairing.pollen),
        seasons: pairing.seasons.iter().map(|season| season.0).collect(),
        counts: pairing.counts.into(),
        rate: row.rate.map(Into::into),
        shrunk: row.shrunk.into(),
        forecast: row.forecast.map(Into::into),
        tried: row.tried,
        inbreeding,
        chance_best: row.chance_best,
    }
}

fn sheet(desk: &Desk, rows: &[Row], levels: Levels) -> Sheet {
    let mut sheet = Sheet::titled(format!(
        "{}, the best first: of their judged seedlings, those kept at the first sorting",
        many(rows.len(), "pairing")
    ));
    let has_forecasts = rows.iter().any(|row| row.forecast.is_some());
    let mut table = Table::new()
        .text("pairing")
        .spare("seasons")
        .number("kept of judged")
        // One column: where it goes for want of room, no share is left without its range.
        .spare(range_title(levels.rate))
        .number("steadied")
        .number(range_title(levels.shrunk));
    if has_forecasts {
        table = table.number("forecast").number(range_title(levels.shrunk));
    }
    for row in rows {
        let pairing = &row.pairing;
        let [rate, range] = rate_cells(row.rate);
        let [shrunk, shrunk_range] = rate_cells(Some(row.shrunk));
        let mut cells = vec![
            pair_text(desk, &pairing.seed, &pairing.pollen),
            span(&pairing.seasons),
            k_of_n(pairing.counts.kept, pairing.counts.judged),
            format!("{rate} {range:>6}"),
            shrunk,
            shrunk_range,
        ];
        if has_forecasts {
            cells.extend(rate_cells(row.forecast));
        }
        table.cells(cells);
    }
    sheet.table(table);
    sheet.line(
        "steadied: drawn towards what the other pairings of this book do, the more the fewer \
         seedlings were judged",
    );
    if has_forecasts {
        sheet.line(
            "forecast: of new seedlings in an average season, from the pair's own record, its \
             parents with other partners, and their kin",
        );
    }
    sheet
}

/// `2024`, or `2021–24` where there are several; gaps are not shown.
fn span(seasons: &[crate::book::Season]) -> String {
    match seasons {
        [] => String::new(),
        [only] => only.to_string(),
        [first, .., last] => format!("{first}–{last}"),
    }
}
