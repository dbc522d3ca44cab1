//! The line of a plant: where it came from and what came of it, drawn so that nobody can mistake
//! who is whose parent.

mod layout;
mod moves;
mod near;
mod rails;
mod view;
mod words;

use crate::book::PlantId;
use crate::lineage::draw::{Cell, Picture, What};
use crate::views::Desk;

use super::{
    action::Action,
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    widget::Canvas,
};
use layout::Layout;
use moves::Move;
use near::Near;
use words::Piece;

/// The screen of a lineage.
#[derive(Debug)]
pub(super) struct Line {
    /// The plant that was asked about.
    asked: Option<PlantId>,
    drawn: Option<Drawn>,
    /// The cell with the cursor.
    at: usize,
    near: Near,
    basis: Basis,
}

/// A picture, where it lies on the screen, and what is written in its cells.
#[derive(Debug)]
struct Drawn {
    picture: Picture,
    layout: Layout,
    written: Vec<Vec<Piece>>,
}

impl Drawn {
    fn of(around: &Around<'_>, centre: PlantId) -> Self {
        let (picture, layout) = layout::draw(around, centre);
        let written = words::cells(around, &picture, &layout);
        Self { picture, layout, written }
    }

    /// The plant in the middle.
    fn centre(&self) -> Option<PlantId> {
        match self.picture.cells.first()?.what {
            What::Plant(plant) => Some(plant),
            _ => None,
        }
    }

    /// The page to which a cell leads.
    fn place(&self, cell: usize, desk: &Desk) -> Option<Place> {
        let before = || self.picture.to(cell).next().and_then(|rail| self.place(rail.from, desk));
        match self.picture.cells.get(cell)?.what {
            What::Plant(plant) => Some(Place::Plant(plant)),
            What::Cross(family) => desk.pedigree().cross_of(family).map(Place::Cross),
            What::MoreSeedlings(_) | What::MoreCrosses(_) => before(),
            What::Unknown | What::OneOf(_) => None,
        }
    }
}

impl Line {
    pub(super) fn new(asked: Option<PlantId>) -> Self {
        Self { asked, drawn: None, at: 0, near: Near::new(), basis: Basis::default() }
    }

    /// Asks for what is to be said of the cell under the cursor.
    fn ask(&mut self, around: &Around<'_>) {
        let Some(drawn) = &self.drawn else { return };
        if let Some(cell) = drawn.picture.cells.get(self.at) {
            self.near.ask_of(around, cell.what, drawn.centre());
        }
    }

    /// Moves the cursor. Returns whether the action moves anything.
    fn act(&mut self, action: Action, around: &Around<'_>) -> Step {
        let Some(drawn) = &self.drawn else { return Step::Passed };
        match moves::moved(&drawn.picture, self.at, action, around.desk.pedigree()) {
            Move::To(cell) => self.at = cell,
            Move::Beyond(plant) => return Step::Go(Place::Line(Some(plant))),
            Move::Nowhere => {}
            Move::NoSuch => return Step::Passed,
        }
        Step::Taken
    }
}

impl Page for Line {
    fn place(&self) -> Place {
        Place::Line(self.asked)
    }

    fn says(&self, around: &Around<'_>) -> String {
        words::says(around, self.asked, self.drawn.as_ref().map(|drawn| &drawn.picture))
    }

    fn stand(&self, around: &Around<'_>) -> Stand {
        Stand {
            under: self.drawn.as_ref().and_then(|drawn| drawn.place(self.at, around.desk)),
            n_lists: 1,
            sideways: true,
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        let is_new = self.basis.moved(around, false).is_some();
        let before = self.drawn.take().map(|drawn| drawn.picture);
        let centre = self.asked.or_else(|| latest_keeper(around.desk));
        self.drawn = centre.map(|centre| Drawn::of(around, centre));
        let now = self.drawn.as_ref().map(|drawn| &drawn.picture);
        if before.as_ref() != now {
            let under = before.as_ref().and_then(|picture| picture.cells.get(self.at));
            let is_same = |cell: &Cell| Some(cell.what) == under.map(|cell| cell.what);
            self.at = now.and_then(|now| now.cells.iter().position(is_same)).unwrap_or_default();
        }
        if let Some(picture) = now.filter(|_| is_new || before.as_ref() != now) {
            self.near.ask(around, picture);
        }
        self.ask(around);
        self.near.settle();
    }

    fn waits(&self) -> bool {
        self.near.waits()
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let Some(drawn) = &self.drawn else { return Step::Passed };
        let step = match input {
            Input::Do(action) => self.act(action, around),
            Input::Line { line, .. } if line == self.at => Step::Open,
            Input::Line { line, .. } => {
                self.at = if line < drawn.picture.cells.len() { line } else { self.at };
                Step::Taken
            }
            Input::Wheel { notches, .. } => {
                let action = if notches < 0 { Action::Up } else { Action::Down };
                for _ in 0..notches.unsigned_abs() {
                    self.act(action, around);
                }
                Step::Taken
            }
            _ => Step::Passed,
        };
        self.ask(around);
        step
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match &self.drawn {
            Some(drawn) => view::draw(canvas, drawn, self.at, &self.near, around),
            None => view::nothing(canvas),
        }
    }
}

/// The plant to show when nobody has asked for one: of the keepers that bloomed last, the one
/// with the longest line behind it; in a book without keepers, of all plants.
fn latest_keeper(desk: &Desk) -> Option<PlantId> {
    desk.book().plants().max_by_key(|&plant| {
        let brief = desk.brief(plant);
        (brief.stage.is_some(), brief.first_bloom.map(crate::book::When::season), {
            (desk.pedigree().depth(plant), std::cmp::Reverse(plant))
        })
    })
}
