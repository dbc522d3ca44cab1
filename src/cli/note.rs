//! `trug note`: an entry is written in a diary, on the disk before it is said.

use std::sync::Arc;

use chrono::NaiveDate;
use clap::Args;
use serde::Serialize;

use super::{
    check::ProblemRow,
    deeds::{self, Beside},
    failure::Failure,
    keeping::{self, Desktop},
    sheet::Sheet,
    shell::{Shell, tell},
    who,
};
use crate::book::{
    Book, Entry, Found, Problem, Spot, When,
    enter::{self, Diarist, Entered, Refused},
    find,
};
use crate::views::{Desk, words};

/// Write an entry in the diary of a plant, a head or a packet
#[derive(Debug, Args)]
#[command(
    before_long_help = "\
Examples:
  trug note 26-104 bloomed --on 2026-09-14
  trug note 26-104 look --bloom 112 --score form=7 --colour apricot
  trug note 26-104 discard --why \"weak stem\"
  trug note 26-104 lifted 4 --store \"box 3\"
  trug note 25X07 --head \"red 3\" threshed 23
  trug note 25X07-a sown 20",
    after_long_help = format!("\
Deeds of a plant: {}.
Deeds of a head: {}.
Deeds of a packet: {}.", deeds::PLANT, deeds::HEAD, deeds::LOT)
)]
pub(super) struct Ask {
    /// A plant, or the code of a packet; with --head the code of a cross
    who: String,
    /// What happened
    deed: String,
    /// What the deed needs: a place, a number, a cause, a remark
    words: Vec<String>,
    /// The tag of a head of that cross, or its place among them, from 1
    #[arg(long, value_name = "TAG")]
    head: Option<String>,
    /// When: a day, a month or a year; else today
    #[arg(long, value_name = "DATE", value_parser = when)]
    on: Option<When>,
    #[command(flatten)]
    beside: Beside,
}

fn when(text: &str) -> Result<When, String> {
    When::parse(text).map_err(|err| err.to_string())
}

#[derive(Debug, Serialize)]
struct NoteRow {
    change: u64,
    what: String,
    doubts: Vec<ProblemRow>,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let Desktop { mut opened, mut keeper } = keeping::open(shell)?;
    let today = shell.today(opened.book.about().today)?;
    let on = ask.on.unwrap_or(When::day(today));
    let book = &opened.book;
    let entered = match target(ask, book, today)? {
        (spot @ Spot::Head(..), label) => {
            let did = deeds::of_head(&ask.deed, &ask.words, &ask.beside)?;
            let what = format!("{label}: {}", words::head_deed(&did));
            entry(book, &spot, &Entry { on, did }, &what, today)
        }
        (spot @ Spot::Lot(..), label) => {
            let did = deeds::of_lot(&ask.deed, &ask.words, &ask.beside)?;
            let what = format!("{label}: {}", words::lot_deed(&did));
            entry(book, &spot, &Entry { on, did }, &what, today)
        }
        (spot, label) => {
            let did = deeds::of_plant(&ask.deed, &ask.words, &ask.beside)?;
            let what = format!("{label}: {}", words::plant_deed(&did));
            entry(book, &spot, &Entry { on, did }, &what, today)
        }
    };
    let Entered { change, doubts } = entered.map_err(refused)?;
    let kept = keeping::keep(&mut keeper, &mut opened.book, change)?;
    let doubts: Vec<Problem> = opened.problems_of(&doubts);
    if !shell.everywhere.json && !doubts.is_empty() {
        tell(&Failure::Faults(doubts.clone()).to_string());
    }
    let what = kept.change.what.to_string();
    let row = || NoteRow {
        change: kept.n,
        what: what.clone(),
        doubts: doubts.into_iter().map(Into::into).collect(),
    };
    shell.show(row, || Sheet::titled(what.clone()))
}

fn entry<D: Diarist>(
    book: &Book,
    spot: &Spot,
    entry: &Entry<D>,
    what: &str,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let what = format!("{what}, {}", words::day(entry.on));
    enter::note(book, std::slice::from_ref(spot), entry, &what, today)
}

/// Whose diary is meant, and what it is called.
fn target(ask: &Ask, book: &Book, today: NaiveDate) -> Result<(Spot, String), Failure> {
    if let Some(tag) = &ask.head {
        let id = who::cross(book, &ask.who)?;
        let cross = book.cross(id);
        let tagged = cross.heads.iter().position(|head| head.tag.as_deref() == Some(tag));
        let counted =
            || tag.parse::<usize>().ok()?.checked_sub(1).filter(|n| *n < cross.heads.len());
        let n =
            tagged.or_else(counted).ok_or_else(|| no_head(&cross.code, tag, cross.heads.len()))?;
        return Ok((Spot::Head(cross.code.clone(), n), format!("{}, head {tag}", cross.code)));
    }
    let named = |plant| (book.spot_of(plant), words::plant(book, plant).into_owned());
    if let Found::One(plant) = find(book, &ask.who) {
        return Ok(named(plant));
    }
    let packet = book.crosses().iter().find_map(|cross| {
        let n = cross.lots.iter().position(|lot| *lot.code == *ask.who)?;
        Some((Spot::Lot(cross.code.clone(), n), ask.who.clone()))
    });
    if let Some(packet) = packet {
        return Ok(packet);
    }
    // The list of those that may be meant needs the whole desk.
    let desk = Desk::new(Arc::new(book.clone()), today);
    who::plant(&desk, &ask.who).map(named)
}

fn no_head(cross: &str, tag: &str, n_heads: usize) -> Failure {
    let hint = match n_heads {
        0 => format!("The cross {cross} has no heads."),
        n => format!("Say its tag, or its place among the heads of {cross}: 1 to {n}."),
    };
    Failure::Usage(format!("the cross {cross} has no head \"{tag}\"."), hint)
}

/// Why it is not written down: each reason with its way out.
fn refused(refused: Refused) -> Failure {
    match refused {
        Refused::CannotBe(faults) => {
            let reasons = faults.iter().map(|fault| format!("{}\n{}", fault.message, fault.hint));
            let text = reasons.collect::<Vec<_>>().join("\n");
            let (first, rest) = text.split_once('\n').unwrap_or((&text, ""));
            Failure::Refused(first.to_owned(), rest.to_owned())
        }
        other => Failure::Refused(other.to_string(), String::new()),
    }
}
