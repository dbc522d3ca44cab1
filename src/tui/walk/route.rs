//! The way of a walk: which plants, in which order, and where on it one stands. Plants are known
//! by their keys, so that the way stays right when others come into the book.

use crate::book::{Book, fold, label_order};
use crate::tui::{page::Around, said};

/// In which order one goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Order {
    /// As they stood where the walk began.
    #[default]
    AsTheyStand,
    /// By number.
    Number,
}

/// The way.
#[derive(Debug, Clone, Default)]
pub(super) struct Route {
    all: Vec<Box<str>>,
    order: Order,
    letters: String,
    /// Of those that are gone past, places in `all`.
    way: Vec<usize>,
    at: usize,
    /// Where one goes when what was begun is written down.
    next: usize,
}

impl Route {
    pub(super) fn new(all: Vec<Box<str>>, at: usize) -> Self {
        let way = (0..all.len()).collect();
        Self { all, way, at, next: at, ..Self::default() }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// The key of the plant one stands before.
    pub(super) fn key(&self) -> Option<&str> {
        self.all.get(*self.way.get(self.at)?).map(AsRef::as_ref)
    }

    /// Where one stands, from 1, and how many there are.
    pub(super) fn place(&self) -> (usize, usize) {
        (self.at + 1, self.way.len())
    }

    /// Where on the way the plant with a key stands.
    pub(super) fn place_of(&self, key: &str) -> Option<usize> {
        self.way.iter().position(|n| *self.all[*n] == *key)
    }

    fn beyond(&self, by: isize) -> usize {
        self.at.saturating_add_signed(by).min(self.way.len().saturating_sub(1))
    }

    /// Goes on by so many plants.
    pub(super) fn step(&mut self, by: isize) {
        self.at = self.beyond(by);
    }

    /// Means to go on by so many plants.
    pub(super) fn intend(&mut self, by: isize) {
        self.next = self.beyond(by);
    }

    /// Means to go to a place on the way.
    pub(super) fn intend_to(&mut self, at: usize) {
        self.next = at;
    }

    /// Goes where one meant to go.
    pub(super) fn arrive(&mut self) {
        self.at = self.next.min(self.way.len().saturating_sub(1));
    }

    /// The place of a plant by its number or the end of it: of several the next one from here.
    pub(super) fn find(&self, number: &str, book: &Book) -> Option<usize> {
        let wanted = fold(number);
        if wanted.is_empty() {
            return None;
        }
        let label = |place: usize| {
            let plant = book.by_key(&self.all[self.way[place]])?;
            Some(fold(book.plant(plant).label()))
        };
        let n = self.way.len();
        let onward = || (1..=n).map(|by| (self.at + by) % n);
        let is = |place: &usize| label(*place).is_some_and(|label| label == wanted);
        let ends = |place: &usize| label(*place).is_some_and(|label| label.ends_with(&wanted));
        onward().find(is).or_else(|| onward().find(ends))
    }

    /// Takes another order. Returns which, in words.
    pub(super) fn turn_order(&mut self, book: &Book) -> &'static str {
        let here = self.way.get(self.at).copied();
        self.order = match self.order {
            Order::AsTheyStand => Order::Number,
            Order::Number => Order::AsTheyStand,
        };
        self.arrange(book);
        self.at = self.way.iter().position(|n| Some(*n) == here).unwrap_or_default();
        match self.order {
            Order::AsTheyStand => "The walk goes as they stand.",
            Order::Number => "The walk goes by number.",
        }
    }

    fn arrange(&mut self, book: &Book) {
        match self.order {
            Order::AsTheyStand => self.way.sort_unstable(),
            Order::Number => {
                let label = |n: &usize| book.by_key(&self.all[*n]).map(|id| book.plant(id).label());
                self.way.sort_by(|a, b| match (label(a), label(b)) {
                    (Some(a), Some(b)) => label_order(a, b),
                    (a, b) => a.cmp(&b),
                });
            }
        }
    }

    /// Goes only past plants with these letters in their number, colour or state.
    pub(super) fn filter(&mut self, letters: &str, around: &Around<'_>) {
        let here = self.way.get(self.at).copied();
        letters.clone_into(&mut self.letters);
        let wanted = fold(letters);
        let book = around.desk.book();
        let fits = |n: &usize| {
            let plant = book.by_key(&self.all[*n]);
            plant.is_some_and(|id| fold(&crate::tui::plants::letters(around, id)).contains(&wanted))
        };
        let way: Vec<usize> = (0..self.all.len()).filter(fits).collect();
        // With nobody left there would be nothing to stand before.
        if !way.is_empty() {
            self.way = way;
            self.arrange(book);
        }
        self.at = self.way.iter().position(|n| Some(*n) >= here).unwrap_or_default();
        self.next = self.at;
    }

    /// Where one is on the way, in a line.
    pub(super) fn says(&self, around: &Around<'_>, who: Option<&str>) -> String {
        let (at, n) = self.place();
        let which = match (&*self.letters, self.order) {
            ("", Order::AsTheyStand) => String::new(),
            ("", Order::Number) => ", by number".to_owned(),
            (letters, _) => format!(", those with \"{letters}\""),
        };
        let who = who.map_or_else(String::new, |who| format!(" with the eyes of {who}"));
        let last = if at == n && n > 1 { ", the last" } else { "" };
        let [at, n] = [at, n].map(said::grouped);
        said::fitting(
            [
                format!("Walking the bed{who}: plant {at} of {n}{last}{which}."),
                format!("Walking{who}: {at} of {n}{last}{which}."),
                format!("{at} of {n}{last}{which}."),
            ],
            around.line_room(),
        )
    }
}
