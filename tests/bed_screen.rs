//! The beds: keys pressed, and what the screen then shows.

use crate::sample;
use trug::tui::{Event, Settings, Stage};

fn stage(size: (u16, u16)) -> Stage {
    let mut stage = Stage::new(sample::desk(), Settings::default(), size);
    stage.press("2").unwrap();
    stage
}

/// The first line with these words.
fn line(stage: &Stage, words: &str) -> String {
    let text = stage.text();
    let found = text.lines().find(|line| line.contains(words));
    found.unwrap_or_else(|| panic!("no {words:?} in\n{text}")).to_owned()
}

#[test]
fn the_plan_shows_each_bed_with_its_rows_and_signs() {
    let stage = stage((120, 40));
    let says = line(&stage, "Where things stood in 2026");
    assert!(says.contains("in 2 beds"), "{says}");
    assert!(line(&stage, " kept ").contains("discarded"));
    assert!(line(&stage, "bed A").contains("6 rows of 24"));
    assert!(line(&stage, "bed B").contains("6 rows of 24"));
    assert!(line(&stage, "1  2  3").contains("24"));
}

#[test]
fn the_cursor_walks_over_the_plan_and_enter_opens_the_plant() {
    let mut stage = stage((100, 30));
    line(&stage, "A/1/1");
    stage.press("lljj").unwrap();
    line(&stage, "A/3/3");
    stage.press("<enter>").unwrap();
    let trail = line(&stage, "Bed ›");
    assert!(trail.contains("26-203"), "row 3 of bed A is the second family: {trail}");
    stage.press("<backspace>").unwrap();
    line(&stage, "A/3/3");
}

#[test]
fn an_empty_place_says_so_and_opens_nothing() {
    let mut stage = stage((100, 30));
    stage.press("j").unwrap();
    line(&stage, "Nothing was planted here.");
    let before = stage.place();
    stage.press("<enter>").unwrap();
    assert_eq!(stage.place(), before);
}

#[test]
fn the_season_before_shows_other_plants() {
    let mut stage = stage((100, 30));
    stage.press("[").unwrap();
    line(&stage, "Where things stood in 2025");
    line(&stage, "25-101");
}

#[test]
fn numbers_of_rows_and_places_stay_put_while_the_plan_scrolls() {
    // So small that neither all rows nor all places are in view.
    let mut stage = stage((44, 14));
    stage.press("<tab>").unwrap();
    stage.press("jjjj").unwrap();
    for _ in 0..23 {
        stage.press("l").unwrap();
    }
    let text = stage.text();
    assert!(text.contains("B/5/24"), "{text}");
    assert!(line(&stage, "bed B").starts_with(" bed B"), "the bed in view is named");
    assert!(line(&stage, "10        15").ends_with("24"), "the place of the cursor is named");
    assert!(text.lines().any(|l| l.trim_start().starts_with("5 ")), "{text}");
}

#[test]
fn what_is_not_asked_for_is_dimmed_and_the_line_above_says_what_is() {
    let mut stage = stage((120, 40));
    let before = stage.looks();
    stage.press("oo").unwrap();
    assert!(line(&stage, "Where things stood").contains("keepers"));
    assert_ne!(stage.looks(), before);
    stage.press("o").unwrap();
    line(&stage, "marked are");
    stage.press("ofsalt<enter>").unwrap();
    line(&stage, "with \"salt\"");
    stage.press("<esc>").unwrap();
    assert_eq!(stage.looks(), before);
}

#[test]
fn a_click_puts_the_cursor_on_a_place_and_the_wheel_scrolls() {
    let mut stage = stage((60, 16));
    let text = stage.text();
    let y = text.lines().position(|l| l.trim_start().starts_with("3 ")).unwrap();
    stage.take(Event::Press(8, u16::try_from(y).unwrap()));
    line(&stage, "A/3/2");
    stage.take(Event::Wheel(8, u16::try_from(y).unwrap(), 3));
    assert!(!stage.text().contains("A/3/2"), "the cursor came along");
    line(&stage, "bed B");
}

#[test]
fn a_book_without_beds_says_what_to_do() {
    let mut stage = Stage::new(sample::empty_desk(), Settings::default(), (80, 24));
    stage.press("2").unwrap();
    line(&stage, "trug import");
}
