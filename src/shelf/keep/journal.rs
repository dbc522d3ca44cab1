//! The journal: every change, written down before it is done.
//!
//! An entry is a line that says what, when, by whom and in which files, and below it the steps.
//! Once it is on the disk, the change counts; when the files are written, a line says so. Whatever
//! was cut off is recognised by its length and sum, and never was.

use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;
use ron::{Options, extensions::Extensions};

use super::{
    super::{
        amiss::Amiss,
        disk::{Did, JournalHead, JournalStep, Touched},
        save::SaveError,
        write,
    },
    system::{System, make_folders, read_if_there, sum},
};
use crate::book::{Change, fit_line};

/// How times are written.
const TIME: &str = "%Y-%m-%dT%H:%M:%SZ";

/// One entry of the journal.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    pub(super) n: u64,
    pub(super) at: NaiveDateTime,
    pub(super) who: Box<str>,
    pub(super) what: Box<str>,
    pub(super) did: Did,
    pub(super) files: Vec<Touched>,
    /// The steps as text.
    steps: String,
}

/// What a journal holds.
#[derive(Debug, Default)]
pub(super) struct Pages {
    pub(super) entries: Vec<Entry>,
    /// Whether the files of the last entry were not all written.
    pub(super) is_unfinished: bool,
    /// Bytes up to which it is whole.
    pub(super) whole: u64,
}

/// The journal of a book that is written in.
#[derive(Debug)]
pub(super) struct Journal {
    path: PathBuf,
    /// Bytes that are known to be whole; what lies beyond them never was.
    length: u64,
    /// Whether something may lie beyond.
    is_torn: bool,
    next: u64,
}

impl Entry {
    /// An entry about to be written.
    pub(super) fn new(
        change: &Change,
        did: Did,
        who: &str,
        at: NaiveDateTime,
        files: Vec<Touched>,
    ) -> Self {
        let steps = write::steps(&change.steps);
        Self { n: 0, at, who: who.into(), what: change.what.clone(), did, files, steps }
    }

    /// The change; none where it cannot be read any more.
    pub(super) fn change(&self) -> Option<Change> {
        let options = Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
        let steps: Vec<JournalStep> = options.from_str(&self.steps).ok()?;
        let mut amiss = Amiss::default();
        let steps = steps.into_iter().map(|step| step.take(&mut amiss)).collect();
        let is_sound = amiss.into_found().is_empty();
        is_sound.then(|| Change { what: self.what.clone(), steps })
    }

    fn text(&self) -> String {
        let did = match self.did {
            Did::Change => "Change".to_owned(),
            Did::Undo(n) => format!("Undo({n})"),
            Did::Redo(n) => format!("Redo({n})"),
        };
        let sum_of = |name: &str, sum: &Option<Box<str>>| {
            sum.as_ref().map_or_else(String::new, |sum| format!(", {name}: \"{sum}\""))
        };
        let touched = |Touched { file, key, old, new }: &Touched| {
            let (file, key) = (write::quoted(file), write::quoted(key));
            format!("(file: {file}, key: {key}{}{})", sum_of("old", old), sum_of("new", new))
        };
        let files: Vec<String> = self.files.iter().map(touched).collect();
        let head = format!(
            "(n: {}, at: \"{}\", who: {}, what: {}, did: {did}, files: [{}], bytes: {}, ",
            self.n,
            self.at.format(TIME),
            write::quoted(&self.who),
            write::quoted(&self.what),
            files.join(", "),
            self.steps.len(),
        );
        let sum = sum([head.as_bytes(), self.steps.as_bytes()]);
        format!("{head}sum: \"{sum}\")\n{}", self.steps)
    }

    /// Reads the entry that begins here, and says where the next one does.
    fn read(text: &str) -> Option<(Self, usize)> {
        let (line, rest) = text.split_once('\n')?;
        let options = Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
        let head: JournalHead = options.from_str(line).ok()?;
        let steps = rest.get(..head.bytes)?;
        let (before_sum, _) = line.rsplit_once("sum: ")?;
        if sum([before_sum.as_bytes(), steps.as_bytes()]) != *head.sum {
            return None;
        }
        let entry = Self {
            n: head.n,
            at: NaiveDateTime::parse_from_str(&head.at, TIME).ok()?,
            who: fit_line(&head.who),
            what: fit_line(&head.what),
            did: head.did,
            files: head.files,
            steps: steps.to_owned(),
        };
        Some((entry, line.len() + 1 + head.bytes))
    }
}

