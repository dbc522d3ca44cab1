//! `trug seed`: the packets in the tin.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{count, many, pair_text, party, range_title},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::merit::Expected;
use crate::views::{
    Desk,
    seed::{self, Row},
    words,
};

/// The packets of seed in the tin: how old, how much is left, what should come up
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug seed
  trug seed --all")]
pub(super) struct Ask {
    /// Show the empty packets too
    #[arg(long)]
    all: bool,
}

#[derive(Debug, Serialize)]
struct PacketRow<'a> {
    packet: &'a str,
    cross: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    season: Option<i16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seeds: Option<u32>,
    sown: u32,
    up: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    left: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    age_years: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    expected_up: Option<ExpectedRow>,
}

#[derive(Debug, Serialize)]
struct ExpectedRow {
    n: f64,
    low: u32,
    high: u32,
    level: f64,
}

impl From<Expected> for ExpectedRow {
    fn from(Expected { n, low, high, level }: Expected) -> Self {
        Self { n, low, high, level }
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let rows: Vec<Row> = seed::list(&desk, ask.all)
        .into_iter()
        .map(|packet| seed::row(&desk, packet, shell.levels()))
        .collect();
    let json = || rows.iter().map(|row| json(&desk, row)).collect::<Vec<_>>();
    shell.show(json, || sheet(&desk, ask.all, &rows, shell.levels().shrunk))
}

fn json<'a>(desk: &'a Desk, row: &Row) -> PacketRow<'a> {
    let cross = desk.book().cross(row.packet.cross);
    PacketRow {
        packet: &cross.lots[row.packet.lot].code,
        cross: &cross.code,
        season: row.season.map(|season| season.0),
        seed_parent: party(desk, &row.seed),
        pollen_parent: party(desk, &row.pollen),
        seeds: row.seeds,
        sown: row.sown,
        up: row.up,
        left: row.left,
        age_years: row.age,
        expected_up: row.expected_up.map(Into::into),
    }
}

fn sheet(desk: &Desk, all: bool, rows: &[Row], level: f64) -> Sheet {
    let left: u32 = rows.iter().filter_map(|row| row.left).fold(0, u32::saturating_add);
    let packets = many(rows.len(), "packet");
    let packets = if all { packets } else { format!("{packets} in the tin") };
    let mut sheet = Sheet::titled(format!("{packets}, {} left", words::many(left, "seed")));
    let mut table = Table::new()
        .text("packet")
        .text("seed parent × pollen parent")
        .spare("season")
        .number("years old")
        .spare("seeds")
        .spare("sown")
        .spare("up")
        .number("left")
        .number("should come up")
        .number(range_title(level));
    for row in rows {
        let cross = desk.book().cross(row.packet.cross);
        table.row([
            cross.lots[row.packet.lot].code.to_string(),
            pair_text(desk, &row.seed, &row.pollen),
            count(row.season),
            count(row.age),
            count(row.seeds),
            row.sown.to_string(),
            row.up.to_string(),
            count(row.left),
            row.expected_up.map_or_else(String::new, |up| format!("{:.0}", up.n)),
            row.expected_up.map_or_else(String::new, |up| format!("{}–{}", up.low, up.high)),
        ]);
    }
    sheet.table(table);
    sheet
}
