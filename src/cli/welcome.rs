//! Where there is no book to open: what the full screen can do about it.

use std::{
    env,
    path::{Path, PathBuf},
    sync::Arc,
};

use super::{Screen, demo, failure::Failure, new, open_screen, shell::Shell};
use crate::book::{About, Book};
use crate::config::Settings;
use crate::views::Desk;

/// No book, and what can be done about it from the full screen.
#[derive(Debug)]
pub struct Welcome {
    /// Why there is none: a sentence.
    pub why: String,
    /// A book with nothing in it, to stand behind the page.
    pub desk: Arc<Desk>,
    /// The raiser's settings.
    pub settings: Settings,
    shell: Shell,
}

impl Welcome {
    pub(super) fn new(why: String, shell: Shell, settings: Settings) -> Result<Self, Failure> {
        let about = About { crop: new::CROP.into(), ..About::default() };
        let crop = new::crop(new::CROP, None)?;
        let book = Book::new(about, Arc::new(crop), Vec::new(), Vec::new());
        let desk = Arc::new(Desk::new(Arc::new(book), shell.today(None)?));
        Ok(Self { why, desk, settings, shell })
    }

    /// Lays the demo garden out and opens it.
    ///
    /// # Errors
    /// A sentence that says why it cannot be.
    pub fn demo(&self) -> Result<Screen, String> {
        let (dir, _) = demo::lay_out(None, &self.shell).map_err(|err| sentence(&err))?;
        self.open(&dir)
    }

    /// Starts a book in a folder, as somebody typed it, and opens it.
    ///
    /// # Errors
    /// A sentence that says why it cannot be.
    pub fn start(&self, dir: &str) -> Result<Screen, String> {
        let dir = typed(dir).ok_or("A book needs a folder; type its name.")?;
        new::start(&new::Ask::of(dir.clone()), &self.shell).map_err(|err| sentence(&err))?;
        self.open(&dir)
    }

    fn open(&self, dir: &Path) -> Result<Screen, String> {
        open_screen(&self.shell, dir, self.settings).map_err(|err| sentence(&err))
    }
}

/// A folder as a shell would take it: `~` is one's home.
fn typed(dir: &str) -> Option<PathBuf> {
    let dir = dir.trim();
    let at_home = dir.strip_prefix("~/").zip(env::home_dir());
    match at_home {
        _ if dir.is_empty() => None,
        Some((rest, home)) => Some(home.join(rest)),
        None => Some(PathBuf::from(dir)),
    }
}

/// A failure in a line.
fn sentence(failure: &Failure) -> String {
    let told = failure.to_string();
    let words: Vec<&str> = told.split_whitespace().filter(|word| *word != "trug:").collect();
    words.join(" ")
}
