//! The trail: the pages one came through, each as one left it.

use super::{
    glyphs::Glyphs,
    page::{Page, open},
    place::{Kind, Place},
};
use crate::views::Desk;

/// Pages kept; the oldest is let go.
const MOST: usize = 200;

/// The pages one came through; there is always one.
#[derive(Debug)]
pub(super) struct Trail {
    behind: Vec<Box<dyn Page>>,
    top: Box<dyn Page>,
}

impl Trail {
    /// A trail that begins at a page.
    pub(super) fn new(first: Box<dyn Page>) -> Self {
        Self { behind: Vec::new(), top: first }
    }

    /// The page one is on.
    pub(super) fn top(&self) -> &dyn Page {
        &*self.top
    }

    /// The page one is on, to change.
    pub(super) fn top_mut(&mut self) -> &mut dyn Page {
        &mut *self.top
    }

    /// How many pages one can go back.
    pub(super) fn n_behind(&self) -> usize {
        self.behind.len()
    }

    /// Goes to a place. One of the six screens that is already on the trail is taken from there
    /// as it was left, so that going to and fro by number does not pile up pages.
    pub(super) fn go(&mut self, place: Place) {
        if self.top.place() == place {
            return;
        }
        let is_screen = Kind::SCREENS.contains(&place.kind());
        let known = self.behind.iter().position(|page| page.place() == place);
        let page = match known {
            Some(at) if is_screen => self.behind.remove(at),
            _ => open(place),
        };
        self.push(page);
    }

    /// Goes to the latest page of this kind that is on the trail. Returns whether there is one.
    pub(super) fn go_again(&mut self, kind: Kind) -> bool {
        if self.top.place().kind() == kind {
            return true;
        }
        let Some(at) = self.behind.iter().rposition(|page| page.place().kind() == kind) else {
            return false;
        };
        let page = self.behind.remove(at);
        self.push(page);
        true
    }

    /// Goes to a page that was made for the purpose.
    pub(super) fn enter(&mut self, page: Box<dyn Page>) {
        self.push(page);
    }

    fn push(&mut self, page: Box<dyn Page>) {
        let before = std::mem::replace(&mut self.top, page);
        self.behind.push(before);
        if self.behind.len() > MOST {
            self.behind.remove(0);
        }
    }

    /// Takes in that plants, crosses and pairings have changed their places in the book. A page of
    /// one of them is opened anew where that is now, and goes where it is gone.
    pub(super) fn moved(&mut self, to: impl Fn(Place) -> Option<Place>) {
        let renewed = |page: Box<dyn Page>| {
            let place = page.place();
            match to(place) {
                Some(now) if is_of_the_book(place) => Some(open(now)),
                now => now.map(|_| page),
            }
        };
        let pages = std::mem::take(&mut self.behind);
        self.behind = pages.into_iter().filter_map(renewed).collect();
        let top = std::mem::replace(&mut self.top, open(Place::Evening));
        if let Some(page) = renewed(top) {
            self.top = page;
        } else {
            self.back();
        }
    }

    /// Goes back to the page before, if there is one.
    pub(super) fn back(&mut self) {
        if let Some(page) = self.behind.pop() {
            self.top = page;
        }
    }

    /// The names of the pages, the one one is on last.
    pub(super) fn names(&self, desk: &Desk, glyphs: &Glyphs) -> Vec<String> {
        let all = self.behind.iter().chain([&self.top]);
        all.map(|page| page.place().name(desk, glyphs)).collect()
    }
}

/// Whether a page is of something that has its place in the book.
fn is_of_the_book(place: Place) -> bool {
    matches!(
        place,
        Place::Plant(_)
            | Place::Cross(_)
            | Place::Pairing(_)
            | Place::Pair(..)
            | Place::Line(Some(_))
            | Place::Parent(_)
            | Place::Blooms(_)
            | Place::Due(_)
    )
}
