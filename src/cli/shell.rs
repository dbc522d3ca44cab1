//! The shell as a command sees it: what was asked, what lies around, where answers go.

use std::{
    io::{self, Write},
    path::{Path, PathBuf},
    sync::Arc,
};

use chrono::{Local, NaiveDate};
use serde::Serialize;

use super::{
    args::{self, Everywhere},
    failure::Failure,
    open,
    sheet::{Paper, Sheet},
};
use crate::config::Places;
use crate::shelf::Opened;
use crate::views::{Desk, Levels};

/// What a command has to work with.
#[derive(Debug)]
pub(super) struct Shell {
    pub(super) everywhere: Everywhere,
    pub(super) places: Places,
    pub(super) paper: Paper,
    /// `TRUG_BOOK` and `TRUG_TODAY`, where they are set.
    pub(super) env_book: Option<PathBuf>,
    pub(super) env_today: Option<String>,
}

impl Shell {
    /// The folder of the book that is meant.
    pub(super) fn book_dir(&self) -> Result<PathBuf, Failure> {
        self.named_book().or_else(|| self.places.last_book()).ok_or_else(|| {
            Failure::Usage(
                "no book was named, and none has been used before.".to_owned(),
                "`trug demo` lays out a garden of our invention to look round in.\n\
                 `trug new DIR` starts a book of your own, and `trug import FILE.csv` then brings \
                 your spreadsheets into it.\n\
                 --book DIR names a book that is there."
                    .to_owned(),
            )
        })
    }

    /// The folder named by `--book` or `TRUG_BOOK`.
    pub(super) fn named_book(&self) -> Option<PathBuf> {
        self.everywhere.book.clone().or_else(|| self.env_book.clone())
    }

    /// Opens the book that is meant.
    pub(super) fn open(&self) -> Result<Opened, Failure> {
        self.open_at(&self.book_dir()?)
    }

    /// Opens the book in a folder.
    pub(super) fn open_at(&self, dir: &Path) -> Result<Opened, Failure> {
        open::open(dir, self.places.crops().as_deref())
    }

    /// Opens the book that is meant and works out what every question needs. Faults in the book
    /// are told in a line; the answer is still given from what could be read.
    pub(super) fn desk(&self) -> Result<Desk, Failure> {
        let opened = self.open()?;
        let today = self.say_faults(&opened)?;
        Ok(Desk::new(Arc::new(opened.book), today))
    }

    /// Says in a line that there are faults in a book, where there are any, beside the answer.
    /// Returns the day that counts as today.
    pub(super) fn say_faults(&self, opened: &Opened) -> Result<NaiveDate, Failure> {
        let today = self.today(opened.book.about().today)?;
        if let Some(note) = open::note(opened, today) {
            tell(&note);
        }
        Ok(today)
    }

    /// The day that counts as today.
    pub(super) fn today(&self, of_book: Option<NaiveDate>) -> Result<NaiveDate, Failure> {
        let told = match (&self.everywhere.today, &self.env_today) {
            (Some(day), _) => Some(*day),
            (None, Some(text)) => Some(args::day(text).map_err(|err| {
                Failure::Usage(
                    format!("TRUG_TODAY: {err}."),
                    "Set it to a day such as 2026-11-03, or unset it.".to_owned(),
                )
            })?),
            (None, None) => of_book,
        };
        Ok(told.unwrap_or_else(|| Local::now().date_naive()))
    }

    /// How wide ranges are.
    pub(super) fn levels(&self) -> Levels {
        self.everywhere.level.map_or_else(Levels::default, Levels::all)
    }

    /// Prints an answer as it was asked for.
    pub(super) fn show<T: Serialize>(
        &self,
        json: impl FnOnce() -> T,
        sheet: impl FnOnce() -> Sheet,
    ) -> Result<(), Failure> {
        let mut out = io::BufWriter::new(io::stdout().lock());
        if self.everywhere.json {
            serde_json::to_writer_pretty(&mut out, &json()).map_err(io::Error::from)?;
            out.write_all(b"\n")?;
        } else {
            out.write_all(sheet().print(self.paper).as_bytes())?;
        }
        out.flush()?;
        Ok(())
    }
}

/// Says something beside the answer. That nobody listens is no reason to stop.
pub(super) fn tell(message: &str) {
    drop(writeln!(io::stderr().lock(), "{}", message.trim_end()));
}
