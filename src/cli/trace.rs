//! `trug trace`: where a plant came from, and what came of it.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{PlantName, many, pair_text, party, percent, plant_text},
    sheet::{Sheet, Table},
    shell::Shell,
    who,
};
use crate::book::PlantId;
use crate::lineage::Side;
use crate::views::{
    Desk, Party, kin,
    trace::{self, Trace},
    words,
};

/// Where a plant came from, and what came of it
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug trace 26-104
  trug trace \"Ferry Lantern\" --down 1
  trug trace 26-104 --json")]
pub(super) struct Ask {
    /// The plant, by number, name or id
    who: String,
    /// So many generations back at most
    #[arg(long, value_name = "N")]
    up: Option<u32>,
    /// So many generations on at most
    #[arg(long, value_name = "N")]
    down: Option<u32>,
}

#[derive(Debug, Serialize)]
struct TraceRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    #[serde(flatten)]
    raised_from: ParentsRow,
    ancestors: Vec<AncestorRow<'a>>,
    descendants: Vec<DescendantRow<'a>>,
    founders: Vec<FounderRow<'a>>,
    inbreeding: f64,
}

/// All unknown parents together have no name.
#[derive(Debug, Serialize)]
struct FounderRow<'a> {
    #[serde(flatten)]
    name: Option<PlantName<'a>>,
    share: f64,
}

#[derive(Debug, Serialize)]
struct AncestorRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    generation: u32,
    side: &'static str,
    certain: bool,
    #[serde(flatten)]
    raised_from: ParentsRow,
}

#[derive(Debug, Serialize)]
struct DescendantRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    generation: u32,
    certain: bool,
    #[serde(flatten)]
    raised_from: ParentsRow,
}

/// The parents of a plant, as far as they are known.
#[derive(Debug, Serialize)]
struct ParentsRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
}

impl ParentsRow {
    fn of(desk: &Desk, plant: PlantId) -> Self {
        let (seed, pollen) = desk.parents(plant);
        Self { seed_parent: party(desk, &seed), pollen_parent: party(desk, &pollen) }
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let plant = who::plant(&desk, &ask.who)?;
    let found = trace::trace(&desk, plant, ask.up, ask.down);
    shell.show(|| json(&desk, &found), || sheet(&desk, &found))
}

fn side(side: Side) -> &'static str {
    match side {
        Side::Seed => "seed",
        Side::Pollen => "pollen",
        Side::Both => "both",
    }
}

fn json<'a>(desk: &'a Desk, found: &Trace) -> TraceRow<'a> {
    let ancestors = found.ancestors.iter().map(|a| AncestorRow {
        name: PlantName::of(desk, a.plant),
        generation: a.generation,
        side: side(a.side),
        certain: a.certain,
        raised_from: ParentsRow::of(desk, a.plant),
    });
    let descendants = found.descendants.iter().map(|d| DescendantRow {
        name: PlantName::of(desk, d.plant),
        generation: d.generation,
        certain: d.certain,
        raised_from: ParentsRow::of(desk, d.plant),
    });
    let founders = found.founders.iter().map(|founder| FounderRow {
        name: founder.founder.map(|plant| PlantName::of(desk, plant)),
        share: founder.share,
    });
    TraceRow {
        name: PlantName::of(desk, found.plant),
        raised_from: ParentsRow::of(desk, found.plant),
        ancestors: ancestors.collect(),
        descendants: descendants.collect(),
        founders: founders.collect(),
        inbreeding: found.inbreeding,
    }
}

fn sheet(desk: &Desk, found: &Trace) -> Sheet {
    let label = plant_text(desk, found.plant);
    let mut sheet = Sheet::titled(format!(
        "{label}: {} that it came from, {} that came from it",
        many(found.ancestors.len(), "plant"),
        found.descendants.len()
    ));
    let (seed, pollen) = desk.parents(found.plant);
    sheet.line(if seed == Party::Unknown && pollen == Party::Unknown {
        "its parents are not known".to_owned()
    } else {
        format!("raised from {}", pair_text(desk, &seed, &pollen))
    });
    if found.inbreeding > 0.0 {
        sheet.line(format!(
            "inbred {}",
            words::inbreeding(found.inbreeding, kin::of_full_sibs(desk, found.inbreeding))
        ));
    }
    let mut table = Table::new()
        .number("generations back")
        .text("plant")
        .text("on the side of the")
        .text("raised from")
        .text("");
    for a in &found.ancestors {
        let side = match a.side {
            Side::Seed => "seed parent",
            Side::Pollen => "pollen parent",
            Side::Both => "both",
        };
        table.row([
            a.generation.to_string(),
            plant_text(desk, a.plant),
            side.to_owned(),
            raised_from(desk, a.plant),
            doubt(a.certain),
        ]);
    }
    sheet.part(table);
    let mut table =
        Table::new().number("generations on").text("plant").text("raised from").text("");
    for d in &found.descendants {
        table.row([
            d.generation.to_string(),
            plant_text(desk, d.plant),
            raised_from(desk, d.plant),
            doubt(d.certain),
        ]);
    }
    sheet.part(table);
    sheet.part(founders(desk, found));
    sheet
}

fn founders(desk: &Desk, found: &Trace) -> Table {
    let mut table = Table::new().text("comes in the end from").number("share");
    // A founder comes from itself, and there is nothing to tell.
    let comes_from_others = found.founders.iter().any(|f| f.founder != Some(found.plant));
    for founder in found.founders.iter().filter(|_| comes_from_others) {
        let unknown = || "parents not known, all together".to_owned();
        table.row([
            founder.founder.map_or_else(unknown, |plant| plant_text(desk, plant)),
            percent(founder.share),
        ]);
    }
    table
}

fn raised_from(desk: &Desk, plant: PlantId) -> String {
    match desk.parents(plant) {
        (Party::Unknown, Party::Unknown) => String::new(),
        (seed, pollen) => pair_text(desk, &seed, &pollen),
    }
}

fn doubt(certain: bool) -> String {
    if certain { String::new() } else { "perhaps".to_owned() }
}
