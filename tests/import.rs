//! Spreadsheets in: every rule of the contract by example, real files, and what must hold of any
//! bytes and any order of rows.

mod again;
mod counts;
mod crosses;
mod faults;
mod files;
mod kept;
mod plants;
mod properties;
mod real;
mod set_aside;
mod tale;

use std::{collections::BTreeSet, sync::Arc};

use trug::{
    book::{About, Book, Colour, Crop, Group, Trait},
    exchange::import::{Import, Options, Outcome, plan},
};

use tale::tale;

/// A book with nothing in it, of a crop with one trait, two colours and a group.
fn empty_book() -> Book {
    let colour = |word: &str| Colour { word: word.into(), swatch: [0, 0, 0] };
    let crop = Crop {
        traits: vec![Trait { name: "form".into(), means: "even".into(), low: 1.0, high: 9.0 }],
        colours: ["apricot", "white"].map(colour).into(),
        groups: vec![Group { code: "WL".into(), name: "Waterlily".into(), means: "flat".into() }],
        faults: vec!["open centre".into()],
        largest_bloom_mm: 450.0,
        tallest_cm: 300.0,
        ..Crop::default()
    };
    Book::new(About::default(), Arc::new(crop), Vec::new(), Vec::new())
}

fn bytes(files: &[(&str, &str)]) -> Vec<(String, Vec<u8>)> {
    files.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
}

fn taken_into(book: &Book, files: &[(&str, &str)], options: Options) -> Import {
    match plan(book, &bytes(files), options) {
        Outcome::Ready(import) => *import,
        Outcome::Refused(problems) => panic!("refused: {problems:#?}"),
    }
}

/// The files taken into an empty book.
fn taken(files: &[(&str, &str)]) -> Import {
    taken_into(&empty_book(), files, Options::default())
}

/// What is wrong with the files, as `file:line:column: message`.
fn refused_by(book: &Book, files: &[(&str, &str)], options: Options) -> Vec<String> {
    match plan(book, &bytes(files), options) {
        Outcome::Ready(import) => panic!("taken:\n{}", tale(&import.book)),
        Outcome::Refused(problems) => {
            for problem in &problems {
                assert!(problem.hint.ends_with(['.', '…']), "{problem:?}");
                assert!(problem.message.ends_with('.'), "{problem:?}");
            }
            let line = |p: &trug::book::Problem| {
                format!("{}:{}:{}: {}", p.file, p.line, p.column, p.message)
            };
            problems.iter().map(line).collect()
        }
    }
}

fn set<const N: usize>(words: [&str; N]) -> BTreeSet<Box<str>> {
    words.into_iter().map(Into::into).collect()
}

fn refused(files: &[(&str, &str)]) -> Vec<String> {
    refused_by(&empty_book(), files, Options::default())
}
