//! Writing back: only what changed, whole or not at all, and never what was not understood.

use std::{fs, sync::Arc};

use tempfile::tempdir;
use trug::{
    book::{About, Book, Crop, Cross, Season, Variety},
    shelf::{SaveError, Saved, create, open, write_book},
};

use super::garden::{BOOK, CROSS, Garden, OLDER, VARIETY, files, sound};

/// The book with something done to the cross of this code.
fn with(book: &Book, code: &str, change: impl Fn(&mut Cross)) -> Book {
    let (about, crop, varieties, mut crosses) = book.clone().into_parts();
    crosses.iter_mut().filter(|cross| &*cross.code == code).for_each(change);
    Book::new(about, crop, varieties, crosses)
}

#[test]
fn one_change_writes_one_file() {
    let garden = Garden::new();
    let mut opened = garden.open();
    let changed = with(&opened.book, "25X07", |cross| cross.note = Some("a windy year".into()));
    let saved = opened.shelf.save(&changed).unwrap();
    assert_eq!(saved, Saved { written: vec![CROSS.to_owned()], set_aside: Vec::new() });
    let mut expected = files(&sound());
    let text = expected.get_mut(CROSS).unwrap();
    *text = text.replace("by: Hand,\n", "by: Hand,\n    note: \"a windy year\",\n");
    assert_eq!(files(garden.folder.path()), expected);
}

#[test]
fn a_file_that_says_the_same_in_other_words_is_not_touched() {
    let garden = Garden::new();
    garden.edit(VARIETY, "    bloom_mm: 105,\n", "\tbloom_mm: 105.0, /* usually */\r\n");
    garden.edit(CROSS, "by: Hand,\n", "by: Hand, // early in the morning\n");
    garden.edit(OLDER, "number: \"25-9\"", "number: \"25-11\"");
    let before = files(garden.folder.path());
    let mut opened = garden.open();
    assert_eq!(opened.shelf.save(&opened.book).unwrap(), Saved::default());
    assert_eq!(files(garden.folder.path()), before);
}

#[test]
fn comments_that_a_rewrite_loses_are_kept_aside() {
    let garden = Garden::new();
    let mut opened = garden.open();
    let mut book = opened.book.clone();
    for n in 1..=2 {
        garden.edit(CROSS, "by: Hand,", "by: Hand, // early in the morning");
        let before = garden.read(CROSS);
        book = with(&book, "25X07", |cross| cross.season = cross.season.map(Season::next));
        let saved = opened.shelf.save(&book).unwrap();
        let copy = format!(".trug/earlier/crosses/2025/25X07~{n}.ron");
        assert_eq!(saved.set_aside, [&*copy]);
        assert_eq!(saved.written, [CROSS]);
        assert_eq!(garden.read(&copy), before);
        assert!(!garden.read(CROSS).contains("//"));
    }
}

#[test]
fn signs_that_look_like_a_comment_inside_a_text_are_none() {
    let garden = Garden::new();
    garden.edit(CROSS, "\"late\"", r##""// \" /* ""##).edit(
        CROSS,
        "\"the leaf is dark\"",
        r##"r#"" // "#"##,
    );
    let mut opened = garden.open();
    let changed = with(&opened.book, "25X07", |cross| cross.note = Some("x".into()));
    assert_eq!(opened.shelf.save(&changed).unwrap().set_aside, [""; 0]);
}

#[test]
fn a_sealed_file_is_refused_and_left_as_it_is() {
    let garden = Garden::new();
    garden.edit(CROSS, "\"2026-08\"", "\"2026-08-32\"");
    let before = garden.read(CROSS);
    let mut opened = garden.open();
    assert!(opened.shelf.is_cross_sealed("25X07") && !opened.shelf.is_cross_sealed("24X01"));
    let changed = with(&opened.book, "25X07", |cross| cross.note = Some("x".into()));
    let refused = opened.shelf.save(&changed).unwrap_err();
    assert_eq!(refused.to_string(), format!("The file {CROSS} has faults and is left as it is."));
    assert_eq!(refused.hint(), "\"trug check\" says what is wrong with it.");
    assert_eq!(garden.read(CROSS), before);
}

#[test]
fn a_file_that_is_being_edited_is_not_run_over() {
    let garden = Garden::new();
    let mut opened = garden.open();
    garden.edit(CROSS, "note: \"late\"", "note: \"late, and a line of which only half is");
    let before = garden.read(CROSS);
    let changed = with(&opened.book, "25X07", |cross| cross.note = Some("x".into()));
    assert!(matches!(opened.shelf.save(&changed), Err(SaveError::Sealed { .. })));
    assert_eq!(garden.read(CROSS), before);
}

