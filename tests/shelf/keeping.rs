//! What is written can be read, and is written again the same.

use proptest::prelude::*;
use tempfile::tempdir;
use trug::shelf::{open, texts, write_book};

use super::{
    garden::{files, shown, sound, today},
    invented,
};

#[test]
fn the_small_garden_is_laid_out_as_the_writer_does_it() {
    let opened = open(&sound(), None).unwrap();
    assert_eq!(shown(&opened.problems), "");
    assert_eq!(shown(&opened.problems_of(&opened.faults(today()))), "");
    assert_eq!(texts(&opened.book), files(&sound()));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(32) })]

    #[test]
    fn a_book_comes_back_as_it_was_and_is_written_the_same_again(book in invented::book()) {
        let (first, second) = (tempdir().unwrap(), tempdir().unwrap());
        write_book(first.path(), &book).unwrap();
        let mut opened = open(first.path(), None).unwrap();
        prop_assert_eq!(&opened.problems, &[]);
        prop_assert_eq!(opened.book.about(), book.about());
        prop_assert_eq!(opened.book.varieties(), book.varieties());
        prop_assert_eq!(opened.book.crosses(), book.crosses());

        write_book(second.path(), &opened.book).unwrap();
        prop_assert_eq!(files(first.path()), files(second.path()));
        prop_assert_eq!(files(first.path()), texts(&book));

        let again = opened.shelf.save(&opened.book).unwrap();
        prop_assert!(again.written.is_empty(), "{again:?}");
    }
}
