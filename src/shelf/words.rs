//! What the RON reader stumbled over, in a gardener's words.

use ron::error::{Error, Position, SpannedError};

use super::tree::{Slip, Tree};
use crate::book::near_words;

/// What is wrong with a text that cannot be read, and at which byte.
pub(super) struct Stumble {
    /// Where.
    pub(super) at: usize,
    /// What is wrong: a sentence.
    pub(super) message: String,
    /// The way out: a sentence.
    pub(super) hint: String,
}

impl Stumble {
    fn new(at: usize, message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { at, message: message.into(), hint: hint.into() }
    }
}

/// Finds words for an error of the reader.
pub(super) fn stumble(text: &str, tree: &Tree<'_>, error: &SpannedError) -> Stumble {
    if let Some(at) = merge_marks(text) {
        return Stumble::new(
            at,
            "A merge was left half done here.",
            "Choose between the two sides, and take out the lines of <, = and > signs.",
        );
    }
    if text.trim().is_empty() {
        return Stumble::new(
            0,
            "The file is empty.",
            "Bring back an earlier copy of it, or take the file away.",
        );
    }
    let start = past_space(text, byte_at(text, error.span.start));
    let end = byte_at(text, error.span.end);
    tree.slip.and_then(|slip| slipped(text, slip, end)).unwrap_or_else(|| {
        let at = pointed(text, tree, &error.code, start);
        let quoted = text.get(at..).is_some_and(|rest| rest.starts_with('"'));
        let (message, hint) = sentences(&error.code, quoted);
        Stumble { at, message, hint }
    })
}

/// The byte of a line and column.
fn byte_at(text: &str, Position { line, col }: Position) -> usize {
    let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1));
    let start = starts.take(line).last().unwrap_or_default();
    let rest = text.get(start..).unwrap_or_default();
    start + rest.char_indices().nth(col - 1).map_or(rest.len(), |(at, _)| at)
}

fn past_space(text: &str, at: usize) -> usize {
    let rest = text.get(at..).unwrap_or_default();
    let ahead = rest.len() - rest.trim_start().len();
    if ahead == rest.len() { at } else { at + ahead }
}

fn merge_marks(text: &str) -> Option<usize> {
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if line.starts_with("<<<<<<< ") || line.starts_with(">>>>>>> ") {
            return Some(at);
        }
        at += line.len();
    }
    None
}

/// What is wrong with the brackets, if that is what the reader stumbled over at `end`. Where the
/// reader stopped earlier, its own reason is the better one.
fn slipped(text: &str, slip: Slip, end: usize) -> Option<Stumble> {
    let line = |at| super::tree::line_and_column(text, at).0;
    let letter = |at| text.get(at..).and_then(|rest| rest.chars().next()).unwrap_or(' ');
    let last = text.trim_end().len();
    match slip {
        Slip::Open(start) if end >= last => Some(Stumble::new(
            last,
            format!(
                "The file ends in the middle: the {} of line {} is never closed.",
                letter(start),
                line(start)
            ),
            "Close the bracket, or bring back an earlier copy if the end of the file is lost.",
        )),
        Slip::Unended(start) => {
            let what = if letter(start) == '/' { "comment" } else { "text" };
            Some(Stumble::new(
                start,
                format!("The {what} that begins here never ends."),
                match what {
                    "text" => {
                        "Put a quotation mark where it ends, or bring back an earlier copy if the \
                         end of the file is lost."
                    }
                    _ => "Put */ where it ends.",
                },
            ))
            .filter(|_| end >= start)
        }
        Slip::Crossed(start, at) if end >= at => Some(Stumble::new(
            at,
            format!(
                "The {} of line {} is closed by a {} here.",
                letter(start),
                line(start),
                letter(at)
            ),
            format!(
                "Write {} in its place, or look for a bracket that is missing before it.",
                match letter(start) {
                    '(' => ')',
                    '[' => ']',
                    _ => '}',
                }
            ),
        )),
        Slip::Extra(at) if end >= at => Some(Stumble::new(
            at,
            format!("This {} closes nothing.", letter(at)),
            "Take it out, or look for a bracket that is missing before it.",
        )),
        _ => None,
    }
}

/// The byte to point at for an error found at `at`.
fn pointed(text: &str, tree: &Tree<'_>, error: &Error, at: usize) -> usize {
    match error {
        // The reader notices at the end of the bracket; its beginning says which one it is.
        Error::MissingStructField { .. } => tree.bracket_around(at),
        Error::IntegerOutOfBounds => {
            at - usize::from(text.get(..at).is_some_and(|before| before.ends_with('-')))
        }
        _ => at,
    }
}

