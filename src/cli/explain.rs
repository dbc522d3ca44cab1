//! `trug explain`: what a figure means, how it is worked out, and who says so.

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::views::figures::{self, Figure};

/// What each figure means, how it is worked out, and who says so
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug explain              every figure, each with what it says
  trug explain steadied     one of them, with its formula and its source
  trug explain F")]
pub(super) struct Ask {
    /// The figure as it is called on a screen or a sheet; all where none is named
    #[arg(value_name = "FIGURE")]
    words: Vec<String>,
}

#[derive(Debug, Serialize)]
struct FigureRow {
    figure: &'static str,
    as_on_screen: &'static [&'static str],
    shown: &'static str,
    reading: &'static str,
    formula: &'static str,
    source: &'static str,
}

impl From<&'static Figure> for FigureRow {
    fn from(figure: &'static Figure) -> Self {
        let &Figure { name, heads, shown, reading, formula, source } = figure;
        Self { figure: name, as_on_screen: heads, shown, reading, formula, source }
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let word = ask.words.join(" ");
    let found = if word.is_empty() { figures::all().collect() } else { figures::named(&word) };
    if found.is_empty() {
        return Err(Failure::Usage(
            format!("no figure is called \"{word}\"."),
            "`trug explain` lists them all.".to_owned(),
        ));
    }
    let json = || found.iter().copied().map(FigureRow::from).collect::<Vec<_>>();
    shell.show(json, || if word.is_empty() { list(&found) } else { tell(&found) })
}

fn list(found: &[&'static Figure]) -> Sheet {
    let mut sheet = Sheet::titled("What each figure says");
    let mut table = Table::new().text("figure").text("says");
    for figure in found {
        table.row([figure.name.to_owned(), figure.reading.to_owned()]);
    }
    sheet.table(table);
    sheet.line("`trug explain FIGURE` tells how one is worked out, and who says so.");
    sheet
}

fn tell(found: &[&'static Figure]) -> Sheet {
    let mut sheet = Sheet::default();
    for (i, figure) in found.iter().enumerate() {
        if i > 0 {
            sheet.blank();
        }
        sheet.line(format!("{}: {}", figure.name, figure.reading));
        sheet.line(format!("worked out: {}", figure.formula));
        sheet.line(format!("source: {}", figure.source));
        sheet.line(format!("shown: {}", figure.shown));
    }
    sheet
}
