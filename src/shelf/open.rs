//! Opening a book: every file read, in parallel, into one book and a list of problems.

use std::{
    collections::BTreeSet,
    collections::btree_map::{BTreeMap, Entry},
    fs, io, mem,
    num::NonZero,
    path::{Path, PathBuf},
    sync::{
        Arc,
        atomic::{AtomicUsize, Ordering},
    },
    thread,
};

use chrono::NaiveDate;
use thiserror::Error;

use super::{
    amiss::Step,
    crop_file, disk,
    list::{Kind, Listed, Listing},
    locate::{keys_in, spot},
    names,
    read::{Flaw, Reading, record, text, unreadable},
    save::Shelf,
    tree::Tree,
};
use crate::book::{About, Book, Crop, Cross, Fault, Problem, Variety, faults};

/// A book as it was found.
#[derive(Debug)]
pub struct Opened {
    /// What could be read.
    pub book: Book,
    /// What was wrong in the files, in order of file, line and column.
    pub problems: Vec<Problem>,
    /// Where each record lies, and which files are sealed.
    pub shelf: Shelf,
    /// Keys of plants that stand in files that could not be read.
    unread: BTreeSet<Box<str>>,
}

impl Opened {
    /// What is wrong with the records that were read; see [`faults`].
    pub fn faults(&self, today: NaiveDate) -> Vec<Fault> {
        faults(&self.book, today, |key| self.unread.contains(key))
    }
}

