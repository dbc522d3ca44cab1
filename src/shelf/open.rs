//! Opening a book: every file read, in parallel, into one book and a list of problems.

use std::{
    collections::BTreeSet,
    fs, io,
    num::NonZero,
    path::Path,
    sync::atomic::{AtomicUsize, Ordering},
    thread,
};

use chrono::NaiveDate;

use super::{
    Machine, OpenError, disk,
    keep::complete,
    list::{Kind, Listed, Listing},
    read::{Flaw, Reading, record, text, unreadable},
    save::Shelf,
    sorting::Sorting,
};
use crate::book::{About, Book, Cross, Fault, Problem, Variety, faults};

/// A book as it was found.
#[derive(Debug)]
pub struct Opened {
    /// What could be read.
    pub book: Book,
    /// What was wrong in the files, in order of file, line and column.
    pub problems: Vec<Problem>,
    /// Where each record lies, and which files are sealed.
    pub shelf: Shelf,
    /// Files that a writing left behind which was cut short, relative to the book.
    pub(super) leftovers: Vec<Box<str>>,
    /// Keys of plants that stand in files that could not be read.
    pub(super) unread: BTreeSet<Box<str>>,
}

impl Opened {
    /// What is wrong with the records that were read; see [`faults`].
    pub fn faults(&self, today: NaiveDate) -> Vec<Fault> {
        faults(&self.book, today, |key| self.unread.contains(key))
    }
}

/// Opens the book in a folder. `crops` is the folder of the raiser's own crop files, which stand
/// above those built in; the book's own `crop.ron` stands above both.
///
/// # Errors
/// [`OpenError`] where there is no book at all. Whatever is wrong inside one is listed in
/// [`Opened::problems`].
pub fn open(root: &Path, crops: Option<&Path>) -> Result<Opened, OpenError> {
    let mut opened = open_as_it_lies(root, crops)?;
    complete(&Machine, &opened.shelf, &mut opened.book);
    Ok(opened)
}

/// Opens a book as its files are, even if a change to them was cut short.
pub(super) fn open_as_it_lies(root: &Path, crops: Option<&Path>) -> Result<Opened, OpenError> {
    look_for_book(root)?;
    let listing = Listing::of(root);
    let loaded = read_all(root, &listing.files);
    let mut sorting = Sorting::new(root);
    for (path, error) in listing.failed {
        sorting.flaws(&path, vec![unreadable(&error)]);
    }
    for (file, loaded) in listing.files.iter().zip(loaded) {
        sorting.take(file, loaded);
    }
    let mut opened = sorting.finish(crops);
    opened.leftovers = listing.leftovers;
    Ok(opened)
}

pub(super) fn look_for_book(root: &Path) -> Result<(), OpenError> {
    let mut entries = fs::read_dir(root).map_err(|source| OpenError::from_io(root, source))?;
    match fs::metadata(root.join("book.ron")) {
        Ok(_) => Ok(()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Err(if entries.next().is_none() {
            OpenError::Empty(root.to_owned())
        } else {
            OpenError::NoBook(root.to_owned())
        }),
        Err(source) => Err(OpenError::from_io(root, source)),
    }
}

/// What was in a file.
pub(super) enum Loaded {
    About(Reading<About>),
    Variety(Reading<Variety>),
    Cross(Reading<Cross>),
}

impl Loaded {
    fn from(root: &Path, file: &Listed, bytes: &mut Vec<u8>) -> Self {
        let text = text(&root.join(&*file.path), bytes);
        match file.kind {
            Kind::About => Self::About(read::<disk::About>(text)),
            Kind::Variety => Self::Variety(read::<disk::Variety>(text)),
            Kind::Cross => Self::Cross(read::<disk::Cross>(text)),
        }
    }
}

fn read<D: disk::Disk>(text: Result<&str, Flaw>) -> Reading<D::Record> {
    text.map_or_else(|flaw| Reading { record: None, flaws: vec![flaw] }, record::<D>)
}

/// Reads all files, as many at a time as the machine has hands for. Where a thread came to
/// grief, its files are missing.
fn read_all(root: &Path, files: &[Listed]) -> Vec<Option<Loaded>> {
    let n_threads = thread::available_parallelism().map_or(1, NonZero::get).min(files.len());
    let next = AtomicUsize::new(0);
    let read_some = || {
        let mut bytes = Vec::new();
        let mut done = Vec::new();
        loop {
            let n = next.fetch_add(1, Ordering::Relaxed);
            let Some(file) = files.get(n) else { return done };
            done.push((n, Loaded::from(root, file, &mut bytes)));
        }
    };
    let mut loaded: Vec<Option<Loaded>> = files.iter().map(|_| None).collect();
    thread::scope(|scope| {
        let others: Vec<_> = (1..n_threads).map(|_| scope.spawn(read_some)).collect();
        let mut put = |done: Vec<(usize, Loaded)>| {
            for (n, file) in done {
                loaded[n] = Some(file);
            }
        };
        put(read_some());
        for other in others {
            put(other.join().unwrap_or_default());
        }
    });
    loaded
}
