//! What is written can be read, and is written again the same.

use std::{collections::BTreeMap, fs, path::Path};

use proptest::prelude::*;
use tempfile::tempdir;
use trug::shelf::{open, texts, write_book};

use super::invented;

/// Every file below a folder, by path.
pub(super) fn files(root: &Path) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut folders = vec![root.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(root).unwrap().to_str().unwrap().replace('\\', "/");
                found.insert(name, fs::read_to_string(path).unwrap());
            }
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

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
