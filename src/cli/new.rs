//! `trug new`: a book is started.

use std::path::{Path, PathBuf};

use clap::Args;

use super::{
    failure::Failure,
    shell::{Shell, tell},
};
use crate::book::About;
use crate::shelf;

/// Start a book
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug new my-garden
  trug new my-garden --ploidy 4")]
pub(super) struct Ask {
    /// The folder, which must not hold a book yet
    dir: PathBuf,
    /// The crop: one that comes with the program, or one of your own crop files
    #[arg(long, value_name = "NAME", default_value = "dahlia")]
    crop: String,
    /// Copies of each chromosome: 2, 4, 6 or 8; else as the crop has it
    #[arg(long, value_name = "V", value_parser = ploidy)]
    ploidy: Option<u8>,
    /// How often two alleles of one gamete are copies of one parental allele; else as the crop
    /// has it
    #[arg(long, value_name = "A", value_parser = share)]
    double_reduction: Option<f64>,
}

fn ploidy(text: &str) -> Result<u8, String> {
    match text.parse() {
        Ok(ploidy @ (2 | 4 | 6 | 8)) => Ok(ploidy),
        _ => Err("a ploidy is 2, 4, 6 or 8".to_owned()),
    }
}

fn share(text: &str) -> Result<f64, String> {
    match text.parse() {
        Ok(share) if (0.0..=1.0).contains(&share) => Ok(share),
        _ => Err("it lies between 0 and what the ploidy allows, for example 0.05".to_owned()),
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let about = About {
        garden: garden(&ask.dir),
        crop: ask.crop.clone().into(),
        ploidy: ask.ploidy,
        double_reduction: ask.double_reduction,
        ..About::default()
    };
    shelf::create(&ask.dir, &about)?;
    // Opened once, so that a crop that nobody knows is told now.
    let opened = shell.open_at(&ask.dir)?;
    if !opened.problems.is_empty() {
        return Err(Failure::Faults(opened.problems));
    }
    shell.places.remember(&ask.dir);
    let dir = ask.dir.display();
    tell(&format!(
        "{} is laid out in {dir}. Its first page, book.ron, takes your name and your beds.\n\
         Next: `trug import FILE.csv` brings your spreadsheets in, `trug` opens it.",
        about.garden
    ));
    Ok(())
}

/// A garden called as its folder is.
fn garden(dir: &Path) -> Box<str> {
    let dir = std::path::absolute(dir).unwrap_or_else(|_| dir.to_owned());
    dir.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned()).into()
}
