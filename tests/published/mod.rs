//! Figures that others published or computed, from `tests/data/checks`; `source.md` in each
//! folder says where they are from and how closely they must be met.
//!
//! | published by | holds | checked in | through JSON |
//! |---|---|---|---|
//! | Mrode 2014, table 2.1 | a01 | `kinship` | `shell/kinship` |
//! | Falconer & Mackay 1996, table 5.1 | a02, all six systems | `kinship` | `shell/kinship` |
//! | Wright 1922 | a03 | `kinship` | `shell/kinship`; its matrix only here |
//! | constructed; Reid 1992 | a06, a08, b04 | `kinship` | `shell/kinship`; inverses only here |
//! | Kempthorne 1957, Gallais 2003 | b01 | `kinship` | `shell/kinship` |
//! | Muller 1914, Haldane 1930 | b02 | `dosage` | no screen shows dosages |
//! | Kerr et al. 2012 | b03 | `kinship` | `shell/kinship` |
//! | Henderson 1988; constructed | c01, c03 | `kinship` | `shell/kinship`; inverses only here |
//! | Mrode 2014, Lynch & Walsh 1998 | d01, d04, d06 | `mixed`, `traits` | no: variances are given there, and a book estimates them |
//! | Bates et al. 2015 | e01–e04, e06 | `mixed`, `counts` | no: plain mixed models without plants |
//! | Grover & Rai 2010, Butron et al. 2004 | f01, f02 | `variances` | no: plain abilities, where a book has breeding values |
//! | Wilson, Newcombe 1998, Tarone 1982 and others | proportions, differences, steadied rates | `tests/rates.rs` | strawberry crosses in `shell/real` |
//! | Freireich et al. 1963, Turnbull 1976 | h01, h04, h05 | `first_bloom` | `shell/numbers` |
//! | Sedcole 1977 | i01, i03 | `numbers` | `shell/numbers` |
//! | Falconer & Mackay 1996, Harter 1961, Burrows 1972 | j01–j03, j05, j06 | `selection` | no: study figures |
//! | Becker 1984, Galton 1886, Dawson 1965 | k01, k03, k06 | `variances` | no: mean squares, not books |
//! | Meuwissen 1997 and others | l01, l02, l04, l06, l07 | `plan` | see there |
//! | Purdy et al. 1968 | m01 | `notation` | no word of the shell takes such a line yet |

use std::{collections::BTreeMap, path::Path};

mod counts;
mod dosage;
mod first_bloom;
mod garden;
pub(crate) mod kinship;
mod mixed;
mod notation;
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
