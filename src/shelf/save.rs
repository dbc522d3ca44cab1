//! Writing a book back, file by file.
//!
//! A file is written beside its old self and put in its place in one step, so that nobody ever
//! sees half of one. A file whose record has not changed is not touched, however it is laid out;
//! a sealed file is never touched.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs, io, mem,
    path::{Path, PathBuf},
    sync::Arc,
};

use thiserror::Error;

use super::{
    atomic::{write_all_whole, write_whole},
    disk::{self, Disk},
    files::Files,
    names::{free_name, name},
    read::{Reading, record, text},
    tree::Tree,
    write,
};
use crate::book::{About, Book, Cross, Season, Variety};

/// A book's folder: where each record lies, and what may not be rewritten.
#[derive(Debug, Clone)]
pub struct Shelf {
    pub(super) root: PathBuf,
    /// The file of each variety, by id.
    pub(super) varieties: Files,
    /// The file of each cross, by code.
    pub(super) crosses: Files,
    pub(super) sealed: BTreeSet<Box<str>>,
}

/// What was written. Paths are relative to the book.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Saved {
    /// Files that were written.
    pub written: Vec<String>,
    /// Copies of files in which somebody had written comments, which their rewriting lost.
    pub set_aside: Vec<String>,
}

/// A file that is to be written.
struct Waiting {
    file: String,
    content: String,
    /// Whether somebody wrote comments into its old self.
    loses_comments: bool,
}

/// Files that are written in one go.
const BATCH: usize = 256;

/// Why a record could not be written.
#[derive(Debug, Error)]
pub enum SaveError {
    /// The file was not wholly understood when it was read.
    #[error("The file {file} has faults and is left as it is.")]
    Sealed {
        /// The file, relative to the book.
        file: String,
    },
    /// The file is marked as not to be written.
    #[error("The file {file} is protected against writing.")]
    Protected {
        /// The file, relative to the book.
        file: String,
    },
    /// There is a book already where one was to be laid out.
    #[error("There is a book in {} already.", .0.display())]
    BookThere(PathBuf),
    /// There is something in a folder that was to be empty.
    #[error("There is something in {} already.", .0.display())]
    SomethingThere(PathBuf),
    /// The system failed.
    #[error("{} could not be written: {source}.", path.display())]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl SaveError {
    /// The way out: a sentence.
    pub fn hint(&self) -> String {
        match self {
            Self::Sealed { .. } => "\"trug check\" says what is wrong with it.".to_owned(),
            Self::Protected { .. } => "Give yourself the right to write it.".to_owned(),
            Self::BookThere(_) | Self::SomethingThere(_) => "Choose another folder.".to_owned(),
            Self::Io { source, .. } => match source.kind() {
                io::ErrorKind::PermissionDenied => {
                    "Ask the owner of the folder, or keep your book elsewhere.".to_owned()
                }
                io::ErrorKind::StorageFull => "Make room on the disk, and try again.".to_owned(),
                _ => "Look whether the disk is well, and try again.".to_owned(),
            },
        }
    }

    pub(super) fn io(path: &Path) -> impl FnOnce(io::Error) -> Self {
        |source| Self::Io { path: path.to_owned(), source }
    }
}

/// Starts a book: a folder with its first page. The folder may exist as long as no book is in it.
///
/// # Errors
/// [`SaveError`] where there is a book already, or the folder cannot be written.
pub fn create(root: &Path, about: &About) -> Result<Shelf, SaveError> {
    if root.join("book.ron").exists() {
        return Err(SaveError::BookThere(root.to_owned()));
    }
    fs::create_dir_all(root).map_err(SaveError::io(root))?;
    let mut shelf = Shelf::new(root);
    shelf.write_about(about, &mut Saved::default())?;
    Ok(shelf)
}

/// Lays out a whole book in a folder where there is none.
///
/// # Errors
/// As [`create`].
pub fn write_book(root: &Path, book: &Book) -> Result<Shelf, SaveError> {
    let mut shelf = create(root, book.about())?;
    shelf.save(book)?;
    Ok(shelf)
}

