//! One change to the disk: which files it writes, and what is on the disk afterwards.

use trug::{
    book::Verdict,
    shelf::{ReadOnly, WhyNot, open},
};

use super::{Garden, letters, moved, note, verdict};

const FILE: &str = "crosses/2025/25X01.ron";

#[test]
fn a_change_writes_the_files_that_it_touches_and_no_other() {
    let garden = Garden::new();
    let before = garden.files();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    let change = moved(&book, "26-012", "24X02");
    let kept = keeper.keep(&mut book, change.clone()).unwrap();
    assert_eq!((kept.n, &kept.change, kept.has_news), (1, &change, false));
    let after = garden.files();
    let written: Vec<&str> = after
        .iter()
        .filter(|(file, text)| before.get(*file) != Some(text))
        .map(|(f, _)| &**f)
        .collect();
    assert_eq!(written, ["crosses/2024/24X02.ron", FILE]);
    assert_eq!(letters(&open(garden.root(), None).unwrap().book), letters(&book));
    assert_eq!(garden.read(".trug/.gitignore"), "*\n");
}

#[test]
fn a_second_writer_only_reads_says_why_and_takes_over_when_it_is_free() {
    let garden = Garden::new();
    let (opened, mut first) = garden.open();
    let mut book = opened.book;
    let (mut theirs, mut second) = garden.open();
    let why = second.read_only().unwrap().to_string();
    assert!(
        why.starts_with("This book is being written in by Ida since 2026-11-01 09:00"),
        "{why}"
    );
    let refused = second.keep(&mut theirs.book, note(&book, "26-012", "x")).unwrap_err();
    assert!(matches!(refused.why, WhyNot::ReadOnly(_)) && !refused.is_waiting);
    assert_eq!(letters(&theirs.book), letters(&book));
    assert!(second.try_again(None).unwrap().is_none());
    let change = verdict(&book, "26-012", Verdict::Discard);
    first.keep(&mut book, change).unwrap();
    drop(first);
    let anew = second.try_again(None).unwrap().unwrap();
    assert!(second.read_only().is_none());
    assert_eq!(letters(&anew.book), letters(&book));
    let (_, third) = garden.open();
    assert!(matches!(third.read_only(), Some(ReadOnly::Held { .. })));
}

#[test]
fn removing_a_record_removes_its_file_and_undoing_brings_it_back() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    let variety = trug::book::Variety {
        id: "tin-lamp".into(),
        name: "Tin Lamp".into(),
        ..Default::default()
    };
    let change = trug::book::enter::new_variety(&book, variety, super::today()).unwrap().change;
    let first = garden.files();
    keeper.keep(&mut book, change).unwrap();
    assert!(garden.path("varieties/tin-lamp.ron").exists());
    keeper.undo(&mut book).unwrap();
    assert_eq!(garden.files(), first);
    keeper.redo(&mut book).unwrap();
    assert!(garden.path("varieties/tin-lamp.ron").exists());
}
