//! `trug note`: something is written down, on the disk before it is said.

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
    Book, Found, Problem, Spot,
    enter::{Entered, Refused},
    find, find_cross,
};
use crate::views::{
    Desk,
    forms::{self, Of, Unfit},
};

/// Write down what happened to a plant, a head, a packet, a cross or in the garden
#[derive(Debug, Args)]
#[command(
    before_long_help = "\
Examples:
  trug note 26-104 bloomed --on 2026-09-14
  trug note 26-104 look --bloom 112 --score form=7 --colour apricot
  trug note 26-104 discard weak stem
  trug note 26-104 lifted 4 --store \"box 3\"
  trug note garden cross \"Ferry Lantern\" --pollen 24-031 --tag \"red 3, red 4\"
  trug note 25X07 --head \"red 3\" threshed 23
  trug note 25X07 packet 23
  trug note 25X07-a sown 20
  trug note 25X07-a number 14 --at A/3/1
  trug note garden first-frost --on 2026-10-24",
    after_long_help = after_help()
)]
pub(super) struct Ask {
    /// A plant, a packet or a cross; with --head a head of that cross; or the word garden
    who: String,
    /// What happened
    deed: String,
    /// What the deed needs: a place, a number, a cause, a remark
    words: Vec<String>,
    /// The tag of a head of that cross, or its place among them, from 1; may be said several times
    #[arg(long, value_name = "TAG")]
    head: Vec<String>,
    /// When: a day, a month or a year, or 14 for the last 14th; else today
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    #[command(flatten, next_help_heading = "What belongs to a deed")]
    beside: Beside,
}

fn after_help() -> String {
    let lists = Of::ALL.map(|of| format!("Deeds of {}: {}.", of.name(), deeds::list(of)));
    lists.join("\n")
}

#[derive(Debug, Serialize)]
struct NoteRow {
    change: u64,
    what: String,
    doubts: Vec<ProblemRow>,
    cautions: Vec<String>,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let Desktop { mut opened, mut keeper } = keeping::open(shell)?;
    let today = shell.today(opened.book.about().today)?;
    let on = forms::when(ask.on.as_deref().unwrap_or_default(), today).map_err(unfit)?;
    let book = &opened.book;
    let meant = meant(ask, book, today)?;
    let sorts: Vec<Of> = meant.iter().map(|spots| Of::at(&spots[0])).collect();
    let (n, form) = deeds::form(&sorts, &ask.deed)?;
    let filled = deeds::filled(form, on, &ask.words, &ask.beside)?;
    let Entered { change, doubts } = form.enter(book, &meant[n], &filled, today).map_err(unfit)?;
    let cautions: Vec<String> = form.cautions(book).map(str::to_owned).collect();
    let kept = keeping::keep(&mut keeper, &mut opened.book, change)?;
    let doubts: Vec<Problem> = opened.problems_of(&doubts);
    if !shell.everywhere.json {
        for odd in &doubts {
            tell(&format!("{}\n  {}", odd.message, odd.hint));
        }
        for caution in &cautions {
            tell(caution);
        }
    }
    let what = kept.change.what.to_string();
    let row = || NoteRow {
        change: kept.n,
        what: what.clone(),
        doubts: doubts.into_iter().map(Into::into).collect(),
        cautions,
    };
    shell.show(row, || Sheet::titled(what.clone()))
}

/// What the words may mean: a plant, a packet, a cross, or heads of a cross. Never empty, and
/// neither is any of them.
fn meant(ask: &Ask, book: &Book, today: NaiveDate) -> Result<Vec<Vec<Spot>>, Failure> {
    if !ask.head.is_empty() {
        return Ok(vec![heads(ask, book)?]);
    }
    if ask.who == "garden" {
        return Ok(vec![vec![Spot::About]]);
    }
    let mut all = Vec::new();
    if let Found::One(plant) = find(book, &ask.who) {
        all.push(vec![book.spot_of(plant)]);
    }
    let packet = book.crosses().iter().find_map(|cross| {
        let n = cross.lots.iter().position(|lot| *lot.code == *ask.who)?;
        Some(Spot::Lot(cross.code.clone(), n))
    });
    all.extend(packet.map(|packet| vec![packet]));
    if let Found::One(cross) = find_cross(book, &ask.who) {
        all.push(vec![Spot::Cross(book.cross(cross).code.clone())]);
    }
    if all.is_empty() {
        // The list of those that may be meant needs the whole desk.
        let desk = Desk::new(Arc::new(book.clone()), today);
        let plant = who::plant(&desk, &ask.who)?;
        all.push(vec![book.spot_of(plant)]);
    }
    Ok(all)
}

fn heads(ask: &Ask, book: &Book) -> Result<Vec<Spot>, Failure> {
    let cross = book.cross(who::cross(book, &ask.who)?);
    let each = ask.head.iter().map(|tag| {
        let tagged = cross.heads.iter().position(|head| head.tag.as_deref() == Some(tag));
        let counted =
            || tag.parse::<usize>().ok()?.checked_sub(1).filter(|n| *n < cross.heads.len());
        let n = tagged.or_else(counted);
        let n = n.ok_or_else(|| no_head(&cross.code, tag, cross.heads.len()))?;
        Ok(Spot::Head(cross.code.clone(), n))
    });
    each.collect()
}

fn no_head(cross: &str, tag: &str, n_heads: usize) -> Failure {
    let hint = match n_heads {
        0 => format!("The cross {cross} has no heads."),
        n => format!("Say its tag, or its place among the heads of {cross}: 1 to {n}."),
    };
    Failure::Usage(format!("the cross {cross} has no head \"{tag}\"."), hint)
}

/// Why it is not written down: each reason with its way out.
fn unfit(unfit: Unfit) -> Failure {
    match unfit {
        Unfit::Field { message, hint, .. } => Failure::Usage(message, hint),
        Unfit::Refused(Refused::CannotBe(faults)) => {
            let reasons = faults.iter().map(|fault| format!("{}\n{}", fault.message, fault.hint));
            let text = reasons.collect::<Vec<_>>().join("\n");
            let (first, rest) = text.split_once('\n').unwrap_or((&text, ""));
            Failure::Refused(first.to_owned(), rest.to_owned())
        }
        Unfit::Refused(other) => Failure::Refused(other.to_string(), String::new()),
    }
}
