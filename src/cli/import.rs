//! `trug import`: spreadsheets are brought into the book.

use std::{
    fs,
    path::{Path, PathBuf},
    sync::Arc,
};

use clap::Args;
use serde::Serialize;

use super::{
    check::ProblemRow,
    failure::Failure,
    figures::many,
    keeping::{self, Desktop},
    sheet::Sheet,
    shell::{Shell, tell},
};
use crate::book::Problem;
use crate::exchange::import::{
    self, Import, Options, Outcome, Overlap, Report, TEMPLATES, Template,
};
use crate::shelf::{Opened, Saved};

/// Bring spreadsheets into the book: varieties, seedlings, looks or counts, told by their headers
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug import plants.csv
  trug import varieties.csv plants.csv looks.csv --dry-run
  trug import old-totals.csv --skip-bad", after_long_help = kinds())]
pub(super) struct Ask {
    /// The files, in any order
    #[arg(required = true, value_name = "FILE.csv")]
    files: Vec<PathBuf>,
    /// Report what would be done, and write nothing
    #[arg(long)]
    dry_run: bool,
    /// Take the good rows, and write the others to a file beside theirs
    #[arg(long)]
    skip_bad: bool,
    #[command(flatten)]
    wins: Wins,
}

/// The kinds of file, with an example of each.
fn kinds() -> String {
    TEMPLATES.map(|Template { about, csv, .. }| format!("{about}\n\n{csv}")).join("\n")
}

/// What is to be done where a cross has numbered plants and totals.
#[derive(Debug, Args)]
#[group(multiple = false)]
struct Wins {
    /// Where a cross has numbered plants and totals, take the totals for the whole family
    #[arg(long)]
    counts_win: bool,
    /// Where a cross has numbered plants and totals, leave the totals out
    #[arg(long)]
    plants_win: bool,
}

/// What an import did, in JSON.
#[derive(Debug, Serialize)]
struct ReportRow<'a> {
    written: bool,
    files: Vec<FileRow<'a>>,
    parents_added: &'a [String],
    crosses_made: &'a [String],
    remarks: Vec<&'a str>,
    set_aside_in: Vec<String>,
    comments_kept_in: Vec<String>,
    problems: Vec<ProblemRow>,
}

#[derive(Debug, Serialize)]
struct FileRow<'a> {
    file: &'a str,
    kind: &'static str,
    rows: usize,
    added: usize,
    more: usize,
    same: usize,
    set_aside: usize,
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    // Whoever only looks needs no lock.
    let (opened, _writing) = if ask.dry_run {
        (shell.open()?, None)
    } else {
        let Desktop { opened, keeper } = keeping::open_to_write(shell)?;
        (opened, Some(keeper))
    };
    if opened.shelf.sealed().any(|file| file != "book.ron") {
        let why = "Nothing was taken in: what stands in the files that cannot be read might be \
                   written a second time.";
        return refuse(shell, opened.problems, why);
    }
    let files = ask.files.iter().map(|file| read(file)).collect::<Result<Vec<_>, _>>()?;
    let overlap = match (ask.wins.counts_win, ask.wins.plants_win) {
        (true, _) => Overlap::CountsWin,
        (_, true) => Overlap::PlantsWin,
        (false, false) => Overlap::Refuse,
    };
    let today = Some(shell.today(opened.book.about().today)?);
    let options = Options { skip_bad: ask.skip_bad, overlap, today };
    match import::plan(&opened.book, &files, options) {
        Outcome::Refused(problems) if ask.skip_bad => {
            refuse(shell, problems, "Nothing was taken in.")
        }
        Outcome::Refused(problems) => {
            let skipping = Options { skip_bad: true, ..options };
            let why = match import::plan(&opened.book, &files, skipping) {
                Outcome::Ready(import) if !import.report.changes_nothing() => {
                    "Nothing was taken in. --skip-bad takes the good rows."
                }
                _ => "Nothing was taken in.",
            };
            refuse(shell, problems, why)
        }
        Outcome::Ready(import) => take(ask, shell, opened, *import),
    }
}