/// Where the journal of a book lies.
pub(super) fn path(root: &Path) -> PathBuf {
    root.join(".trug").join("journal.ron")
}

impl Pages {
    /// Reads what is whole in a journal. Something damaged between whole entries is passed over.
    pub(super) fn read(bytes: &[u8]) -> Self {
        let whole = match std::str::from_utf8(bytes) {
            Ok(text) => text,
            Err(error) => std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or_default(),
        };
        let mut pages = Self::default();
        let mut at = 0;
        while let Some(rest) = whole.get(at..).filter(|rest| !rest.is_empty()) {
            if let Some((entry, length)) = Entry::read(rest) {
                pages.entries.push(entry);
                pages.is_unfinished = true;
                at += length;
            } else if let Some(line) = finished(rest) {
                pages.is_unfinished = false;
                at += line;
            } else if let Some(next) = rest.find("\n(n: ") {
                at += next + 1;
                continue;
            } else {
                break;
            }
            pages.whole = at as u64;
        }
        pages
    }

    /// Reads the journal of a book; one that is not there is empty.
    pub(super) fn of(system: &dyn System, root: &Path) -> Result<Self, SaveError> {
        let path = path(root);
        let bytes = read_if_there(system, &path).map_err(SaveError::io(&path))?;
        Ok(Self::read(&bytes.unwrap_or_default()))
    }
}

/// The length of a line that says that an entry is finished.
fn finished(text: &str) -> Option<usize> {
    let (line, _) = text.split_once('\n')?;
    line.strip_prefix("finished ")?.parse::<u64>().ok()?;
    Some(line.len() + 1)
}

impl Journal {
    /// The journal of a book, to be written in from where it is whole.
    pub(super) fn open(root: &Path, pages: &Pages) -> Self {
        let next = pages.entries.iter().map(|entry| entry.n).max().unwrap_or(0) + 1;
        Self { path: path(root), length: pages.whole, is_torn: true, next }
    }

    /// The number that the next entry will have.
    pub(super) fn next(&self) -> u64 {
        self.next
    }

    /// Writes an entry down. When this returns, the change counts.
    ///
    /// # Errors
    /// [`SaveError`] where it could not be written; then it does not count, unless the disk kept
    /// it against its own word and the program ends before the next call.
    pub(super) fn enter(
        &mut self,
        system: &dyn System,
        mut entry: Entry,
    ) -> Result<u64, SaveError> {
        self.mend(system)?;
        entry.n = self.next;
        let text = entry.text();
        let is_new = self.length == 0;
        self.is_torn = true;
        let io = || SaveError::io(&self.path);
        system.append(&self.path, text.as_bytes()).map_err(io())?;
        system.sync(&self.path).map_err(io())?;
        if is_new {
            let folder = self.path.parent().unwrap_or(Path::new("."));
            system.sync_folder(folder).map_err(io())?;
        }
        self.is_torn = false;
        self.length += text.len() as u64;
        self.next += 1;
        Ok(entry.n)
    }

    /// Notes that the files of an entry are written. Should this be lost, they are looked at once
    /// more on opening, and found to be.
    pub(super) fn finish(&mut self, system: &dyn System, n: u64) {
        if self.mend(system).is_err() {
            return;
        }
        let line = format!("finished {n}\n");
        match system.append(&self.path, line.as_bytes()) {
            Ok(()) => self.length += line.len() as u64,
            Err(_) => self.is_torn = true,
        }
    }

    /// Takes the last entry back, whose text began at `length`, before any file was written.
    pub(super) fn retract(&mut self, system: &dyn System, length: u64) -> Result<(), SaveError> {
        self.length = length;
        self.is_torn = true;
        self.mend(system)
    }

    /// Bytes that are whole.
    pub(super) fn length(&self) -> u64 {
        self.length
    }

    /// Cuts off whatever lies beyond what is whole.
    pub(super) fn mend(&mut self, system: &dyn System) -> Result<(), SaveError> {
        if !self.is_torn {
            return Ok(());
        }
        let io = || SaveError::io(&self.path);
        if let Some(folder) = self.path.parent() {
            make_folders(system, folder).map_err(io())?;
        }
        let there = std::fs::metadata(&self.path).map_or(0, |file| file.len());
        if there > self.length {
            system.cut(&self.path, self.length).map_err(io())?;
            system.sync(&self.path).map_err(io())?;
        }
        self.is_torn = false;
        Ok(())
    }
}
