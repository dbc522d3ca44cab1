//! Published families and a real pedigree come in as they are.

use std::{fs, path::Path};

use trug::book::{Counts, Parent, Pollen, fold};

use super::*;

fn file(name: &str) -> (String, Vec<u8>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/csv").join(name);
    (name.to_owned(), fs::read(path).unwrap())
}

fn imported(name: &str) -> Import {
    match plan(&empty_book(), &[file(name)], Options::default()) {
        Outcome::Ready(import) => *import,
        Outcome::Refused(problems) => panic!("refused: {problems:#?}"),
    }
}

#[test]
fn eight_dahlias_come_in_with_their_totals() {
    let import = imported("collerette_seed_parents.csv");
    assert_eq!(import.book.varieties().len(), 8);
    assert_eq!(import.book.crosses().len(), 8);
    let mut all = Counts::default();
    for cross in import.book.crosses() {
        assert_eq!(cross.pollen, Pollen::From(Parent::Unknown));
        all += cross.counts();
    }
    // The totals printed in the study: 750 planted, 619 flowered, 506 true collerettes.
    let printed = (8 * 144, 750, 619, 619, 506);
    assert_eq!((all.sown, all.planted, all.bloomed, all.judged, all.kept), printed);
}

#[test]
fn twelve_strawberry_crosses_come_in_with_their_totals() {
    let import = imported("strawberry_crosses.csv");
    assert_eq!((import.book.varieties().len(), import.book.crosses().len()), (7, 12));
    let judged: u32 = import.book.crosses().iter().map(|c| c.counts().judged).sum();
    let kept: u32 = import.book.crosses().iter().map(|c| c.counts().kept).sum();
    assert_eq!((judged, kept), (473, 116));
    assert_eq!(import.report.parents_added, ["P1", "P2", "P3", "P5", "P6", "P7", "P8"]);
}

#[test]
fn three_thousand_people_out_of_order_come_in_as_varieties() {
    let import = imported("royal_families.csv");
    assert_eq!(import.book.varieties().len(), 3010);
    assert_eq!(import.book.crosses().len(), 0);
    assert!(import.report.parents_added.is_empty(), "{:?}", import.report.parents_added);
    let (_, text) = file("royal_families.csv");
    let text = String::from_utf8(text).unwrap();
    let rows = text.lines().filter(|line| line.starts_with('I'));
    assert_eq!(rows.clone().count(), 3010);
    for line in rows {
        let cells: Vec<&str> = line.split(',').collect();
        let plant = import.book.plant(import.book.by_key(&fold(cells[0])).unwrap());
        let parent = |cell: &str| match cell {
            "" => Parent::Unknown,
            name => Parent::Known(fold(name).into()),
        };
        assert_eq!(*plant.seed_parent(), parent(cells[1]), "{line}");
        assert_eq!(*plant.pollen_parent(), parent(cells[2]), "{line}");
    }
}
