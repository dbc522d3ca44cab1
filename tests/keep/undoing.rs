//! History, undo and redo, across openings too.

use trug::shelf::{NotUndone, Undone};

use super::{Garden, letters, moved, note};

#[test]
fn changes_are_undone_and_redone_by_another_opening_and_listed_for_ever() {
    let garden = Garden::new();
    let first = garden.files();
    {
        let (opened, mut keeper) = garden.open();
        let mut book = opened.book;
        for change in ["one", "two"] {
            let change = note(&book, "26-012", change);
            keeper.keep(&mut book, change).unwrap();
        }
        let change = moved(&book, "26-012", "24X02");
        keeper.keep(&mut book, change).unwrap();
    }
    let last = garden.files();
    {
        let (opened, mut keeper) = garden.open();
        let mut book = opened.book;
        for n in [3, 2, 1] {
            assert_eq!(keeper.history().unwrap().next_undo(), Some(n));
            let Undone::Kept(_) = keeper.undo(&mut book).unwrap() else { panic!("it was kept") };
        }
        assert!(matches!(keeper.undo(&mut book), Err(NotUndone::NothingToUndo)));
        assert_eq!(garden.files(), first);
    }
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    for _ in 0..3 {
        keeper.redo(&mut book).unwrap();
    }
    assert!(matches!(keeper.redo(&mut book), Err(NotUndone::NothingToRedo)));
    assert_eq!(garden.files(), last);
    keeper.undo(&mut book).unwrap();
    let other = note(&book, "26-013", "another way");
    keeper.keep(&mut book, other).unwrap();
    let history = keeper.history().unwrap();
    let told: Vec<String> = history
        .entries()
        .map(|made| {
            let undone = if made.is_undone { " (undone)" } else { "" };
            format!("{} {} {}{undone}", made.n, made.who, made.what)
        })
        .collect();
    assert_eq!(
        told,
        [
            "1 Ida 26-012: one",
            "2 Ida 26-012: two",
            "3 Ida Moved 26-012 to 24X02 (undone)",
            "11 Ida 26-013: another way"
        ]
    );
    assert_eq!(history.next_redo(), None, "a new change drops what could be redone");
    let (again, _) = garden.open();
    assert_eq!(letters(&again.book), letters(&book));
}

#[test]
fn what_was_changed_again_meanwhile_is_not_undone() {
    let garden = Garden::new();
    let (opened, mut keeper) = garden.open();
    let mut book = opened.book;
    for text in ["one", "two"] {
        let change = note(&book, "26-012", text);
        keeper.keep(&mut book, change).unwrap();
    }
    let elsewhere = note(&book, "26-013", "three");
    keeper.keep(&mut book, elsewhere).unwrap();
    let before = garden.files();
    let refused = keeper.undo_one(&mut book, 1).unwrap_err();
    assert_eq!(refused.to_string(), "This has been changed meanwhile, and is left as it is now.");
    assert_eq!(garden.files(), before);
    keeper.undo_one(&mut book, 2).unwrap();
    keeper.undo_one(&mut book, 1).unwrap();
    assert!(matches!(keeper.undo_one(&mut book, 1), Err(NotUndone::NoSuchChange(1))));
}
