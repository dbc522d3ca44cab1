//! `trug demo`: the demo garden is laid out and opened.

use std::path::PathBuf;

use clap::Args;

use super::{Outcome, Surroundings, failure::Failure, screen, sheet::Sheet, shell::Shell};

/// Lay out a garden of our invention and look round it; your own book is not touched
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug demo
  trug demo /tmp/quillet")]
pub(super) struct Ask {
    /// The folder to lay it out in; else one of its own, which `trug paths` names
    dir: Option<PathBuf>,
}

pub(super) fn run(ask: &Ask, shell: &Shell, around: &Surroundings) -> Result<Outcome, Failure> {
    let dir = ask.dir.clone().or_else(|| shell.places.demo()).ok_or_else(|| {
        Failure::Usage(
            "no folder for the demo garden is known.".to_owned(),
            "Name one: `trug demo DIR`".to_owned(),
        )
    })?;
    lay_out(&dir)?;
    if around.is_terminal {
        return screen(shell, around, &dir);
    }
    if shell.places.last_book().is_none() {
        shell.places.remember(&dir);
    }
    let shown = dir.display();
    let mut sheet = Sheet::titled(format!("The demo garden lies in {shown}"));
    sheet.line("Look round it with");
    for words in ["evening", "pairings", "trace WHO", "sibs WHO", "check"] {
        sheet.line(format!("  trug --book {shown} {words}"));
    }
    sheet.line("or, in a terminal, on the full screen: trug demo");
    shell.show(|| serde_json::json!({ "book": dir }), || sheet)?;
    Ok(Outcome::Done(0))
}

/// Stands in until the garden itself is there.
fn lay_out(dir: &std::path::Path) -> Result<(), Failure> {
    if dir.join("book.ron").is_file() {
        return Ok(());
    }
    Err(Failure::Shut("the demo garden is not planted yet.".to_owned(), String::new()))
}
