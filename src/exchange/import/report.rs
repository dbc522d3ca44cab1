//! What an import did, in figures and in sentences.

use super::Kind;

/// What came of the rows of one file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileReport {
    /// The file, as it was named.
    pub name: String,
    /// What it holds.
    pub kind: Kind,
    /// Rows in it, without header, comments and empty rows.
    pub rows: usize,
    /// Rows that brought something new.
    pub added: usize,
    /// Rows that brought more about something known.
    pub more: usize,
    /// Rows that brought nothing that was not known.
    pub same: usize,
    /// Rows set aside because something is wrong with them.
    pub set_aside: usize,
    /// Rows left out because the numbered plants of the same cross win over its totals.
    pub outdone: usize,
}

/// Something that the files do not say and that was taken to be so, or that could not be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// What: a sentence without its full stop.
    pub what: String,
    /// In how many rows.
    pub rows: usize,
    /// The file of the first of them.
    pub file: String,
    /// The line of the first of them.
    pub line: usize,
}

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Report {
    /// File by file, in the order given.
    pub files: Vec<FileReport>,
    /// Parents whom nobody knew, added as varieties: their names.
    pub parents_added: Vec<String>,
    /// Crosses made: their codes.
    pub crosses_made: Vec<String>,
    /// Lots made: their codes.
    pub lots_made: Vec<String>,
    /// Varieties found to be seedlings of this book: name, and number of the seedling.
    pub one_plant: Vec<(String, String)>,
    /// What was assumed or could not be kept.
    pub remarks: Vec<Remark>,
}

/// Names listed in a sentence at most.
const MOST_NAMES: usize = 12;

impl Report {
    /// Whether the files hold nothing that the book does not.
    pub fn changes_nothing(&self) -> bool {
        self.files.iter().all(|file| file.added == 0 && file.more == 0)
    }

    /// The report in sentences, one a line.
    pub fn lines(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.files.iter().map(FileReport::line).collect();
        lines.extend(listed(&self.parents_added, "parent added as a variety", |n| {
            format!("{n} parents added as varieties")
        }));
        lines.extend(listed(&self.crosses_made, "cross made", |n| format!("{n} crosses made")));
        lines.extend(listed(&self.lots_made, "lot made", |n| format!("{n} lots made")));
        for (name, number) in &self.one_plant {
            lines.push(format!("{name} is seedling {number}: one plant, kept as the seedling"));
        }
        lines.extend(self.remarks.iter().map(Remark::line));
        lines
    }
}

impl FileReport {
    fn line(&self) -> String {
        let head = format!("{}: {}, {}", self.name, self.kind.word(), rows(self.rows));
        let parts = [
            (self.added, "added"),
            (self.more, "with more about what was known"),
            (self.same, "known already"),
            (self.set_aside, "set aside"),
            (self.outdone, "left out because numbered plants win"),
        ];
        let said = parts.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}"));
        std::iter::once(head).chain(said).collect::<Vec<_>>().join(", ")
    }
}

impl Remark {
    fn line(&self) -> String {
        let first = if self.rows == 1 { "in" } else { "the first in" };
        format!("{} ({}, {first} {}, line {})", self.what, rows(self.rows), self.file, self.line)
    }
}

fn rows(n: usize) -> String {
    if n == 1 { "1 row".to_owned() } else { format!("{n} rows") }
}

fn listed(names: &[String], one: &str, several: impl Fn(usize) -> String) -> Option<String> {
    let what = match names.len() {
        0 => return None,
        1 => format!("1 {one}"),
        n => several(n),
    };
    let shown = names.get(..MOST_NAMES).unwrap_or(names).join(", ");
    let rest = names.len().saturating_sub(MOST_NAMES);
    Some(if rest == 0 {
        format!("{what}: {shown}")
    } else {
        format!("{what}: {shown}, and {rest} more")
    })
}
