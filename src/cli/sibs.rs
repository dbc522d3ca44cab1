//! `trug sibs`: a family side by side.

use std::collections::BTreeMap;

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{
        CountsRow, PlantName, RateRow, k_of_n, many, measure, measure_name, pair_text, party,
        plant_text, rate_cells,
    },
    sheet::{Sheet, Table},
    shell::Shell,
    who,
};
use crate::views::{
    Desk, Party,
    sibs::{self, BLOOM_MM, FIRST_BLOOM_DAY, HEIGHT_CM, Kin, Mean, Of, Row, Sibs},
    words,
};

/// A family side by side, with the means of the family and of the whole programme
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug sibs 26-104                          its full and half sibs
  trug sibs 25X07                           all seedlings of a cross
  trug sibs \"Ferry Lantern\" 24-031          all seedlings of two parents")]
pub(super) struct Ask {
    /// A plant, the code of a cross, or two parents
    #[arg(required = true, num_args = 1..=2, value_names = ["WHO", "OTHER"])]
    who: Vec<String>,
    /// Take WHO for the code of a cross, even where a plant is called so too
    #[arg(long)]
    cross: bool,
}

#[derive(Debug, Serialize)]
struct SibsRow<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    counts: CountsRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
    plants: Vec<PlantRow<'a>>,
    means: BTreeMap<&'a str, MeanRow>,
}

#[derive(Debug, Serialize)]
struct PlantRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    kin: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    through: Option<&'a str>,
    certain: bool,
    state: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bloom_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    height_cm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    first_bloom: Option<String>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    scores: BTreeMap<String, f64>,
}

#[derive(Debug, Serialize)]
struct MeanRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    family: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    programme: Option<f64>,
    n: u32,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let of = match &ask.who[..] {
        [a, b] => Of::Pair(who::plant(&desk, a)?, who::plant(&desk, b)?),
        [code] if ask.cross => Of::Cross(who::cross(desk.book(), code)?),
        [word] => match who::plant_or_cross(&desk, word)? {
            Ok(plant) => Of::Plant(plant),
            Err(cross) => Of::Cross(cross),
        },
        _ => return Err(Failure::Usage("nobody was named.".to_owned(), String::new())),
    };
    let found = sibs::sibs(&desk, of, shell.levels());
    shell.show(|| json(&desk, &found), || sheet(&desk, of, &found))
}

fn kin(kin: Kin) -> &'static str {
    match kin {
        Kin::Itself => "self",
        Kin::Full => "full",
        Kin::Half(_) => "half",
    }
}

fn scores(row: &Row) -> impl Iterator<Item = (&str, f64)> {
    let measured = [BLOOM_MM, HEIGHT_CM, FIRST_BLOOM_DAY];
    row.measures
        .values
        .iter()
        .filter(move |(name, _)| !measured.contains(&&***name))
        .map(|(name, value)| (&**name, *value))
}

fn json<'a>(desk: &'a Desk, found: &'a Sibs) -> SibsRow<'a> {
    let plant = |row: Row| PlantRow {
        name: PlantName::of(desk, row.member.plant),
        kin: kin(row.member.kin),
        through: match row.member.kin {
            Kin::Half(parent) => Some(desk.label(parent)),
            Kin::Itself | Kin::Full => None,
        },
        certain: row.member.certain,
        state: words::standing(desk.book(), row.member.plant, row.state),
        verdict: row.verdict.map(crate::book::Verdict::word),
        bloom_mm: row.measures.get(BLOOM_MM),
        height_cm: row.measures.get(HEIGHT_CM),
        first_bloom: row.first_bloom.map(|on| on.to_string()),
        scores: scores(&row).map(|(name, value)| (name.to_owned(), value)).collect(),
    };
    let means = found.means.iter().map(|(name, mean)| {
        let Mean { family, programme, n } = *mean;
        (&**name, MeanRow { family, programme, n })
    });
    SibsRow {
        seed_parent: party(desk, &found.seed),
        pollen_parent: party(desk, &found.pollen),
        counts: found.counts.into(),
        rate: found.rate.map(Into::into),
        plants: found.plants.iter().map(|&member| plant(sibs::row(desk, member))).collect(),
        means: means.collect(),
    }
}

fn sheet(desk: &Desk, of: Of, found: &Sibs) -> Sheet {
    let raised = match (&found.seed, &found.pollen) {
        (Party::Unknown, Party::Unknown) => "whose parents are not known".to_owned(),
        (seed, pollen) => format!("raised from {}", pair_text(desk, seed, pollen)),
    };
    let n = found.plants.len();
    let mut sheet = Sheet::titled(match of {
        Of::Plant(plant) => {
            format!("{}, {raised}, and {}", plant_text(desk, plant), many(n - 1, "sib"))
        }
        Of::Cross(cross) => {
            format!("{} of cross {}, {raised}", many(n, "seedling"), desk.book().cross(cross).code)
        }
        Of::Pair(..) => format!("{} {raised}, whichever bore the seed", many(n, "seedling")),
    });
    let [rate, range] = rate_cells(found.rate);
    let counts = found.counts;
    if let Some(known) = found.rate {
        sheet.line(format!(
            "kept {} judged, {rate}, {:.0} % range {range}",
            k_of_n(counts.kept, counts.judged),
            known.level * 100.0
        ));
    }
    let mut table = Table::new()
        .text("plant")
        .text("kin")
        .text("stands")
        .number("bloom mm")
        .number("height cm")
        .text("first bloom")
        .text("scores");
    for &member in &found.plants {
        let row = sibs::row(desk, member);
        let scores: Vec<String> =
            scores(&row).map(|(name, score)| format!("{name} {}", measure(Some(score)))).collect();
        table.row([
            plant_text(desk, member.plant),
            match member.kin {
                Kin::Itself => String::new(),
                Kin::Full => "full".to_owned(),
                Kin::Half(parent) => format!("half, {}", plant_text(desk, parent)),
            },
            words::standing(desk.book(), member.plant, row.state).to_owned(),
            measure(row.measures.get(BLOOM_MM)),
            measure(row.measures.get(HEIGHT_CM)),
            row.first_bloom.map_or_else(String::new, words::day),
            scores.join(", "),
        ]);
    }
    sheet.table(table);
    let mut table =
        Table::new().text("mean of").number("family").number("plants").number("programme");
    for (name, mean) in &found.means {
        table.row([
            measure_name(name).to_owned(),
            measure(mean.family),
            mean.n.to_string(),
            measure(mean.programme),
        ]);
    }
    sheet.part(table);
    sheet
}
