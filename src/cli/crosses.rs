//! `trug crosses`: what became of each cross.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{CountsRow, RateRow, count, k_of_n, many, pair_text, party, range_title, rate_cells},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::book::{By, Season};
use crate::views::{
    Desk,
    crosses::{self, Row},
};

/// What became of each cross, from heads through packets to plants
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug crosses
  trug crosses --season 2025")]
pub(super) struct Ask {
    /// Only the crosses made in this season
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
}

#[derive(Debug, Serialize)]
struct CrossRow<'a> {
    cross: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    season: Option<i16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    by: &'static str,
    heads: HeadsRow,
    packets: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    left: Option<u32>,
    counts: CountsRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
}

/// Heads by how they stand.
#[derive(Debug, Serialize)]
pub(super) struct HeadsRow {
    pollinated: u32,
    hanging: u32,
    rotted: u32,
    lost: u32,
    ripe: u32,
    empty: u32,
    seeds: u32,
}

impl From<crosses::Heads> for HeadsRow {
    fn from(heads: crosses::Heads) -> Self {
        let crosses::Heads { pollinated, hanging, rotted, lost, ripe, empty, seeds } = heads;
        Self { pollinated, hanging, rotted, lost, ripe, empty, seeds }
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let season = ask.season.map(Season);
    let rows: Vec<Row> = crosses::list(&desk, season)
        .into_iter()
        .map(|id| crosses::row(&desk, id, shell.levels()))
        .collect();
    let json = || rows.iter().map(|row| json(&desk, row)).collect::<Vec<_>>();
    shell.show(json, || sheet(&desk, season, &rows, shell.levels().rate))
}

fn json<'a>(desk: &'a Desk, row: &Row) -> CrossRow<'a> {
    CrossRow {
        cross: &desk.book().cross(row.cross).code,
        season: row.season.map(|season| season.0),
        seed_parent: party(desk, &row.seed),
        pollen_parent: party(desk, &row.pollen),
        by: match row.by {
            By::Hand => "hand",
            By::Bees => "bees",
        },
        heads: row.heads.into(),
        packets: row.packets,
        left: row.left,
        counts: row.counts.into(),
        rate: row.rate.map(Into::into),
    }
}

fn sheet(desk: &Desk, season: Option<Season>, rows: &[Row], level: f64) -> Sheet {
    let made = season.map_or_else(String::new, |season| format!(" made in {season}"));
    let mut sheet =
        Sheet::titled(format!("{}{made}: what became of each", many(rows.len(), "cross")));
    let mut table = Table::new()
        .text("cross")
        .spare("season")
        .text("seed parent × pollen parent")
        .number("heads")
        .spare("rotted")
        .number("seeds")
        .number("sown")
        .spare("up")
        .number("planted")
        .spare("opened")
        .number("kept of judged")
        .number("")
        .number(range_title(level));
    let some = |n: u32| if n == 0 { String::new() } else { n.to_string() };
    for row in rows {
        let counts = row.counts;
        let [rate, range] = rate_cells(row.rate);
        table.row([
            desk.book().cross(row.cross).code.to_string(),
            count(row.season),
            pair_text(desk, &row.seed, &row.pollen),
            some(counts.heads),
            some(row.heads.rotted),
            some(counts.seeds),
            some(counts.sown),
            some(counts.up),
            some(counts.planted),
            some(counts.bloomed),
            k_of_n(counts.kept, counts.judged),
            rate,
            range,
        ]);
    }
    sheet.table(table);
    sheet
}
