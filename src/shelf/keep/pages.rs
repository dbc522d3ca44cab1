//! The files that a change touches: looked at before it is done, and put in their places.

use std::{
    fs,
    path::{Path, PathBuf},
};

use super::{
    super::{
        disk::{self, Disk, Touched},
        read::{Reading, record},
        save::{SaveError, Shelf},
        write,
    },
    WhyNot, earlier,
    system::{System, make_folders, read_if_there, sum, write_new},
};
use crate::book::{Book, Change, Cross, Part, Seedling, Spot, Step, Variety};

/// A record that has a file of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Subject {
    About,
    Variety(Box<str>),
    Cross(Box<str>),
}

/// The file of a record that is about to change.
#[derive(Debug)]
pub(super) struct Page {
    pub(super) subject: Subject,
    /// Relative to the book.
    pub(super) file: Box<str>,
    path: PathBuf,
    /// What is in it now.
    pub(super) old: Option<Vec<u8>>,
    /// What is to be in it.
    pub(super) new: Option<String>,
}

/// A page, and what others did to its record since it was read or written last.
pub(super) struct Looked {
    pub(super) page: Page,
    pub(super) meanwhile: Vec<Step>,
    /// Whether the file is gone that should be there.
    pub(super) is_gone: bool,
}

impl Subject {
    pub(super) fn of_spot(spot: &Spot) -> Self {
        match spot {
            Spot::About => Self::About,
            Spot::Variety(id) => Self::Variety(id.clone()),
            Spot::Cross(code)
            | Spot::Head(code, _)
            | Spot::Lot(code, _)
            | Spot::Seedling(code, _) => Self::Cross(code.clone()),
        }
    }

    /// The records that a change touches, each once.
    pub(super) fn all_of(change: &Change) -> Vec<Self> {
        let mut subjects = Vec::new();
        for subject in change.steps.iter().map(|step| Self::of_spot(&step.spot)) {
            if !subjects.contains(&subject) {
                subjects.push(subject);
            }
        }
        subjects
    }

    /// The text of its file as the book stands; none where it has no such record.
    pub(super) fn text(&self, book: &Book) -> Option<String> {
        match self {
            Self::About => Some(write::about(book.about())),
            Self::Variety(id) => book.variety(id).map(write::variety),
            Self::Cross(code) => book.cross_with(code).map(write::cross),
        }
    }

    /// The file it lies in or, for a record that a change brings, is to lie in.
    fn file(&self, places: &mut Shelf, change: &Change) -> Option<Box<str>> {
        let brought = || change.steps.iter().filter_map(|step| step.after.as_ref());
        match self {
            Self::About => Some("book.ron".into()),
            Self::Variety(id) => {
                let known = places.varieties.get(id).map(Into::into);
                known.or_else(|| {
                    brought().find_map(|part| match part {
                        Part::Variety(new) if new.id == *id => Some(places.file_of_variety(new)),
                        _ => None,
                    })
                })
            }
            Self::Cross(code) => {
                let known = places.crosses.get(code).map(Into::into);
                known.or_else(|| {
                    brought().find_map(|part| match part {
                        Part::Cross(new) if new.code == *code => Some(places.file_of_cross(new)),
                        _ => None,
                    })
                })
            }
        }
    }

    /// Whether a file of this path, with a record of this key, is its own.
    pub(super) fn is_in(&self, file: &str, key: &str) -> bool {
        let folder = match self {
            Self::About => "book.ron",
            Self::Variety(_) => "varieties/",
            Self::Cross(_) => "crosses/",
        };
        file.starts_with(folder) && self.key() == key
    }

    fn key(&self) -> &str {
        match self {
            Self::About => "",
            Self::Variety(key) | Self::Cross(key) => key,
        }
    }

    /// Forgets the file of a record that is no more.
    pub(super) fn forget(&self, places: &mut Shelf) {
        match self {
            Self::About => {}
            Self::Variety(id) => places.varieties.remove(id),
            Self::Cross(code) => places.crosses.remove(code),
        }
    }

