//! `trug kin`: how near of kin plants are.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{PlantName, many, percent, plant_text},
    sheet::{Sheet, Table},
    shell::Shell,
    who,
};
use crate::book::PlantId;
use crate::kinship::Way;
use crate::views::{
    Desk,
    kin::{self, Pair},
    words,
};

/// Loops shown on a sheet; JSON has more.
const MOST_LOOPS: usize = 12;

/// How near of kin two plants are, and how inbred every plant is
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug kin 26-104 \"Ferry Lantern\"      what two plants share, and what a cross of them would give
  trug kin                             how inbred each plant is
  trug kin --matrix 26-104 26-031      each of these with each, and with itself

In JSON, coancestry is the chance that an allele drawn from the one and an allele drawn from the
other are copies of the same one; the contributions of all loops sum to it. loops_total is how many
loops there are, of which the 50 largest are listed.")]
pub(super) struct Ask {
    /// Two plants, by number, name or id; nobody for all plants of the book
    who: Vec<String>,
    /// The coancestry of each of these plants with each
    #[arg(long)]
    matrix: bool,
}

#[derive(Debug, Serialize)]
struct PairRow {
    a: String,
    b: String,
    coancestry: f64,
    relationship: f64,
    inbreeding_of_offspring: f64,
    of_full_sib_mating: f64,
    common_ancestors: Vec<String>,
    loops: Vec<LoopRow>,
    loops_total: u64,
    loops_complete: bool,
}

#[derive(Debug, Serialize)]
struct LoopRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    through: Option<String>,
    path: Vec<Option<String>>,
    contribution: f64,
}

#[derive(Debug, Serialize)]
struct InbredRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    inbreeding: f64,
}

#[derive(Debug, Serialize)]
struct MatrixRow {
    plants: Vec<String>,
    coancestry: Vec<Vec<f64>>,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let plants: Vec<PlantId> =
        ask.who.iter().map(|word| who::plant(&desk, word)).collect::<Result<_, _>>()?;
    match &plants[..] {
        [] if !ask.matrix => shell.show(|| everybody(&desk), || inbred_sheet(&desk)),
        [_, ..] if ask.matrix => {
            let matrix = kin::matrix(&desk, &plants);
            shell.show(
                || matrix_row(&desk, &plants, &matrix),
                || matrix_sheet(&desk, &plants, &matrix),
            )
        }
        &[a, b] => {
            let found = kin::pair(&desk, a, b);
            shell.show(|| pair_row(&desk, &found), || pair_sheet(&desk, &found))
        }
        _ => Err(Failure::Usage(
            "kin is asked of two plants, or of none for the whole book.".to_owned(),
            "Name two plants, or add --matrix before a list of them.".to_owned(),
        )),
    }
}

fn everybody(desk: &Desk) -> Vec<InbredRow<'_>> {
    kin::everybody(desk)
        .map(|(plant, inbreeding)| InbredRow { name: PlantName::of(desk, plant), inbreeding })
        .collect()
}

fn pair_row(desk: &Desk, found: &Pair) -> PairRow {
    let name = |plant: PlantId| plant_text(desk, plant);
    let ways = found.ways.listed.iter();
    PairRow {
        a: name(found.a),
        b: name(found.b),
        coancestry: found.coancestry,
        relationship: found.relationship,
        inbreeding_of_offspring: found.inbreeding_of_offspring,
        of_full_sib_mating: found.of_full_sibs,
        common_ancestors: found.common.iter().map(|common| name(common.plant)).collect(),
        loops: ways
            .map(|way| LoopRow {
                through: way.through().map(name),
                path: way.plants.iter().map(|plant| plant.map(name)).collect(),
                contribution: way.contribution,
            })
            .collect(),
        loops_total: found.ways.count,
        loops_complete: found.ways.complete,
    }
}

fn matrix_row(desk: &Desk, plants: &[PlantId], matrix: &[f64]) -> MatrixRow {
    MatrixRow {
        plants: plants.iter().map(|&plant| plant_text(desk, plant)).collect(),
        coancestry: matrix.chunks(plants.len()).map(<[f64]>::to_vec).collect(),
    }
}