/// The files of a whole book, by path, as [`write_book`] lays them out.
pub fn texts(book: &Book) -> BTreeMap<String, String> {
    let mut shelf = Shelf::new(Path::new(""));
    let mut files = BTreeMap::from([("book.ron".to_owned(), write::about(book.about()))]);
    for variety in book.varieties() {
        files.insert(shelf.file_of_variety(variety).into(), write::variety(variety));
    }
    for cross in book.crosses() {
        files.insert(shelf.file_of_cross(cross).into(), write::cross(cross));
    }
    files
}

impl Shelf {
    pub(super) fn new(root: &Path) -> Self {
        Self {
            root: root.to_owned(),
            varieties: Files::default(),
            crosses: Files::default(),
            sealed: BTreeSet::new(),
        }
    }

    /// The book's folder.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The files that are not rewritten until they are mended.
    pub fn sealed(&self) -> impl Iterator<Item = &str> {
        self.sealed.iter().map(|file| &**file)
    }

    /// The file that holds this cross.
    pub fn file_with_cross(&self, code: &str) -> Option<&str> {
        self.crosses.get(code)
    }

    /// The file that holds this variety.
    pub fn file_with_variety(&self, id: &str) -> Option<&str> {
        self.varieties.get(id)
    }

    /// Whether the file of this cross is sealed.
    pub fn is_cross_sealed(&self, code: &str) -> bool {
        self.crosses.get(code).is_some_and(|file| self.sealed.contains(file))
    }

    /// Whether the file of this variety is sealed.
    pub fn is_variety_sealed(&self, id: &str) -> bool {
        self.varieties.get(id).is_some_and(|file| self.sealed.contains(file))
    }

    /// Writes every record of a book that differs from its file. A record that is gone from the
    /// book keeps its file.
    ///
    /// # Errors
    /// [`SaveError`] at the first file that cannot be written; those before it are.
    pub fn save(&mut self, book: &Book) -> Result<Saved, SaveError> {
        let mut saved = Saved::default();
        self.write_about(book.about(), &mut saved)?;
        self.write_records(book.varieties(), book.crosses().iter().map(Arc::as_ref), &mut saved)?;
        Ok(saved)
    }

    /// Writes the first page, if it differs from its file.
    ///
    /// # Errors
    /// [`SaveError`] where the file is sealed or cannot be written.
    pub fn write_about(&mut self, about: &About, saved: &mut Saved) -> Result<(), SaveError> {
        let page = self.waiting::<disk::About>("book.ron", about, write::about)?;
        self.write(page.into_iter().collect(), saved)
    }