    /// What others did to the record in a text, as steps from how the book has it.
    fn meanwhile(&self, book: &Book, text: &str) -> Option<Result<Vec<Step>, ()>> {
        match self {
            Self::About => {
                let now = sound::<disk::About>(text)?;
                Some(Ok(vec![Step::between_pages(book.about(), &now)]))
            }
            Self::Variety(id) => {
                let now: Variety = sound::<disk::Variety>(text)?;
                if now.id != *id {
                    return Some(Err(()));
                }
                let step = Step::between_varieties(book.variety(id), Some(&now));
                Some(Ok(step.into_iter().collect()))
            }
            Self::Cross(code) => {
                let mut now: Cross = sound::<disk::Cross>(text)?;
                now.seedlings.sort_by(Seedling::order);
                let old = book.cross_with(code);
                if old == Some(&now) {
                    return Some(Ok(Vec::new()));
                }
                if now.code != *code {
                    return Some(Err(()));
                }
                Some(Step::between_crosses(old, Some(&now)).ok_or(()))
            }
        }
    }
}

/// The record in a text, if nothing is wrong with it.
fn sound<D: Disk>(text: &str) -> Option<D::Record> {
    let Reading { record, flaws } = record::<D>(text);
    record.filter(|_| flaws.is_empty())
}

/// Looks at the file of a record before a change is done to it.
pub(super) fn look(
    system: &dyn System,
    shelf: &mut Shelf,
    book: &Book,
    change: &Change,
    subject: Subject,
) -> Result<Looked, WhyNot> {
    let unchanged = subject.text(book);
    let Some(file) = subject.file(shelf, change) else {
        // Nothing of this record is known, here or in the change.
        let spot = match subject {
            Subject::About => Spot::About,
            Subject::Variety(id) => Spot::Variety(id),
            Subject::Cross(code) => Spot::Cross(code),
        };
        return Err(crate::book::Stale { spot }.into());
    };
    let sealed = || WhyNot::Save(SaveError::Sealed { file: file.to_string() });
    if shelf.sealed.contains(&file) {
        return Err(sealed());
    }
    let path = shelf.root.join(&*file);
    let path = fs::canonicalize(&path).unwrap_or(path);
    let old = read_if_there(system, &path).map_err(SaveError::io(&path))?;
    let mut meanwhile = Vec::new();
    if let Some(bytes) = &old
        && unchanged.as_ref().is_none_or(|text| text.as_bytes() != bytes)
    {
        let text = std::str::from_utf8(bytes).map_err(|_not_text| sealed())?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let steps = subject.meanwhile(book, text).ok_or_else(sealed)?;
        meanwhile = steps.map_err(|()| WhyNot::Changed { file: file.to_string() })?;
        meanwhile.retain(|step| step.before != step.after);
    }
    let is_gone = old.is_none() && unchanged.is_some();
    let page = Page { subject, file, path, old, new: None };
    Ok(Looked { page, meanwhile, is_gone })
}

/// Files that are written beside their places and wait to be put there.
#[derive(Debug)]
pub(super) struct Laid<'a> {
    system: &'a dyn System,
    pages: &'a [Page],
    temps: Vec<Option<PathBuf>>,
}

impl Page {
    /// What the journal says of it.
    pub(super) fn touched(&self) -> Touched {
        let old = self.old.as_ref().map(|old| sum([&old[..]]).into());
        let new = self.new.as_ref().map(|new| sum([new.as_bytes()]).into());
        Touched { file: self.file.clone(), key: self.subject.key().into(), old, new }
    }

    /// Whether there is anything to be done.
    pub(super) fn differs(&self) -> bool {
        self.new.as_ref().map(String::as_bytes) != self.old.as_deref()
    }

