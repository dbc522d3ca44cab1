//! Every page at every size: nothing panics, nothing is drawn twice in one place.

#[path = "sample.rs"]
mod sample;

use trug::tui::{Depth, Settings, Stage};

/// Sizes from nothing to a large screen: every small one, then in steps that meet every way a
/// page is laid out.
fn sizes() -> impl Iterator<Item = (u16, u16)> {
    let wide = (0..12).chain((12..200).step_by(7)).chain([200]);
    wide.flat_map(|wide| {
        let high = (0..12).chain((12..60).step_by(5)).chain([60]);
        high.map(move |high| (wide, high))
    })
}

/// Ways to every sort of page and cover from the first.
const WAYS: &[&str] =
    &["", "<tab>", "3", "4", "5", "2", "<enter>", "<tab><enter>", "/fer", "?", "fsa"];

#[test]
fn every_page_is_drawn_at_every_size() {
    let (full, empty) = (sample::desk(), sample::empty_desk());
    for way in WAYS {
        for desk in [&full, &empty] {
            let mut stage = Stage::new(desk.clone(), Settings::default(), (120, 40));
            stage.press(way).unwrap();
            for size in sizes() {
                stage.resize(size);
                let lines = stage.text();
                let is_small = size.0 < 40 || size.1 < 8;
                let says_so = size.0 < 6 || size.1 == 0 || lines.contains("trug");
                assert!(!is_small || says_so, "{way} at {size:?}:\n{lines}");
            }
        }
    }
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
