//! What a change does to the screen, and what the screen says where nothing can be written.

use std::sync::Arc;

use trug::{
    book::Verdict,
    shelf::Machine,
    tui::{Event, Wish},
};

use super::{USUAL, find, press, says, stage, stage_with};
use crate::keep::{
    Garden,
    frail::{Blow, Frail},
    moved, note, verdict,
};

#[test]
fn what_was_changed_before_is_taken_back_and_done_again_across_restarts() {
    let garden = Garden::new();
    let first = garden.files();
    {
        let (opened, mut keeper) = garden.open();
        let mut book = opened.book;
        let change = note(&book, "26-012", "leans on its neighbour");
        keeper.keep(&mut book, change).unwrap();
    }
    let changed = garden.files();
    let mut screen = stage_with(&garden, Arc::new(Machine), (120, 40));
    find(&mut screen, "26-012");
    says(&screen, "leans on its neighbour");
    press(&mut screen, "u");
    says(&screen, "Taken back: 26-012: leans on its neighbour; U does it again.");
    assert_eq!(garden.files(), first);
    drop(screen);
    let mut screen = stage(&garden);
    press(&mut screen, "U");
    says(&screen, "Done again: 26-012: leans on its neighbour");
    assert_eq!(garden.files(), changed);
    press(&mut screen, "uu");
    says(&screen, "There is nothing to undo.");
    assert_eq!(garden.files(), first);
}

#[test]
fn every_page_on_the_trail_stays_with_its_plant_when_others_come_and_go() {
    let garden = Garden::new();
    {
        let (opened, mut keeper) = garden.open();
        let mut book = opened.book;
        // Taking this back moves every plant of the families between.
        let change = moved(&book, "26-012", "21X01");
        keeper.keep(&mut book, change).unwrap();
    }
    let mut screen = stage(&garden);
    find(&mut screen, "26-001");
    find(&mut screen, "25X01");
    find(&mut screen, "26-012");
    says(&screen, "26-012 of cross 21X01");
    press(&mut screen, "u");
    says(&screen, "26-012 of cross");
    press(&mut screen, "<backspace>");
    says(&screen, "25X01");
    press(&mut screen, "<backspace>");
    says(&screen, "26-001 of cross");
}

#[test]
fn whoever_comes_second_reads_and_is_told_whose_the_book_is_and_writes_when_it_is_free() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut screen = stage(&garden);
    says(&screen, "This book is being written in by Ida since 2026-11-01");
    press(&mut screen, "2");
    says(&screen, "This book is being written in by Ida");
    press(&mut screen, "u");
    says(&screen, "Close the other one, and go on here.");
    let mut book = opened.book;
    let change = note(&book, "26-012", "first come, first served");
    keeper.keep(&mut book, change).unwrap();
    drop(keeper);
    screen.take(Event::Tick);
    says(&screen, "You can write in this book now.");
    press(&mut screen, "u");
    says(&screen, "Taken back: 26-012: first come, first served");
    assert!(!screen.text().contains("is being written in"), "{}", screen.text());
}

#[test]
fn a_book_that_is_only_shown_says_so() {
    let mut screen =
        trug::tui::Stage::new(crate::sample::desk(), trug::tui::Settings::default(), USUAL);
    let before = screen.text();
    press(&mut screen, "u");
    assert_eq!(screen.text(), before, "there is no such key here");
}

#[test]
fn a_full_disk_is_said_and_the_change_waits_until_it_is_tried_again_or_let_go() {
    let garden = Garden::new();
    {
        let (opened, mut keeper) = garden.open();
        let mut book = opened.book;
        for key in ["26-012", "26-015"] {
            let change = verdict(&book, key, Verdict::Discard);
            keeper.keep(&mut book, change).unwrap();
        }
    }
    let frail = Arc::new(Frail::default());
    let mut screen = stage_with(&garden, frail.clone(), USUAL);
    frail.arm(Some((0, Blow::Full)));
    press(&mut screen, "u");
    says(&screen, "The disk is full.");
    says(&screen, "Make room on the disk, and try again.");
    says(&screen, "26-015: discard");
    press(&mut screen, "<enter>");
    says(&screen, "The disk is full.");
    press(&mut screen, "<esc>");
    says(&screen, "1 change could not be written yet; it waits.");
    assert_eq!(screen.press("q"), Some(Wish::Draw), "leaving asks first");
    press(&mut screen, "<esc>");
    frail.arm(None);
    press(&mut screen, "t");
    says(&screen, "Everything is written now.");
    assert!(!screen.text().contains("could not be written"));
    frail.arm(Some((0, Blow::Full)));
    press(&mut screen, "ux");
    says(&screen, "Let go, never written");
    assert_eq!(screen.press("q"), Some(Wish::Quit));
    drop(screen);
    let mut screen = stage_with(&garden, Arc::new(Machine), USUAL);
    press(&mut screen, "U");
    says(&screen, "Done again: 26-015: discard");
}

#[test]
fn what_is_due_is_written_down_of_the_head_under_the_cursor() {
    let garden = Garden::new();
    let mut screen = stage(&garden);
    press(&mut screen, "<shift-tab><enter>j");
    says(&screen, "heads dry enough to rub out");
    press(&mut screen, "n<enter>");
    says(&screen, "26X05, head green 5: rubbed out and counted.");
    press(&mut screen, "11<enter>");
    says(&screen, "26X05, head green 5: threshed, 11 seeds");
    press(&mut screen, "u");
    says(&screen, "Taken back");
}
