//! A small sound garden, and the same garden with something done to it.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

use chrono::NaiveDate;
use tempfile::{TempDir, tempdir};
use trug::{
    book::{Problem, Severity},
    shelf::{Opened, open},
};

/// A cross of the sound garden with heads, a packet and two seedlings.
pub(super) const CROSS: &str = "crosses/2025/25X07.ron";
/// An older cross, one seedling of which became a parent.
pub(super) const OLDER: &str = "crosses/2024/24X01.ron";
/// A family known by totals.
pub(super) const UNDATED: &str = "crosses/undated/12%2F01.ron";
/// A variety.
pub(super) const VARIETY: &str = "varieties/ferry-lantern.ron";
/// The first page.
pub(super) const BOOK: &str = "book.ron";

/// The folder of the sound garden.
pub(super) fn sound() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/small_garden")
}

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

/// The day on which the garden is looked at.
pub(super) fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 20).unwrap()
}

/// A garden of one's own to do something to.
pub(super) struct Garden {
    pub(super) folder: TempDir,
}

impl Garden {
    /// A copy of the sound garden.
    pub(super) fn new() -> Self {
        let folder = tempdir().unwrap();
        for (name, content) in files(&sound()) {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, content).unwrap();
        }
        Self { folder }
    }

    pub(super) fn path(&self, file: &str) -> PathBuf {
        self.folder.path().join(file)
    }

    pub(super) fn read(&self, file: &str) -> String {
        fs::read_to_string(self.path(file)).unwrap()
    }

    /// Puts other bytes in a file.
    pub(super) fn put(&self, file: &str, content: impl AsRef<[u8]>) -> &Self {
        fs::write(self.path(file), content).unwrap();
        self
    }

    /// Replaces the only place at which `old` stands in a file.
    #[track_caller]
    pub(super) fn edit(&self, file: &str, old: &str, new: &str) -> &Self {
        let content = self.read(file);
        assert_eq!(content.matches(old).count(), 1, "{old:?} in {file}");
        self.put(file, content.replace(old, new))
    }

    pub(super) fn open(&self) -> Opened {
        open(self.folder.path(), None).unwrap()
    }

    /// Everything that is wrong, one line a problem and one below for the way out.
    pub(super) fn problems(&self) -> String {
        let opened = self.open();
        let mut problems = opened.problems.clone();
        problems.extend(opened.problems_of(&opened.faults(today())));
        shown(&problems)
    }
}

/// Problems as text.
pub(super) fn shown(problems: &[Problem]) -> String {
    let line = |p: &Problem| {
        let severity = match p.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        let Problem { file, line, column, message, hint, .. } = p;
        format!("{file}:{line}:{column}: {severity}: {message}\n    {hint}\n")
    };
    problems.iter().map(line).collect()
}

/// Puts `new` for `old` into one file, so that the file cannot be read. Says `expected`; all
/// other files open, and this one is left as it is.
#[track_caller]
pub(super) fn lost(file: &str, old: &str, new: &str, expected: &str) {
    let garden = Garden::new();
    garden.edit(file, old, new).check_lost(file, expected);
}

/// Puts `new` for `old` into one file, which can be read nonetheless, but makes no sense. Says
/// `expected`; everything opens, and the file is left as it is.
#[track_caller]
pub(super) fn altered(file: &str, old: &str, new: &str, expected: &str) {
    let garden = Garden::new();
    garden.edit(file, old, new);
    assert_eq!(garden.problems(), trimmed(expected));
    let mut opened = garden.open();
    assert_eq!((opened.book.varieties().len(), opened.book.crosses().len()), (2, 3));
    assert_eq!(opened.shelf.sealed().collect::<Vec<_>>(), [file]);
    let before = garden.read(file);
    assert!(opened.shelf.save(&opened.book).unwrap().written.is_empty());
    assert_eq!(garden.read(file), before);
}

/// Puts `new` for `old` into one file, so that it contradicts something. Says `expected`;
/// everything opens and may be written.
#[track_caller]
pub(super) fn odd(file: &str, old: &str, new: &str, expected: &str) {
    let garden = Garden::new();
    garden.edit(file, old, new);
    assert_eq!(garden.problems(), trimmed(expected));
    let opened = garden.open();
    assert_eq!((opened.book.varieties().len(), opened.book.crosses().len()), (2, 3));
    assert_eq!(opened.shelf.sealed().count(), 0);
}

/// Problems as they stand indented in a test, as [`shown`] shows them.
fn trimmed(expected: &str) -> String {
    let mut trimmed = String::new();
    for line in expected.lines().skip(1) {
        trimmed += line.strip_prefix("        ").unwrap_or_default();
        trimmed.push('\n');
    }
    trimmed.truncate(trimmed.trim_end().len() + 1);
    trimmed
}

impl Garden {
    /// Whether a file cannot be read, `expected` is said, and all the rest opens.
    #[track_caller]
    pub(super) fn check_lost(&self, file: &str, expected: &str) {
        assert_eq!(self.problems(), trimmed(expected));
        let before = fs::read(self.path(file)).unwrap();
        let mut opened = self.open();
        assert_eq!(opened.shelf.sealed().collect::<Vec<_>>(), [file]);
        let (n_varieties, n_crosses) = match file {
            BOOK => (2, 3),
            VARIETY => (1, 3),
            _ => (2, 2),
        };
        assert_eq!(opened.book.varieties().len(), n_varieties);
        assert_eq!(opened.book.crosses().len(), n_crosses);
        let saved = opened.shelf.save(&opened.book);
        assert_eq!(saved.is_err(), file == BOOK, "{saved:?}");
        assert_eq!(fs::read(self.path(file)).unwrap(), before);
    }
}