/// A coancestry or an F as it is written.
fn figure(value: f64) -> String {
    format!("{value:.4}")
}

fn pair_sheet(desk: &Desk, found: &Pair) -> Sheet {
    let name = |plant: PlantId| plant_text(desk, plant);
    let mut sheet = Sheet::titled(if found.a == found.b {
        format!("{} selfed", name(found.a))
    } else {
        format!("{} and {}", name(found.a), name(found.b))
    });
    sheet.line(format!(
        "their seedlings would be inbred {}",
        words::inbreeding(found.inbreeding_of_offspring, found.of_full_sibs)
    ));
    sheet.line(format!(
        "coancestry {}, relationship {}",
        figure(found.coancestry),
        figure(found.relationship)
    ));
    if found.common.is_empty() {
        sheet.line("no ancestor in common is known");
    }
    let mut table = Table::new()
        .text("ancestor in common")
        .number("generations back from the one")
        .number("from the other")
        .text("");
    for common in &found.common {
        let doubt = if common.certain { "" } else { "perhaps" };
        table.row([
            name(common.plant),
            common.from_a.to_string(),
            common.from_b.to_string(),
            doubt.to_owned(),
        ]);
    }
    sheet.part(table);
    let mut table = Table::new().text("loop").text("through").number("adds to coancestry");
    for way in found.ways.listed.iter().take(MOST_LOOPS) {
        table.row([
            loop_text(desk, way),
            way.through().map_or_else(|| words::ONE_FATHER.to_owned(), name),
            format!("{:.6}", way.contribution),
        ]);
    }
    sheet.part(table);
    let shown = u64::try_from(found.ways.listed.len().min(MOST_LOOPS)).unwrap_or(u64::MAX);
    if found.ways.count > shown {
        let least = if found.ways.complete { "" } else { "at least " };
        sheet.line(format!("the largest {shown} of {least}{} loops", found.ways.count));
    }
    sheet
}

/// A loop as a line: up from the one to the ancestor, and down to the other.
fn loop_text(desk: &Desk, way: &Way) -> String {
    let name = |plant: &Option<PlantId>| {
        plant.map_or_else(|| words::ONE_FATHER.to_owned(), |plant| plant_text(desk, plant))
    };
    let up = way.plants[..=way.top].iter().map(name).collect::<Vec<_>>().join(" ‹ ");
    let down = way.plants[way.top + 1..].iter().map(name);
    std::iter::once(up).chain(down).collect::<Vec<_>>().join(" › ")
}

fn inbred_sheet(desk: &Desk) -> Sheet {
    let mut inbred: Vec<(PlantId, f64)> =
        kin::everybody(desk).filter(|&(_, inbreeding)| inbreeding > 0.0).collect();
    inbred.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    let all = kin::everybody(desk).len();
    let mut sheet = Sheet::titled(format!(
        "{} of {}, the most inbred first; of the rest no inbreeding is known",
        inbred.len(),
        many(all, "plant")
    ));
    let mut table = Table::new().text("plant").number("F").number("of brother × sister");
    for (plant, inbreeding) in inbred {
        table.row([
            plant_text(desk, plant),
            figure(inbreeding),
            percent(kin::of_full_sibs(desk, inbreeding)),
        ]);
    }
    sheet.table(table);
    sheet
}

fn matrix_sheet(desk: &Desk, plants: &[PlantId], matrix: &[f64]) -> Sheet {
    let mut sheet = Sheet::titled("Coancestry of each plant with itself and with each other");
    let mut table = Table::new().text("of").text("with").number("coancestry");
    for (i, (&of, values)) in plants.iter().zip(matrix.chunks(plants.len())).enumerate() {
        for (&with, &value) in plants.iter().zip(values).skip(i) {
            let with = if with == of { "itself".to_owned() } else { plant_text(desk, with) };
            table.row([plant_text(desk, of), with, figure(value)]);
        }
    }
    sheet.table(table);
    sheet
}
