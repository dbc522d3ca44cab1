//! Books with next to nothing in them, or with nothing but one thing: the screens that tell of
//! pairs make sense of them all.

use std::sync::Arc;

use crate::forecasts::{book, family, seedling};
use trug::{
    book::{Book, Cross, Verdict},
    tui::{Settings, Stage},
    views::Desk,
};

/// The books, each with words that the pairings have to say of it.
fn books() -> Vec<(&'static str, Book, &'static [&'static str])> {
    let held = |n: usize| Cross {
        seedlings: (0..n)
            .map(|i| seedling(&format!("h{i}"), &[("2025-09-01", Verdict::Hold)]))
            .collect(),
        totals: None,
        ..family("a", "b", 2024, 0, 0)
    };
    let own_mate = Cross {
        seedlings: vec![seedling("x", &[("2025-09-01", Verdict::Keep)])],
        ..family("a", "x", 2024, 2, 9)
    };
    let used_in_all = ["b", "c", "d", "e"].map(|with| family("a", with, 2020, 3, 12));
    vec![
        ("no crosses", book(Vec::new()), &["No cross has been made yet"]),
        ("one cross", book(vec![family("a", "b", 2020, 3, 10)]), &["a × b", "3 of 10", "forecast"]),
        (
            "all kept",
            book(vec![family("a", "b", 2020, 10, 10), family("c", "d", 2021, 25, 25)]),
            &["25 of 25", "forecast"],
        ),
        (
            "none kept",
            book(vec![family("a", "b", 2020, 0, 10), family("c", "d", 2021, 0, 25)]),
            &["0 of 25", "forecast"],
        ),
        ("one parent in everything", book(used_in_all.to_vec()), &["a × e", "3 of 12"]),
        ("a plant that is its own parent", book(vec![own_mate]), &["a × x", "3 of 10"]),
        ("a selfing", book(vec![family("a", "a", 2020, 2, 10)]), &["a selfed", "2 of 10"]),
        ("a family of one", book(vec![family("a", "b", 2020, 1, 1)]), &["1 of 1"]),
        (
            "ten thousand in a family",
            book(vec![family("a", "b", 2020, 4_000, 10_000), family("a", "c", 2021, 1, 4)]),
            &["4000 of 10000"],
        ),
        (
            "pollen parents that nobody knows",
            book(vec![family("a", "?", 2020, 4, 10), family("?", "?", 2021, 1, 12)]),
            &["a × unknown", "unknown × unknown"],
        ),
        ("all held", book(vec![held(12)]), &["not yet", "nothing judged yet"]),
    ]
}

/// Long names of which each is a plant.
fn long_names() -> Book {
    let long = "Grandmother Thistlewood's Unexpectedly Long Harvest Evening in the Old Orchard";
    let (one, other) = (format!("{long} I"), format!("{long} II"));
    let mut crosses: Vec<Cross> = (0..3).map(|i| family("a", "b", 2020 + i, 3, 12)).collect();
    let raised = [&one, &other].map(|name| seedling(name, &[("2022-09-01", Verdict::Keep)]));
    crosses[0].seedlings = raised.to_vec();
    crosses[0].totals = None;
    crosses.push(family(&one, &other, 2024, 2, 9));
    book(crosses)
}

const WAYS: &[&str] =
    &["1", "4", "4<tab>", "4<tab>ilj", "4oooo", "4<enter>", "4<tab>l<enter>", "4<tab>k<enter>"];
const SIZES: [(u16, u16); 5] = [(40, 8), (66, 30), (80, 24), (120, 40), (200, 60)];

#[test]
fn the_screens_make_sense_of_the_poorest_books() {
    for (what, book, words) in books() {
        let desk = Arc::new(Desk::new(Arc::new(book), chrono::NaiveDate::default()));
        for way in WAYS {
            let mut stage = Stage::new(desk.clone(), Settings::default(), (120, 40));
            stage.press(way).unwrap();
            for size in SIZES {
                stage.resize(size);
                let shown = stage.text();
                for odd in ["NaN", "inf ", " -0"] {
                    assert!(!shown.contains(odd), "{what}, {way} at {size:?}: {odd} in\n{shown}");
                }
            }
        }
        let mut stage = Stage::new(desk, Settings::default(), (120, 40));
        stage.press("4").unwrap();
        let shown = stage.text();
        for word in words {
            assert!(shown.contains(word), "{what}: no {word:?} in\n{shown}");
        }
    }
}

#[test]
fn the_longest_names_leave_room_for_the_figures() {
    let desk = Arc::new(Desk::new(Arc::new(long_names()), chrono::NaiveDate::default()));
    for size in [(80, 24), (120, 40), (200, 60)] {
        let mut stage = Stage::new(desk.clone(), Settings::default(), size);
        stage.press("4").unwrap();
        let shown = stage.text();
        let row = shown.lines().find(|line| line.contains("2 of 9") && line.contains('├'));
        let row = row.unwrap_or_else(|| panic!("at {size:?}:\n{shown}"));
        assert!(row.contains("… × ") && row.contains(" %"), "{row}");
    }
}
