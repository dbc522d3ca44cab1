//! Rows as values, and what several rows tell of the same plant.

use std::borrow::Cow;

use super::{
    Kind,
    column::Column,
    faults::{At, RowId},
    parent_text::ParentText,
    value::Value,
};
use crate::book::{By, Father, Position, Season, Verdict, When};

/// A cell that says something.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cell<'s> {
    pub(super) column: Column,
    pub(super) value: Value<'s>,
    /// As it is written, for messages.
    pub(super) text: &'s str,
    pub(super) at: At,
}

/// A row that could be read.
#[derive(Debug)]
pub(super) struct Row<'s> {
    pub(super) kind: Kind,
    /// Where it begins.
    pub(super) at: At,
    /// In order of column.
    cells: Vec<Cell<'s>>,
    /// The columns of the cells, close together: rows are asked for many columns that they do
    /// not have.
    columns: Box<[Column]>,
}

/// What the files tell of one plant, one look or one family: one row, or several that agree.
#[derive(Debug)]
pub(super) struct Told<'r, 's> {
    /// Where it begins first.
    pub(super) at: At,
    first: &'r Row<'s>,
    /// The other rows, and whether each says more than those before it.
    others: Vec<(&'r Row<'s>, bool)>,
    /// The cells of all rows in order of column; where there is but one row, its own are used.
    joined: Vec<&'r Cell<'s>>,
}

/// Where two rows about the same differ: the cell known first and the other; one may be missing.
#[derive(Debug)]
pub(super) struct Differs<'r, 's> {
    pub(super) column: Column,
    pub(super) first: Option<&'r Cell<'s>>,
    pub(super) other: Option<&'r Cell<'s>>,
    /// Where the first row begins.
    pub(super) first_row: At,
}

impl<'s> Row<'s> {
    pub(super) fn new(kind: Kind, at: At, mut cells: Vec<Cell<'s>>) -> Self {
        cells.sort_by_key(|cell| cell.column);
        let columns = cells.iter().map(|cell| cell.column).collect();
        Self { kind, at, cells, columns }
    }

    pub(super) fn id(&self) -> RowId {
        (self.at.file, self.at.row.unwrap_or_default())
    }

    pub(super) fn cell(&self, column: Column) -> Option<&Cell<'s>> {
        self.columns.binary_search(&column).ok().map(|n| &self.cells[n])
    }
}

impl<'r, 's> Told<'r, 's> {
    pub(super) fn by(row: &'r Row<'s>) -> Self {
        Self { at: row.at, first: row, others: Vec::new(), joined: Vec::new() }
    }

    /// The rows, and whether each says more than those before it.
    pub(super) fn rows(&self) -> impl Iterator<Item = (&'r Row<'s>, bool)> {
        std::iter::once((self.first, true)).chain(self.others.iter().copied())
    }

    /// Takes in another row about the same. Within a file the two must say the same; a row of
    /// another file may say more.
    pub(super) fn join(&mut self, row: &'r Row<'s>) -> Result<(), Differs<'r, 's>> {
        if let Some((twin, _)) = self.rows().find(|(r, _)| r.at.file == row.at.file) {
            let all = twin.cells.iter().chain(&row.cells);
            let differs = all.map(|cell| cell.column).find_map(|column| {
                let (first, other) = (twin.cell(column), row.cell(column));
                let same = matches!((first, other), (Some(a), Some(b)) if a.value.same(&b.value));
                (!same).then_some(Differs { column, first, other, first_row: twin.at })
            });
            if let Some(differs) = differs {
                return Err(differs);
            }
        }
        let before: Vec<&'r Cell<'s>> = self.cells().collect();
        let mut cells = before.clone();
        for cell in &row.cells {
            match cells.binary_search_by_key(&cell.column, |c| c.column) {
                Err(n) => cells.insert(n, cell),
                Ok(n) if !cells[n].value.same(&cell.value) => {
                    return Err(Differs {
                        column: cell.column,
                        first: Some(cells[n]),
                        other: Some(cell),
                        first_row: self.at,
                    });
                }
                // Of two spellings the same one is taken, whichever row comes first.
                Ok(n) if cell.text < cells[n].text => cells[n] = cell,
                Ok(_) => {}
            }
        }
        self.others.push((row, cells.len() > before.len()));
        self.joined = cells;
        Ok(())
    }

    pub(super) fn cells(&self) -> impl Iterator<Item = &'r Cell<'s>> {
        let own = if self.others.is_empty() { &self.first.cells[..] } else { &[] };
        own.iter().chain(self.joined.iter().copied())
    }

    pub(super) fn cell(&self, column: Column) -> Option<&'r Cell<'s>> {
        if self.others.is_empty() {
            return self.first.cell(column);
        }
        self.joined.binary_search_by_key(&column, |c| c.column).ok().map(|n| self.joined[n])
    }

    fn value(&self, column: Column) -> Option<&'r Value<'s>> {
        self.cell(column).map(|cell| &cell.value)
    }

    /// Where a column stands, or where the row begins if it says nothing there.
    pub(super) fn at(&self, column: Column) -> At {
        self.cell(column).map_or(self.at, |cell| cell.at)
    }

    pub(super) fn text(&self, column: Column) -> Option<&'r str> {
        match self.value(column)? {
            Value::Text(text) => Some(match text {
                Cow::Borrowed(text) => text,
                Cow::Owned(text) => text,
            }),
            _ => None,
        }
    }

    pub(super) fn boxed(&self, column: Column) -> Option<Box<str>> {
        self.text(column).map(Into::into)
    }

    pub(super) fn list(&self, column: Column) -> Vec<Box<str>> {
        match self.value(column) {
            Some(Value::List(words)) => words.iter().map(|&word| word.into()).collect(),
            _ => Vec::new(),
        }
    }

    pub(super) fn date(&self, column: Column) -> Option<When> {
        match self.value(column)? {
            Value::Date(when) => Some(*when),
            _ => None,
        }
    }

    pub(super) fn year(&self, column: Column) -> Option<i16> {
        match self.value(column)? {
            Value::Year(year) => Some(*year),
            _ => None,
        }
    }

    pub(super) fn season(&self, column: Column) -> Option<Season> {
        self.year(column).map(Season)
    }

    pub(super) fn number(&self, column: Column) -> Option<f64> {
        match self.value(column)? {
            Value::Number(number) => Some(*number),
            _ => None,
        }
    }

    pub(super) fn count(&self, column: Column) -> Option<u32> {
        match self.value(column)? {
            Value::Count(count) => Some(*count),
            _ => None,
        }
    }

    pub(super) fn yes(&self, column: Column) -> Option<bool> {
        match self.value(column)? {
            Value::YesNo(yes) => Some(*yes),
            _ => None,
        }
    }

    pub(super) fn parent(&self, column: Column) -> Option<&'r ParentText<'s>> {
        match self.value(column)? {
            Value::Parent(parent) => Some(parent),
            _ => None,
        }
    }

    pub(super) fn by_whom(&self) -> Option<By> {
        match self.value(Column::By)? {
            Value::By(by) => Some(*by),
            _ => None,
        }
    }

    pub(super) fn father(&self) -> Option<Father> {
        match self.value(Column::Father)? {
            Value::Father(father) => Some(*father),
            _ => None,
        }
    }

    pub(super) fn verdict(&self) -> Option<Verdict> {
        match self.value(Column::Verdict)? {
            Value::Verdict(verdict) => Some(*verdict),
            _ => None,
        }
    }

    pub(super) fn position(&self) -> Option<&'r Position> {
        match self.value(Column::Position)? {
            Value::Position(position) => Some(position),
            _ => None,
        }
    }
}
