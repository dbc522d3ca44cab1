//! The state of a list: which of its rows are shown, in which order, and where the cursor is.
//!
//! A listing holds no rows, only their numbers. Sorting and filtering make a new list of
//! numbers; drawing looks at those in the window and no others.

use std::{cmp::Ordering, ops::Range};

use crate::tui::action::Action;

/// A list on a page.
#[derive(Debug, Clone, Default)]
pub struct Listing {
    order: Vec<u32>,
    cursor: usize,
    top: usize,
    /// The column it is ordered by, and whether from large to small; `None` is the order of
    /// the book.
    pub sorted: Option<(usize, bool)>,
    /// Letters that a row must have.
    pub filter: String,
    /// Which of the ready-made choices is shown; 0 is all.
    pub choice: usize,
}

impl Listing {
    /// A list of the rows 0 to `n`, in that order.
    pub fn of(n: usize) -> Self {
        let mut listing = Self::default();
        listing.arrange(n, |_| true, None);
        listing
    }

    /// Chooses and orders the rows anew out of `n`. The cursor stays on its row if that is still
    /// shown. Rows that compare equal keep the order of the book.
    pub fn arrange(
        &mut self,
        n: usize,
        mut keep: impl FnMut(usize) -> bool,
        compare: Option<&dyn Fn(usize, usize) -> Ordering>,
    ) {
        let was_on = self.row();
        self.order =
            (0..u32::try_from(n).unwrap_or(u32::MAX)).filter(|&row| keep(row as usize)).collect();
        if let Some(compare) = compare {
            self.order.sort_by(|&a, &b| compare(a as usize, b as usize));
        }
        let place = was_on.and_then(|row| self.order.iter().position(|&r| r as usize == row));
        self.cursor = place.unwrap_or(self.cursor).min(self.order.len().saturating_sub(1));
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
        listing.arrange(10, |row| row % 3 == 0, Some(&|a, b| b.cmp(&a)));
        assert_eq!((listing.row(), listing.line(), listing.len()), (Some(3), 2, 4));
        listing.arrange(10, |row| row == 9, None);
        assert_eq!(listing.row(), Some(9));
        listing.arrange(0, |_| true, None);
        assert_eq!(listing.row(), None);
    }
}
