//! What a page is: state, update and view, and where it is in the book.
//!
//! `update` changes the state, `view` draws it and changes nothing. A page that draws from rows
//! which take long to work out asks the worker for them in `refresh` and says so until they come.

use std::{fmt, sync::Arc};

use ratatui::layout::Rect;

use super::{
    action::Action,
    ask::{Ask, Question},
    basis::Edition,
    bed::Beds,
    blooms::Blooms,
    changes::{Earlier, History},
    cross::Cross,
    crosses::Crosses,
    due::Due,
    evening::Review,
    glyphs::Glyphs,
    line::Line,
    pairing::Pairing,
    pairings::Pairings,
    parent::Parent,
    place::Place,
    plant::Plant,
    problems::Problems,
    theme::Theme,
    walk::Walk,
    weighing::{Standing, Weighing},
    welcome::Welcome,
    widget::Canvas,
    worker::Worker,
};
use crate::book::{PlantId, Problem, Season, Spot, enter::Entered};
use crate::shelf::{Keeper, Version};
use crate::views::Desk;

/// What a page knows besides its own state.
#[derive(Debug, Clone, Copy)]
pub struct Around<'a> {
    /// The opened book.
    pub desk: &'a Arc<Desk>,
    /// Does what takes long.
    pub worker: &'a Worker,
    /// How it stands with the forecasts.
    pub weighing: &'a Weighing,
    /// The look of things.
    pub theme: &'a Theme,
    /// What is wrong with the book.
    pub problems: &'a [Problem],
    /// Whoever writes in the book, to be asked what was written.
    pub keeper: Option<&'a Keeper>,
    /// Which state of the book this is.
    pub edition: Edition,
    /// The season that is looked at.
    pub season: Season,
    /// The room there is for the page.
    pub body: Rect,
}

impl<'a> Around<'a> {
    /// The signs to draw with.
    pub fn glyphs(&self) -> &'a Glyphs {
        self.theme.glyphs()
    }

    /// How it stands with the forecasts of the book.
    pub fn forecasts(&self) -> Standing<'a> {
        self.weighing.standing(self.desk)
    }

    /// Cells for a sentence in a line of its own.
    pub fn line_room(&self) -> usize {
        usize::from(self.body.width.saturating_sub(2))
    }
}

/// What reaches a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input<'a> {
    /// An action of the table.
    Do(Action),
    /// The letters that rows must have, as they are being typed.
    Filter(&'a str),
    /// A click on a line of a list.
    Line {
        /// Which list.
        list: usize,
        /// Which line of it.
        line: usize,
    },
    /// A click on the head of a column.
    Head {
        /// Which list.
        list: usize,
        /// Which column of it.
        column: usize,
    },
    /// The wheel over a list.
    Wheel {
        /// Which list; `None` is the one with the cursor.
        list: Option<usize>,
        /// Notches; up is negative.
        notches: i16,
    },
    /// A digit or a point.
    Typed(char),
    /// What was asked for, as it was typed or picked.
    Said {
        /// What was asked for.
        to: Ask,
        /// The text; of words picked, one a line.
        text: &'a str,
    },
    /// What the page wanted written down is on the disk.
    Kept,
    /// What was changed of the plant with this key has been taken back.
    TakenBack(&'a str),
    /// The page is about to be left.
    Leave,
}

/// What follows from an input.
#[derive(Debug, Clone)]
pub enum Step {
    /// The page has taken it.
    Taken,
    /// It meant nothing to the page.
    Passed,
    /// Go into the thing under the cursor.
    Open,
    /// Do what this action says.
    Do(Action),
    /// Go to another page.
    Go(Place),
    /// Say something at the foot of the screen.
    Say(String),
    /// Write this down.
    Write(Box<Entered>),
    /// Take back the change of this number.
    UndoOne(u64),
    /// Bring this earlier version back.
    BringBack(Box<Version>),
    /// Ask this of the raiser.
    Ask(Question),
}

/// How a page stands, for the action table.
#[expect(
    clippy::struct_excessive_bools,
    reason = "questions that have nothing to do with each other"
)]
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Stand {
    /// What the cursor is on.
    pub under: Option<Place>,
    /// Lists on the page.
    pub n_lists: usize,
    /// Whether the list with the cursor can be ordered and filtered.
    pub sorts: bool,
    /// Whether letters can be asked of what is shown, where it cannot be ordered.
    pub filters: bool,
    /// The next of its ready-made choices, in a word or two; empty where it has none.
    pub next_choice: &'static str,
    /// Whether the page is of one season.
    pub seasons: bool,
    /// Whether left and right mean something here.
    pub sideways: bool,
    /// Whether there are plants to walk past.
    pub walks: bool,
    /// Whether less is shown than there is, by a filter or a choice.
    pub filtered: bool,
    /// What else squares can be shaded by, in a word; empty where there are none.
    pub other_shade: &'static str,
}

/// A page.
pub trait Page: fmt::Debug {
    /// What it is of.
    fn place(&self) -> Place;

    /// One line that says what it shows.
    fn says(&self, around: &Around<'_>) -> String;

    /// How it stands.
    fn stand(&self, around: &Around<'_>) -> Stand;

    /// Takes in that the book, the season or the room have changed, or that an answer has come.
    fn refresh(&mut self, around: &Around<'_>);

    /// Whether it waits for an answer.
    fn waits(&self) -> bool {
        false
    }

    /// Whether it shows forecasts.
    fn weighs(&self) -> bool {
        false
    }

    /// The plants in the order in which they stand here, to be walked past; none where there is
    /// nothing to walk past.
    fn plants(&self, _around: &Around<'_>) -> Vec<PlantId> {
        Vec::new()
    }

    /// What in the book the cursor is on, where that is less than the page it leads to: a head of
    /// a cross.
    fn spot(&self, _around: &Around<'_>) -> Option<Spot> {
        None
    }

    /// Takes an input.
    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step;

    /// Draws it into the canvas.
    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>);
}

/// Opens the page of a place.
pub(super) fn open(place: Place) -> Box<dyn Page> {
    match place {
        Place::Evening => Box::new(Review::page()),
        Place::Crosses => Box::new(Crosses::default()),
        Place::Line(plant) => Box::new(Line::new(plant)),
        Place::Plant(id) => Box::new(Plant::page(id)),
        Place::Cross(id) => Box::new(Cross::page(id)),
        Place::Pairing(_) | Place::Pair(..) => Box::new(Pairing::page(place)),
        Place::Bed => Box::new(Beds::default()),
        Place::Pairings => Box::new(Pairings::default()),
        Place::Walk(plant) => Box::new(Walk::past(plant)),
        Place::Parent(id) => Box::new(Parent::page(id)),
        Place::Blooms(whose) => Box::new(Blooms::page(whose)),
        Place::Due(what) => Box::new(Due::page(what)),
        Place::History => Box::new(History::default()),
        Place::Earlier => Box::new(Earlier::default()),
        Place::Problems => Box::new(Problems::default()),
        Place::Welcome => Box::new(Welcome::new(String::new())),
    }
}
