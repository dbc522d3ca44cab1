//! `trug parents`: what each parent has given, and what it passes on.

use std::collections::BTreeMap;

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{CountsRow, RateRow, k_of_n, many, party, party_text, range_title, rate_cells},
    given::{Given, GivenRow},
    passed::{self, AimsRow, TraitRow},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::views::{
    Desk, Levels,
    parents::{self, Role, Row},
};

/// What each parent has given, as seed parent and as pollen parent, and what it passes on
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug parents
  trug parents --level 0.9 --json

Towards the aims is how much nearer to what the book says is wanted the seedlings of a parent
come than those of an average one, in spreads of single plants, each aim by its weight.")]
pub(super) struct Ask {}

#[derive(Debug, Serialize)]
struct ParentRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    parent: Option<String>,
    as_seed: RoleRow,
    as_pollen: RoleRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    merit: Option<RateRow>,
    perhaps: u32,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    traits: BTreeMap<String, TraitRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    aims: Option<AimsRow>,
    #[serde(flatten)]
    given: Option<GivenRow>,
}

#[derive(Debug, Serialize)]
struct RoleRow {
    crosses: u32,
    counts: CountsRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
}

impl From<Role> for RoleRow {
    fn from(role: Role) -> Self {
        Self { crosses: role.crosses, counts: role.counts.into(), rate: role.rate.map(Into::into) }
    }
}

pub(super) fn run(_ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let mut rows = parents::rows(&desk, shell.levels());
    parents::merit(&desk, &mut rows, shell.levels());
    let json = || -> Vec<ParentRow> {
        let given = Given::of(&desk, shell.levels());
        let row = |row: &Row| ParentRow {
            parent: party(&desk, &row.parent),
            as_seed: row.as_seed.into(),
            as_pollen: row.as_pollen.into(),
            merit: row.merit.map(Into::into),
            perhaps: row.perhaps,
            traits: passed::of(&desk, row.parent.plant(), shell.levels()),
            aims: passed::aims(&desk, row.parent.plant()),
            given: row.parent.plant().map(|plant| given.row(plant)),
        };
        rows.iter().map(row).collect()
    };
    shell.show(json, || {
        let mut sheet = sheet(&desk, &rows, shell.levels());
        passed::add_to(&mut sheet, &desk, &rows, shell.levels());
        sheet
    })
}

fn sheet(desk: &Desk, rows: &[Row], levels: Levels) -> Sheet {
    let mut sheet = Sheet::titled(format!(
        "{} and what each gave: of their judged seedlings, those kept at the first sorting",
        many(rows.len(), "parent")
    ));
    let range = range_title(levels.rate);
    let mut table = Table::new()
        .text("parent")
        .number("seed parent")
        .number("")
        .number(&*range)
        .number("pollen parent")
        .number("")
        .number(&*range)
        .number("passes on")
        .number(range_title(levels.shrunk))
        .spare("perhaps in");
    for row in rows {
        let [seed_rate, seed_range] = rate_cells(row.as_seed.rate);
        let [pollen_rate, pollen_range] = rate_cells(row.as_pollen.rate);
        let [merit, merit_range] = rate_cells(row.merit);
        table.row([
            party_text(desk, &row.parent),
            k_of_n(row.as_seed.counts.kept, row.as_seed.counts.judged),
            seed_rate,
            seed_range,
            k_of_n(row.as_pollen.counts.kept, row.as_pollen.counts.judged),
            pollen_rate,
            pollen_range,
            merit,
            merit_range,
            if row.perhaps == 0 { String::new() } else { row.perhaps.to_string() },
        ]);
    }
    sheet.table(table);
    sheet.line(
        "passes on: the share of its seedlings that would be kept with an average partner in an \
         average season",
    );
    sheet
}
