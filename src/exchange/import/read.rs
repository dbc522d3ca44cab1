//! Files to rows: every cell read by what its column holds.

use chrono::{Datelike, NaiveDate};

use super::{
    Kind,
    column::Column,
    faults::{At, Faults},
    header::{self, Header, Meaning},
    row::{Cell, Row},
    sheet::{RawCell, Record, Sheet, Slip, decode},
    value::{self, Value, Wrong, shown, wrong},
};
use crate::book::Crop;
use crate::views::words::many;

/// The files as cells, and what their headers mean.
#[derive(Debug)]
pub(super) struct Files<'t> {
    pub(super) sheets: Vec<Sheet<'t>>,
    pub(super) headers: Vec<Option<Header>>,
    /// The traits that are scored in any of them.
    pub(super) traits: Vec<Box<str>>,
}

impl<'t> Files<'t> {
    /// Splits the files into cells and reads their headers.
    pub(super) fn open(
        files: &'t [(String, Vec<u8>)],
        crop: &Crop,
        faults: &mut Faults<'_>,
    ) -> Self {
        let mut opened = Self { sheets: Vec::new(), headers: Vec::new(), traits: Vec::new() };
        for (file, (_, bytes)) in files.iter().enumerate() {
            let sheet = match decode(bytes) {
                Ok(text) => Sheet::read(text),
                Err(e) => {
                    let at = At { file, line: e.line, column: e.column, row: None };
                    let what = if e.utf16 {
                        "This file is written in UTF-16, not in UTF-8.".to_owned()
                    } else {
                        format!("The byte {:02X} here is not UTF-8.", e.byte)
                    };
                    faults.add(at, what, "Save the sheet again as CSV in UTF-8.");
                    opened.sheets.push(Sheet::default());
                    opened.headers.push(None);
                    continue;
                }
            };
            let header = if let Some(&record) = sheet.records.first() {
                header::read(sheet.cells(record), file, crop, &mut opened.traits, faults)
            } else {
                faults.add(
                    At { file, line: 1, column: 1, row: None },
                    "There is nothing in this file.",
                    "It needs a header with the names of the columns, and rows below it.",
                );
                None
            };
            opened.sheets.push(sheet);
            opened.headers.push(header);
        }
        opened
    }

    /// Every row, and which of them have no fault. Rows with a fault hold the cells that could
    /// be read.
    pub(super) fn rows<'s>(&'s self, today: NaiveDate, faults: &mut Faults<'_>) -> Vec<Row<'s>> {
        let mut rows = Vec::new();
        for (file, (sheet, header)) in self.sheets.iter().zip(&self.headers).enumerate() {
            let Some(header) = header else { continue };
            for (n, &record) in sheet.records.iter().skip(1).enumerate() {
                let cells = sheet.cells(record);
                let Some(first) = cells.first() else { continue };
                let at = At { file, line: first.line, column: first.column, row: Some(n) };
                let is_in_shape = in_shape(record, cells, header, at, faults);
                let told =
                    if is_in_shape { fill(at, cells, header, today, faults) } else { vec![] };
                let row = Row::new(header.kind, at, told);
                if is_in_shape {
                    check_named(&row, cells, header, faults);
                }
                rows.push(row);
            }
        }
        rows
    }
}

/// Whether a row has as many cells as the header, and its quotes in order.
fn in_shape(
    record: Record,
    cells: &[RawCell<'_>],
    header: &Header,
    at: At,
    faults: &mut Faults<'_>,
) -> bool {
    let at_cell =
        |n: usize| cells.get(n).map_or(at, |c| At { line: c.line, column: c.column, ..at });
    if let Some((slip, n)) = record.slip {
        match slip {
            Slip::NeverClosed => faults.add(
                at_cell(n),
                "A quote is opened here and never closed.",
                "Close it, or take it out; a quote inside quoted text is written twice.",
            ),
            Slip::AfterQuote => faults.add(
                at_cell(n),
                "Text follows a closing quote.",
                "Put the whole text in quotes; a quote inside quoted text is written twice.",
            ),
        }
        return false;
    }
    let (here, there) = (cells.len(), header.columns.len());
    if here != there {
        let n = if here > there { there } else { here - 1 };
        let many = |n: usize, noun| many(u32::try_from(n).unwrap_or(u32::MAX), noun);
        faults.add(
            at_cell(n),
            format!(
                "This row has {}, and the header has {}.",
                many(here, "cell"),
                many(there, "column")
            ),
            "Check the commas; text that holds a comma must stand in quotes.",
        );
    }
    here == there
}

/// The cells that say something and can be read.
fn fill<'s>(
    at: At,
    cells: &'s [RawCell<'_>],
    header: &Header,
    today: NaiveDate,
    faults: &mut Faults<'_>,
) -> Vec<Cell<'s>> {
    let mut told = Vec::new();
    for (cell, meaning) in cells.iter().zip(&header.columns) {
        let text = cell.text.trim();
        if text.is_empty() {
            continue;
        }
        let at = At { line: cell.line, column: cell.column, ..at };
        let (column, holds) = match *meaning {
            Meaning::Column(column, holds) => (column, holds),
            Meaning::Passed => continue,
            Meaning::Nameless => {
                let message = format!("\"{}\" stands in a column without a name.", shown(text));
                faults.add(at, message, "Name the column in the header, or empty the cell.");
                continue;
            }
        };
        let value = value::read(text, holds).and_then(|v| not_to_come(v, text, today));
        match value {
            Ok(Value::List(words)) if words.is_empty() => {}
            Ok(value) => told.push(Cell { column, value, text, at }),
            Err(Wrong { message, hint }) => faults.add(at, message, hint),
        }
    }
    told
}

/// A row of a plant must say which plant, and a look when it was.
fn check_named(row: &Row<'_>, cells: &[RawCell<'_>], header: &Header, faults: &mut Faults<'_>) {
    // What is written wrongly has a fault of its own, and so has a header without the column.
    let is_empty = |column: Column| {
        let mut all = cells.iter().zip(&header.columns);
        all.any(|(cell, meaning)| {
            matches!(meaning, Meaning::Column(c, _) if *c == column) && cell.text.trim().is_empty()
        })
    };
    let (column, what) = match row.kind {
        Kind::Varieties => (Column::Variety, "name"),
        Kind::Seedlings => (Column::Seedling, "number"),
        Kind::Looks => (Column::Plant, "plant"),
        Kind::Counts => return,
    };
    if is_empty(column) {
        faults.add(
            row.at,
            format!("This row has no {what}."),
            "Write who it is about, or take the row out.",
        );
    }
    if row.kind == Kind::Looks {
        if is_empty(Column::On) {
            faults.add(
                row.at,
                "This row does not say when the plant was looked at.",
                "Write the day under on; a month or a year will do where no more is known.",
            );
        }
    } else if let Some(cell) = row.cell(column)
        && (cell.text == "?" || cell.text.contains('|'))
    {
        faults.add(
            cell.at,
            format!("\"{}\" cannot be the {what} of one plant.", shown(cell.text)),
            "A question mark stands for an unknown parent, and strokes part candidates; write it \
             without them.",
        );
    }
}

/// Nothing can have happened yet on a day to come.
fn not_to_come<'s>(value: Value<'s>, text: &str, today: NaiveDate) -> Result<Value<'s>, Wrong> {
    let is_to_come = match value {
        Value::Date(when) => when.first() > today,
        Value::Year(year) => i32::from(year) > today.year(),
        _ => false,
    };
    if is_to_come {
        let message = format!("{text} has not come yet; today is {today}.");
        return Err(wrong(message, "Look whether the year is right."));
    }
    Ok(value)
}