/// Why there is no book to open. Nothing that a file holds leads here.
#[derive(Debug, Error)]
pub enum OpenError {
    /// The folder does not exist.
    #[error("There is no folder {} here.", .0.display())]
    NoFolder(PathBuf),
    /// The path leads to something else.
    #[error("A book is a folder, and {} is none.", .0.display())]
    NotAFolder(PathBuf),
    /// The folder is empty.
    #[error("The folder {} is empty.", .0.display())]
    Empty(PathBuf),
    /// There is something in the folder, but no first page.
    #[error("The folder {} holds no book: there is no book.ron in it.", .0.display())]
    NoBook(PathBuf),
    /// The folder may not be looked into.
    #[error("You have no permission to look into {} here.", .0.display())]
    NoPermission(PathBuf),
    /// The system failed.
    #[error("The folder {} could not be looked into: {source}.", path.display())]
    Io {
        /// The folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl OpenError {
    /// The way out: a sentence.
    pub fn hint(&self) -> String {
        match self {
            Self::NoFolder(path) | Self::Empty(path) => format!(
                "Start a book there with \"trug new {0}\", look at the demo garden with \
                 \"trug demo\", or name the folder of your book with --book.",
                path.display()
            ),
            Self::NotAFolder(_) | Self::NoBook(_) => {
                "Name the folder of your book with --book, start one with \"trug new DIR\", or \
                 look at the demo garden with \"trug demo\"."
                    .to_owned()
            }
            Self::NoPermission(_) => {
                "Ask the owner of the folder, or name another book with --book.".to_owned()
            }
            Self::Io { .. } => "Look whether the disk is well, and try again.".to_owned(),
        }
    }

    fn from_io(path: &Path, source: io::Error) -> Self {
        let path = path.to_owned();
        match source.kind() {
            io::ErrorKind::NotFound => Self::NoFolder(path),
            io::ErrorKind::NotADirectory => Self::NotAFolder(path),
            io::ErrorKind::PermissionDenied => Self::NoPermission(path),
            _ => Self::Io { path, source },
        }
    }
}

/// Opens the book in a folder. `crops` is the folder of the raiser's own crop files, which stand
/// above those built in; the book's own `crop.ron` stands above both.
///
/// # Errors
/// [`OpenError`] where there is no book at all. Whatever is wrong inside one is listed in
/// [`Opened::problems`].
pub fn open(root: &Path, crops: Option<&Path>) -> Result<Opened, OpenError> {
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
    Ok(sorting.finish(crops))
}

fn look_for_book(root: &Path) -> Result<(), OpenError> {
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
enum Loaded {
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

/// The records as they come in, and what is wrong with their files.
struct Sorting {
    shelf: Shelf,
    about: Option<About>,
    varieties: Vec<(Box<str>, Variety)>,
    crosses: Vec<(Box<str>, Cross)>,
    problems: Vec<Problem>,
    unread: BTreeSet<Box<str>>,
}

impl Sorting {
    fn new(root: &Path) -> Self {
        Self {
            shelf: Shelf::new(root),
            about: None,
            varieties: Vec::new(),
            crosses: Vec::new(),
            problems: Vec::new(),
            unread: BTreeSet::new(),
        }
    }

    /// Lists what is wrong with a file, and seals it.
    fn flaws(&mut self, path: &str, flaws: Vec<Flaw>) {
        if !flaws.is_empty() {
            self.shelf.sealed.insert(path.into());
        }
        self.problems.extend(flaws.into_iter().map(|flaw| flaw.in_file(path)));
    }

    fn take(&mut self, file: &Listed, loaded: Option<Loaded>) {
        let path = &file.path;
        match loaded {
            Some(Loaded::About(Reading { record, flaws })) => {
                self.flaws(path, flaws);
                self.about = record;
            }
            Some(Loaded::Variety(Reading { record, flaws })) => {
                self.flaws(path, flaws);
                let Some(variety) = record else { return self.missing(path) };
                self.varieties.push((path.clone(), variety));
            }
            Some(Loaded::Cross(Reading { record, flaws })) => {
                self.flaws(path, flaws);
                let Some(cross) = record else { return self.missing(path) };
                self.crosses.push((path.clone(), cross));
            }
            None => self.flaws(
                path,
                vec![Flaw::whole(
                    "Reading this file failed, and the fault is ours.",
                    "Please report it together with the file.",
                )],
            ),
        }
    }

    /// Says that the code of a record is taken by another file. The record is left out: nothing
    /// could tell the two apart.
    fn taken(&mut self, field: &'static str, Taken { path, code, by }: &Taken) {
        let (line, column) = spot(&self.shelf.root, path, &[Step::Field(field)]);
        let message = format!("The {field} \"{code}\" is already used in {by} of this book.");
        let hint = "Give one of the two another, or take this file away if it is a copy.";
        self.flaws(path, vec![Flaw { line, column, ..Flaw::whole(message, hint) }]);
        self.missing(path);
    }

    /// Remembers the plants of a file that is not in the book: they are not nobody.
    fn missing(&mut self, path: &str) {
        let mut bytes = Vec::new();
        if let Ok(text) = text(&self.shelf.root.join(path), &mut bytes) {
            self.unread.extend(keys_in(text));
        }
        let stem = path.strip_prefix("varieties/").and_then(|name| name.strip_suffix(".ron"));
        self.unread.extend(stem.and_then(names::code_of).map(Into::into));
    }

    fn finish(mut self, crops: Option<&Path>) -> Opened {
        let about = self.about.take().unwrap_or_else(|| self.salvage());
        let crop = self.crop(&about.crop, crops);
        let found = mem::take(&mut self.varieties);
        let (varieties, twice) = settle(found, |variety| &variety.id, &mut self.shelf.varieties);
        twice.iter().for_each(|taken| self.taken("id", taken));
        let found = mem::take(&mut self.crosses);
        let (crosses, twice) = settle(found, |cross| &cross.code, &mut self.shelf.crosses);
        twice.iter().for_each(|taken| self.taken("code", taken));
        self.problems.sort();
        let book = Book::new(about, Arc::new(crop), varieties, crosses);
        Opened { book, problems: self.problems, shelf: self.shelf, unread: self.unread }
    }

    /// A first page in place of one that cannot be read, with the crop if that can be made out.
    fn salvage(&self) -> About {
        let root = &self.shelf.root;
        let mut bytes = Vec::new();
        let crop = text(&root.join("book.ron"), &mut bytes)
            .ok()
            .and_then(|text| Some(Tree::of(text).root.value("crop")?.string()?.into()));
        let garden = root.file_name().map(|name| name.to_string_lossy().into_owned().into());
        About {
            garden: garden.unwrap_or_default(),
            crop: crop.unwrap_or_default(),
            ..About::default()
        }
    }

    /// The crop of a book: its own, one of the raiser's, or one that is built in.
    fn crop(&mut self, name: &str, crops: Option<&Path>) -> Crop {
        let own = self.shelf.root.join("crop.ron");
        let theirs = crops.map(|folder| folder.join(names::name(name) + ".ron"));
        let shown = theirs.as_deref().map(|path| path.display().to_string());
        let candidates = [(Some(own), Some("crop.ron".to_owned())), (theirs, shown)];
        for (path, shown) in candidates {
            let (Some(path), Some(shown)) = (path, shown) else { continue };
            if !path.is_file() {
                continue;
            }
            let mut bytes = Vec::new();
            match text(&path, &mut bytes) {
                Ok(text) => match crop_file::parse(text, &shown) {
                    Ok(crop) => return crop,
                    Err(problems) => self.problems.extend(problems),
                },
                Err(flaw) => self.problems.push(flaw.in_file(&shown)),
            }
        }
        match crop_file::builtin(name) {
            Some(crop) => return crop,
            None if self.shelf.sealed.contains("book.ron") => {}
            None => {
                let (line, column) = spot(&self.shelf.root, "book.ron", &[Step::Field("crop")]);
                let message = format!("There is no crop called \"{name}\" here.");
                let hint = "Write the name of a crop file of yours, or put one beside book.ron \
                            and call it crop.ron.";
                let flaw = Flaw { line, column, ..Flaw::whole(message, hint) };
                self.problems.push(flaw.in_file("book.ron"));
            }
        }
        Crop::default()
    }
}

/// Gives each code to one file: the one that is named after it, or else the first. Returns the
/// records of those, and the others with the file that has their code.
fn settle<R>(
    mut found: Vec<(Box<str>, R)>,
    code: impl Fn(&R) -> &str,
    held: &mut BTreeMap<Box<str>, Box<str>>,
) -> (Vec<R>, Vec<Taken>) {
    let is_namesake = |path: &str, code: &str| {
        let file = path.rsplit('/').next().unwrap_or_default();
        file.strip_suffix(".ron") == Some(&*names::name(code))
    };
    // Stable, so that files stay in order of path otherwise.
    found.sort_by_cached_key(|(path, record)| !is_namesake(path, code(record)));
    let mut records = Vec::with_capacity(found.len());
    let mut taken = Vec::new();
    for (path, record) in found {
        match held.entry(code(&record).into()) {
            Entry::Vacant(free) => {
                free.insert(path);
                records.push(record);
            }
            Entry::Occupied(other) => {
                let (code, by) = (other.key().clone(), other.get().clone());
                taken.push(Taken { path, code, by });
            }
        }
    }
    (records, taken)
}

/// A file whose code another file has.
struct Taken {
    path: Box<str>,
    code: Box<str>,
    by: Box<str>,
}
