//! The page that stands where there is no book.

use std::{cell::RefCell, rc::Rc};

use crate::sample;
use trug::tui::{Choice, Event, NoBook, Opener, Settings, Shown, Stage, Start, Wish, place::Place};

const WHY: &str = "There is no book here yet.";

/// The page, and what is chosen on it. A folder called `taken` cannot be had.
fn stage(size: (u16, u16)) -> (Stage, Rc<RefCell<Vec<Choice>>>) {
    let chosen = Rc::new(RefCell::new(Vec::new()));
    let told = Rc::clone(&chosen);
    let opener = Opener::new(move |choice| {
        told.borrow_mut().push(choice.clone());
        match choice {
            Choice::New(folder) if folder == "taken" => Err("There is a book there.".to_owned()),
            Choice::New(_) => Ok(Shown::only(sample::empty_desk(), Vec::new())),
            Choice::Demo => Ok(Shown::only(sample::desk(), Vec::new())),
        }
    });
    let no_book = NoBook { why: WHY.to_owned(), desk: sample::empty_desk(), opener };
    (Stage::begin(Start::NoBook(no_book), Settings::default(), size), chosen)
}

#[test]
fn it_says_why_and_what_can_be_done() {
    for size in [(80, 24), (120, 40), (200, 60)] {
        let (stage, _) = stage(size);
        for told in [WHY, "demo garden", "start a new book", "spreadsheets", "leave"] {
            assert!(stage.text().contains(told), "{told} at {size:?}\n{}", stage.text());
        }
        assert!(!stage.text().contains("1 Evening"), "there is nothing to go to");
    }
}

#[test]
fn one_key_opens_the_demo_garden() {
    for way in ["d", "<enter>"] {
        let (mut stage, chosen) = stage((80, 24));
        stage.press(way).unwrap();
        assert_eq!(*chosen.borrow(), [Choice::Demo], "{way}");
        assert_eq!(stage.place(), Place::Evening);
        assert!(stage.text().contains("1 Evening"), "{}", stage.text());
        stage.press("3d").unwrap();
        assert_eq!(chosen.borrow().len(), 1, "with a book the key means nothing");
    }
}

#[test]
fn a_new_book_asks_for_its_folder() {
    let (mut stage, chosen) = stage((80, 24));
    stage.press("n").unwrap();
    assert!(stage.text().contains("folder of the new book: my-garden"), "{}", stage.text());
    stage.press("<ctrl-x>taken<enter>").unwrap();
    assert_eq!(*chosen.borrow(), [Choice::New("taken".to_owned())]);
    assert_eq!(stage.place(), Place::Welcome, "what cannot be had is asked for again");
    let told = stage.text();
    assert!(told.contains("There is a book there.") && told.contains("book: taken"), "{told}");
    stage.press("<ctrl-x>plot 3<enter>").unwrap();
    assert_eq!(chosen.borrow().last(), Some(&Choice::New("plot 3".to_owned())));
    assert_eq!(stage.place(), Place::Evening);
    assert!(stage.text().contains("trug import"), "an empty book says how to fill it");
}

#[test]
fn a_long_reason_is_told_in_full() {
    let why = "There is no folder plots/with/a/garden/that/lies/far/down/the/lane/1 here.";
    let opener = Opener::new(|_| Err(String::new()));
    let no_book = NoBook { why: why.to_owned(), desk: sample::empty_desk(), opener };
    let stage = Stage::begin(Start::NoBook(no_book), Settings::default(), (80, 24));
    let text = stage.text();
    for word in why.split(' ') {
        assert!(text.contains(word), "{word} in\n{text}");
    }
}

#[test]
fn escape_leaves_the_question_and_nothing_is_made() {
    let (mut stage, chosen) = stage((80, 24));
    stage.press("n<esc>").unwrap();
    assert!(chosen.borrow().is_empty());
    assert_eq!(stage.place(), Place::Welcome);
    assert!(!stage.text().contains("folder of the new book"), "{}", stage.text());
}

#[test]
fn spreadsheets_are_told_in_words_for_the_shell() {
    let (mut stage, _) = stage((80, 24));
    stage.press("i").unwrap();
    for typed in ["trug new my-garden", "trug import plants.csv"] {
        assert!(stage.text().contains(typed), "{}", stage.text());
    }
}

#[test]
fn one_leaves_by_key_by_cursor_and_by_mouse() {
    let wishes = ["q", "G<enter>", "<ctrl-c>"].map(|way| stage((80, 24)).0.press(way).unwrap());
    assert_eq!(wishes, [Wish::Quit; 3]);
    let (mut stage, _) = stage((80, 24));
    let y = stage.text().lines().position(|line| line.contains("leave")).unwrap();
    let press = || Event::Press(8, u16::try_from(y).unwrap());
    assert_eq!(stage.take(press()), Wish::Draw, "the first click puts the cursor there");
    assert_eq!(stage.take(press()), Wish::Quit);
}

#[test]
fn keys_of_a_book_do_nothing_and_every_size_is_drawn() {
    let (mut stage, chosen) = stage((120, 40));
    stage.press("12345!fsr/[]oabc<tab><backspace><esc>").unwrap();
    assert_eq!(stage.place(), Place::Welcome);
    assert!(chosen.borrow().is_empty());
    for way in ["", "?", "<esc>n"] {
        stage.press(way).unwrap();
        for wide in (40..200).step_by(9) {
            for high in 8..60 {
                stage.resize((wide, high));
                assert!(stage.text().contains("trug"), "{way} at {wide} x {high}");
            }
        }
    }
}
