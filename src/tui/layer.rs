//! What can lie on top of a page: the find page, the help page, the line for a filter.

use super::{
    action::{Action, Keymap, Layer, Snapshot},
    find::Find,
    help::Help,
    keys::Key,
    page::Around,
    place::{Kind, Place},
    theme::Role,
    widget::{Canvas, field::Field, text},
};

/// Something on top of a page.
#[derive(Debug)]
pub(super) enum Cover {
    /// The find page.
    Find(Find),
    /// The help page.
    Help(Help),
    /// The line in which a filter is typed; the page stays in view above it.
    Filter(Field),
    /// The line in which the folder of a new book is typed.
    Ask(Field),
}

/// What follows from an action for the cover.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Covered {
    /// It stays.
    Stays,
    /// It goes.
    Goes,
    /// It goes, and a page is opened.
    Opens(Place),
    /// What was asked for has been typed.
    Answers(String),
}

impl Cover {
    pub(super) fn find() -> Self {
        Self::Find(Find::default())
    }

    pub(super) fn help(keys: &Keymap, here: &Snapshot, ascii: bool) -> Self {
        Self::Help(Help::new(keys, here, ascii))
    }

    pub(super) fn filter_line() -> Self {
        Self::Filter(Field::default())
    }

    pub(super) fn ask(suggested: &str) -> Self {
        Self::Ask(Field::holding(suggested))
    }

    pub(super) fn layer(&self) -> Layer {
        match self {
            Self::Find(_) => Layer::Find,
            Self::Help(_) => Layer::Help,
            Self::Filter(_) => Layer::Filter,
            Self::Ask(_) => Layer::Ask,
        }
    }

    /// Whether it takes the room of the page.
    pub(super) fn hides_page(&self) -> bool {
        !matches!(self, Self::Filter(_) | Self::Ask(_))
    }

    pub(super) fn waits(&self) -> bool {
        matches!(self, Self::Find(find) if find.waits())
    }

    /// What was to be opened before it was found.
    pub(super) fn overdue(&mut self) -> Option<Place> {
        match self {
            Self::Find(find) => find.overdue(),
            Self::Help(_) | Self::Filter(_) | Self::Ask(_) => None,
        }
    }

    /// The letters of the filter that is being typed.
    pub(super) fn filter(&self) -> Option<String> {
        match self {
            Self::Filter(field) => Some(field.content()),
            Self::Find(_) | Self::Help(_) | Self::Ask(_) => None,
        }
    }

    pub(super) fn says(&self, kind: Kind) -> String {
        match self {
            Self::Find(_) => "Find a plant, a cross or a pairing by any of its letters.".to_owned(),
            Self::Help(_) => format!("The keys that do something on this page ({}).", kind.title()),
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
            Self::Help(_) => false,
        }
    }

    /// Takes pasted text. Returns whether what was typed has changed.
    pub(super) fn paste(&mut self, content: &str) -> bool {
        match self {
            Self::Find(find) => find.paste(content),
            Self::Filter(field) | Self::Ask(field) => field.paste(content),
            Self::Help(_) => return false,
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
            (Self::Find(find), _) => {
                find.act(action, height);
                Covered::Stays
            }
            (Self::Help(help), _) => {
                help.act(action, height);
                Covered::Stays
            }
            (Self::Filter(_) | Self::Ask(_), _) => Covered::Stays,
        }
    }

    pub(super) fn press(&mut self, line: usize) -> Covered {
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
            Self::Filter(_) | Self::Ask(_) => {}
        }
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match self {
            Self::Find(find) => find.view(canvas, around),
            Self::Help(help) => help.view(canvas),
            Self::Filter(field) => type_in(canvas, field, "rows with: ", "enter keep   esc all"),
            Self::Ask(field) => {
                type_in(canvas, field, "folder of the new book: ", "enter start   esc back");
            }
        }
    }
}

/// Draws a field in a line, with what is to be typed before it and its keys behind.
fn type_in(canvas: &mut Canvas<'_>, field: &Field, what: &str, hint: &str) {
    let wide = canvas.area().width;
    let x = canvas.say(1, 0, what, Role::Quiet);
    let hint_wide = u16::try_from(text::width(hint)).unwrap_or(u16::MAX);
    let mut area = canvas.area();
    area.x = area.x.saturating_add(x);
    area.width = wide.saturating_sub(x + hint_wide + 3);
    field.draw(canvas, area);
    if !area.is_empty() {
        canvas.say_right(wide - 1, 0, hint, Role::Quiet);
    }
}
