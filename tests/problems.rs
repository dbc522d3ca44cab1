//! What is wrong with a book, on the full screen.

use crate::sample;
use trug::{
    book::{Problem, Severity},
    tui::{Event, Settings, Shown, Stage, Start, place::Place},
};

fn problem(file: &str, line: usize, message: &str) -> Problem {
    Problem {
        file: file.to_owned(),
        line,
        column: 7,
        severity: Severity::Error,
        message: message.to_owned(),
        hint: format!("Mend {file}."),
    }
}

fn stage(problems: Vec<Problem>, size: (u16, u16)) -> Stage {
    let shown = Shown::only(sample::desk(), problems);
    Stage::begin(Start::Book(shown), Settings::default(), size)
}

fn three() -> Vec<Problem> {
    vec![
        problem("crosses/2025/25X01.ron", 12, "This day does not exist."),
        problem("crosses/2025/25X02.ron", 3, "Nobody is called Saltmash."),
        problem("varieties/old-rope.ron", 0, "This file cannot be read."),
    ]
}

#[test]
fn the_notice_names_the_key_that_lists_them() {
    let mut stage = stage(three(), (80, 24));
    let foot = stage.text().lines().last().unwrap().to_owned();
    assert!(foot.contains("3 things in this book are amiss: ! lists them."), "{foot}");
    stage.press("!").unwrap();
    assert_eq!(stage.place(), Place::Problems);
    stage.press("<backspace>3<enter>").unwrap();
    assert!(stage.text().contains("! problems"), "the foot names it from then on");
    stage.press("!").unwrap();
    assert_eq!(stage.place(), Place::Problems, "from anywhere");
}

#[test]
fn each_is_told_with_its_place_its_sentence_and_the_way_out() {
    for size in [(80, 24), (120, 40), (200, 60)] {
        let mut stage = stage(three(), size);
        stage.press("!").unwrap();
        for told in ["crosses/2025/25X01.ron, line 12, column 7", "This day does not exist."] {
            assert!(stage.text().contains(told), "{told} at {size:?}\n{}", stage.text());
        }
        stage.press("j").unwrap();
        assert!(stage.text().contains("Mend crosses/2025/25X02.ron."), "{}", stage.text());
        stage.press("j").unwrap();
        let told = stage.text().lines().any(|line| line == " varieties/old-rope.ron");
        assert!(told, "of a whole file no line is told:\n{}", stage.text());
    }
}

#[test]
fn they_are_ordered_filtered_and_clicked_as_any_list() {
    let mut stage = stage(three(), (120, 40));
    stage.press("!sss").unwrap();
    assert!(stage.text().contains("by column"), "{}", stage.text());
    stage.press("fsaltmash<enter>").unwrap();
    assert!(stage.text().contains("1 of 3, with \"saltmash\""), "{}", stage.text());
    stage.press("<esc>").unwrap();
    let text = stage.text();
    let y = text.lines().position(|line| line.contains("This file cannot")).unwrap();
    stage.take(Event::Press(30, u16::try_from(y).unwrap()));
    assert!(stage.text().contains("Mend varieties/old-rope.ron."), "{}", stage.text());
}

#[test]
fn where_nothing_is_amiss_it_says_so() {
    let mut stage = stage(Vec::new(), (80, 24));
    assert!(!stage.text().contains("problems"), "{}", stage.text());
    stage.press("!").unwrap();
    assert!(stage.text().contains("Nothing in this book is amiss."), "{}", stage.text());
}

#[test]
fn the_page_is_drawn_at_every_size() {
    let mut stage = stage(three(), (120, 40));
    stage.press("!").unwrap();
    for wide in (40..200).step_by(7) {
        for high in 8..60 {
            stage.resize((wide, high));
            assert!(stage.text().contains("problems"), "at {wide} x {high}\n{}", stage.text());
        }
    }
}