    /// Keeps what is in it now among the earlier versions.
    pub(super) fn keep_old(
        &self,
        system: &dyn System,
        root: &Path,
        label: &earlier::Label,
    ) -> Result<(), SaveError> {
        let Some(old) = &self.old else { return Ok(()) };
        let copy = root.join(earlier::path(&self.file, label));
        let folder = folder_of(&copy);
        make_folders(system, folder)
            .and_then(|()| write_new(system, &copy, &self.path, old))
            .and_then(|()| system.sync_folder(folder))
            .map_err(SaveError::io(&copy))
    }

    fn is_protected(&self) -> bool {
        fs::metadata(&self.path).is_ok_and(|file| file.permissions().readonly())
    }
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new("."))
}

impl<'a> Laid<'a> {
    /// Writes what is new beside its place, down to the disk. At an error nothing is left there.
    pub(super) fn beside(
        system: &'a dyn System,
        pages: &'a [Page],
        n: u64,
    ) -> Result<Self, SaveError> {
        let mut laid = Self { system, pages, temps: Vec::new() };
        for (k, page) in pages.iter().enumerate() {
            let file = || page.file.to_string();
            let outcome = if page.is_protected() {
                Err(SaveError::Protected { file: file() })
            } else {
                laid.lay(page, page.new.as_ref().map(String::as_bytes), n, k)
            };
            match outcome {
                Ok(temp) => laid.temps.push(temp),
                Err(error) => {
                    laid.clear();
                    return Err(error);
                }
            }
        }
        Ok(laid)
    }

    fn lay(
        &self,
        page: &Page,
        content: Option<&[u8]>,
        n: u64,
        k: usize,
    ) -> Result<Option<PathBuf>, SaveError> {
        let Some(content) = content else { return Ok(None) };
        let folder = folder_of(&page.path);
        // The leading dot keeps a file left behind by a crash out of the book.
        let temp = folder.join(format!(".trug-{n}-{k}.tmp"));
        make_folders(self.system, folder)
            .and_then(|()| write_new(self.system, &temp, &page.path, content))
            .map_err(|error| {
                self.system.remove(&temp).ok();
                SaveError::io(&page.path)(error)
            })?;
        Ok(Some(temp))
    }

    /// Takes away what was written beside its place.
    pub(super) fn clear(&self) {
        for temp in self.temps.iter().flatten() {
            self.system.remove(temp).ok();
        }
    }

    /// Puts all in their places.
    ///
    /// # Errors
    /// How many were put in their places before the one that failed, and why.
    pub(super) fn place(&self) -> Result<(), (usize, SaveError)> {
        for (n, (page, temp)) in self.pages.iter().zip(&self.temps).enumerate() {
            let done = match temp {
                Some(temp) => self.system.rename(temp, &page.path),
                None => self.system.remove(&page.path),
            };
            done.map_err(|error| (n, SaveError::io(&page.path)(error)))?;
        }
        self.sync_folders().map_err(|error| (self.pages.len(), error))
    }

    fn sync_folders(&self) -> Result<(), SaveError> {
        let mut folders: Vec<&Path> = self.pages.iter().map(|page| folder_of(&page.path)).collect();
        folders.sort_unstable();
        folders.dedup();
        folders
            .into_iter()
            .try_for_each(|folder| self.system.sync_folder(folder).map_err(SaveError::io(folder)))
    }

    /// Puts back what was in the first `n_placed` files, and clears the rest away.
    pub(super) fn take_back(&self, n_placed: usize, n: u64) -> Result<(), SaveError> {
        for (k, page) in self.pages[..n_placed].iter().enumerate() {
            match self.lay(page, page.old.as_deref(), n, k)? {
                Some(temp) => self.system.rename(&temp, &page.path),
                None => self.system.remove(&page.path),
            }
            .map_err(SaveError::io(&page.path))?;
        }
        for temp in self.temps[n_placed..].iter().flatten() {
            self.system.remove(temp).ok();
        }
        if n_placed > 0 { self.sync_folders() } else { Ok(()) }
    }
}
