//! `trug demo`: the demo garden is laid out and opened.

use std::path::{Path, PathBuf};

use clap::Args;

use super::{
    Outcome, Surroundings, failure::Failure, open_screen, settings, sheet::Sheet, shell::Shell,
};
use crate::shelf::{self, LaidOut};

/// What to try first, without a screen.
const WORDS: [&str; 4] = ["evening", "pairings", "parents", "crosses"];

/// Lay out a garden of our invention and look round it; your own book is not touched
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug demo
  trug demo quillet-garden")]
pub(super) struct Ask {
    /// The folder to lay it out in; else one of its own, which `trug paths` names
    dir: Option<PathBuf>,
}

/// Lays the demo garden out in a folder, or in its own.
pub(super) fn lay_out(dir: Option<PathBuf>, shell: &Shell) -> Result<(PathBuf, LaidOut), Failure> {
    let dir = dir.or_else(|| shell.places.demo()).ok_or_else(|| {
        Failure::Usage(
            "no folder for the demo garden is known.".to_owned(),
            "Name one: `trug demo DIR`".to_owned(),
        )
    })?;
    let laid_out = shelf::lay_out(&dir)?;
    // The demo does not push the raiser's own book out of memory.
    if shell.places.last_book().is_none() {
        shell.places.remember(&dir);
    }
    Ok((dir, laid_out))
}

pub(super) fn run(ask: &Ask, shell: &Shell, around: &Surroundings) -> Result<Outcome, Failure> {
    let (dir, laid_out) = lay_out(ask.dir.clone(), shell)?;
    if around.is_terminal {
        let screen = open_screen(shell, &dir, settings(shell))?;
        return Ok(Outcome::Screen(Box::new(screen)));
    }
    let shown = dir.display();
    let mut sheet = Sheet::titled(match laid_out {
        LaidOut::Now => format!("The demo garden is laid out in {shown}"),
        LaidOut::Before => format!("The demo garden lies in {shown}, as you left it"),
    });
    sheet.line("Look round it with");
    for words in WORDS {
        sheet.line(format!("  trug --book {} {words}", quoted(&dir)));
    }
    sheet.line("or, in a terminal, on the full screen with `trug demo`.");
    shell.show(|| serde_json::json!({ "book": dir }), || sheet)?;
    Ok(Outcome::Done(0))
}

/// A path as a shell takes it for one word.
fn quoted(path: &Path) -> String {
    let path = path.display().to_string();
    let plain = |c: char| c.is_alphanumeric() || "/._-+:~".contains(c);
    if path.chars().all(plain) { path } else { format!("'{}'", path.replace('\'', r"'\''")) }
}