fn read(file: &Path) -> Result<(String, Vec<u8>), Failure> {
    let name = file.display().to_string();
    let bytes = fs::read(file).map_err(|err| {
        Failure::Usage(
            format!("{name} could not be read: {err}."),
            "Name a file of comma-separated values that is there.".to_owned(),
        )
    })?;
    Ok((name, bytes))
}

fn refuse(shell: &Shell, problems: Vec<Problem>, why: &str) -> Result<(), Failure> {
    if !shell.everywhere.json {
        tell(&Failure::Faults(problems.clone()).to_string());
    }
    let rows = || -> Vec<ProblemRow> { problems.into_iter().map(Into::into).collect() };
    let json = || serde_json::json!({ "written": false, "problems": rows() });
    shell.show(json, || Sheet::titled(why))?;
    Err(Failure::Silent(1))
}

fn take(ask: &Ask, shell: &Shell, opened: Opened, import: Import) -> Result<(), Failure> {
    let Import { book, report, changed, set_aside, problems } = import;
    let mut sheet = Sheet::titled(if report.changes_nothing() {
        "Nothing new in these files"
    } else if ask.dry_run {
        "What would be brought into the book; nothing was written"
    } else {
        "What was brought into the book"
    });
    report.lines().into_iter().for_each(|line| sheet.line(line));
    let mut saved = Saved::default();
    let mut set_aside_in = Vec::new();
    if !ask.dry_run {
        for rest in &set_aside {
            let beside = beside(Path::new(&rest.name));
            fs::write(&beside, &rest.csv).map_err(|err| {
                Failure::Shut(
                    format!("{} could not be written: {err}.", beside.display()),
                    String::new(),
                )
            })?;
            let beside = beside.display().to_string();
            sheet.line(format!("{} set aside in {beside}", many(rest.rows, "row")));
            set_aside_in.push(beside);
        }
        let mut folder = opened.shelf;
        let varieties = book.varieties().iter().filter(|v| changed.varieties.contains(&v.id));
        let crosses = book.crosses().iter().map(Arc::as_ref);
        let crosses = crosses.filter(|cross| changed.crosses.contains(&cross.code));
        folder.write_records(varieties, crosses, &mut saved)?;
        for id in &changed.varieties_gone {
            folder.drop_variety(id)?;
        }
    }
    for copy in &saved.set_aside {
        sheet.line(format!("comments in the file were kept in {copy}"));
    }
    if !problems.is_empty() && !shell.everywhere.json {
        tell(&Failure::Faults(problems.clone()).to_string());
    }
    let written = !ask.dry_run && !report.changes_nothing();
    let json = || ReportRow {
        set_aside_in,
        comments_kept_in: saved.set_aside,
        ..json(&report, written, problems)
    };
    shell.show(json, || sheet)
}

fn json(report: &Report, written: bool, problems: Vec<Problem>) -> ReportRow<'_> {
    let files = report.files.iter().map(|file| FileRow {
        file: &file.name,
        kind: file.kind.word(),
        rows: file.rows,
        added: file.added,
        more: file.more,
        same: file.same,
        set_aside: file.set_aside,
    });
    ReportRow {
        written,
        files: files.collect(),
        parents_added: &report.parents_added,
        crosses_made: &report.crosses_made,
        remarks: report.remarks.iter().map(|remark| &*remark.what).collect(),
        set_aside_in: Vec::new(),
        comments_kept_in: Vec::new(),
        problems: problems.into_iter().map(Into::into).collect(),
    }
}

/// `plants.csv` leaves its bad rows in `plants.rest.csv`, or, if there is such a file, in
/// `plants.rest-2.csv` and so on: nothing of the raiser's is written over.
fn beside(file: &Path) -> PathBuf {
    let first = file.with_extension("rest.csv");
    let more = (2..).map(|n: u32| file.with_extension(format!("rest-{n}.csv")));
    std::iter::once(first.clone()).chain(more).find(|path| !path.exists()).unwrap_or(first)
}
