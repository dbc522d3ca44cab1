//! What can lie on top of a page: the find page, the help page, the line for a filter.

use super::{
    action::{Action, Keymap, Layer, Snapshot},
    ask::{Ask, Question, type_in},
    find::Find,
    help::{Figures, Help},
    keys::Key,
    noting::Noting,
    page::Around,
    place::{Kind, Place},
    settle::{Settle, Unwritten},
    widget::{Canvas, field::Field},
};
use crate::book::Change;

/// Something on top of a page.
#[derive(Debug)]
pub(super) enum Cover {
    /// The find page.
    Find(Find),
    /// The help page.
    Help(Help),
    /// What each figure means.
    Figures(Figures),
    /// The line in which a filter is typed; the page stays in view above it.
    Filter(Field),
    /// The line in which the folder of a new book is typed.
    Ask(Field),
    /// What is being written down.
    Note(Noting),
    /// A question that a page asks.
    Question(Question),
    /// Two changes of the same, of which one has to be chosen.
    Settle(Settle),
    /// What could not be written, and the ways out.
    Unwritten(Unwritten),
}

/// What follows from an action for the cover.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Covered {
    /// It stays.
    Stays,
    /// It goes.
    Goes,
    /// It goes, and a page is opened.
    Opens(Place),
    /// What was asked for has been typed.
    Answers(String),
    /// What was asked for has been typed or picked.
    Says(Ask, String),
    /// Which of two changes stands has been said.
    Settles(Change),
    /// What waits is to be written.
    TriesAgain,
    /// What waits is to be let go.
    LetsGo,
}

impl Cover {
    pub(super) fn find() -> Self {
        Self::Find(Find::default())
    }

    pub(super) fn help(keys: &Keymap, here: &Snapshot, ascii: bool) -> Self {
        Self::Help(Help::new(keys, here, ascii))
    }

    pub(super) fn figures(kind: Kind) -> Self {
        Self::Figures(Figures::new(kind))
    }

    pub(super) fn filter_line() -> Self {
        Self::Filter(Field::default())
    }

    pub(super) fn ask(suggested: &str) -> Self {
        Self::Ask(Field::holding(suggested))
    }

    pub(super) fn question(question: Question) -> Self {
        Self::Question(question)
    }

    pub(super) fn settle(settle: Settle) -> Self {
        Self::Settle(settle)
    }

    pub(super) fn unwritten(unwritten: Unwritten) -> Self {
        Self::Unwritten(unwritten)
    }

    pub(super) fn layer(&self) -> Layer {
        match self {
            Self::Find(_) => Layer::Find,
            Self::Help(_) => Layer::Help,
            Self::Figures(_) => Layer::Figures,
            Self::Filter(_) => Layer::Filter,
            Self::Ask(_) => Layer::Ask,
            Self::Note(noting) => noting.layer(),
            Self::Question(_) => Layer::Question,
            Self::Settle(_) => Layer::Settle,
            Self::Unwritten(_) => Layer::Unwritten,
        }
    }

    /// Whether it takes the room of the page.
    pub(super) fn hides_page(&self) -> bool {
        match self {
            Self::Filter(_) | Self::Ask(_) => false,
            Self::Question(question) => question.is_pick(),
            _ => true,
        }
    }

    pub(super) fn waits(&self) -> bool {
        matches!(self, Self::Find(find) if find.waits())
    }

    /// What was to be opened before it was found.
    pub(super) fn overdue(&mut self) -> Option<Place> {
        match self {
            Self::Find(find) => find.overdue(),
            _ => None,
        }
    }

    /// Goes back within it. Returns whether there was anything to go back from.
    pub(super) fn step_back(&mut self) -> bool {
        match self {
            Self::Figures(figures) => figures.step_back(),
            _ => false,
        }
    }

    /// The letters of the filter that is being typed.
    pub(super) fn filter(&self) -> Option<String> {
        match self {
            Self::Filter(field) => Some(field.content()),
            _ => None,
        }
    }

