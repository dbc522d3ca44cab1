//! `trug check`: everything read, and every fault reported.

use clap::Args;
use serde::Serialize;

use super::{
    failure::{Failure, told},
    figures::many,
    open,
    sheet::Sheet,
    shell::{Shell, tell},
};
use crate::book::{Book, Cross, Problem, Severity};

/// Read everything and report every fault
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug check
  trug check --json")]
pub(super) struct Ask {}

#[derive(Debug, Serialize)]
struct CheckRow {
    records: RecordsRow,
    problems: Vec<ProblemRow>,
}

#[derive(Debug, Serialize)]
struct RecordsRow {
    varieties: usize,
    crosses: usize,
    heads: usize,
    lots: usize,
    seedlings: usize,
}

/// A problem in JSON.
#[derive(Debug, Serialize)]
pub(super) struct ProblemRow {
    file: String,
    line: usize,
    column: usize,
    severity: &'static str,
    message: String,
    hint: String,
}

impl RecordsRow {
    fn of(book: &Book) -> Self {
        let sum = |of: fn(&Cross) -> usize| book.crosses().iter().map(|cross| of(cross)).sum();
        Self {
            varieties: book.varieties().len(),
            crosses: book.crosses().len(),
            heads: sum(|cross| cross.heads.len()),
            lots: sum(|cross| cross.lots.len()),
            seedlings: sum(|cross| cross.seedlings.len()),
        }
    }
}

impl From<Problem> for ProblemRow {
    fn from(problem: Problem) -> Self {
        let Problem { file, line, column, severity, message, hint } = problem;
        let severity = match severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        Self { file, line, column, severity, message, hint }
    }
}

pub(super) fn run(_ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let opened = shell.open()?;
    let problems = open::problems(&opened, shell.today(opened.book.about().today)?);
    let records = RecordsRow::of(&opened.book);
    let errors = problems.iter().filter(|p| p.severity == Severity::Error).count();
    if !shell.everywhere.json && !problems.is_empty() {
        // All of them, however many: that is what was asked for.
        tell(&problems.iter().map(told).collect::<String>());
    }
    let warnings = problems.len() - errors;
    let title = summary(&opened.book, &records, errors, warnings);
    let rows = || CheckRow { records, problems: problems.into_iter().map(Into::into).collect() };
    shell.show(rows, || Sheet::titled(title))?;
    if errors > 0 { Err(Failure::Silent(1)) } else { Ok(()) }
}

fn summary(book: &Book, records: &RecordsRow, errors: usize, warnings: usize) -> String {
    let found = match (errors, warnings) {
        (0, 0) => "nothing is wrong".to_owned(),
        (0, warnings) => format!("nothing is wrong, {} to look at", many(warnings, "oddity")),
        (errors, 0) => many(errors, "fault"),
        (errors, warnings) => {
            format!("{}, {} to look at", many(errors, "fault"), many(warnings, "oddity"))
        }
    };
    format!(
        "{}: {}, {}, {}, {}, {} read; {found}",
        book.about().garden,
        many(records.varieties, "variety"),
        many(records.crosses, "cross"),
        many(records.heads, "head"),
        many(records.lots, "lot"),
        many(records.seedlings, "seedling"),
    )
}
