//! Spreadsheets in: files of comma-separated values to a changed book.
//!
//! Several files of four kinds come in together, rows in any order; what each kind may hold is
//! in [`TEMPLATES`]. The way of a row: bytes to cells (`sheet`), header to columns
//! (`header`), cells to values (`value`), rows about one plant together (`gather`), words
//! to plants (`names`, `kin`), plants to crosses (`families`), and all of it into records
//! (`lay`). Nothing is written here and no file is opened: a plan is the book as it would be,
//! to be shown or saved by whoever asked.

mod claims;
mod column;
mod compare;
mod course;
mod deeds;
mod diary;
mod enrol;
mod families;
mod faults;
mod finish;
mod gather;
mod header;
mod kin;
mod lay;
mod lay_counts;
mod lay_diaries;
mod lay_plants;
mod look;
mod names;
mod parent_text;
mod read;
mod remarks;
mod report;
mod rest;
mod row;
mod sheet;
mod template;
mod totals;
mod value;
mod variety;
mod verify;

pub use column::Kind;
pub use report::{FileReport, Remark, Report};
pub use template::{TEMPLATES, Template};

use std::collections::BTreeSet;

use chrono::NaiveDate;

use faults::{Faults, RowId};
use lay::{Bench, Laid};
use read::Files;
use row::Row;

use crate::book::{Book, Problem, fold};

/// What is to be done with rows that are wrong or that contradict each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Take the good rows and set the bad ones aside, instead of refusing all.
    pub skip_bad: bool,
    /// What to do where one cross has numbered plants and totals.
    pub overlap: Overlap,
    /// The day after which nothing can have happened; absent, any date is taken.
    pub today: Option<NaiveDate>,
}

/// What to do where one cross has numbered plants and totals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Overlap {
    /// Refuse, because plants may be counted twice.
    #[default]
    Refuse,
    /// The totals are those of the whole family, the numbered plants among them.
    CountsWin,
    /// The numbered plants are the whole family; the totals are left out.
    PlantsWin,
}

/// What came of reading the files.
#[derive(Debug)]
pub enum Outcome {
    /// They can be taken in.
    Ready(Box<Import>),
    /// Something is wrong and nothing is taken in: every fault, in the order of the files.
    Refused(Vec<Problem>),
}

/// The book as it will be, and what changed.
#[derive(Debug)]
pub struct Import {
    /// The book with the rows in it.
    pub book: Book,
    /// What was done.
    pub report: Report,
    /// Which records differ from the book before.
    pub changed: Changed,
    /// With [`Options::skip_bad`], the rows set aside, a file for each that has any.
    pub set_aside: Vec<SetAside>,
    /// With [`Options::skip_bad`], what is wrong with them.
    pub problems: Vec<Problem>,
}

/// The records that differ from the book before.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Changed {
    /// Varieties new or altered, by id.
    pub varieties: BTreeSet<Box<str>>,
    /// Varieties gone, because they are seedlings of this book, by id. Whoever saves the book
    /// must take their files away, or each of these plants is there twice.
    pub varieties_gone: BTreeSet<Box<str>>,
    /// Crosses new or altered, by code.
    pub crosses: BTreeSet<Box<str>>,
}

/// The rows of one file that were not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetAside {
    /// The file, as it was named.
    pub name: String,
    /// How many rows.
    pub rows: usize,
    /// The rows as CSV with the columns of the file, and a last column saying what is wrong.
    /// Mended, it can be taken in as it is.
    pub csv: String,
}

/// Works out what the book would be with these files in it; each is a name and its bytes.
pub fn plan(book: &Book, files: &[(String, Vec<u8>)], options: Options) -> Outcome {
    let mut faults = Faults::of(files);
    let opened = Files::open(files, book.crop(), &mut faults);
    let rows = opened.rows(options.today.unwrap_or(NaiveDate::MAX), &mut faults);
    let incomplete = faults.spoil_a_file();
    let mut bad: BTreeSet<RowId> = faults.rows();
    loop {
        let good: Vec<&Row<'_>> = rows.iter().filter(|row| !bad.contains(&row.id())).collect();
        let ghosts = ghosts(rows.iter().filter(|row| bad.contains(&row.id())));
        let mut found = Faults::of(files);
        let bench = Bench::new(book, &opened.traits, options, &mut found, (&ghosts, incomplete));
        let laid = bench.lay(&good);
        let sound = found.is_empty();
        let spoilt = found.spoil_a_file();
        if !sound {
            bad.append(&mut with_fellows(&found.rows(), &good));
        }
        faults.append(found);
        if incomplete || spoilt || (!options.skip_bad && !faults.is_empty()) {
            return Outcome::Refused(faults.into_problems());
        }
        // Without the rows at fault others may be; there are fewer rows each time round.
        if sound {
            return Outcome::Ready(Box::new(ready(laid, &opened, faults, &bad)));
        }
    }
}

/// Rows at fault and all others about the same plants: half of what is told of a plant is not
/// taken.
fn with_fellows(bad: &BTreeSet<RowId>, rows: &[&Row<'_>]) -> BTreeSet<RowId> {
    let plant = |row: &Row<'_>| {
        let column = match row.kind {
            Kind::Varieties => column::Column::Variety,
            Kind::Seedlings => column::Column::Seedling,
            Kind::Looks | Kind::Counts => return None,
        };
        Some((row.kind, fold(row.cell(column)?.text)))
    };
    let plants: BTreeSet<(Kind, String)> =
        rows.iter().filter(|row| bad.contains(&row.id())).filter_map(|row| plant(row)).collect();
    let fellows = rows.iter().filter(|row| plant(row).is_some_and(|plant| plants.contains(&plant)));
    bad.iter().copied().chain(fellows.map(|row| row.id())).collect()
}

/// The names of plants whose rows are not taken: who refers to them is not at fault for it.
fn ghosts<'r, 's: 'r>(bad: impl Iterator<Item = &'r Row<'s>>) -> BTreeSet<String> {
    let names = [column::Column::Variety, column::Column::Seedling, column::Column::Name];
    bad.flat_map(|row| names.iter().filter_map(|&column| row.cell(column)))
        .map(|cell| fold(cell.text))
        .collect()
}

fn ready(
    laid: Laid<'_, '_>,
    opened: &Files<'_>,
    faults: Faults<'_>,
    bad: &BTreeSet<RowId>,
) -> Import {
    let Laid { book, mut report, changed, came } = laid;
    for (file, (sheet, header)) in opened.sheets.iter().zip(&opened.headers).enumerate() {
        let Some(header) = header else { continue };
        report.files.push(FileReport {
            name: faults.file(file).to_owned(),
            kind: header.kind,
            rows: sheet.records.len().saturating_sub(1),
            added: 0,
            more: 0,
            same: 0,
            set_aside: bad.iter().filter(|(f, _)| *f == file).count(),
            outdone: 0,
        });
    }
    for (row, came) in came {
        let Some(file) = report.files.get_mut(row.at.file) else { continue };
        *match came {
            compare::Came::Added => &mut file.added,
            compare::Came::More => &mut file.more,
            compare::Came::Same => &mut file.same,
            compare::Came::Outdone => &mut file.outdone,
        } += 1;
    }
    let set_aside = rest::set_aside(opened, &faults, bad);
    Import { book, report, changed, set_aside, problems: faults.into_problems() }
}