    pub(super) fn says(&self, kind: Kind) -> String {
        match self {
            Self::Find(_) => "Find a plant, a cross or a pairing by any of its letters.".to_owned(),
            Self::Help(_) => format!("The keys that do something on this page ({}).", kind.title()),
            Self::Note(noting) => noting.says(),
            Self::Question(question) => question.says(),
            Self::Settle(_) => {
                "The same was changed elsewhere meanwhile. Which way stands?".to_owned()
            }
            Self::Unwritten(_) => "This could not be written; nothing of it is lost.".to_owned(),
            Self::Figures(figures) => figures.says(),
            Self::Filter(_) | Self::Ask(_) => String::new(),
        }
    }

    pub(super) fn refresh(&mut self, around: &Around<'_>) {
        if let Self::Find(find) = self {
            find.refresh(around);
        }
    }

    /// Takes a key that is no action. Returns whether what was typed has changed.
    pub(super) fn key(&mut self, key: Key) -> bool {
        match self {
            Self::Find(find) => find.key(key),
            Self::Filter(field) | Self::Ask(field) => field.take(key),
            Self::Note(noting) => noting.key(key),
            Self::Question(question) => question.key(key),
            Self::Help(_) | Self::Figures(_) | Self::Settle(_) | Self::Unwritten(_) => false,
        }
    }

    /// Takes pasted text. Returns whether what was typed has changed.
    pub(super) fn paste(&mut self, content: &str) -> bool {
        match self {
            Self::Find(find) => find.paste(content),
            Self::Filter(field) | Self::Ask(field) => field.paste(content),
            Self::Note(noting) => noting.paste(content),
            Self::Question(question) => question.paste(content),
            Self::Help(_) | Self::Figures(_) | Self::Settle(_) | Self::Unwritten(_) => {
                return false;
            }
        }
        true
    }

    pub(super) fn act(&mut self, action: Action, height: u16) -> Covered {
        match (self, action) {
            (Self::Find(find), Action::Open) => {
                find.chosen().map_or(Covered::Stays, Covered::Opens)
            }
            (Self::Filter(_), Action::Open) => Covered::Goes,
            (Self::Ask(field), Action::Open) => Covered::Answers(field.content()),
            (Self::Question(question), Action::Open) => {
                Covered::Says(question.to, question.answer())
            }
            (Self::Settle(settle), Action::Open) => Covered::Settles(settle.settled()),
            (Self::Settle(settle), _) => {
                settle.act(action);
                Covered::Stays
            }
            (Self::Unwritten(_), Action::Open) => Covered::TriesAgain,
            (Self::Unwritten(_), Action::LetGo) => Covered::LetsGo,
            (Self::Find(find), _) => {
                find.act(action, height);
                Covered::Stays
            }
            (Self::Help(help), _) => {
                help.act(action, height);
                Covered::Stays
            }
            (Self::Figures(figures), _) => {
                figures.act(action, height);
                Covered::Stays
            }
            (
                Self::Filter(_)
                | Self::Ask(_)
                | Self::Question(_)
                | Self::Unwritten(_)
                | Self::Note(_),
                _,
            ) => Covered::Stays,
        }
    }

    pub(super) fn press(&mut self, line: usize) -> Covered {
        if let Self::Question(question) = self {
            question.press(line);
        }
        if let Self::Figures(figures) = self {
            figures.press(line);
        }
        let Self::Find(find) = self else { return Covered::Stays };
        if find.press(line) {
            return find.chosen().map_or(Covered::Stays, Covered::Opens);
        }
        Covered::Stays
    }

    pub(super) fn scroll(&mut self, notches: i16, height: u16) {
        match self {
            Self::Find(find) => find.scroll(notches, height),
            Self::Help(help) => help.scroll(notches, height),
            Self::Note(noting) => noting.scroll(notches, height),
            Self::Figures(figures) => figures.turn(notches.into()),
            _ => {}
        }
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match self {
            Self::Find(find) => find.view(canvas, around),
            Self::Help(help) => help.view(canvas),
            Self::Note(noting) => noting.view(canvas, around),
            Self::Question(question) => question.view(canvas, around),
            Self::Settle(settle) => settle.view(canvas),
            Self::Unwritten(unwritten) => unwritten.view(canvas),
            Self::Figures(figures) => figures.view(canvas),
            Self::Filter(field) => type_in(canvas, field, "rows with: ", "enter keep   esc all"),
            Self::Ask(field) => {
                type_in(canvas, field, "folder of the new book: ", "enter start   esc back");
            }
        }
    }
}
