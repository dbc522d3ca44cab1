//! The folders of this program, after the habits of the system it runs on.

use std::{
    fs,
    path::{Path, PathBuf},
};

use directories::ProjectDirs;

/// Where things are. A place is absent where the system names no home folder.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Places {
    /// Settings, and crop files that take the place of the ones brought along.
    pub config: Option<PathBuf>,
    /// What is laid out on the raiser's behalf: the demo garden.
    pub data: Option<PathBuf>,
    /// What is remembered from one evening to the next.
    pub state: Option<PathBuf>,
}

impl Places {
    /// The places on this system: `XDG_CONFIG_HOME`, `XDG_DATA_HOME` and `XDG_STATE_HOME` where
    /// they are set, else the usual folders.
    pub fn find() -> Self {
        ProjectDirs::from("", "", "trug").map_or_else(Self::default, |dirs| Self {
            config: Some(dirs.config_dir().to_owned()),
            data: Some(dirs.data_dir().to_owned()),
            // Some systems know no folder for state.
            state: Some(dirs.state_dir().unwrap_or_else(|| dirs.data_local_dir()).to_owned()),
        })
    }

    /// The settings file.
    pub fn settings(&self) -> Option<PathBuf> {
        self.config.as_ref().map(|dir| dir.join("settings.ron"))
    }

    /// The folder of the raiser's own crop files.
    pub fn crops(&self) -> Option<PathBuf> {
        self.config.as_ref().map(|dir| dir.join("crops"))
    }

    /// Where the demo garden is laid out, unless another place is named.
    pub fn demo(&self) -> Option<PathBuf> {
        self.data.as_ref().map(|dir| dir.join("demo"))
    }

    fn last_file(&self) -> Option<PathBuf> {
        self.state.as_ref().map(|dir| dir.join("last-book"))
    }

    /// The book used last, if it is still there.
    pub fn last_book(&self) -> Option<PathBuf> {
        let text = fs::read_to_string(self.last_file()?).ok()?;
        let dir = PathBuf::from(text.strip_suffix('\n').unwrap_or(&text));
        (dir.is_absolute() && dir.is_dir()).then_some(dir)
    }

    /// Remembers the book used last. That it cannot is no failure: only a convenience is lost.
    pub fn remember(&self, book: &Path) {
        let (Some(file), Ok(book)) = (self.last_file(), std::path::absolute(book)) else { return };
        let Some(text) = book.to_str() else { return };
        if self.last_book().as_deref() != Some(&book) {
            drop(file.parent().map(fs::create_dir_all));
            drop(fs::write(file, format!("{text}\n")));
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn the_last_book_is_remembered_while_it_is_there() {
        let home = tempfile::tempdir().unwrap();
        let book = home.path().join("my garden");
        fs::create_dir(&book).unwrap();
        let state = Some(home.path().join("state"));
        let places = Places { state, ..Places::default() };
        assert_eq!(places.last_book(), None);
        places.remember(&book);
        assert_eq!(places.last_book().as_deref(), Some(&*book));
        fs::remove_dir(&book).unwrap();
        assert_eq!(places.last_book(), None, "a book that is gone is not opened again");
    }

    #[test]
    fn without_a_home_nothing_is_remembered_and_nothing_fails() {
        let nowhere = Places::default();
        nowhere.remember(Path::new("/"));
        assert_eq!((nowhere.last_book(), nowhere.settings(), nowhere.demo()), (None, None, None));
    }
}
