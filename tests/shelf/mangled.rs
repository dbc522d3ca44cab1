//! Laws that hold for any bytes in any file.

use std::fs;

use proptest::{collection::vec, prelude::*, sample::Index};
use trug::{
    book::{PlantRecord, Problem},
    shelf::{Opened, texts},
};

use super::garden::{BOOK, CROSS, Garden, OLDER, UNDATED, VARIETY, today};

const FILES: [&str; 5] = [BOOK, VARIETY, CROSS, OLDER, UNDATED];

/// Something done to the bytes of a file.
#[derive(Debug, Clone)]
enum Blow {
    Cut(Index),
    Remove(Index, usize),
    Insert(Index, Vec<u8>),
    Double(Index, Index),
}

impl Blow {
    fn strike(&self, bytes: &mut Vec<u8>) {
        let n = bytes.len() + 1;
        match self {
            Self::Cut(at) => bytes.truncate(at.index(n)),
            Self::Remove(at, many) => {
                let at = at.index(n);
                bytes.drain(at..bytes.len().min(at + many));
            }
            Self::Insert(at, new) => {
                let at = at.index(n);
                bytes.splice(at..at, new.iter().copied());
            }
            Self::Double(a, b) => {
                let (a, b) = (a.index(n), b.index(n));
                let again = bytes[a.min(b)..a.max(b)].to_vec();
                bytes.splice(a..a, again);
            }
        }
    }
}

/// Pieces that mean something to a reader, and pieces that mean nothing to anybody.
fn piece() -> impl Strategy<Value = Vec<u8>> {
    let word = prop::sample::select(vec![
        "(",
        ")",
        "[",
        "]",
        "{",
        "}",
        ",",
        ":",
        "\"",
        "\\",
        "'",
        "//",
        "/*",
        "*/",
        "r#\"",
        "\"#",
        "Some(",
        "None",
        "NaN",
        "-inf",
        "1e999",
        "-0",
        "0x",
        "9999999999",
        "format: 2,",
        "\n",
        "\t",
        "\u{1b}[31m",
        "\\u{1b}",
        "\\u{202e}",
        "\u{2028}",
        "\u{feff}",
        "é",
        "#![enable(x)]",
        "b'",
        "OneOf(",
        "\"2026-02-30\"",
        "\"9999-12\"",
        "Unknown",
        "seedlings: [",
        "diary: [",
        "(on: \"2026\", did: ",
    ]);
    prop_oneof![word.prop_map(|w| w.as_bytes().to_vec()), vec(any::<u8>(), 1..4)]
}

fn blow() -> impl Strategy<Value = Blow> {
    prop_oneof![
        1 => any::<Index>().prop_map(Blow::Cut),
        4 => (any::<Index>(), 1..40_usize).prop_map(|(at, many)| Blow::Remove(at, many)),
        4 => (any::<Index>(), piece()).prop_map(|(at, new)| Blow::Insert(at, new)),
        1 => (any::<Index>(), any::<Index>()).prop_map(|(a, b)| Blow::Double(a, b)),
    ]
}

/// What must be true of a garden whatever is in its files.
fn check(garden: &Garden) -> Result<(), TestCaseError> {
    let mut opened = garden.open();
    let mut problems = opened.problems.clone();
    problems.extend(opened.problems_of(&opened.faults(today())));
    for problem in &problems {
        points_into_its_file(garden, problem)?;
    }
    prop_assert_eq!(opened.shelf.sealed().count() > 0, !opened.problems.is_empty());
    shows_no_control_characters(&opened)?;
    let before: Vec<Vec<u8>> = FILES.map(|f| fs::read(garden.path(f)).unwrap()).to_vec();
    // A first page that is not understood stops the whole saving; otherwise all is as it was.
    if let Ok(saved) = opened.shelf.save(&opened.book) {
        prop_assert!(saved.written.is_empty(), "{saved:?}");
    }
    let after: Vec<Vec<u8>> = FILES.map(|f| fs::read(garden.path(f)).unwrap()).to_vec();
    prop_assert_eq!(before, after);
    Ok(())
}

fn points_into_its_file(garden: &Garden, problem: &Problem) -> Result<(), TestCaseError> {
    let Problem { file, line, column, message, hint, .. } = problem;
    let bytes = fs::read(garden.path(file)).unwrap();
    let content = String::from_utf8_lossy(&bytes);
    let content = content.strip_prefix('\u{feff}').unwrap_or(&content);
    let there = content.split('\n').nth(line.wrapping_sub(1));
    prop_assert!(there.is_some(), "{problem:?}");
    let width = there.unwrap_or_default().chars().count();
    prop_assert!((1..=width + 1).contains(column), "{problem:?}");
    for said in [message, hint] {
        prop_assert!(said.ends_with(['.', '?']), "{problem:?}");
        prop_assert!(!said.contains(|c: char| c.is_control()), "{problem:?}");
    }
    Ok(())
}

fn shows_no_control_characters(opened: &Opened) -> Result<(), TestCaseError> {
    for (file, text) in texts(&opened.book) {
        prop_assert!(!text.contains("\\u{"), "{file}: {text}");
    }
    for plant in opened.book.plants() {
        let plant: PlantRecord<'_> = opened.book.plant(plant);
        prop_assert!(!plant.label().contains(|c: char| c.is_control()));
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(100) })]

    #[test]
    fn a_struck_file_harms_nothing(
        file in prop::sample::select(FILES.to_vec()),
        blows in vec(blow(), 1..4),
    ) {
        let garden = Garden::new();
        let mut bytes = fs::read(garden.path(file)).unwrap();
        for blow in &blows {
            blow.strike(&mut bytes);
        }
        garden.put(file, bytes);
        check(&garden)?;
    }

    #[test]
    fn any_bytes_harm_nothing(
        file in prop::sample::select(FILES.to_vec()),
        bytes in prop_oneof![vec(any::<u8>(), 0..80), vec(piece(), 0..20).prop_map(|p| p.concat())],
    ) {
        let garden = Garden::new();
        garden.put(file, bytes);
        check(&garden)?;
    }
}
