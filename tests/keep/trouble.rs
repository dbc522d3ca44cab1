//! Trouble around the program: a disk that takes no more, a clock that goes backwards, two who
//! write at once, versions that grow old.

use std::{process::Command as Process, sync::Arc};

use trug::{book::Verdict, shelf::open};

use super::{
    Garden, at,
    frail::{Blow, Frail},
    letters, note, verdict,
};

const FILE: &str = "crosses/2025/25X01.ron";

#[test]
fn on_a_full_disk_a_walk_along_the_bed_goes_on_and_is_written_when_there_is_room() {
    let garden = Garden::new();
    let frail = Arc::new(Frail::default());
    let (opened, mut keeper) = garden.open_with(frail.clone(), at(0));
    let mut book = opened.book;
    frail.arm(Some((0, Blow::Full)));
    let keys = ["26-012", "26-015", "26-012", "26-001"];
    for key in keys {
        let change = verdict(&book, key, Verdict::Discard);
        let not_kept = keeper.keep(&mut book, change).unwrap_err();
        assert!(not_kept.is_waiting && not_kept.why.is_full_disk());
        assert_eq!(not_kept.why.hint(), "Make room on the disk, and try again.");
    }
    assert_eq!(keeper.unsaved().len(), keys.len());
    keeper.undo(&mut book).unwrap();
    assert_eq!(keeper.unsaved().len(), 3, "what is not written yet is simply let go");
    frail.arm(None);
    let change = note(&book, "26-002", "there is room again");
    keeper.keep(&mut book, change).unwrap();
    assert_eq!(keeper.unsaved().len(), 0);
    assert_eq!(letters(&open(garden.root(), None).unwrap().book), letters(&book));
    assert_eq!(keeper.history().unwrap().entries().count(), 4);
}

#[test]
fn what_cannot_be_written_is_said_by_the_program_and_nothing_is_left_of_it() {
    let garden = Garden::new();
    let first = garden.files();
    // No file may grow beyond 2 KiB here, which is less than this family takes.
    let done = Process::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 4; exec \"$0\" --book \"$1\" note 26-012 keep"])
        .arg(env!("CARGO_BIN_EXE_trug"))
        .arg(garden.root())
        .output()
        .unwrap();
    assert_eq!(done.status.code(), Some(3));
    let said = String::from_utf8(done.stderr).unwrap();
    assert!(said.contains("could not be written"), "{said}");
    assert_eq!(garden.files(), first);
    assert_eq!(garden.open().1.history().unwrap().entries().count(), 0);
}

#[test]
fn a_clock_that_goes_backwards_changes_no_order() {
    let garden = Garden::new();
    for (day, text) in [(5, "one"), (2, "two"), (9, "three"), (0, "four")] {
        let (opened, mut keeper) = garden.open_with(Arc::new(Frail::default()), at(day));
        let mut book = opened.book;
        let change = note(&book, "26-012", text);
        keeper.keep(&mut book, change).unwrap();
    }
    let (opened, mut keeper) = garden.open_with(Arc::new(Frail::default()), at(1));
    let mut book = opened.book;
    let told: Vec<Box<str>> = keeper.history().unwrap().entries().map(|made| made.what).collect();
    let whats = ["26-012: one", "26-012: two", "26-012: three", "26-012: four"];
    assert_eq!(told.iter().map(|what| &**what).collect::<Vec<_>>(), whats);
    assert_eq!(keeper.earlier().len(), 4);
    keeper.undo(&mut book).unwrap();
    assert!(!garden.read(FILE).contains("four") && garden.read(FILE).contains("three"));
}

#[test]
fn many_programs_that_write_at_once_lose_nothing() {
    let garden = Garden::new();
    std::thread::scope(|scope| {
        for who in 0..4 {
            let garden = &garden;
            scope.spawn(move || {
                for n in 0..3 {
                    let text = format!("{who} says {n}");
                    let tell = || {
                        let mut note = Process::new(env!("CARGO_BIN_EXE_trug"));
                        note.arg("--book").arg(garden.root());
                        note.args(["note", "26-012", "note", &text]).output().unwrap()
                    };
                    // Whoever finds it locked is told so, and tries again.
                    while !tell().status.success() {}
                }
            });
        }
    });
    let text = garden.read(FILE);
    for who in 0..4 {
        for n in 0..3 {
            assert_eq!(text.matches(&format!("\"{who} says {n}\"")).count(), 1);
        }
    }
    assert_eq!(garden.open().1.history().unwrap().entries().count(), 12);
}

#[test]
fn earlier_versions_are_kept_for_thirty_days_and_thinned_where_they_lie_close() {
    let garden = Garden::small();
    let open = |day| garden.open_with(Arc::new(Frail::default()), at(day));
    {
        let (opened, mut keeper) = open(0);
        let mut book = opened.book;
        for n in 0..60 {
            let change = note(&book, "26-012", &format!("remark {n}"));
            keeper.keep(&mut book, change).unwrap();
        }
        assert_eq!(keeper.earlier().len(), 60);
    }
    let befores = |day| {
        let versions = open(day).1.earlier();
        versions.iter().map(|version| version.before.unwrap()).collect::<Vec<_>>()
    };
    let mut thinned: Vec<u64> = (11..=60).rev().collect();
    thinned.push(1);
    assert_eq!(befores(1), thinned, "the newest fifty, and how the day began");
    assert_eq!(befores(30), thinned);
    assert_eq!(befores(31), [0; 0]);
}
