//! A book opened to be written in, and what the shell says where that fails; `trug history`,
//! `trug undo`, `trug redo`.

use std::env;

use chrono::NaiveDateTime;
use clap::Args;
use serde::Serialize;

use super::{
    failure::Failure,
    sheet::{Sheet, Table},
    shell::{Shell, tell},
};
use crate::book::{Book, Change};
use crate::shelf::{Keeper, Kept, NotKept, NotUndone, Opened, Tools, Undone};

/// A book, and whoever writes in it.
pub(super) struct Desktop {
    pub(super) opened: Opened,
    pub(super) keeper: Keeper,
}

/// Who sits at the machine.
pub(super) fn whoever() -> String {
    ["TRUG_WHO", "USER", "LOGNAME"]
        .iter()
        .find_map(|name| env::var(name).ok().filter(|who| !who.is_empty()))
        .unwrap_or_default()
}

/// Opens the book that is meant, to write in it.
pub(super) fn open(shell: &Shell) -> Result<Desktop, Failure> {
    let desktop = open_to_write(shell)?;
    shell.say_faults(&desktop.opened)?;
    Ok(desktop)
}

/// Opens the book that is meant, to write in it, and leaves it to the caller to say what is wrong
/// in it.
pub(super) fn open_to_write(shell: &Shell) -> Result<Desktop, Failure> {
    let desktop = open_if_may_be(shell)?;
    match desktop.keeper.read_only() {
        None => Ok(desktop),
        Some(why) => Err(Failure::Shut(why.to_string(), why.hint().to_owned())),
    }
}

/// Opens the book that is meant, to write in it if it may be.
pub(super) fn open_to_read(shell: &Shell) -> Result<Desktop, Failure> {
    let desktop = open_if_may_be(shell)?;
    shell.say_faults(&desktop.opened)?;
    Ok(desktop)
}

fn open_if_may_be(shell: &Shell) -> Result<Desktop, Failure> {
    let tools = Tools::of(whoever());
    let (opened, keeper) = Keeper::open(&shell.book_dir()?, shell.places.crops().as_deref(), tools)
        .map_err(|err| Failure::Shut(err.to_string(), err.hint()))?;
    if let Some(not_kept) = keeper.interrupted() {
        tell(&format!(
            "trug: \"{}\" was cut short, and the same was changed since; it was not done.",
            not_kept.change.what
        ));
    }
    Ok(Desktop { opened, keeper })
}

/// Keeps a change.
pub(super) fn keep(keeper: &mut Keeper, book: &mut Book, change: Change) -> Result<Kept, Failure> {
    let kept = keeper.keep(book, change).map_err(|not_kept| failure(&not_kept))?;
    for file in &kept.restored {
        tell(&format!("trug: {file} was gone, and is written again."));
    }
    Ok(kept)
}

fn failure(not_kept: &NotKept) -> Failure {
    Failure::Shut(not_kept.to_string(), not_kept.why.hint())
}

/// List what was changed, when and by whom, newest first
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug history
  trug history --last 20 --json")]
pub(super) struct HistoryAsk {
    /// Only so many
    #[arg(long, value_name = "N")]
    last: Option<usize>,
}

/// Take the last change back, or another one that nothing has touched since
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug undo
  trug undo 12")]
pub(super) struct UndoAsk {
    /// The number of the change; `trug history` lists them
    change: Option<u64>,
}

/// Do again what was undone last
#[derive(Debug, Args)]
pub(super) struct RedoAsk {}

#[derive(Debug, Serialize)]
struct MadeRow {
    change: u64,
    at: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    who: String,
    what: String,
    undone: bool,
}

/// A time as it is written everywhere: in UTC, so that it means the same on every machine.
pub(super) fn time(at: NaiveDateTime) -> String {
    at.format("%Y-%m-%dT%H:%M:%SZ").to_string()
}

pub(super) fn history(ask: &HistoryAsk, shell: &Shell) -> Result<(), Failure> {
    let Desktop { keeper, .. } = open_to_read(shell)?;
    let history = keeper.history()?;
    let rows: Vec<MadeRow> = history
        .entries()
        .rev()
        .take(ask.last.unwrap_or(usize::MAX))
        .map(|made| MadeRow {
            change: made.n,
            at: time(made.at),
            who: made.who.into(),
            what: made.what.into(),
            undone: made.is_undone,
        })
        .collect();
    let sheet = || {
        if rows.is_empty() {
            return Sheet::titled("Nothing has been changed with this program yet");
        }
        let mut table = Table::new().number("change").text("at").text("who").text("what").text("");
        for row in &rows {
            let undone = if row.undone { "undone" } else { "" };
            table.row([
                row.change.to_string(),
                row.at.clone(),
                row.who.clone(),
                row.what.clone(),
                undone.to_owned(),
            ]);
        }
        let mut sheet = Sheet::titled("What was changed, newest first");
        sheet.table(table);
        sheet
    };
    shell.show(|| &rows, sheet)
}

pub(super) fn undo(ask: &UndoAsk, shell: &Shell) -> Result<(), Failure> {
    let Desktop { mut opened, mut keeper } = open(shell)?;
    let change = match ask.change {
        Some(n) => keeper.undo_one(&mut opened.book, n).map(|kept| kept.change),
        None => keeper.undo(&mut opened.book).map(|undone| match undone {
            Undone::Kept(kept) => kept.change,
            Undone::LetGo(change) => change,
        }),
    };
    say(shell, "Undone", &change?)
}

pub(super) fn redo(_ask: &RedoAsk, shell: &Shell) -> Result<(), Failure> {
    let Desktop { mut opened, mut keeper } = open(shell)?;
    say(shell, "Done again", &keeper.redo(&mut opened.book)?.change)
}

fn say(shell: &Shell, done: &str, change: &Change) -> Result<(), Failure> {
    shell.show(
        || serde_json::json!({ "what": change.what }),
        || Sheet::titled(format!("{done}: {}", change.what)),
    )
}

impl From<NotUndone> for Failure {
    fn from(why: NotUndone) -> Self {
        match &why {
            NotUndone::Journal(_) => Self::Shut(why.to_string(), why.hint()),
            NotUndone::NotKept(not_kept) if not_kept.is_waiting => failure(not_kept),
            _ => Self::Refused(why.to_string(), why.hint()),
        }
    }
}
