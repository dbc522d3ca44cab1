//! Figures that others published or computed, from `tests/data/checks`; `source.md` in each
//! folder says where they are from and how closely they must be met.

use std::{collections::BTreeMap, path::Path};

mod counts;
mod dosage;
mod first_bloom;
mod garden;
mod kinship;
mod mixed;
mod numbers;
mod plan;
mod selection;
mod traits;
mod variances;

/// A row of a table, by the names of its columns.
pub(crate) struct Row(BTreeMap<String, String>);

impl Row {
    pub(crate) fn text(&self, column: &str) -> &str {
        self.0.get(column).unwrap_or_else(|| panic!("no column {column}"))
    }

    pub(crate) fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse().unwrap_or_else(|_| panic!("{column}: {text:?} is no number"))
    }

    /// Absent where the cell is empty.
    pub(crate) fn some(&self, column: &str) -> Option<f64> {
        (!self.text(column).is_empty()).then(|| self.number(column))
    }

    pub(crate) fn count(&self, column: &str) -> u32 {
        self.text(column).parse().unwrap_or_else(|_| panic!("{column} is no count"))
    }
}

/// A table of the check with this short name.
pub(crate) fn table(check: &str, file: &str) -> Vec<Row> {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/checks").join(check).join(file);
    let mut reader =
        csv::Reader::from_path(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let header = reader.headers().unwrap().clone();
    let rows: Vec<Row> = reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            Row(header.iter().zip(&record).map(|(h, c)| (h.to_owned(), c.to_owned())).collect())
        })
        .collect();
    assert!(!rows.is_empty(), "{} is empty", path.display());
    rows
}

/// The figures of a table of `quantity,value`.
pub(crate) fn figures(check: &str, file: &str) -> BTreeMap<String, f64> {
    table(check, file)
        .iter()
        .map(|row| (row.text("quantity").to_owned(), row.number("value")))
        .collect()
}

/// The distinct texts of a column, in order of first appearance, and the number of each row's.
pub(crate) fn levels(rows: &[Row], column: &str) -> (Vec<String>, Vec<usize>) {
    let mut names: Vec<String> = Vec::new();
    let numbers = rows.iter().map(|row| {
        let name = row.text(column);
        names.iter().position(|other| other == name).unwrap_or_else(|| {
            names.push(name.to_owned());
            names.len() - 1
        })
    });
    let numbers = numbers.collect();
    (names, numbers)
}

#[track_caller]
pub(crate) fn close(got: f64, wanted: f64, within: f64, what: &str) {
    assert!((got - wanted).abs() <= within, "{what}: {got} and not {wanted}");
}
