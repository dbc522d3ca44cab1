//! The state of a list: which of its rows are shown, in which order, and where the cursor is.
//!
//! A listing holds no rows, only their numbers. Sorting and filtering make a new list of
//! numbers; drawing looks at those in the window and no others.

use std::{cmp::Ordering, ops::Range};

use chrono::Datelike as _;

use crate::book::{When, fold, label_order};
use crate::tui::action::Action;

/// What a row is ordered by.
#[derive(Debug, Clone, PartialEq)]
pub enum Key {
    /// A number.
    Number(f64),
    /// A label or name, its digits counting by value.
    Label(String),
    /// Nothing known.
    Missing,
}

impl Key {
    /// A count.
    pub fn count(n: impl Into<f64>) -> Self {
        Self::Number(n.into())
    }

    /// A number that may be missing.
    pub fn number(value: Option<f64>) -> Self {
        value.map_or(Self::Missing, Self::Number)
    }

    /// A text, or nothing for an empty one.
    pub fn label(text: impl Into<String>) -> Self {
        let text: String = text.into();
        if text.is_empty() { Self::Missing } else { Self::Label(text) }
    }

    /// A day.
    pub fn day(on: Option<When>) -> Self {
        Self::number(on.map(|on| f64::from(on.first().num_days_from_ce())))
    }

    fn cmp(&self, other: &Self, falling: bool) -> Ordering {
        let order = match (self, other) {
            (Self::Missing, Self::Missing) => return Ordering::Equal,
            (Self::Missing, _) => return Ordering::Greater,
            (_, Self::Missing) => return Ordering::Less,
            (Self::Number(a), Self::Number(b)) => a.total_cmp(b),
            (Self::Label(a), Self::Label(b)) => label_order(a, b),
            (Self::Number(_), Self::Label(_)) => Ordering::Less,
            (Self::Label(_), Self::Number(_)) => Ordering::Greater,
        };
        if falling { order.reverse() } else { order }
    }
}

/// A list on a page.
#[derive(Debug, Clone, Default)]
pub struct Listing {
    order: Vec<u32>,
    cursor: usize,
    top: usize,
    /// The column it is ordered by, and whether from large to small; `None` is the order of
    /// the book.
    pub sorted: Option<(usize, bool)>,
    /// Letters that a row must have, as typed.
    pub filter: String,
}

impl Listing {
    /// A list of the rows 0 to `n`, in that order.
    pub fn of(n: usize) -> Self {
        let mut listing = Self::default();
        listing.arrange(n, |_| true, |_, _| Key::Missing);
        listing
    }

    /// Chooses and orders the rows anew out of `n`: those that `keep` takes, by the key that
    /// `key` gives for the column ordered by. The cursor stays on its row if that is still shown.
    /// Rows with equal keys keep the order of the book, and those without one come last.
    pub fn arrange(
        &mut self,
        n: usize,
        mut keep: impl FnMut(usize) -> bool,
        mut key: impl FnMut(usize, usize) -> Key,
    ) {
        let was_on = self.row();
        self.order =
            (0..u32::try_from(n).unwrap_or(u32::MAX)).filter(|&row| keep(row as usize)).collect();
        if let Some((column, falling)) = self.sorted {
            let mut keyed: Vec<(Key, u32)> =
                self.order.iter().map(|&row| (key(row as usize, column), row)).collect();
            keyed.sort_by(|(a, _), (b, _)| a.cmp(b, falling));
            self.order = keyed.into_iter().map(|(_, row)| row).collect();
        }
        let place = was_on.and_then(|row| self.order.iter().position(|&r| r as usize == row));
        self.cursor = place.unwrap_or(self.cursor).min(self.order.len().saturating_sub(1));
    }

    /// Tells whether the words of a row have the letters of the filter, accents and capitals
    /// aside.
    pub fn sieve(&self) -> impl Fn(&dyn Fn() -> String) -> bool + use<> {
        let letters = fold(&self.filter);
        move |words| letters.is_empty() || fold(&words()).contains(&letters)
    }

    /// How many rows are shown.
    pub fn len(&self) -> usize {
        self.order.len()
    }

    /// Whether there is nothing to show.
    pub fn is_empty(&self) -> bool {
        self.order.is_empty()
    }

    /// The row under the cursor.
    pub fn row(&self) -> Option<usize> {
        self.order.get(self.cursor).map(|&row| row as usize)
    }

    /// The line of the cursor, from 0.
    pub fn line(&self) -> usize {
        self.cursor
    }

    /// The row on a line.
    pub fn row_at(&self, line: usize) -> Option<usize> {
        self.order.get(line).map(|&row| row as usize)
    }

