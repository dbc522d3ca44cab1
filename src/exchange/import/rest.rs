//! The rows that were not taken, as a file to mend and take in again.

use std::{
    borrow::Cow,
    collections::{BTreeMap, BTreeSet},
};

use super::{
    SetAside,
    column::FAULT_COLUMN,
    faults::{Faults, RowId},
    read::Files,
    sheet::{RawCell, Sheet},
};

/// What is wrong with a row that has no fault itself.
const FELLOW: &str = "Another row about this plant has a fault.";

/// For each file with bad rows: the header and those rows as they stand, with what is wrong in
/// a last column. A file that has such a column already loses it for the new one.
pub(super) fn set_aside(
    files: &Files<'_>,
    faults: &Faults<'_>,
    bad: &BTreeSet<RowId>,
) -> Vec<SetAside> {
    let mut wrong: BTreeMap<RowId, Vec<&str>> = BTreeMap::new();
    for (row, message) in faults.of_rows() {
        let messages = wrong.entry(row).or_default();
        if !messages.contains(&message) {
            messages.push(message);
        }
    }
    let of_file = |(file, sheet): (usize, &Sheet<'_>)| {
        let rows: Vec<usize> = bad.iter().filter(|(f, _)| *f == file).map(|(_, n)| *n).collect();
        let header = sheet.cells(*sheet.records.first()?);
        if rows.is_empty() {
            return None;
        }
        let kept: Vec<bool> = header
            .iter()
            .map(|cell| !cell.text.trim().eq_ignore_ascii_case(FAULT_COLUMN))
            .collect();
        let mut csv = String::new();
        write(&mut csv, header, &kept, FAULT_COLUMN);
        for n in &rows {
            let Some(record) = sheet.records.get(n + 1) else { continue };
            let messages =
                wrong.get(&(file, *n)).map_or_else(|| FELLOW.to_owned(), |m| m.join(" "));
            write(&mut csv, sheet.cells(*record), &kept, &messages);
        }
        Some(SetAside { name: faults.file(file).to_owned(), rows: rows.len(), csv })
    };
    files.sheets.iter().enumerate().filter_map(of_file).collect()
}

/// One row, filled up to the width of the header.
fn write(csv: &mut String, cells: &[RawCell<'_>], kept: &[bool], last: &str) {
    let width = cells.len().max(kept.len());
    for n in 0..width {
        if kept.get(n).copied().unwrap_or(true) {
            csv.push_str(&quoted(cells.get(n).map_or("", |cell| &cell.text)));
            csv.push(',');
        }
    }
    csv.push_str(&quoted(last));
    csv.push('\n');
}

fn quoted(text: &str) -> Cow<'_, str> {
    let plain = !text.contains([',', '"', '\n', '\r']) && !text.starts_with('#');
    if plain {
        Cow::Borrowed(text)
    } else {
        Cow::Owned(format!("\"{}\"", text.replace('"', "\"\"")))
    }
}
