//! The lists of a page together: which one has the cursor, and what moves it, sorts it or
//! filters it. Every page with lists leaves that to this, so all lists obey the same keys.

use super::{
    listing::Listing,
    table::{Column, Edge},
};
use crate::tui::{
    action::Action,
    page::{Input, Step},
};

/// How one list is laid out just now.
#[derive(Debug, Clone, Copy)]
pub struct Shape<'a> {
    /// Rows that can be seen at once.
    pub height: u16,
    /// Its columns. One without a head cannot be sorted by.
    pub columns: &'a [Column],
}

/// The lists of a page.
#[derive(Debug, Clone, Default)]
pub struct Lists {
    /// The lists.
    pub all: Vec<Listing>,
    /// Which has the cursor.
    pub at: usize,
}

/// What follows for the page.
#[derive(Debug, Clone)]
pub enum Outcome {
    /// Nothing more to do.
    Step(Step),
    /// The rows of this list are to be chosen and ordered anew.
    Arrange(usize),
}

impl Lists {
    /// So many empty lists.
    pub fn new(n: usize) -> Self {
        Self { all: vec![Listing::default(); n], at: 0 }
    }

    /// The list with the cursor.
    pub fn current(&self) -> Option<&Listing> {
        self.all.get(self.at)
    }

    /// Lets every window follow its cursor, after a change of rows or room.
    pub fn follow(&mut self, shapes: &[Shape<'_>]) {
        for (list, shape) in self.all.iter_mut().zip(shapes) {
            list.follow(shape.height);
        }
    }

    /// Moves the cursor out of a list that is empty or has no room, if another is not.
    pub fn settle(&mut self, shapes: &[Shape<'_>]) {
        let usable = |i: usize| {
            self.all.get(i).is_some_and(|list| !list.is_empty())
                && shapes.get(i).is_some_and(|shape| shape.height > 0)
        };
        if !usable(self.at)
            && let Some(first) = (0..self.all.len()).find(|&i| usable(i))
        {
            self.at = first;
        }
    }

    /// Takes an input.
    pub fn take(&mut self, input: Input<'_>, shapes: &[Shape<'_>]) -> Outcome {
        let at = self.at;
        let Some(shape) = shapes.get(at).copied() else { return Outcome::Step(Step::Passed) };
        match input {
            Input::Do(Action::NextList) => self.turn(1, shapes),
            Input::Do(Action::ListBefore) => self.turn(self.all.len().saturating_sub(1), shapes),
            Input::Do(action @ (Action::Sort | Action::Reverse)) => {
                return self.rearranged(action, shape);
            }
            Input::Do(action) => {
                let Some(list) = self.all.get_mut(at) else {
                    return Outcome::Step(Step::Passed);
                };
                if !list.moved(action, shape.height) {
                    return Outcome::Step(Step::Passed);
                }
            }
            Input::Filter(letters) => {
                if let Some(list) = self.all.get_mut(at) {
                    letters.clone_into(&mut list.filter);
                }
                return Outcome::Arrange(at);
            }
            Input::Line { list, line } => {
                let had_focus = std::mem::replace(&mut self.at, list.min(self.all.len())) == list;
                let was_on = self.all.get_mut(list).is_some_and(|list| list.put_cursor(line));
                if had_focus && was_on {
                    return Outcome::Step(Step::Open);
                }
            }
            Input::Kept
            | Input::TakenBack(_)
            | Input::Leave
            | Input::Typed(_)
            | Input::Said { .. } => return Outcome::Step(Step::Passed),
            Input::Head { list, column } => {
                self.at = list.min(self.all.len());
                return self.sorted_by(column, shapes);
            }
            Input::Wheel { list, notches } => {
                let over = list.unwrap_or(at);
                if let (Some(list), Some(shape)) = (self.all.get_mut(over), shapes.get(over)) {
                    list.scroll(notches, shape.height);
                }
            }
        }
        Outcome::Step(Step::Taken)
    }

    fn turn(&mut self, by: usize, shapes: &[Shape<'_>]) {
        let n = self.all.len();
        for _ in 0..n {
            self.at = (self.at + by) % n;
            let has_room = shapes.get(self.at).is_some_and(|shape| shape.height > 0);
            if has_room && !self.all[self.at].is_empty() {
                return;
            }
        }
    }

    fn rearranged(&mut self, action: Action, shape: Shape<'_>) -> Outcome {
        let Some(list) = self.all.get_mut(self.at) else { return Outcome::Step(Step::Passed) };
        if action == Action::Sort {
            let from = list.sorted.map_or(0, |(column, _)| column + 1);
            let next = (from..shape.columns.len()).find(|&i| !shape.columns[i].head.is_empty());
            list.sorted = next.map(|i| (i, falls_first(shape.columns, i)));
        } else {
            let (column, falling) = list.sorted.unwrap_or((0, false));
            list.sorted = Some((column, !falling));
        }
        Outcome::Arrange(self.at)
    }

    fn sorted_by(&mut self, column: usize, shapes: &[Shape<'_>]) -> Outcome {
        let at = self.at;
        let (Some(list), Some(shape)) = (self.all.get_mut(at), shapes.get(at)) else {
            return Outcome::Step(Step::Passed);
        };
        if shape.columns.get(column).is_none_or(|c| c.head.is_empty()) {
            return Outcome::Step(Step::Taken);
        }
        list.sorted = match list.sorted {
            Some((by, falling)) if by == column => Some((column, !falling)),
            _ => Some((column, falls_first(shape.columns, column))),
        };
        Outcome::Arrange(at)
    }
}

/// Of numbers one wants the largest first, of words the first of the alphabet.
fn falls_first(columns: &[Column], i: usize) -> bool {
    columns[i].edge == Edge::Right
}
