//! `trug seed`: the packets in the tin.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{RateRow, count, pair_text, party},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::views::{
    Desk,
    seed::{self, Row},
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
    comes_up: Option<RateRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    expected_up: Option<f64>,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let rows: Vec<Row> = seed::list(&desk, ask.all)
        .into_iter()
        .map(|packet| seed::row(&desk, packet, shell.levels()))
        .collect();
    let json = || rows.iter().map(|row| json(&desk, row)).collect::<Vec<_>>();
    shell.show(json, || sheet(&desk, ask.all, &rows))
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
        comes_up: row.comes_up.map(Into::into),
        expected_up: row.expected_up,
    }
}

fn sheet(desk: &Desk, all: bool, rows: &[Row]) -> Sheet {
    let left: u32 = rows.iter().filter_map(|row| row.left).fold(0, u32::saturating_add);
    let what = if all { "packets" } else { "packets in the tin" };
    let mut sheet = Sheet::titled(format!("{} {what}, {left} seeds left", rows.len()));
    let mut table = Table::new()
        .text("packet")
        .text("seed parent × pollen parent")
        .number("season")
        .number("years old")
        .number("seeds")
        .number("sown")
        .number("up")
        .number("left")
        .number("should come up");
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
            row.expected_up.map_or_else(String::new, |n| format!("about {n:.0}")),
        ]);
    }
    sheet.table(table);
    sheet
}
