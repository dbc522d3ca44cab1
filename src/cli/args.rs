//! The shell's words, as they may be written.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand};

use super::{
    bed, check, crosses, demo, earlier, evening, explain, import, keeping, kin, new, note,
    pairings, parents, paths, plan, seed, sibs, sow, trace,
};

/// A raiser's book of new dahlias: what was crossed, what came of it, where each plant came from.
#[derive(Debug, Parser)]
#[command(
    name = "trug",
    version,
    disable_help_subcommand = true,
    before_long_help = "\
Examples:
  trug demo                          look round a garden of our invention
  trug new my-garden                 start a book of your own
  trug import plants.csv             bring your spreadsheets into it
  trug                               open it as a full screen
  trug pairings                      which pairs gave keepers, and how sure that is
  trug trace 26-104 --json           where a seedling came from, for a script",
    after_long_help = "\
Exit status: 0 done; 1 faults in the book or in a file; 2 wrong words, nobody of that name, or
several; 3 a book could not be opened or written."
)]
pub(super) struct Words {
    #[command(flatten)]
    pub(super) everywhere: Everywhere,
    #[command(subcommand)]
    pub(super) command: Option<Command>,
}

/// What may be said with any command.
#[derive(Debug, Args)]
#[command(next_help_heading = "With any command")]
pub(super) struct Everywhere {
    #[arg(
        long,
        value_name = "DIR",
        global = true,
        help = "The book's folder; else TRUG_BOOK, else the book used last"
    )]
    pub(super) book: Option<PathBuf>,
    /// Print JSON instead of a table
    #[arg(long, global = true)]
    pub(super) json: bool,
    /// How sure the ranges of rates are to be, between 0 and 1
    #[arg(long, value_name = "X", global = true, value_parser = level)]
    pub(super) level: Option<f64>,
    #[arg(
        long,
        value_name = "DATE",
        global = true,
        value_parser = day,
        help = "The day that counts as today; else TRUG_TODAY, else the book's own, else the calendar's"
    )]
    pub(super) today: Option<NaiveDate>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Demo(demo::Ask),
    New(new::Ask),
    Check(check::Ask),
    Evening(evening::Ask),
    Crosses(crosses::Ask),
    Seed(seed::Ask),
    Bed(bed::Ask),
    Trace(trace::Ask),
    Sibs(sibs::Ask),
    Kin(kin::Ask),
    Parents(parents::Ask),
    Pairings(pairings::Ask),
    Plan(plan::Ask),
    Sow(sow::Ask),
    Explain(explain::Ask),
    Import(import::Ask),
    Note(Box<note::Ask>),
    History(keeping::HistoryAsk),
    Undo(keeping::UndoAsk),
    Redo(keeping::RedoAsk),
    Earlier(earlier::Ask),
    BringBack(earlier::BackAsk),
    Paths(paths::Ask),
}

fn level(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(level) if level > 0.0 && level < 1.0 => Ok(level),
        _ => Err("a level lies between 0 and 1, for example 0.95".to_owned()),
    }
}

/// Reads a day written `YYYY-MM-DD`.
pub(super) fn day(text: &str) -> Result<NaiveDate, String> {
    crate::book::When::parse(text)
        .map_err(|err| err.to_string())?
        .exact()
        .ok_or_else(|| format!("\"{text}\" is no single day; write it as 2026-11-03"))
}
