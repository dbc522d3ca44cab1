//! Keeping what is recorded.

mod faults;
pub(crate) mod frail;
mod laws;
mod merging;
mod shell;
mod trouble;
mod undoing;
mod writing;

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::{Arc, OnceLock},
};

use chrono::{NaiveDate, NaiveDateTime};
use tempfile::TempDir;
use trug::{
    book::{
        Book, Change, Entry, PlantDeed, Spot, Verdict, When,
        enter::{self},
    },
    shelf::{self, Keeper, Machine, Opened, System, Tools},
};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 3).unwrap()
}

pub(crate) fn at(day: u32) -> NaiveDateTime {
    let first = NaiveDate::from_ymd_opt(2026, 11, 1).unwrap().and_hms_opt(9, 0, 0).unwrap();
    first + chrono::TimeDelta::days(day.into())
}

fn when(text: &str) -> When {
    When::parse(text).unwrap()
}

/// A copy of the demo garden that may be written in.
pub(crate) struct Garden(TempDir);

impl Garden {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        copy(&crate::demo::folder(), folder.path());
        Self(folder)
    }

    /// The first page, two families of a few plants and nothing else, where much is to be tried.
    pub(crate) fn small() -> Self {
        static TEXTS: OnceLock<BTreeMap<String, String>> = OnceLock::new();
        let texts = TEXTS.get_or_init(|| {
            let book = shelf::open(&crate::demo::folder(), None).unwrap().book;
            let crosses = book.crosses().iter().filter(|c| ["24X02", "25X01"].contains(&&*c.code));
            let few = crosses.map(|cross| {
                let mut few = trug::book::Cross::clone(cross);
                few.heads.truncate(2);
                few.seedlings.retain(|s| few.code != "24X02".into() && *s.number < *"26-016");
                few.seedlings.retain(|s| *s.number > *"26-011");
                few
            });
            let few = few.collect();
            letters(&Book::new(book.about().clone(), book.share_crop(), Vec::new(), few))
        });
        let folder = tempfile::tempdir().unwrap();
        for (file, text) in texts {
            let to = folder.path().join(file);
            std::fs::create_dir_all(to.parent().unwrap()).unwrap();
            std::fs::write(to, text).unwrap();
        }
        // A small crop is read in no time.
        let crop = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/crops/sweet_pea.ron");
        std::fs::copy(crop, folder.path().join("crop.ron")).unwrap();
        Self(folder)
    }

    pub(crate) fn root(&self) -> &Path {
        self.0.path()
    }

    pub(crate) fn path(&self, file: &str) -> PathBuf {
        self.root().join(file)
    }

    pub(crate) fn read(&self, file: &str) -> String {
        std::fs::read_to_string(self.path(file)).unwrap()
    }

    pub(crate) fn edit(&self, file: &str, from: &str, to: &str) {
        let text = self.read(file);
        assert!(text.contains(from), "{file} holds {from}");
        std::fs::write(self.path(file), text.replacen(from, to, 1)).unwrap();
    }

    pub(crate) fn open(&self) -> (Opened, Keeper) {
        self.open_with(Arc::new(Machine), at(0))
    }

    pub(crate) fn open_with(
        &self,
        system: Arc<dyn System>,
        now: NaiveDateTime,
    ) -> (Opened, Keeper) {
        let tools = Tools { who: "Ida".into(), clock: Arc::new(move || now), system };
        Keeper::open(self.root(), None, tools).unwrap()
    }

    /// Every file of the book.
    pub(crate) fn files(&self) -> BTreeMap<String, String> {
        let mut files = BTreeMap::new();
        walk(self.root(), self.root(), &mut files);
        files
    }
}

/// How often something is tried that is worth trying more often: `TRUG_BLOWS`, or a few times.
fn more(few: u64) -> u64 {
    std::env::var("TRUG_BLOWS").ok().and_then(|n| n.parse().ok()).unwrap_or(few)
}

fn walk(root: &Path, folder: &Path, files: &mut BTreeMap<String, String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.strip_prefix(root).unwrap().to_string_lossy().into_owned();
        if name.starts_with(".trug/") || name == ".trug" || name == ".git" || name == "crop.ron" {
            continue;
        }
        if path.is_dir() {
            walk(root, &path, files);
        } else {
            files.insert(name, std::fs::read_to_string(&path).unwrap());
        }
    }
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}

fn spot(book: &Book, key: &str) -> Spot {
    book.spot_of(book.by_key(key).unwrap())
}

/// A remark in the diary of a plant.
pub(crate) fn note(book: &Book, key: &str, text: &str) -> Change {
    let entry = Entry { on: when("2026-11-02"), did: PlantDeed::Note(text.into()) };
    let what = format!("{key}: {text}");
    enter::note(book, &[spot(book, key)], &entry, &what, today()).unwrap().change
}

/// A verdict on a plant.
pub(crate) fn verdict(book: &Book, key: &str, is: Verdict) -> Change {
    let entry =
        Entry { on: when("2026-11-02"), did: PlantDeed::Verdict { is, why: None, who: None } };
    let what = format!("{key}: {}", is.word());
    enter::note(book, &[spot(book, key)], &entry, &what, today()).unwrap().change
}

/// A plant is moved to another family: two files in one change.
pub(crate) fn moved(book: &Book, key: &str, to: &str) -> Change {
    use trug::book::Step;
    let from = spot(book, key);
    let part = book.part(&from);
    let steps = vec![
        Step { spot: from, before: part.clone(), after: None },
        Step { spot: Spot::Seedling(to.into(), key.into()), before: None, after: part },
    ];
    Change::new(format!("Moved {key} to {to}"), steps)
}

/// Every letter of a book.
fn letters(book: &Book) -> BTreeMap<String, String> {
    shelf::texts(book)
}
