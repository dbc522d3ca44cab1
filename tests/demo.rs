//! The demo garden: kept in step with its generator, free of faults, and as advertised.
//!
//! After a change to the generator, `TRUG_BLESS=1 cargo test --test all demo::the_files` writes it
//! anew; `touch src/shelf/demo.rs` then makes the library carry it.

use std::{
    collections::BTreeMap,
    env, fs,
    path::{Path, PathBuf},
    sync::{Arc, LazyLock},
};

use trug::{
    book::{Book, Crop, PlantRecord},
    shelf::{self, LaidOut, SaveError, lay_out},
    sim,
};

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo")
}

fn crop() -> Arc<Crop> {
    Arc::new(shelf::crop_file::builtin("dahlia").unwrap())
}

/// The generator's book, made once for all tests.
static MADE: LazyLock<Book> = LazyLock::new(|| sim::quillet(crop(), sim::SEED).0);

/// Everything in a folder, by path.
fn laid_out(dir: &Path) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut folders = vec![dir.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(dir).unwrap().to_str().unwrap().replace('\\', "/");
                found.insert(name, fs::read_to_string(&path).unwrap());
            }
        }
    }
    found
}

#[test]
fn the_files_are_what_the_generator_makes() {
    let texts = shelf::texts(&MADE);
    if env::var_os("TRUG_BLESS").is_some() {
        if folder().exists() {
            fs::remove_dir_all(folder()).unwrap();
        }
        for (file, text) in &texts {
            let path = folder().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
    }
    let files = laid_out(&folder());
    assert!(
        files.keys().eq(texts.keys()),
        "other files than the generator makes: see the head of tests/demo.rs"
    );
    for (file, text) in &texts {
        assert!(
            files[file] == *text,
            "demo/{file} has fallen behind: see the head of tests/demo.rs"
        );
    }
    let size: usize = files.values().map(String::len).sum();
    assert!(size <= 1_000_000, "{size} bytes");
}

#[test]
fn the_files_hold_no_fault() {
    let opened = shelf::open(&folder(), None).unwrap();
    assert!(opened.problems.is_empty(), "{:#?}", opened.problems);
    assert_eq!(opened.book.varieties(), MADE.varieties());
    assert_eq!(opened.book.crosses(), MADE.crosses());
}

#[test]
fn the_garden_is_as_large_as_it_is_said_to_be() {
    assert_eq!(MADE.varieties().len(), 25);
    assert_eq!(MADE.crosses().len(), 80);
    assert_eq!(MADE.n_plants(), 1525);
}

#[test]
fn no_two_plants_stand_in_one_place_in_one_season() {
    let mut taken = BTreeMap::new();
    for id in MADE.plants() {
        let PlantRecord::Seedling(_, plant) = MADE.plant(id) else { continue };
        for entry in &plant.diary {
            if let trug::book::PlantDeed::Planted(Some(place)) = &entry.did
                && let Some(other) = taken.insert((entry.on.season(), place.clone()), &plant.number)
            {
                panic!("{} and {other} at {place} in {}", plant.number, entry.on.season());
            }
        }
    }
}

/// If this fails after the demo was written anew, the library holds the old one: build it again
/// after `touch src/shelf/demo.rs`.
#[test]
fn the_program_carries_the_whole_demo() {
    let dir = tempfile::tempdir().unwrap();
    let demo = dir.path().join("some/where");
    assert_eq!(lay_out(&demo).unwrap(), LaidOut::Now);
    assert!(laid_out(&demo) == laid_out(&folder()), "the demo carried is not the one in demo/");
}

#[test]
fn a_demo_laid_out_before_keeps_its_changes() {
    let dir = tempfile::tempdir().unwrap();
    lay_out(dir.path()).unwrap();
    fs::remove_file(dir.path().join("varieties/dunlin.ron")).unwrap();
    fs::write(dir.path().join("varieties/saltmarsh.ron"), "mine").unwrap();
    let before = laid_out(dir.path());
    assert_eq!(lay_out(dir.path()).unwrap(), LaidOut::Before);
    assert!(laid_out(dir.path()) == before);
}

#[test]
fn a_demo_cut_short_is_completed() {
    let dir = tempfile::tempdir().unwrap();
    lay_out(dir.path()).unwrap();
    fs::remove_file(dir.path().join("book.ron")).unwrap();
    fs::remove_dir_all(dir.path().join("crosses/2019")).unwrap();
    assert_eq!(lay_out(dir.path()).unwrap(), LaidOut::Now);
    assert!(laid_out(dir.path()) == laid_out(&folder()));
}

#[test]
fn the_demo_is_never_laid_over_anything_else() {
    let dir = tempfile::tempdir().unwrap();
    let book = dir.path().join("book");
    fs::create_dir(&book).unwrap();
    fs::write(book.join("book.ron"), "(format: 1, garden: \"Ours\", crop: \"dahlia\")").unwrap();
    assert!(matches!(lay_out(&book), Err(SaveError::BookThere(_))));
    let photos = dir.path().join("photos");
    fs::create_dir_all(photos.join("crosses")).unwrap();
    fs::write(photos.join("crosses/1.jpg"), "").unwrap();
    assert!(matches!(lay_out(&photos), Err(SaveError::SomethingThere(_))));
    assert_eq!(laid_out(dir.path()).len(), 2);
}
