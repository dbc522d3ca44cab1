//! From files to a book: the records as they come in, and what is wrong with their files.

use std::{collections::BTreeSet, mem, path::Path, sync::Arc};

use super::{
    amiss::Step,
    crop_file,
    files::Files,
    list::Listed,
    locate::{keys_in, spot},
    names,
    open::{Loaded, Opened},
    read::{Flaw, Reading, text},
    save::Shelf,
    tree::Tree,
};
use crate::book::{About, Book, Crop, Cross, Problem, Variety, is_fit_line, without_unfit};

/// The records as they come in, and what is wrong with their files.
pub(super) struct Sorting {
    shelf: Shelf,
    about: Option<About>,
    varieties: Vec<(Box<str>, Variety)>,
    crosses: Vec<(Box<str>, Cross)>,
    problems: Vec<Problem>,
    unread: BTreeSet<Box<str>>,
}

impl Sorting {
    pub(super) fn new(root: &Path) -> Self {
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
    pub(super) fn flaws(&mut self, path: &str, flaws: Vec<Flaw>) {
        if !flaws.is_empty() {
            self.shelf.sealed.insert(path.into());
        }
        self.problems.extend(flaws.into_iter().map(|flaw| flaw.in_file(path)));
    }

    pub(super) fn take(&mut self, file: &Listed, loaded: Option<Loaded>) {
        let path = &file.path;
        match loaded {
            Some(Loaded::About(Reading { record, flaws })) => {
                self.flaws(path, flaws);
                self.about = record;
            }
            Some(Loaded::Variety(Reading { record, flaws })) => {
                self.remember(path, &flaws);
                self.flaws(path, flaws);
                self.varieties.extend(record.map(|variety| (path.clone(), variety)));
            }
            Some(Loaded::Cross(Reading { record, flaws })) => {
                self.remember(path, &flaws);
                self.flaws(path, flaws);
                self.crosses.extend(record.map(|cross| (path.clone(), cross)));
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
        let flaws = vec![Flaw { line, column, ..Flaw::whole(message, hint) }];
        self.remember(path, &flaws);
        self.flaws(path, flaws);
    }

    /// Remembers the plants of a file with flaws, which may be in the book under another key or
    /// not at all: they are not nobody. A key with a character that cannot be shown is also
    /// remembered without it, as others will have written it.
    fn remember(&mut self, path: &str, flaws: &[Flaw]) {
        if flaws.is_empty() {
            return;
        }
        let mut bytes = Vec::new();
        if let Ok(text) = text(&self.shelf.root.join(path), &mut bytes) {
            for key in keys_in(text) {
                if !is_fit_line(&key) {
                    self.unread.insert(without_unfit(&key));
                }
                self.unread.insert(key);
            }
        }
        let stem = path.strip_prefix("varieties/").and_then(|name| name.strip_suffix(".ron"));
        self.unread.extend(stem.and_then(names::code_of).map(Into::into));
    }

    pub(super) fn finish(mut self, crops: Option<&Path>) -> Opened {
        let about = self.about.take().unwrap_or_else(|| self.salvage());
        let crop = self.crop(&about.crop, crops);
        let found = mem::take(&mut self.varieties);
        let (varieties, twice) = settle(found, |variety| &variety.id, &mut self.shelf.varieties);
        for taken in &twice {
            self.taken("id", taken);
        }
        let found = mem::take(&mut self.crosses);
        let (crosses, twice) = settle(found, |cross| &cross.code, &mut self.shelf.crosses);
        for taken in &twice {
            self.taken("code", taken);
        }
        self.problems.sort();
        let book = Book::new(about, Arc::new(crop), varieties, crosses);
        Opened {
            book,
            problems: self.problems,
            shelf: self.shelf,
            leftovers: Vec::new(),
            unread: self.unread,
        }
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
        crop_file::builtin(name).unwrap_or_else(|| self.another_crop(name))
    }

    /// The first crop that is built in, for a book of which the crop is not known.
    fn another_crop(&mut self, name: &str) -> Crop {
        let crop = crop_file::builtin_names().find_map(crop_file::builtin).unwrap_or_default();
        if !self.shelf.sealed.contains("book.ron") {
            let (line, column) = spot(&self.shelf.root, "book.ron", &[Step::Field("crop")]);
            let message =
                format!("There is no crop \"{name}\"; that of {} is used instead.", crop.plural);
            let known: Vec<&str> = crop_file::builtin_names().collect();
            let hint = format!(
                "Write one that comes with trug ({}), or put crop.ron with your own beside this file.",
                known.join(", ")
            );
            let flaw = Flaw { line, column, ..Flaw::whole(message, hint) };
            self.problems.push(flaw.in_file("book.ron"));
        }
        crop
    }
}

/// Gives each code to one file: the one that is named after it, or else the first. Returns the
/// records of those, and the others with the file that has their code.
fn settle<R>(
    mut found: Vec<(Box<str>, R)>,
    code: impl Fn(&R) -> &str,
    held: &mut Files,
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
        if let Some(by) = held.get(code(&record)) {
            taken.push(Taken { path, code: code(&record).into(), by: by.into() });
        } else {
            held.insert(code(&record).into(), path);
            records.push(record);
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
