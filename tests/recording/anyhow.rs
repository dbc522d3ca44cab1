//! Any keys at all: nothing breaks, the book stays sound, and undone to the start it is as it was.

use std::sync::Arc;

use proptest::{collection::vec, prelude::*, sample::select};
use trug::{shelf, tui::keys::Key};

use super::stage_with;
use crate::keep::{
    Garden,
    frail::{Blow, Frail},
};

/// Keys that do something somewhere, those that write more often than others.
const KEYS: &[&str] = &[
    "k",
    "h",
    "d",
    "k",
    "h",
    "d",
    "w",
    "w",
    "1",
    "2",
    "3",
    "4",
    "5",
    "6",
    "7",
    "8",
    "9",
    "0",
    "u",
    "u",
    "U",
    "l",
    "b",
    "i",
    "x",
    "c",
    "n",
    "g",
    "p",
    "e",
    "s",
    "o",
    "f",
    "t",
    "H",
    "E",
    "D",
    "K",
    "M",
    "J",
    "X",
    "a",
    "r",
    "[",
    "]",
    "/",
    "?",
    "!",
    "enter",
    "enter",
    "enter",
    "esc",
    "esc",
    "tab",
    "tab",
    "shift-tab",
    "backspace",
    "up",
    "down",
    "down",
    "left",
    "right",
    "right",
    "space",
    "home",
    "end",
    "page-down",
];

fn sound(garden: &Garden) -> usize {
    let opened = shelf::open(garden.root(), None).unwrap();
    let today = opened.book.about().today.unwrap();
    opened.problems.len() + opened.faults(today).len()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4) })]

    #[test]
    fn any_keys_leave_a_sound_book_that_can_be_undone_to_the_start(
        keys in vec(select(KEYS), 1..250),
        full_at in 0_usize..400,
    ) {
        let garden = Garden::small();
        let first = garden.files();
        let n_faults = sound(&garden);
        let frail = Arc::new(Frail::default());
        let mut screen = stage_with(&garden, frail.clone(), (80, 24));
        for (n, name) in keys.iter().enumerate() {
            // Now and then the disk is full for a while.
            if n == full_at {
                frail.arm(Some((0, Blow::Full)));
            } else if n == full_at + 20 {
                frail.arm(None);
            }
            screen.take(trug::tui::Event::Key(Key::parse(name).unwrap()));
        }
        frail.arm(None);
        screen.press("<esc><esc><esc><esc>t").unwrap();
        prop_assert!(sound(&garden) <= n_faults, "the book is no less sound than it was");
        for _ in 0..keys.len() {
            screen.press("u").unwrap();
            if screen.text().contains("There is nothing to undo.") {
                break;
            }
        }
        prop_assert_eq!(garden.files(), first);
    }
}
