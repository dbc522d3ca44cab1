//! `trug evening`: the season in review, and what is due.

mod rows;
mod sheet;

use clap::Args;

use super::{failure::Failure, shell::Shell};
use crate::book::Season;
use crate::views::evening;

/// The season in review: what happened, what waits for you, what is due
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug evening
  trug evening --season 2025")]
pub(super) struct Ask {
    /// The season; else the last of which there is anything to tell
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
    /// List every plant that waits, and every keeper
    #[arg(long)]
    all: bool,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let season = ask.season.map_or_else(|| desk.last_season(), Season);
    let levels = shell.levels();
    let mut found = evening::evening(&desk, season, levels);
    evening::forecast(&desk, &mut found, levels);
    shell
        .show(|| rows::json(&desk, &found, levels), || sheet::sheet(&desk, &found, ask.all, levels))
}