    /// Writes varieties, and crosses with all that came of them, those that differ from their
    /// files.
    ///
    /// # Errors
    /// [`SaveError`] where a file is sealed or cannot be written; those before it may be written.
    pub fn write_records<'a>(
        &mut self,
        varieties: impl IntoIterator<Item = &'a Variety>,
        crosses: impl IntoIterator<Item = &'a Cross>,
        saved: &mut Saved,
    ) -> Result<(), SaveError> {
        // So many at a time that they share the journey to the disk, and that a large book is
        // never laid out in memory as a whole.
        let mut batch = Vec::new();
        for variety in varieties {
            let file = self.file_of_variety(variety);
            batch.extend(self.waiting::<disk::Variety>(&file, variety, write::variety)?);
            if batch.len() == BATCH {
                self.write(mem::take(&mut batch), saved)?;
            }
        }
        for cross in crosses {
            let file = self.file_of_cross(cross);
            batch.extend(self.waiting::<disk::Cross>(&file, cross, write::cross)?);
            if batch.len() == BATCH {
                self.write(mem::take(&mut batch), saved)?;
            }
        }
        self.write(batch, saved)
    }

    /// Takes the file of a variety off the shelf, into the earlier versions.
    ///
    /// # Errors
    /// As [`Shelf::write_about`].
    pub fn drop_variety(&mut self, id: &str) -> Result<(), SaveError> {
        let Some(file) = self.varieties.get(id).map(Box::<str>::from) else { return Ok(()) };
        if self.sealed.contains(&file) {
            return Err(SaveError::Sealed { file: file.into() });
        }
        let path = self.root.join(&*file);
        if path.exists() {
            self.set_aside(&file)?;
            fs::remove_file(&path).map_err(SaveError::io(&path))?;
        }
        self.varieties.remove(id);
        Ok(())
    }

    /// The file of a variety, which is given one if it has none.
    pub(super) fn file_of_variety(&mut self, variety: &Variety) -> Box<str> {
        file_of(&mut self.varieties, &self.sealed, "varieties", &variety.id)
    }

    /// The file of a cross, which is given one if it has none.
    pub(super) fn file_of_cross(&mut self, cross: &Cross) -> Box<str> {
        let season =
            cross.season.map_or_else(|| "undated".to_owned(), |Season(year)| year.to_string());
        file_of(&mut self.crosses, &self.sealed, &format!("crosses/{season}"), &cross.code)
    }

    /// What is to be written for a record; nothing where its file says the same already.
    fn waiting<D: Disk>(
        &self,
        file: &str,
        new: &D::Record,
        lay_out: impl Fn(&D::Record) -> String,
    ) -> Result<Option<Waiting>, SaveError> {
        let path = self.root.join(file);
        let content = lay_out(new);
        let mut bytes = Vec::new();
        let old = match path.exists().then(|| text(&path, &mut bytes)) {
            Some(Ok(text)) if text == content => return Ok(None),
            // Read again rather than trusted: it may have been edited since it was opened.
            Some(Ok(text)) => Some((text, record::<D>(text))),
            Some(Err(_)) => return Err(SaveError::Sealed { file: file.to_owned() }),
            None => None,
        };
        if let Some((_, Reading { record, flaws })) = &old {
            // Laid out again, so that neither layout nor the order of plants makes a difference.
            if record.as_ref().is_some_and(|record| lay_out(record) == content) {
                return Ok(None);
            }
            if !flaws.is_empty() || self.sealed.contains(file) {
                return Err(SaveError::Sealed { file: file.to_owned() });
            }
        }
        if fs::metadata(&path).is_ok_and(|m| m.permissions().readonly()) {
            return Err(SaveError::Protected { file: file.to_owned() });
        }
        let loses_comments = old.is_some_and(|(text, _)| Tree::of(text).has_comments);
        Ok(Some(Waiting { file: file.to_owned(), content, loses_comments }))
    }

    fn write(&self, batch: Vec<Waiting>, saved: &mut Saved) -> Result<(), SaveError> {
        for waiting in batch.iter().filter(|waiting| waiting.loses_comments) {
            saved.set_aside.push(self.set_aside(&waiting.file)?);
        }
        let files: Vec<_> =
            batch.iter().map(|w| (self.root.join(&w.file), w.content.as_bytes())).collect();
        write_all_whole(&files)?;
        saved.written.extend(batch.into_iter().map(|waiting| waiting.file));
        Ok(())
    }

    /// Copies a file into `.trug/earlier` under a name that is free there.
    pub(super) fn set_aside(&self, file: &str) -> Result<String, SaveError> {
        let stem = file.strip_suffix(".ron").unwrap_or(file);
        let copy = (1..=u32::MAX)
            .map(|n| format!(".trug/earlier/{stem}~{n}.ron"))
            .find(|copy| !self.root.join(copy).exists())
            .unwrap_or_else(|| format!(".trug/earlier/{stem}.ron"));
        let (from, to) = (self.root.join(file), self.root.join(&copy));
        let content = fs::read(&from).map_err(SaveError::io(&from))?;
        write_whole(&to, &content)?;
        Ok(copy)
    }
}

/// The file in which a record lies, or is to lie: one in `folder` whose name no other file has,
/// not even on a system that takes capitals and small letters for the same.
fn file_of(held: &mut Files, sealed: &BTreeSet<Box<str>>, folder: &str, code: &str) -> Box<str> {
    if let Some(file) = held.get(code) {
        return file.into();
    }
    let path = |name: &str| format!("{folder}/{name}.ron");
    // A sealed file that was never read may be this very record: it keeps its name, and whoever
    // writes is told.
    let own = path(&name(code));
    let file: Box<str> = if sealed.contains(&*own) {
        own.into()
    } else {
        path(&free_name(code, |name| held.is_in_use(&path(name)))).into()
    };
    held.insert(code.into(), file.clone());
    file
}
