//! `trug sow`: how much seed for so many keepers.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    figures::{RateRow, percent, range_title, rate_cells},
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::plan::{Asked, Basis, Need, Rate};
use crate::views::{self, Levels, words};

/// How much seed to sow for so many keepers
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug sow --keepers 3                       with the rates of this book, and their doubt
  trug sow --keepers 3 --assurance 0.95      surer of it
  trug sow --keepers 1 --keep 0.05 --germination 0.85 --survival 0.9

plants are plants in bloom, seeds are those to sow. A rate that is given is taken as exact. One
that is not comes from the book, and its doubt is reckoned in; where the book has too few records,
what is usual for the crop stands in, and the answer says so.")]
pub(super) struct Ask {
    /// Keepers wanted, at least
    #[arg(long, value_name = "R")]
    keepers: u32,
    /// The chance of having so many, between 0 and 1
    #[arg(long, value_name = "Q", default_value = "0.9", value_parser = chance)]
    assurance: f64,
    /// Kept, of those that bloom
    #[arg(long, value_name = "P", value_parser = share)]
    keep: Option<f64>,
    /// Coming up, of those sown
    #[arg(long, value_name = "G", value_parser = share)]
    germination: Option<f64>,
    /// Coming into bloom, of those that came up
    #[arg(long, value_name = "S", value_parser = share)]
    survival: Option<f64>,
}

#[derive(Debug, Serialize)]
struct SowRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    plants: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seeds: Option<u32>,
    assurance: f64,
    keepers: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    best_of_plants_sd: Option<f64>,
    germination: StageRow,
    survival: StageRow,
    keep: StageRow,
}

#[derive(Debug, Serialize)]
struct StageRow {
    from: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    k: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    n: Option<u32>,
    #[serde(flatten)]
    share: RateRow,
}

impl From<Rate> for StageRow {
    fn from(rate: Rate) -> Self {
        let (from, counts) = match rate.basis {
            Basis::Given => ("given", None),
            Basis::Book { k, n } | Basis::Pairings { k, n, .. } => ("book", Some((k, n))),
            Basis::Usual => ("usual", None),
        };
        let (k, n) = counts.unzip();
        Self { from, k, n, share: rate.share.into() }
    }
}

fn chance(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(chance) if chance > 0.0 && chance < 1.0 => Ok(chance),
        _ => Err("an assurance lies between 0 and 1, for example 0.9".to_owned()),
    }
}

fn share(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(share) if (0.0..=1.0).contains(&share) => Ok(share),
        _ => Err("a share lies between 0 and 1, for example 0.85".to_owned()),
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let asked = Asked {
        keepers: ask.keepers,
        assurance: ask.assurance,
        keep: ask.keep,
        germination: ask.germination,
        survival: ask.survival,
    };
    let levels = shell.levels();
    let need = views::sow::need(&desk, &asked, levels);
    shell.show(|| json(&asked, &need), || sheet(&asked, &need, levels))
}

fn json(asked: &Asked, need: &Need) -> SowRow {
    SowRow {
        plants: need.plants,
        seeds: need.seeds,
        assurance: asked.assurance,
        keepers: asked.keepers,
        best_of_plants_sd: need.best_of_plants,
        germination: need.germination.into(),
        survival: need.survival.into(),
        keep: need.keep.into(),
    }
}

fn sheet(asked: &Asked, need: &Need, levels: Levels) -> Sheet {
    let wanted = format!(
        "at least {} with a chance of {}",
        words::many(asked.keepers, "keeper"),
        percent(asked.assurance)
    );
    let mut sheet = Sheet::titled(match need.seeds {
        Some(seeds) => format!("Sow {} for {wanted}", words::many(seeds, "seed")),
        None => format!("No number of seeds that can be sown gives {wanted}"),
    });
    if let Some(plants) = need.plants {
        sheet.line(format!(
            "{} must come into bloom, whatever is lost before",
            words::many(plants, "plant")
        ));
    }
    let mut table =
        Table::new().text("share").number("").number(range_title(levels.shrunk)).text("rests on");
    for (name, rate) in [
        ("come up, of those sown", need.germination),
        ("come into bloom, of those up", need.survival),
        ("are kept, of those in bloom", need.keep),
    ] {
        let [share, range] = rate_cells(Some(rate.share));
        let range = if rate.basis == Basis::Given { String::new() } else { range };
        table.row([name.to_owned(), share, range, basis(rate.basis)]);
    }
    sheet.part(table);
    if let Some(best) = need.best_of_plants.filter(|&best| best > 0.0) {
        sheet.blank();
        sheet.line(format!(
            "for study: the best of so many plants in any one trait stands, on average, {best:.1} \
             standard deviations above their mean"
        ));
    }
    sheet
}

fn basis(basis: Basis) -> String {
    match basis {
        Basis::Given => "as given".to_owned(),
        Basis::Book { k, n } => format!("{k} of {n} in this book, and what is usual"),
        Basis::Pairings { k, n, pairings } => {
            let pairings = words::many(u32::try_from(pairings).unwrap_or(u32::MAX), "pairing");
            format!("{k} of {n} in {pairings}, for a pair not made yet")
        }
        Basis::Usual => "what is usual: too few records in this book".to_owned(),
    }
}
