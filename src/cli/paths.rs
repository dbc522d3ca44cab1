//! `trug paths`: where things are.

use std::path::PathBuf;

use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    sheet::Sheet,
    shell::{Shell, tell},
};
use crate::config::Settings;

/// Where the book, the settings and the demo garden are
#[derive(Debug, Args)]
#[command(
    before_long_help = "\
Examples:
  trug paths
  trug paths --json",
    after_long_help = "\
The settings file is of this form; what is not in it is as it stands here:
  (
      theme: auto,    // colours for the ground of your terminal: auto, dark, light or none
      mouse: true,    // whether the full screen listens to the mouse
      ascii: false,   // whether to draw with plain letters only
  )"
)]
pub(super) struct Ask {}

#[derive(Debug, Serialize)]
struct PathsRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    book: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    settings: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    crops: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    demo: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    state: Option<String>,
}

pub(super) fn run(_ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let places = &shell.places;
    if let Some(amiss) = places.settings().and_then(|file| Settings::load(&file).1) {
        tell(&amiss.to_string());
    }
    let text = |path: Option<PathBuf>| path.map(|path| path.display().to_string());
    let row = PathsRow {
        book: text(shell.book_dir().ok()),
        settings: text(places.settings()),
        crops: text(places.crops()),
        demo: text(places.demo()),
        state: text(places.state.clone()),
    };
    shell.show(|| &row, || sheet(&row))
}

fn sheet(row: &PathsRow) -> Sheet {
    let mut sheet = Sheet::titled("Where things are");
    let nowhere = "nowhere: no home folder is known";
    for (what, path, absent) in [
        ("book", &row.book, "none used yet; name one with --book DIR or TRUG_BOOK"),
        ("settings", &row.settings, nowhere),
        ("your crop files", &row.crops, nowhere),
        ("demo garden", &row.demo, nowhere),
        ("what is remembered", &row.state, nowhere),
    ] {
        // Not a table: a path that is cut is of no use.
        sheet.line(format!("{what:<20}{}", path.as_deref().unwrap_or(absent)));
    }
    sheet
}
