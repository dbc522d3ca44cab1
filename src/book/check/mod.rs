//! What is wrong with a book that was read without fault: records that contradict each other,
//! the calendar, or the crop.
//!
//! An error is what cannot be; a warning is what is odd and may be a slip of the pen.

mod about;
mod beds;
mod counts;
mod dates;
mod names;
mod parents;
mod words;

use std::{
    num::NonZero,
    panic::resume_unwind,
    sync::atomic::{AtomicUsize, Ordering},
    thread,
};

use chrono::{Datelike, NaiveDate};
use hashbrown::HashSet;

use super::{Book, Entry, Fault, Place, PlantDeed, Season, Severity, near_words};

/// Everything wrong with a book. `today` is the day after which nothing can have happened;
/// `is_elsewhere` says of a key that nobody in the book bears whether it stands in a file that
/// could not be read.
pub fn faults(
    book: &Book,
    today: NaiveDate,
    is_elsewhere: impl Fn(&str) -> bool + Sync,
) -> Vec<Fault> {
    let checks: [Check<'_>; 7] = [
        &|found| about::check(book, today, found),
        &|found| names::check(book, found),
        &|found| parents::check(book, &is_elsewhere, found),
        &|found| dates::check(book, today, found),
        &|found| counts::check(book, found),
        &|found| beds::check(book, found),
        &|found| words::check(book, found),
    ];
    // A thread costs more than looking a few families over, as is done at every change.
    let n_threads = match book.crosses().len() {
        ..64 => 1,
        _ => thread::available_parallelism().map_or(1, NonZero::get),
    };
    Found { faults: run(&checks, n_threads) }.without_echoes()
}

/// One way of looking a book over.
type Check<'a> = &'a (dyn Fn(&mut Found) + Sync);

/// What all checks find, in their order, by as many threads.
fn run(checks: &[Check<'_>], n_threads: usize) -> Vec<Fault> {
    let next = AtomicUsize::new(0);
    let run_some = || {
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(check) = checks.get(at) else { return done };
            let mut found = Found { faults: Vec::new() };
            check(&mut found);
            done.push((at, found.faults));
        }
    };
    let mut done = thread::scope(|scope| {
        let others: Vec<_> =
            (1..n_threads.min(checks.len())).map(|_| scope.spawn(run_some)).collect();
        let mut done = run_some();
        for other in others {
            match other.join() {
                Ok(more) => done.extend(more),
                Err(panic) => resume_unwind(panic),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(at, _)| *at);
    done.into_iter().flat_map(|(_, faults)| faults).collect()
}

/// What was found so far.
struct Found {
    faults: Vec<Fault>,
}

impl Found {
    /// The faults, without warnings about a place of which something worse is said.
    fn without_echoes(self) -> Vec<Fault> {
        let is_error = |fault: &&Fault| fault.severity == Severity::Error;
        let wrong: HashSet<Place> =
            self.faults.iter().filter(is_error).map(|fault| fault.at.clone()).collect();
        let mut faults = self.faults;
        faults.retain(|f| f.severity == Severity::Error || !wrong.contains(&f.at));
        faults
    }

    fn error(&mut self, at: Place, message: String, hint: impl Into<String>) {
        let hint = hint.into();
        self.faults.push(Fault { at, severity: Severity::Error, message, hint });
    }

    fn warning(&mut self, at: Place, message: String, hint: impl Into<String>) {
        let hint = hint.into();
        self.faults.push(Fault { at, severity: Severity::Warning, message, hint });
    }
}

/// Whose diary it is.
#[derive(Clone, Copy)]
enum Owner<'a> {
    Variety(&'a str),
    Head(&'a str, usize),
    Lot(&'a str, usize),
    Seedling(&'a str, usize),
}

impl Owner<'_> {
    fn place(self) -> Place {
        self.entry(None)
    }

    fn at_entry(self, n: usize) -> Place {
        self.entry(Some(n))
    }

    fn entry(self, entry: Option<usize>) -> Place {
        match self {
            Self::Variety(id) => Place::Variety(id.into(), entry),
            Self::Head(cross, n) => Place::Head(cross.into(), n, entry),
            Self::Lot(cross, n) => Place::Lot(cross.into(), n, entry),
            Self::Seedling(cross, n) => Place::Seedling(cross.into(), n, entry),
        }
    }
}

/// A plant with a diary, and what it is called.
struct Plant<'a> {
    owner: Owner<'a>,
    label: &'a str,
    diary: &'a [Entry<PlantDeed>],
}

/// Every plant, varieties first.
fn plants(book: &Book) -> impl Iterator<Item = Plant<'_>> {
    let varieties = book.varieties().iter().map(|variety| Plant {
        owner: Owner::Variety(&variety.id),
        label: &variety.name,
        diary: &variety.diary,
    });
    let seedlings = book.crosses().iter().flat_map(|cross| {
        cross.seedlings.iter().enumerate().map(|(n, seedling)| Plant {
            owner: Owner::Seedling(&cross.code, n),
            label: &seedling.number,
            diary: &seedling.diary,
        })
    });
    varieties.chain(seedlings)
}

/// The season of a day.
fn season_of(day: NaiveDate) -> Season {
    Season(i16::try_from(day.year()).unwrap_or(i16::MAX))
}

/// "Did you mean …?" with the nearest of the words that would have done, and a blank after it;
/// empty if none is near.
fn did_you_mean<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> String {
    near_words(word, known)
        .first()
        .map(|near| format!("Did you mean \"{near}\"? "))
        .unwrap_or_default()
}