/// What is wrong and the way out; `quoted` says whether a text in quotation marks stands there.
fn sentences(error: &Error, quoted: bool) -> (String, String) {
    let known = |found: &str, expected: &[&str], what: &str| {
        let near = near_words(found, expected.iter().copied());
        match near.first() {
            Some(word) => format!("Perhaps {word} is meant."),
            None => format!("The {what} are {}.", listed(expected)),
        }
    };
    match error {
        Error::NoSuchStructField { expected, found, .. } => (
            format!("There is no field \"{found}\" in such a record."),
            known(found, expected, "fields"),
        ),
        Error::NoSuchEnumVariant { expected, found, .. } => (
            format!("\"{found}\" is not a word that can stand here."),
            known(found, expected, "words"),
        ),
        Error::DuplicateStructField { field, .. } => (
            format!("The field \"{field}\" stands here a second time."),
            "Take one of the two out.".to_owned(),
        ),
        Error::MissingStructField { field, .. } => (
            format!("The field \"{field}\" is missing in this record."),
            match *field {
                "format" => "Write format: 1 as its first field.".to_owned(),
                field => format!("Add {field}: and its value."),
            },
        ),
        other => {
            let (message, hint) = value(other)
                .or_else(|| sign(other, quoted))
                .unwrap_or(("This cannot be read.", "Compare it with another file of the book."));
            (message.to_owned(), hint.to_owned())
        }
    }
}

/// Words for a value that is not what it should be.
fn value(error: &Error) -> Option<(&'static str, &'static str)> {
    Some(match error {
        Error::ExpectedDifferentStructName { .. } | Error::ExpectedNamedStructLike(_) => (
            "A record in round brackets should stand here.",
            "Begin with ( and write its fields, such as (format: 1, …).",
        ),
        Error::ExpectedString => {
            ("A text should stand here.", "Put it in straight quotation marks, such as \"24-031\".")
        }
        Error::ExpectedInteger
        | Error::InvalidIntegerDigit { .. }
        | Error::UnderscoreAtBeginning => {
            ("A whole number should stand here.", "Write it in digits, without quotation marks.")
        }
        Error::IntegerOutOfBounds => (
            "This number is too large or too small to stand here.",
            "Look whether a digit or a sign slipped in.",
        ),
        Error::ExpectedFloat | Error::FloatUnderscore => (
            "A number should stand here.",
            "Write it in digits with a point, without quotation marks.",
        ),
        Error::ExpectedBoolean => (
            "Either true or false should stand here.",
            "Write one of the two, without quotation marks.",
        ),
        Error::ExpectedArray => {
            ("A list should stand here.", "Write it in square brackets, such as [\"apricot\"].")
        }
        Error::ExpectedMap => {
            ("Scores by trait should stand here.", "Write them in braces, such as {\"form\": 7}.")
        }
        Error::ExpectedDifferentLength { .. } => (
            "There are too many or too few values in this bracket.",
            "A candidate is written (\"24-031\", 0.5), and a range Between(90, 130).",
        ),
        _ => return None,
    })
}

/// Words for a sign that is missing or too many.
fn sign(error: &Error, quoted: bool) -> Option<(&'static str, &'static str)> {
    Some(match error {
        Error::ExpectedIdentifier if quoted => (
            "A name or a word should stand here, not a text.",
            "Write it without quotation marks; a parent is written Known(\"24-031\").",
        ),
        Error::ExpectedIdentifier => (
            "A name should stand here.",
            "Write name: value, or close the bracket before it if that is still open.",
        ),
        Error::ExpectedStringEnd => {
            ("The text that begins here never ends.", "Put a quotation mark where it ends.")
        }
        Error::ExpectedComma => (
            "Something does not belong here; perhaps a comma is missing before it.",
            "Put a comma between two fields, and nothing after a word that takes no bracket; look \
             too whether a quotation mark is missing further up.",
        ),
        Error::ExpectedMapColon => ("A colon is missing here.", "Write name: value."),
        Error::ExpectedStructLike if quoted => {
            ("A round bracket is missing here.", "A candidate is written (\"24-031\", 0.5).")
        }
        Error::ExpectedStructLike => (
            "A round bracket is missing here.",
            "This word takes a bracket even if nothing stands in it, such as Planted().",
        ),
        Error::InvalidEscape(_) => (
            "There is a backslash in this text with a sign after it that means nothing.",
            "Write \\\\ for a backslash and \\\" for a quotation mark.",
        ),
        Error::ExpectedStructLikeEnd
        | Error::ExpectedArrayEnd
        | Error::ExpectedMapEnd
        | Error::ExpectedOptionEnd => (
            "There is more in this bracket than belongs there.",
            "Close it before this; a candidate is written (\"24-031\", 0.5).",
        ),
        Error::TrailingCharacters => (
            "Something stands after the end of the record.",
            "A file holds one record; take the rest out.",
        ),
        Error::ExceededRecursionLimit => (
            "The brackets here are too deep.",
            "A record has at most six brackets inside one another.",
        ),
        Error::Eof => (
            "The file ends in the middle.",
            "Bring back an earlier copy if the end of the file is lost.",
        ),
        _ => return None,
    })
}

fn listed(words: &[&str]) -> String {
    match words {
        [] => "none".to_owned(),
        [only] => (*only).to_owned(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