#[test]
fn a_record_cannot_take_the_place_of_a_file_that_could_not_be_read() {
    let garden = Garden::new();
    garden.edit(CROSS, "by: Hand", "by: Wind");
    let before = garden.read(CROSS);
    let mut opened = garden.open();
    let (about, crop, varieties, mut crosses) = opened.book.clone().into_parts();
    let season = Some(Season(2025));
    crosses.push(Cross { code: "25X07".into(), season, ..Cross::default() });
    let book = Book::new(about, crop, varieties, crosses);
    assert!(matches!(opened.shelf.save(&book), Err(SaveError::Sealed { .. })));
    assert_eq!(garden.read(CROSS), before);
}

#[test]
fn codes_that_differ_in_case_only_do_not_share_a_file() {
    let folder = tempdir().unwrap();
    let variety = |id: &str| Variety { id: id.into(), name: id.into(), ..Variety::default() };
    let varieties = vec![variety("Straw"), variety("straw"), variety("STRAW")];
    let about = About { crop: "dahlia".into(), ..About::default() };
    let book = Book::new(about, Arc::new(Crop::default()), varieties, Vec::new());
    write_book(folder.path(), &book).unwrap();
    let names: Vec<String> = files(folder.path()).into_keys().map(|n| n.to_lowercase()).collect();
    assert_eq!(
        names,
        [
            "book.ron",
            "varieties/%53%74%72%61%77.ron",
            "varieties/%73%74%72%61%77.ron",
            "varieties/straw.ron"
        ]
    );
    assert_eq!(open(folder.path(), None).unwrap().book.varieties(), book.varieties());
}

#[test]
fn a_book_is_not_started_where_there_is_one() {
    let garden = Garden::new();
    let before = files(garden.folder.path());
    assert!(matches!(
        create(garden.folder.path(), &About::default()),
        Err(SaveError::BookThere(_))
    ));
    assert_eq!(files(garden.folder.path()), before);

    let folder = tempdir().unwrap();
    let deep = folder.path().join("a/b");
    create(&deep, &About { crop: "dahlia".into(), ..About::default() }).unwrap();
    assert_eq!(open(&deep, None).unwrap().problems, []);
}

#[cfg(unix)]
mod on_unix {
    use std::os::unix::fs::{PermissionsExt, symlink};

    use super::*;

    fn mode(garden: &Garden, file: &str) -> u32 {
        fs::metadata(garden.path(file)).unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn permissions_and_links_outlive_a_rewrite() {
        let garden = Garden::new();
        fs::set_permissions(garden.path(CROSS), fs::Permissions::from_mode(0o640)).unwrap();
        fs::rename(garden.path(OLDER), garden.path("elsewhere.ron")).unwrap();
        symlink("../../elsewhere.ron", garden.path(OLDER)).unwrap();
        let mut opened = garden.open();
        let changed = with(&opened.book, "25X07", |cross| cross.note = Some("x".into()));
        let changed = with(&changed, "24X01", |cross| cross.note = Some("y".into()));
        assert_eq!(opened.shelf.save(&changed).unwrap().written, [OLDER, CROSS]);
        assert_eq!(mode(&garden, CROSS), 0o640);
        assert!(fs::symlink_metadata(garden.path(OLDER)).unwrap().is_symlink());
        assert!(garden.read("elsewhere.ron").contains("note: \"y\""));
        let left: Vec<String> = files(garden.folder.path()).into_keys().collect();
        assert!(left.iter().all(|name| !name.contains(".trug")), "{left:?}");
    }

    #[test]
    fn a_new_page_is_as_readable_as_any_file() {
        let garden = Garden::new();
        garden.put("any.txt", "");
        fs::remove_file(garden.path(VARIETY)).unwrap();
        let mut opened = garden.open();
        let known = open(&sound(), None).unwrap().book;
        assert_eq!(opened.shelf.save(&known).unwrap().written, [VARIETY]);
        assert_eq!(mode(&garden, VARIETY), mode(&garden, "any.txt"));
    }

    #[test]
    fn a_file_protected_against_writing_is_refused() {
        let garden = Garden::new();
        fs::set_permissions(garden.path(BOOK), fs::Permissions::from_mode(0o444)).unwrap();
        let mut opened = garden.open();
        let (about, crop, varieties, crosses) = opened.book.clone().into_parts();
        let about = About { note: None, ..about };
        let refused = opened.shelf.save(&Book::new(about, crop, varieties, crosses)).unwrap_err();
        assert_eq!(refused.to_string(), "The file book.ron is protected against writing.");
        assert_eq!(files(garden.folder.path()), files(&sound()));
    }
}