    /// Puts the cursor on a line, or the last there is. Returns whether it was there already.
    pub fn put_cursor(&mut self, line: usize) -> bool {
        let line = line.min(self.order.len().saturating_sub(1));
        std::mem::replace(&mut self.cursor, line) == line
    }

    /// Puts the cursor on a row, if it is shown.
    pub fn put_cursor_on(&mut self, row: usize) {
        if let Some(line) = self.order.iter().position(|&r| r as usize == row) {
            self.cursor = line;
        }
    }

    /// Moves the cursor as an action says, on a page of `height` lines. Returns whether the
    /// action was one that moves it.
    pub fn moved(&mut self, action: Action, height: u16) -> bool {
        let page = usize::from(height).saturating_sub(1).max(1);
        let last = self.order.len().saturating_sub(1);
        self.cursor = match action {
            Action::Up => self.cursor.saturating_sub(1),
            Action::Down => (self.cursor + 1).min(last),
            Action::PageUp => self.cursor.saturating_sub(page),
            Action::PageDown => (self.cursor + page).min(last),
            Action::First => 0,
            Action::Last => last,
            _ => return false,
        };
        self.follow(height);
        true
    }

    /// Scrolls by notches of the wheel; the cursor comes along when it would leave the window.
    pub fn scroll(&mut self, notches: i16, height: u16) {
        let lines = usize::from(notches.unsigned_abs()) * 3;
        let most = self.order.len().saturating_sub(usize::from(height));
        self.top = self.window(height).start;
        self.top =
            if notches < 0 { self.top.saturating_sub(lines) } else { (self.top + lines).min(most) };
        let end = (self.top + usize::from(height)).max(1) - 1;
        self.cursor =
            self.cursor.clamp(self.top, end.max(self.top)).min(self.order.len().saturating_sub(1));
    }

    /// Moves the window no further than it takes to have the cursor in it.
    pub fn follow(&mut self, height: u16) {
        self.top = self.window(height).start;
    }

    /// The lines to be seen in a window of `height`, with the cursor among them.
    pub fn window(&self, height: u16) -> Range<usize> {
        let height = usize::from(height);
        let len = self.order.len();
        if height == 0 {
            return self.cursor..self.cursor;
        }
        let lowest = (self.cursor + 1).saturating_sub(height);
        let top = self.top.clamp(lowest, self.cursor).min(len.saturating_sub(height));
        top..(top + height).min(len)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cursor_is_always_in_the_window_and_the_window_in_the_list() {
        let keys = [
            Action::Down,
            Action::PageDown,
            Action::Up,
            Action::Last,
            Action::PageUp,
            Action::PageDown,
            Action::First,
        ];
        for n in [0, 1, 2, 7, 50] {
            for height in [0, 1, 3, 10, 100] {
                let mut listing = Listing::of(n);
                for key in keys.iter().cycle().take(40) {
                    assert!(listing.moved(*key, height));
                    let window = listing.window(height);
                    assert!(window.end <= n && window.len() <= usize::from(height));
                    let seen = window.contains(&listing.line()) || n == 0 || height == 0;
                    assert!(seen, "{n} rows, {height} lines: {window:?}");
                }
                for notches in [1, 1, -1, 9, -9] {
                    listing.scroll(notches, height);
                    assert!(
                        listing.window(height).contains(&listing.line())
                            || n * usize::from(height) == 0
                    );
                }
            }
        }
    }

    #[test]
    fn the_window_stands_still_while_the_cursor_moves_within_it() {
        let mut listing = Listing::of(50);
        listing.moved(Action::Last, 10);
        assert_eq!(listing.window(10), 40..50);
        listing.moved(Action::Up, 10);
        assert_eq!(listing.window(10), 40..50);
        listing.moved(Action::PageUp, 10);
        listing.moved(Action::Up, 10);
        assert_eq!(listing.window(10), 38..48);
    }

    #[test]
    fn the_cursor_stays_on_its_row_when_the_order_changes() {
        let mut listing = Listing::of(10);
        listing.put_cursor(3);
        listing.sorted = Some((0, true));
        let key = |row, _| if row == 6 { Key::Missing } else { Key::Number(row as f64) };
        listing.arrange(10, |row| row % 3 == 0, key);
        assert_eq!(
            (0..4).filter_map(|line| listing.row_at(line)).collect::<Vec<_>>(),
            [9, 3, 0, 6]
        );
        assert_eq!((listing.row(), listing.line(), listing.len()), (Some(3), 1, 4));
        listing.arrange(10, |row| row == 9, key);
        assert_eq!(listing.row(), Some(9));
        listing.arrange(0, |_| true, key);
        assert_eq!(listing.row(), None);
    }
}
