//! What files a book's folder holds.

use std::{fs, io, path::Path};

/// What a file is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// `book.ron`.
    About,
    /// A file below `varieties/`.
    Variety,
    /// A file below `crosses/`.
    Cross,
}

/// A file of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Listed {
    /// The path from the book's folder, with `/` between its parts.
    pub(super) path: Box<str>,
    /// What it is for.
    pub(super) kind: Kind,
}

/// The files of a book in order of path, and what could not be looked into.
#[derive(Debug, Default)]
pub(super) struct Listing {
    /// The files.
    pub(super) files: Vec<Listed>,
    /// Folders and other things that could not be looked into, and why.
    pub(super) failed: Vec<(String, io::Error)>,
    /// Files that a writing left behind which was cut short.
    pub(super) leftovers: Vec<Box<str>>,
}

/// How deep below `varieties/` and `crosses/` files are looked for.
const DEEPEST: usize = 2;

impl Listing {
    /// Looks through a book's folder.
    pub(super) fn of(root: &Path) -> Self {
        let mut listing = Self::default();
        listing.files.push(Listed { path: "book.ron".into(), kind: Kind::About });
        listing.look_for_leftovers(root);
        listing.walk(root, "varieties", Kind::Variety, DEEPEST);
        listing.walk(root, "crosses", Kind::Cross, DEEPEST);
        listing
    }

    /// Those of the first page lie beside it.
    fn look_for_leftovers(&mut self, root: &Path) {
        let Ok(entries) = fs::read_dir(root) else { return };
        let names = entries.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned());
        self.leftovers.extend(names.filter(|name| is_leftover(name)).map(Into::into));
    }

    fn walk(&mut self, root: &Path, folder: &str, kind: Kind, deeper: usize) {
        let mut names = Vec::new();
        match fs::read_dir(root.join(folder)) {
            Ok(entries) => {
                for entry in entries {
                    match entry {
                        Ok(entry) => names.push((entry.file_name(), entry.file_type())),
                        Err(error) => self.failed.push((folder.to_owned(), error)),
                    }
                }
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => self.failed.push((folder.to_owned(), error)),
        }
        names.sort_by(|(a, _), (b, _)| a.cmp(b));
        for (name, file_type) in names {
            let name = name.to_string_lossy();
            if name.starts_with('.') {
                if is_leftover(&name) {
                    self.leftovers.push(format!("{folder}/{name}").into());
                }
                continue;
            }
            let path = format!("{folder}/{name}");
            let file_type = match file_type {
                Ok(link) if link.is_symlink() => {
                    fs::metadata(root.join(&path)).map(|m| m.file_type())
                }
                other => other,
            };
            let is_ron =
                name.rsplit_once('.').is_some_and(|(_, end)| end.eq_ignore_ascii_case("ron"));
            match file_type {
                Ok(found) if found.is_dir() && deeper > 1 => {
                    self.walk(root, &path, kind, deeper - 1);
                }
                // A pipe would keep us waiting for ever.
                Ok(found) if found.is_file() && is_ron => {
                    self.files.push(Listed { path: path.into(), kind });
                }
                Ok(_) => {}
                Err(error) => self.failed.push((path, error)),
            }
        }
    }
}

/// Whether a file was left behind by a writing that was cut short.
fn is_leftover(name: &str) -> bool {
    name.strip_suffix(".tmp").is_some_and(|stem| stem.starts_with(".trug-"))
}
