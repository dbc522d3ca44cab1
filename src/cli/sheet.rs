//! A printed sheet: lines and tables, columns kept straight whatever the script.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Blanks between columns.
const GAP: usize = 2;
/// A column of text is not made narrower than this.
const LEAST: usize = 8;
/// Before a column of text becomes narrower than this, columns that can be spared go.
const COMFORT: usize = 22;

/// How a column stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Align {
    /// Text, which gives way where the sheet is narrow.
    Text,
    /// Numbers, to the right, never cut.
    Number,
    /// Numbers that are left out where there is no room, the last of them first.
    Spare,
}

/// A table.
#[derive(Debug, Default)]
pub(super) struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

#[derive(Debug)]
enum Part {
    Title(String),
    Line(String),
    Table(Table),
}

/// What is printed for one answer.
#[derive(Debug, Default)]
pub(super) struct Sheet(Vec<Part>);

/// How it is printed.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Paper {
    /// Columns to print in; none where there is no edge.
    pub(super) width: Option<usize>,
    /// Whether weight may be used.
    pub(super) styled: bool,
}

impl Table {
    /// A table with a column of text first.
    pub(super) fn new() -> Self {
        Self::default()
    }

    /// Adds a column of text.
    pub(super) fn text(mut self, title: impl Into<String>) -> Self {
        self.columns.push((title.into(), Align::Text));
        self
    }

    /// Adds a column of numbers.
    pub(super) fn number(mut self, title: impl Into<String>) -> Self {
        self.columns.push((title.into(), Align::Number));
        self
    }

    /// Adds a column of numbers that can be spared where there is no room.
    pub(super) fn spare(mut self, title: impl Into<String>) -> Self {
        self.columns.push((title.into(), Align::Spare));
        self
    }

    /// Adds a row: one cell a column; those left out at the end are empty.
    pub(super) fn row<const N: usize>(&mut self, cells: [String; N]) {
        self.rows.push(cells.into());
    }

    /// Adds a row to a table whose columns depend on the book.
    pub(super) fn cells(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    fn cell<'a>(&self, row: &'a [String], column: usize) -> &'a str {
        debug_assert!(row.len() <= self.columns.len(), "a cell without a column");
        row.get(column).map_or("", |cell| cell)
    }

    /// The width of each column; 0 for one in which nothing stands.
    fn widths(&self, paper: Paper) -> Vec<usize> {
        let mut widths: Vec<usize> = (0..self.columns.len())
            .map(|c| self.rows.iter().map(|row| self.cell(row, c).width()).max().unwrap_or(0))
            .collect();
        for (width, (title, _)) in widths.iter_mut().zip(&self.columns) {
            if *width > 0 {
                *width = (*width).max(title.width());
            }
        }
        if let Some(edge) = paper.width {
            self.narrow(&mut widths, edge, COMFORT);
            while total(&widths) > edge && self.spare_one(&mut widths) {}
            self.narrow(&mut widths, edge, LEAST);
        }
        widths
    }

    /// Takes from the widest columns of text until all fits, or none is wider than `least`.
    fn narrow(&self, widths: &mut [usize], edge: usize, least: usize) {
        while total(widths) > edge {
            let widest = (0..widths.len())
                .filter(|&c| self.columns[c].1 == Align::Text && widths[c] > least)
                .max_by_key(|&c| (widths[c], c));
            let Some(column) = widest else { return };
            widths[column] -= 1;
        }
    }

    /// Leaves out one column that can be spared, if there is any.
    fn spare_one(&self, widths: &mut [usize]) -> bool {
        let last =
            (0..widths.len()).rev().find(|&c| self.columns[c].1 == Align::Spare && widths[c] > 0);
        last.inspect(|&column| widths[column] = 0).is_some()
    }

    fn print(&self, text: &mut String, paper: Paper) {
        let widths = self.widths(paper);
        let titles: Vec<String> = self.columns.iter().map(|(title, _)| title.clone()).collect();
        if titles.iter().any(|title| !title.is_empty()) {
            let mut line = String::new();
            self.print_row(&mut line, &titles, &widths);
            print_styled(text, &line, "\u{1b}[2m", paper);
        }
        for row in &self.rows {
            self.print_row(text, row, &widths);
            text.push('\n');
        }
        let spared = |c: &usize| self.columns[*c].1 == Align::Spare && widths[*c] == 0;
        let has_cells = |c: &usize| self.rows.iter().any(|row| !self.cell(row, *c).is_empty());
        let spared = (0..widths.len()).filter(spared).filter(has_cells);
        let spared: Vec<&str> = spared.map(|c| self.columns[c].0.as_str()).collect();
        if !spared.is_empty() {
            wrap(text, &format!("left out for want of room: {}", spared.join(", ")), paper);
        }
    }

    fn print_row(&self, text: &mut String, row: &[String], widths: &[usize]) {
        let mut line = String::new();
        for (c, &width) in widths.iter().enumerate().filter(|(_, width)| **width > 0) {
            if !line.is_empty() {
                line.extend(std::iter::repeat_n(' ', GAP));
            }
            let cell = cut(self.cell(row, c), width);
            let blanks = std::iter::repeat_n(' ', width.saturating_sub(cell.width()));
            if self.columns[c].1 == Align::Text {
                line.push_str(&cell);
                line.extend(blanks);
            } else {
                line.extend(blanks);
                line.push_str(&cell);
            }
        }
        text.push_str(line.trim_end());
    }
}

