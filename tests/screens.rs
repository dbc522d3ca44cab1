//! Every page at every size: nothing panics, nothing is drawn twice in one place.

use crate::sample;
use trug::tui::{Depth, Settings, Stage};

/// Sizes at which a page is laid out in one way or another, and around which it changes.
fn sizes() -> impl Iterator<Item = (u16, u16)> {
    let wide = [40, 41, 53, 65, 66, 80, 99, 100, 109, 110, 129, 130, 149, 150, 200];
    let high = [8, 9, 10, 11, 13, 14, 17, 20, 24, 29, 30, 36, 40, 48, 60];
    wide.into_iter().flat_map(move |wide| high.into_iter().map(move |high| (wide, high)))
}

/// Ways to every sort of page and cover from the first.
const WAYS: &[&str] = &[
    "",
    "<tab>",
    "3",
    "3o",
    "4",
    "5",
    "2",
    "<enter>",
    "<tab><tab><enter>",
    "3<enter>",
    "/ferry<enter>",
    "/fer",
    "?",
    "fsa",
    "2oG",
    "4<tab>lj",
    "4<tab>i",
    "4oooo<enter>",
    "?f",
    "3?f<enter>",
    "B",
    "3<enter>B",
    "/ferry<enter>p",
    "/ferry<enter>p<tab><tab>",
];

#[test]
fn every_page_is_drawn_at_every_size() {
    let (full, empty) = (sample::desk(), sample::empty_desk());
    for way in WAYS {
        for desk in [&full, &empty] {
            let mut stage = Stage::new(desk.clone(), Settings::default(), (120, 40));
            stage.press(way).unwrap();
            for size in sizes() {
                stage.resize(size);
                let shown = stage.text();
                assert!(shown.contains("1 Evening"), "{way} at {size:?}:\n{shown}");
            }
        }
    }
}

#[test]
fn a_screen_that_is_too_small_says_so() {
    let mut stage = Stage::new(sample::desk(), Settings::default(), (120, 40));
    for wide in 0..60 {
        for high in 0..12 {
            stage.resize((wide, high));
            let has_room = wide >= 40 && high >= 8;
            let says_so = stage.text().contains("trug needs");
            assert!(says_so != has_room || wide < 12 || high == 0, "at {wide} x {high}");
        }
    }
    stage.resize((120, 40));
    assert!(stage.text().contains("26-104"), "nothing is lost when there is room again");
}

#[test]
fn without_colours_nothing_is_coloured() {
    let settings = Settings { depth: Depth::None, ..Settings::default() };
    for way in WAYS {
        let mut stage = Stage::new(sample::desk(), settings, (120, 40));
        stage.press(way).unwrap();
        let looks = stage.looks();
        for look in looks.lines() {
            let words: Vec<&str> = look.split(' ').skip(2).collect();
            let plain = ["dim", "bold", "reversed", "underlined"];
            assert!(words.iter().all(|word| plain.contains(word)), "{way}: {look}");
        }
    }
}
