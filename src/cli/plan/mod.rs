//! `trug plan`: which pairs to cross next season, how many heads and how much seed.

mod json;
mod sheet;

use clap::Args;

use super::{failure::Failure, shell::Shell, who};
use crate::book::PlantId;
use crate::plan::{Field, Next, NoPlan, Wanted, choose::CannotBe};
use crate::views::{
    Desk,
    plan::{self, Source},
};

/// Which pairs to pollinate next season, and how much seed to sow
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug plan                                 for as many places as last season
  trug plan --places 150 --pairs 10         so many places, so many pairs
  trug plan --daring 1                      untried pairs get the benefit of the doubt
  trug plan --with \"Ferry Lantern,24-031\"   this pair in any case
  trug plan --print                         the list to take outside

Places are given to the pairs from which most keepers are to be expected, within the limits. A
place is worth the chance that its seedling blooms, is judged and is kept.")]
pub(super) struct Ask {
    /// Places in the bed; else as many as were planted last season
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=100_000))]
    places: Option<u32>,
    /// Pairs at most
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pairs: Option<u32>,
    /// Pairs of one parent at most
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    per_parent: Option<u32>,
    /// Seedlings of a pair, at least
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    least: Option<u32>,
    /// Seedlings of a pair, at most; else half as many again as an even share
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    most: Option<u32>,
    /// Inbreeding F of the seedlings, at most; else that of full sibs' offspring
    #[arg(long, value_name = "X", value_parser = share)]
    max_inbreeding: Option<f64>,
    /// Mean coancestry of what is planted, at most, each plant with itself counted in
    #[arg(long, value_name = "X", value_parser = share)]
    max_kinship: Option<f64>,
    /// How much the benefit of the doubt counts: 0 is the mean, 1 a standard deviation above it
    #[arg(long, value_name = "X", allow_negative_numbers = true, value_parser = daring)]
    daring: Option<f64>,
    /// A pair that has to be in it
    #[arg(long, value_name = "A,B")]
    with: Vec<String>,
    /// A pair that must not be
    #[arg(long, value_name = "A,B")]
    without: Vec<String>,
    /// Print the list to take outside
    #[arg(long)]
    print: bool,
}

fn share(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(share) if (0.0..=1.0).contains(&share) => Ok(share),
        _ => Err("it lies between 0 and 1, for example 0.05".to_owned()),
    }
}

fn daring(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(daring) if (-3.0..=3.0).contains(&daring) => Ok(daring),
        _ => Err("daring lies between -3 and 3, for example 0.5".to_owned()),
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let source = Source::of(&desk);
    let field = plan::field(&desk, &source);
    let usual = plan::usual(&desk);
    let wanted = Wanted {
        places: ask.places.unwrap_or(usual.places),
        pairs: ask.pairs.unwrap_or(usual.pairs),
        per_parent: ask.per_parent.unwrap_or(usual.per_parent),
        least: ask.least.unwrap_or(usual.least.min(ask.most.unwrap_or(u32::MAX))),
        most: ask.most,
        max_inbreeding: ask.max_inbreeding.or(usual.max_inbreeding),
        max_kinship: ask.max_kinship,
        daring: ask.daring.unwrap_or(usual.daring),
        with: pairs(&desk, &ask.with)?,
        without: pairs(&desk, &ask.without)?,
    };
    if wanted.most.is_some_and(|most| most < wanted.least) {
        return Err(Failure::Usage(
            "A pair cannot have at least more seedlings than at most.".to_owned(),
            "Make --most at least as large as --least.".to_owned(),
        ));
    }
    let next = field.plan(&wanted, &source).map_err(|no_plan| refused(&desk, &no_plan))?;
    let told = Told { desk: &desk, field: &field, next: &next, source: &source };
    if ask.print {
        return shell.show(|| told.json(), || told.list());
    }
    shell.show(|| told.json(), || told.sheet())
}

/// Pairs as the shell names them: two plants with a comma between.
fn pairs(desk: &Desk, words: &[String]) -> Result<Vec<[PlantId; 2]>, Failure> {
    let pair = |word: &String| {
        let Some((a, b)) = word.split_once(',') else {
            return Err(Failure::Usage(
                format!("\"{word}\" is no pair."),
                "Name two plants with a comma between, such as \"Saltmarsh,24-031\".".to_owned(),
            ));
        };
        Ok([who::plant(desk, a.trim())?, who::plant(desk, b.trim())?])
    };
    words.iter().map(pair).collect()
}

fn refused(desk: &Desk, no_plan: &NoPlan) -> Failure {
    let (sentence, hint) = match no_plan {
        NoPlan::NobodyToCross => (
            "There are not two plants in the garden that could be crossed.".to_owned(),
            "Parents are kept seedlings that live, and varieties that were used or acquired.",
        ),
        NoPlan::NotHere(plant) => (
            format!("{} is not in the garden, or not kept.", desk.label(*plant)),
            "Write down what became of it, or leave the pair out.",
        ),
        NoPlan::NothingLeft => (
            "No pair keeps these limits.".to_owned(),
            "Allow more inbreeding, or rule fewer pairs out.",
        ),
        NoPlan::CannotBe(CannotBe::Places { needed, places }, _) => (
            format!("The pairs asked for need {needed} places, and there are {places}."),
            "Give more places, or fewer seedlings a pair with --least.",
        ),
        NoPlan::CannotBe(CannotBe::Pairs { needed, pairs }, _) => (
            format!("{needed} pairs are asked for by hand, and at most {pairs} may be chosen."),
            "Allow more with --pairs.",
        ),
        NoPlan::CannotBe(CannotBe::PerParent { needed, per_parent, .. }, parent) => (
            format!(
                "{} is asked for in {needed} pairs, and at most {per_parent} are allowed.",
                parent.map_or("A parent", |parent| desk.label(parent))
            ),
            "Allow more with --per-parent.",
        ),
        NoPlan::CannotBe(CannotBe::Kin { least, most }, _) => (
            format!(
                "Nothing that can be planted has a mean coancestry of {most:.4} or less; the least \
                 found is {least:.4}."
            ),
            "Allow more with --max-kinship, or more pairs.",
        ),
    };
    Failure::Refused(sentence, hint.to_owned())
}

/// A plan and what it takes to tell of it.
struct Told<'a> {
    desk: &'a Desk,
    field: &'a Field,
    next: &'a Next,
    source: &'a Source<'a>,
}

impl Told<'_> {
    fn names(&self, pair: usize) -> [&str; 2] {
        let pair = &self.field.pairs[pair];
        [pair.seed, pair.pollen].map(|plant| self.desk.label(plant))
    }

    fn pair(&self, pair: usize) -> String {
        let [seed, pollen] = self.names(pair);
        format!("{seed} × {pollen}")
    }
}
