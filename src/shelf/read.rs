//! Reading one file.

use std::{
    fs::File,
    io::{self, Read},
    path::Path,
};

use ron::{Options, extensions::Extensions};

use super::{
    amiss::Amiss,
    disk::{Disk, FORMAT},
    quick::quickly,
    tree::{Tree, line_and_column},
    words::stumble,
};
use crate::book::{Problem, Severity};

/// Files larger than this are not read: the largest family of the largest book we design for
/// has a twentieth of it.
const MOST_BYTES: u64 = 64 << 20;

/// Brackets inside brackets that the reader follows; our own files have six, and each costs it
/// a few levels.
const DEEPEST: usize = 64;

/// Something wrong in one file that is still to be given its path.
#[derive(Debug)]
pub(super) struct Flaw {
    /// The line, from 1; 0 for the file as a whole.
    pub(super) line: usize,
    /// The column, from 1; 0 for the file as a whole.
    pub(super) column: usize,
    /// What is wrong.
    pub(super) message: String,
    /// The way out.
    pub(super) hint: String,
}

impl Flaw {
    /// A flaw of the file as a whole.
    pub(super) fn whole(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { line: 0, column: 0, message: message.into(), hint: hint.into() }
    }

    fn at(text: &str, at: usize, message: String, hint: String) -> Self {
        let (line, column) = line_and_column(text, at);
        Self { line, column, message, hint }
    }

    /// The problem in a file of this path.
    pub(super) fn in_file(self, file: &str) -> Problem {
        Problem {
            file: file.to_owned(),
            line: self.line,
            column: self.column,
            severity: Severity::Error,
            message: self.message,
            hint: self.hint,
        }
    }
}

/// Reads a file into `bytes`, which are overwritten, and returns its text without a byte-order
/// mark.
pub(super) fn text<'b>(path: &Path, bytes: &'b mut Vec<u8>) -> Result<&'b str, Flaw> {
    bytes.clear();
    if let Err(error) = fill(path, bytes) {
        return Err(unreadable(&error));
    }
    if bytes.len() as u64 > MOST_BYTES {
        return Err(Flaw::whole(
            "The file is far larger than any family can be.",
            "Look what is in it, and take it out of the book's folder.",
        ));
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.strip_prefix('\u{feff}').unwrap_or(text)),
        Err(error) => {
            let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            let before = before.strip_prefix('\u{feff}').unwrap_or(&before);
            Err(Flaw::at(
                before,
                before.len(),
                "From here on the file is not in UTF-8.".to_owned(),
                "Save it as UTF-8 in your editor.".to_owned(),
            ))
        }
    }
}

fn fill(path: &Path, bytes: &mut Vec<u8>) -> io::Result<()> {
    let file = File::open(path)?;
    let n_bytes = file.metadata()?.len().min(MOST_BYTES);
    bytes.reserve(usize::try_from(n_bytes).unwrap_or_default());
    file.take(MOST_BYTES + 1).read_to_end(bytes)?;
    Ok(())
}

/// Why the system would not let a file be read.
pub(super) fn unreadable(error: &io::Error) -> Flaw {
    match error.kind() {
        io::ErrorKind::PermissionDenied => Flaw::whole(
            "You have no permission to read this.",
            "Ask its owner, or give yourself the right to read it.",
        ),
        _ => Flaw::whole(
            format!("This could not be read: {error}."),
            "Look whether the disk is well, and try again.",
        ),
    }
}

/// What came of reading one file.
pub(super) struct Reading<R> {
    /// The record, if there is one.
    pub(super) record: Option<R>,
    /// What is wrong. Where there is a record nonetheless, something was left out or altered.
    pub(super) flaws: Vec<Flaw>,
}

/// How `ron` reads our files.
pub(super) fn options() -> Options {
    Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_recursion_limit(DEEPEST)
}

/// Reads the record in a text.
pub(super) fn record<D: Disk>(text: &str) -> Reading<D::Record> {
    let disk = match quickly(text).map_or_else(|| options().from_str::<D>(text), Ok) {
        Ok(disk) if disk.format() == FORMAT => disk,
        Ok(_) => return Reading { record: None, flaws: other_format(text).into_iter().collect() },
        Err(error) => {
            let flaw = other_format(text).unwrap_or_else(|| {
                let stumble = stumble(text, &Tree::of(text), &error);
                Flaw::at(text, stumble.at, stumble.message, stumble.hint)
            });
            return Reading { record: None, flaws: vec![flaw] };
        }
    };
    let mut amiss = Amiss::default();
    let record = disk.take(&mut amiss);
    let found = amiss.into_found();
    let mut flaws = Vec::with_capacity(found.len());
    if !found.is_empty() {
        let tree = Tree::of(text);
        flaws.extend(
            found.into_iter().map(|f| Flaw::at(text, tree.find(&f.trail), f.message, f.hint)),
        );
    }
    Reading { record: Some(record), flaws }
}

/// What to say of a file that claims to be in another format than ours. Such a file may hold
/// anything, so its other faults are no news.
fn other_format(text: &str) -> Option<Flaw> {
    let tree = Tree::of(text);
    let format = tree.root.value("format")?;
    let claimed: u64 = format.word.parse().ok()?;
    if claimed == u64::from(FORMAT) {
        return None;
    }
    let (message, hint) = if claimed > u64::from(FORMAT) {
        (
            format!("The file is of format {claimed}; this trug reads format {FORMAT} and older."),
            "Open it with a newer trug. Nothing in it was changed.",
        )
    } else {
        (
            format!("There never was a format {claimed}."),
            "Write format: 1, or bring back an earlier copy of the file.",
        )
    };
    Some(Flaw::at(text, format.at, message, hint.to_owned()))
}
