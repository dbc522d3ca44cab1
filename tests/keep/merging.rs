//! A file that somebody else changed meanwhile: noticed, merged, or put to the question.

use std::fs;

use trug::{
    book::{Side, Verdict},
    shelf::{WhyNot, open},
};

use super::{Garden, letters, note, verdict};

const FILE: &str = "crosses/2025/25X01.ron";

#[test]
fn what_an_editor_did_to_another_plant_is_taken_in() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    garden.edit(FILE, "(number: \"26-013\", ", "(number: \"26-013\", id: \"x13\", ");
    let change = note(&book, "26-012", "mine");
    let kept = keeper.keep(&mut book, change).unwrap();
    assert!(kept.has_news);
    assert!(book.by_key("x13").is_some());
    assert!(garden.read(FILE).contains("mine") && garden.read(FILE).contains("x13"));
    assert_eq!(letters(&open(garden.root(), None).unwrap().book), letters(&book));
}

#[test]
fn both_wrote_in_one_diary_and_both_entries_stand() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let (mut book, mut theirs) = (opened.book.clone(), opened.book);
    let change = note(&theirs, "26-012", "theirs");
    theirs.apply(&change).unwrap();
    fs::write(garden.path(FILE), &letters(&theirs)[FILE]).unwrap();
    let change = verdict(&book, "26-012", Verdict::Keep);
    keeper.keep(&mut book, change).unwrap();
    let text = garden.read(FILE);
    assert!(text.contains("Note(\"theirs\")") && text.contains("Verdict(is: Keep)"), "{text}");
}

#[test]
fn both_changed_the_same_and_somebody_is_asked() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    let change = note(&book, "26-012", "a first word");
    keeper.keep(&mut book, change).unwrap();
    garden.edit(FILE, "a first word", "their word");
    let undone = keeper.undo(&mut book);
    let Err(trug::shelf::NotUndone::NotKept(not_kept)) = undone else { panic!("they touch") };
    assert!(not_kept.has_news, "what they wrote is seen");
    let WhyNot::Conflict(conflict) = &not_kept.why else { panic!("they touch") };
    assert_eq!(
        not_kept.to_string(),
        "The same was changed by another program meanwhile, in another way."
    );
    assert_eq!(conflict.clashes().count(), 1);
    assert!(garden.read(FILE).contains("their word"), "nothing is written before it is settled");
    let theirs = conflict.settle(&[Side::Theirs]);
    assert!(theirs.is_nothing());
    let mine = conflict.settle(&[Side::Mine]);
    keeper.keep(&mut book, mine).unwrap();
    assert!(!garden.read(FILE).contains("word"));
}

#[test]
fn a_file_left_half_merged_is_not_written_over() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    let marked = "<<<<<<< ours\n(number: \"26-013\", =======\n>>>>>>> theirs\n";
    garden.edit(FILE, "(number: \"26-013\", ", marked);
    let before = (garden.files(), letters(&book));
    let change = note(&book, "26-012", "mine");
    let not_kept = keeper.keep(&mut book, change.clone()).unwrap_err();
    assert_eq!(not_kept.change, change);
    assert_eq!(not_kept.to_string(), format!("The file {FILE} has faults and is left as it is."));
    assert_eq!((garden.files(), letters(&book)), before);
    let problems = open(garden.root(), None).unwrap().problems;
    assert_eq!(problems[0].message, "A merge was left half done here.");
}

#[test]
fn a_file_that_was_deleted_is_written_again() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    fs::remove_dir_all(garden.path("crosses/2025")).unwrap();
    let change = note(&book, "26-012", "mine");
    let kept = keeper.keep(&mut book, change).unwrap();
    assert_eq!(kept.restored, [FILE]);
    assert_eq!(garden.read(FILE), letters(&book)[FILE]);
}
