//! `trug new`: a book is started.

use std::{
    fs,
    path::{Path, PathBuf},
    sync::Arc,
};

use clap::Args;

use super::{
    failure::Failure,
    shell::{Shell, tell},
};
use crate::book::{About, Book, Crop, Fault, Severity, faults};
use crate::shelf::{self, crop_file};

/// The crop of a book for which no other is asked.
pub(super) const CROP: &str = "dahlia";

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
    #[arg(long, value_name = "NAME", default_value = CROP)]
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
        _ => Err("it is a number such as 0.05".to_owned()),
    }
}

impl Ask {
    /// A book of the usual crop in a folder.
    pub(super) fn of(dir: PathBuf) -> Self {
        Self { dir, crop: CROP.to_owned(), ploidy: None, double_reduction: None }
    }
}

/// Starts a book, and remembers it as the one last used. Returns its first page, and what is odd
/// about it.
pub(super) fn start(ask: &Ask, shell: &Shell) -> Result<(About, Vec<Fault>), Failure> {
    let about = About {
        garden: garden(&ask.dir),
        crop: ask.crop.clone().into(),
        ploidy: ask.ploidy,
        double_reduction: ask.double_reduction,
        ..About::default()
    };
    let crop = crop(&ask.crop, shell.places.crops().as_deref())?;
    let book = Book::new(about, Arc::new(crop), Vec::new(), Vec::new());
    let today = shell.today(None)?;
    let mut odd = faults(&book, today, |_| false);
    if let Some(n) = odd.iter().position(|fault| fault.severity == Severity::Error) {
        let Fault { message, hint, .. } = odd.swap_remove(n);
        return Err(Failure::Usage(message, hint));
    }
    shelf::create(&ask.dir, book.about())?;
    shell.places.remember(&ask.dir);
    Ok((book.about().clone(), odd))
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let (about, odd) = start(ask, shell)?;
    for Fault { message, hint, .. } in odd {
        tell(&format!("trug: {message}\n  {hint}"));
    }
    let dir = ask.dir.display();
    tell(&format!(
        "{} is laid out in {dir}. Its first page, book.ron, takes your name and your beds.\n\
         Next: `trug import FILE.csv` brings your spreadsheets in, `trug` opens it.",
        about.garden
    ));
    Ok(())
}

/// The crop of this name: one of the raiser's own, or one that is built in.
pub(super) fn crop(name: &str, theirs: Option<&Path>) -> Result<Crop, Failure> {
    let theirs = theirs.map(|dir| dir.join(format!("{name}.ron"))).filter(|file| file.is_file());
    let Some(file) = theirs else {
        return crop_file::builtin(name).ok_or_else(|| {
            let known: Vec<&str> = crop_file::builtin_names().collect();
            Failure::Usage(
                format!("there is no crop called \"{name}\"."),
                format!(
                    "These come with the program: {}. `trug paths` says where your own go.",
                    known.join(", ")
                ),
            )
        });
    };
    let shown = file.display().to_string();
    let text = fs::read_to_string(&file)
        .map_err(|err| Failure::Shut(format!("{shown} cannot be read: {err}."), String::new()))?;
    crop_file::parse(&text, &shown).map_err(Failure::Faults)
}

/// A garden called as its folder is.
fn garden(dir: &Path) -> Box<str> {
    let dir = std::path::absolute(dir).unwrap_or_else(|_| dir.to_owned());
    dir.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned()).into()
}