impl Sheet {
    /// A sheet that says in its first line what it shows.
    pub(super) fn titled(title: impl Into<String>) -> Self {
        Self(vec![Part::Title(title.into())])
    }

    /// Adds a line of text.
    pub(super) fn line(&mut self, line: impl Into<String>) {
        self.0.push(Part::Line(line.into()));
    }

    /// Adds an empty line.
    pub(super) fn blank(&mut self) {
        self.line("");
    }

    /// Adds a table; one without rows is left out.
    pub(super) fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.0.push(Part::Table(table));
        }
    }

    /// Adds a table set off by an empty line; one without rows is left out.
    pub(super) fn part(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.blank();
            self.table(table);
        }
    }

    /// The whole as text.
    pub(super) fn print(&self, paper: Paper) -> String {
        let mut text = String::new();
        for part in &self.0 {
            match part {
                Part::Title(title) => {
                    let mut lines = String::new();
                    wrap(&mut lines, title, paper);
                    for line in lines.lines() {
                        print_styled(&mut text, line, "\u{1b}[1m", paper);
                    }
                }
                Part::Line(line) => wrap(&mut text, line, paper),
                Part::Table(table) => table.print(&mut text, paper),
            }
        }
        text
    }
}

/// What a row of these columns takes; a column of no width is not there.
fn total(widths: &[usize]) -> usize {
    let there = widths.iter().filter(|&&width| width > 0);
    there.clone().sum::<usize>() + GAP * there.count().saturating_sub(1)
}

/// Adds a line, broken between words where it is wider than the paper.
fn wrap(text: &mut String, line: &str, paper: Paper) {
    let edge = paper.width.unwrap_or(usize::MAX);
    let mut used = 0;
    for word in line.split_inclusive(' ') {
        let width = word.trim_end().width();
        if used > 0 && used + width > edge {
            text.truncate(text.trim_end_matches(' ').len());
            text.push('\n');
            used = 0;
        }
        text.push_str(word);
        used += word.width();
    }
    text.push('\n');
}

fn print_styled(text: &mut String, line: &str, style: &str, paper: Paper) {
    let (before, after) = if paper.styled { (style, "\u{1b}[0m\n") } else { ("", "\n") };
    text.extend([before, line, after]);
}

/// A text cut to a width, with an ellipsis where something is gone.
pub(super) fn cut(text: &str, width: usize) -> String {
    if text.width() <= width {
        return text.to_owned();
    }
    let mut cut = String::new();
    let mut used = 0;
    for letter in text.graphemes(true) {
        used += letter.width();
        if used >= width {
            break;
        }
        cut.push_str(letter);
    }
    cut.push('…');
    cut
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet() -> Sheet {
        let mut table = Table::new().text("plant").text("nothing").number("kept of judged");
        table.row(["Ferry Lantern".into(), String::new(), "9 of 22".into()]);
        table.row(["大利花 mit Überlänge".into(), String::new(), "0 of 3".into()]);
        let mut sheet = Sheet::titled("Two plants");
        sheet.table(table);
        sheet
    }

    #[test]
    fn columns_are_straight_and_an_empty_one_is_left_out() {
        insta::assert_snapshot!(sheet().print(Paper::default()), @r"
        Two plants
        plant                 kept of judged
        Ferry Lantern                9 of 22
        大利花 mit Überlänge          0 of 3
        ");
    }

    #[test]
    fn a_narrow_sheet_cuts_text_and_never_numbers() {
        let paper = Paper { width: Some(26), styled: false };
        insta::assert_snapshot!(sheet().print(paper), @r"
        Two plants
        plant       kept of judged
        Ferry Lan…         9 of 22
        大利花 mi…          0 of 3
        ");
    }

    #[test]
    fn a_cut_text_fits_and_splits_no_letter() {
        for width in 1..12 {
            let cut = cut("Sa\u{308}uerling 大利花", width);
            assert!(cut.width() <= width, "{cut} in {width}");
            assert!(!cut.starts_with('\u{308}'));
        }
    }
}
