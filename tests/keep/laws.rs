//! Laws that hold for any changes: undone to the start nothing is left of them, and what two
//! people did apart comes out the same whoever is first.

use std::sync::Arc;

use proptest::{collection::vec, prelude::*};
use trug::{
    book::{Book, Change},
    shelf::open,
};

use super::{Garden, at, frail::Frail, letters};
use crate::changes::something;

fn demo() -> Book {
    open(&crate::demo::folder(), None).unwrap().book
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4) })]

    #[test]
    fn undone_to_the_start_every_file_is_as_it_was_across_openings_too(
        doings in vec((0_u8..12, any::<u16>(), any::<u16>(), any::<bool>()), 1..15)
    ) {
        let garden = Garden::new();
        let first = garden.files();
        let open = || garden.open_with(Arc::new(Frail::default()), at(0));
        let (opened, mut keeper) = open();
        let mut book = opened.book;
        let mut n_done = 0;
        for (kind, a, b, opens_anew) in doings {
            let Some(change) = something(&book, kind, a, b) else { continue };
            n_done += u32::from(!change.is_nothing() && keeper.keep(&mut book, change).is_ok());
            prop_assert_eq!(keeper.unsaved().len(), 0);
            if opens_anew {
                drop(keeper);
                let (opened, anew) = open();
                prop_assert_eq!(letters(&opened.book), letters(&book));
                (book, keeper) = (opened.book, anew);
            }
        }
        let last = garden.files();
        for n in 0..n_done {
            keeper.undo(&mut book).unwrap();
            if n % 3 == 1 {
                drop(keeper);
                let (opened, anew) = open();
                (book, keeper) = (opened.book, anew);
            }
        }
        prop_assert!(keeper.undo(&mut book).is_err());
        prop_assert_eq!(garden.files(), first);
        for _ in 0..n_done {
            keeper.redo(&mut book).unwrap();
        }
        prop_assert_eq!(garden.files(), last);
    }

    #[test]
    fn what_two_did_apart_comes_out_the_same_whoever_is_first(
        pairs in vec(((0_u8..3, 0_u16..40, any::<u16>()), (0_u8..3, 0_u16..40, any::<u16>())), 30)
    ) {
        let base = demo();
        for ((kind, a, b), (other_kind, other_a, other_b)) in pairs {
            let mine = something(&base, kind, a, b);
            let theirs = something(&base, other_kind, other_a, other_b);
            let (Some(mine), Some(theirs)) = (mine, theirs) else { continue };
            let merged = |first: &Change, then: &Change| {
                let mut book = base.clone();
                book.apply(first).unwrap();
                let then = book.rebase(then).ok()?;
                book.apply(&then).unwrap();
                Some(letters(&book))
            };
            prop_assert_eq!(merged(&mine, &theirs), merged(&theirs, &mine));
        }
    }
}
