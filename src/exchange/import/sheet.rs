//! A file as cells: bytes to rows, each cell with its line and column.
//!
//! Values are separated by commas; a value in double quotes may hold commas, line ends and, doubled,
//! quotes. A slip of the quotes costs its own row and no other.

use std::borrow::Cow;

/// What stands between two commas.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct RawCell<'t> {
    /// The text, out of its quotes.
    pub(super) text: Cow<'t, str>,
    /// The line it begins on, from 1.
    pub(super) line: usize,
    /// The column it begins at, in characters from 1.
    pub(super) column: usize,
}

/// A quote where none can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slip {
    /// A quote was opened and never closed.
    NeverClosed,
    /// Text follows a closing quote.
    AfterQuote,
}

/// One row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Record {
    first: usize,
    end: usize,
    /// The first slip in it, and the cell in which it is.
    pub(super) slip: Option<(Slip, usize)>,
}

/// All rows of a file, comments and empty rows left out.
#[derive(Debug, Default)]
pub(super) struct Sheet<'t> {
    cells: Vec<RawCell<'t>>,
    /// The first is the header.
    pub(super) records: Vec<Record>,
}

/// Bytes that are no text.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct NotText {
    /// The line of the first byte that is none, from 1.
    pub(super) line: usize,
    /// Its column, in characters from 1.
    pub(super) column: usize,
    /// The byte.
    pub(super) byte: u8,
    /// Whether the file begins as UTF-16 does.
    pub(super) utf16: bool,
}

/// The text of a file, without the mark that some programs put before it.
pub(super) fn decode(bytes: &[u8]) -> Result<&str, NotText> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    std::str::from_utf8(bytes).map_err(|e| {
        let (good, bad) = bytes.split_at(e.valid_up_to());
        let good = String::from_utf8_lossy(good);
        let last = good.rsplit('\n').next().unwrap_or_default();
        NotText {
            line: good.matches('\n').count() + 1,
            column: last.chars().count() + 1,
            byte: bad.first().copied().unwrap_or_default(),
            utf16: bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff"),
        }
    })
}

impl<'t> Sheet<'t> {
    /// Reads a whole text.
    pub(super) fn read(text: &'t str) -> Self {
        let mut sheet = Self::default();
        let mut reader = Reader { rest: text, line: 1, column: 1 };
        while !reader.rest.is_empty() {
            if sheet.records.is_empty() && reader.rest.starts_with('#') {
                reader.skip_line();
                continue;
            }
            let first = sheet.cells.len();
            let mut slip = None;
            loop {
                let (cell, slipped, last) = reader.cell();
                slip = slip.or(slipped.map(|s| (s, sheet.cells.len() - first)));
                sheet.cells.push(cell);
                if last {
                    break;
                }
            }
            let cells = &sheet.cells[first..];
            let empty = slip.is_none() && cells.iter().all(|c| c.text.trim().is_empty());
            // A spreadsheet quotes a comment that has a comma in it.
            let comment = sheet.records.is_empty() && cells[0].text.starts_with('#');
            if empty || comment {
                sheet.cells.truncate(first);
            } else {
                sheet.records.push(Record { first, end: sheet.cells.len(), slip });
            }
        }
        sheet
    }

    /// The cells of a row.
    pub(super) fn cells(&self, record: Record) -> &[RawCell<'t>] {
        &self.cells[record.first..record.end]
    }
}

struct Reader<'t> {
    rest: &'t str,
    line: usize,
    column: usize,
}

impl<'t> Reader<'t> {
    fn skip_line(&mut self) {
        self.rest = self.rest.split_once('\n').map_or("", |(_, rest)| rest);
        self.line += 1;
        self.column = 1;
    }

    /// The next cell, a slip in it, and whether it is the last of its row.
    fn cell(&mut self) -> (RawCell<'t>, Option<Slip>, bool) {
        let (line, column) = (self.line, self.column);
        let (text, slip) = match self.rest.strip_prefix('"') {
            Some(inner) => self.quoted(inner),
            None => (Cow::Borrowed(self.plain()), None),
        };
        let last = self.separator();
        (RawCell { text, line, column }, slip, last)
    }

    /// Takes text up to the next comma or line end.
    fn plain(&mut self) -> &'t str {
        let end = self.rest.bytes().position(|b| matches!(b, b',' | b'\n'));
        let (mut text, rest) = self.rest.split_at(end.unwrap_or(self.rest.len()));
        self.rest = rest;
        if !rest.starts_with(',') {
            text = text.strip_suffix('\r').unwrap_or(text);
        }
        self.column += text.chars().count();
        text
    }

    /// Takes a quoted cell, of which `inner` is what follows the opening quote.
    fn quoted(&mut self, inner: &'t str) -> (Cow<'t, str>, Option<Slip>) {
        let mut text = Cow::Borrowed("");
        let mut rest = inner;
        loop {
            let Some((before, after)) = rest.split_once('"') else {
                // Only the line is lost, not all that follows.
                let whole = self.rest.split('\n').next().unwrap_or_default();
                self.rest = self.rest.split_at(whole.len()).1;
                let whole = whole.trim_end_matches('\r');
                self.column += whole.chars().count();
                let text = whole.strip_prefix('"').unwrap_or(whole);
                return (Cow::Borrowed(text), Some(Slip::NeverClosed));
            };
            text += before;
            if let Some(more) = after.strip_prefix('"') {
                text += "\"";
                rest = more;
                continue;
            }
            let (taken, _) = self.rest.split_at(self.rest.len() - after.len());
            self.pass(taken);
            self.rest = after;
            break;
        }
        if text.contains('\r') {
            text = Cow::Owned(text.replace("\r\n", "\n"));
        }
        let tail = self.plain();
        if tail.trim().is_empty() {
            return (text, None);
        }
        text += tail;
        (text, Some(Slip::AfterQuote))
    }

    /// Moves line and column past a text that may hold line ends.
    fn pass(&mut self, taken: &str) {
        let last = taken.rsplit('\n').next().unwrap_or_default();
        if last.len() < taken.len() {
            self.line += taken.matches('\n').count();
            self.column = 1;
        }
        self.column += last.chars().count();
    }

    /// Steps over the comma or the line end; whether the row ends here.
    fn separator(&mut self) -> bool {
        if let Some(rest) = self.rest.strip_prefix(',') {
            self.rest = rest;
            self.column += 1;
            // A comma at the very end of the file still has an empty cell after it.
            return false;
        }
        self.skip_line();
        true
    }
}
