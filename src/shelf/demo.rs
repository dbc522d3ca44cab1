//! The demo garden, carried in the program and laid out on demand.
//!
//! The rule: what is there is left alone. An empty or missing folder gets the whole garden; a
//! demo that was laid out before is opened as it is, with every change that was made to it; any
//! other book and any other folder with something in it are refused. Whoever wants the garden
//! fresh again removes its folder. The first page is written last, so a folder in which a laying
//! out was cut short is no book yet, and is completed the next time.

use std::{
    fs,
    path::{Path, PathBuf},
};

use include_dir::{Dir, include_dir};

use super::{
    atomic::write_whole,
    disk,
    read::{record, text},
    save::SaveError,
};

static DEMO: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/demo");

const FIRST_PAGE: &str = "book.ron";

/// What was found or done where the demo garden was to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LaidOut {
    /// It was laid out just now.
    Now,
    /// It was there already and was left as it is.
    Before,
}

/// Lays the demo garden out in a folder, unless it is there already.
///
/// # Errors
/// [`SaveError`] where another book or anything else is in the folder, or it cannot be written.
pub fn lay_out(dir: &Path) -> Result<LaidOut, SaveError> {
    let first_page = dir.join(FIRST_PAGE);
    if first_page.exists() {
        return if is_demo(&first_page) {
            Ok(LaidOut::Before)
        } else {
            Err(SaveError::BookThere(dir.to_owned()))
        };
    }
    let pages = pages();
    if !is_free(dir, dir, &pages) {
        return Err(SaveError::SomethingThere(dir.to_owned()));
    }
    for (path, content) in pages.iter().filter(|(path, _)| *path != Path::new(FIRST_PAGE)) {
        let path = dir.join(path);
        let folder = path.parent().unwrap_or(dir);
        fs::create_dir_all(folder).map_err(SaveError::io(folder))?;
        fs::write(&path, content).map_err(SaveError::io(&path))?;
    }
    if let Some(page) = DEMO.get_file(FIRST_PAGE) {
        write_whole(&first_page, page.contents())?;
    }
    Ok(LaidOut::Now)
}

/// Only books laid out for show call a day of their own today.
fn is_demo(first_page: &Path) -> bool {
    let mut bytes = Vec::new();
    text(first_page, &mut bytes)
        .ok()
        .and_then(|text| record::<disk::About>(text).record)
        .is_some_and(|about| about.today.is_some())
}

/// Every file of the demo, by its path within it.
pub(super) fn pages() -> Vec<(PathBuf, &'static [u8])> {
    let mut pages = Vec::new();
    let mut folders = vec![&DEMO];
    while let Some(folder) = folders.pop() {
        pages.extend(folder.files().map(|f| (f.path().to_owned(), f.contents())));
        folders.extend(folder.dirs());
    }
    pages
}

/// Whether there is nothing in a folder but what a laying out cut short left there.
fn is_free(root: &Path, dir: &Path, pages: &[(PathBuf, &[u8])]) -> bool {
    let Ok(entries) = fs::read_dir(dir) else { return !dir.exists() };
    entries.flatten().all(|entry| {
        let path = entry.path();
        let Ok(within) = path.strip_prefix(root) else { return false };
        if path.is_dir() {
            DEMO.get_dir(within).is_some() && is_free(root, &path, pages)
        } else {
            pages.iter().any(|(page, _)| page == within)
        }
    })
}
