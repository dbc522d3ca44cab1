//! Everything a key can do: one table, from which the keys, the footer, the help page and the
//! mouse targets all come.
//!
//! A row says when its action is to be had, on a [`Snapshot`]: a plain picture of where the
//! screen stands, so that the table can be tested without a terminal.

mod table;
mod walking;

pub use table::{RESERVED, ROWS};

use super::{keys::Key, place::Kind};
use crate::book::Verdict;

/// Something that can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Action {
    /// The line above.
    Up,
    /// The line below.
    Down,
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// A screenful up.
    PageUp,
    /// A screenful down.
    PageDown,
    /// The first line.
    First,
    /// The last line.
    Last,
    /// The next list of this screen.
    NextList,
    /// The list before.
    ListBefore,
    /// Into the thing under the cursor.
    Open,
    /// Back along the trail.
    Back,
    /// To a screen.
    Go(Kind),
    /// To the page of the seed parent.
    SeedParent,
    /// To the page of the pollen parent.
    PollenParent,
    /// To the page of the cross.
    Family,
    /// One season earlier.
    SeasonBefore,
    /// One season later.
    SeasonAfter,
    /// Order by the next column.
    Sort,
    /// Turn the order round.
    Reverse,
    /// The next of the ready-made choices of what a list shows.
    Only,
    /// Shade the squares by the other thing.
    Shade,
    /// Stop the forecasts, or work them out after all.
    Weigh,
    /// Type letters that a row must have.
    Filter,
    /// Find a plant, a cross or a pairing.
    Find,
    /// Lay the demo garden out and open it.
    Demo,
    /// Start a book.
    NewBook,
    /// Tell how spreadsheets are brought in.
    Spreadsheets,
    /// Write down what happened.
    Note,
    /// Walk past the plants that stand here, to judge them one by one.
    Walk,
    /// A verdict on the plant one stands before.
    Verdict(Verdict),
    /// The same, with a reason.
    VerdictWhy(Verdict),
    /// To the next plant.
    NextPlant,
    /// To the plant before.
    PlantBefore,
    /// To the plant of a number.
    Jump,
    /// The next figure.
    NextField,
    /// The figure before.
    FieldBefore,
    /// A digit of a figure.
    Digit,
    /// Take a digit back.
    Erase,
    /// The first bloom is open.
    FirstBloom,
    /// There is no bloom yet.
    InBud,
    /// It is lost.
    Lose,
    /// Its faults.
    Faults,
    /// Its colours.
    Colours,
    /// A remark on it.
    Remark,
    /// A picture of it.
    Photo,
    /// Who looks.
    Who,
    /// Back to where the walk began.
    LeaveWalk,
    /// Write down anything else that happened to it.
    NoteMore,
    /// Everything that is known of it.
    Everything,
    /// Take the last change back.
    Undo,
    /// Do again what was taken back last.
    Redo,
    /// Take back the change under the cursor.
    UndoOne,
    /// Bring the earlier version under the cursor back.
    BringBack,
    /// Try again to write what could not be written.
    TryAgain,
    /// Let go of what could not be written.
    LetGo,
    /// The keys of this screen.
    Help,
    /// What each figure means.
    Figures,
    /// Put away what lies on top.
    Close,
    /// Draw everything afresh.
    Redraw,
    /// Mouse on or off.
    Mouse,
    /// To the shell for a while.
    Suspend,
    /// The end.
    Quit,
}

/// What lies on top of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Layer {
    /// Nothing.
    #[default]
    Page,
    /// The find page.
    Find,
    /// The help page.
    Help,
    /// What each figure means.
    Figures,
    /// The line in which a filter is typed.
    Filter,
    /// The line in which the folder of a new book is typed.
    Ask,
    /// What can be written down.
    Deeds,
    /// A form that is being filled in.
    Form,
    /// A question that a page asks.
    Question,
    /// Two changes of the same, of which one has to be chosen.
    Settle,
    /// What could not be written.
    Unwritten,
}

/// What the cursor is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Under {
    /// Nothing that can be opened.
    #[default]
    Nothing,
    /// A plant.
    Plant,
    /// A cross.
    Cross,
    /// A pairing.
    Pairing,
    /// Something that is due.
    Due,
}

/// Where the screen stands, as far as the action table asks.
#[expect(
    clippy::struct_excessive_bools,
    reason = "questions that have nothing to do with each other"
)]
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Snapshot {
    /// The page.
    pub kind: Kind,
    /// What lies on top of it.
    pub layer: Layer,
    /// What the cursor is on.
    pub under: Under,
    /// Pages to go back to.
    pub n_behind: usize,
    /// Lists on the page.
    pub n_lists: usize,
    /// Whether the list with the cursor can be ordered and filtered.
    pub sorts: bool,
    /// Whether letters can be asked of what is shown, in an order or not.
    pub filters: bool,
    /// The next of the ready-made choices of the list; empty where it has none.
    pub next_choice: &'static str,
    /// Whether the page is of one season.
    pub seasons: bool,
    /// Whether left and right mean something here.
    pub sideways: bool,
    /// Whether there are plants to walk past.
    pub walks: bool,
    /// Whether a filter or a choice is set that can be put away.
    pub filtered: bool,
    /// Whether something is wrong with the book.
    pub amiss: bool,
    /// Whether somebody writes in the book.
    pub writes: bool,
    /// Whether something stands in the way of writing.
    pub stuck: bool,
    /// What else squares can be shaded by, in a word; empty where there are none.
    pub other_shade: &'static str,
    /// What can be done about the forecasts, in a word; empty where nothing can.
    pub weighing: &'static str,
}

impl Snapshot {
    /// Whether letters are typed into a field, so that they are no keys.
    pub fn types(self) -> bool {
        matches!(
            self.layer,
            Layer::Find | Layer::Filter | Layer::Ask | Layer::Deeds | Layer::Form | Layer::Question
        )
    }
}

/// The heading under which an action stands on the help page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Group {
    /// Moving the cursor.
    Moving,
    /// Going from page to page.
    Going,
    /// What a list shows and in which order.
    Lists,
    /// Writing down, and taking back.
    Writing,
    /// The six screens.
    Screens,
    /// The program itself.
    Program,
}

impl Group {
    /// All of them, as they stand on the help page.
    pub const ALL: [Self; 6] =
        [Self::Going, Self::Writing, Self::Moving, Self::Lists, Self::Screens, Self::Program];

    /// The heading.
    pub fn heading(self) -> &'static str {
        match self {
            Self::Moving => "moving about",
            Self::Going => "going further",
            Self::Lists => "lists",
            Self::Writing => "writing down",
            Self::Screens => "screens",
            Self::Program => "the program",
        }
    }
}

/// Tells from where the screen stands whether an action is to be had.
pub type Condition = fn(&Snapshot) -> bool;

/// One row of the table.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// What is done.
    pub action: Action,
    /// Its name in the settings.
    pub name: &'static str,
    /// One or two words for the footer; empty where it is not shown there.
    pub hint: &'static str,
    /// One line of help.
    pub help: &'static str,
    /// Where it stands on the help page.
    pub group: Group,
    /// Its keys; the first is the one shown in the footer.
    pub keys: &'static [&'static str],
    /// When it is to be had.
    pub when: Condition,
}

impl Row {
    /// The words for the footer where one stands; empty where it is not shown there.
    pub fn hint_for(&self, here: &Snapshot) -> &'static str {
        match (self.action, here.kind, here.layer) {
            (Action::NextList, Kind::Bed, _) => "next bed",
            (Action::Sort, Kind::Walk, _) => "order",
            (Action::Find | Action::Filter, Kind::Walk, _) => "",
            (Action::NextList, Kind::Pairings, _) if here.sideways => "ranking",
            (Action::NextList, Kind::Pairings, _) => "grid",
            (Action::Close, Kind::Crosses, Layer::Page) => "all crosses",
            (Action::Close, _, Layer::Page) => "show all",
            (Action::Open, _, Layer::Deeds) => "write it down",
            (Action::Open, _, Layer::Form) => "write it",
            (Action::NextList, _, Layer::Form) => "next field",
            (Action::Close, _, Layer::Form) => "leave it",
            (Action::Open, _, Layer::Question) => "done",
            (Action::Close, _, Layer::Question) => "back",
            (Action::Open, _, Layer::Settle) => "write it so",
            (Action::Close, _, Layer::Settle) => "leave it as it is now",
            (Action::Open, _, Layer::Unwritten) => "try again",
            (Action::Close, _, Layer::Unwritten) => "let it wait",
            (Action::Open, Kind::Welcome, _) => "choose",
            (Action::Only, ..) => here.next_choice,
            (Action::Shade, ..) => here.other_shade,
            (Action::Weigh, ..) => here.weighing,
            (Action::Go(Kind::Parent), Kind::Plant, _) => "as a parent",
            (Action::Go(Kind::Blooms), Kind::Cross | Kind::Pairing | Kind::Parent, _) => {
                "first bloom"
            }
            (Action::Go(Kind::Problems), ..) if !here.amiss => "",
            _ => self.hint,
        }
    }

    /// The line of help where one stands.
    pub fn help_for(&self, here: &Snapshot) -> &'static str {
        match (self.action, here.kind) {
            (Action::NextList, Kind::Bed) => "the next bed",
            (Action::Sort, Kind::Walk) => "as they stand, or by number",
            (Action::Filter, Kind::Walk) => "only plants with these letters",
            (Action::ListBefore, Kind::Bed) => "the bed before",
            (Action::NextList, Kind::Pairings) => "from the ranking to the grid, and back",
            _ => self.help,
        }
    }
}

/// Closes the program from anywhere, whatever is being typed. Not to be bound anew.
pub const ALWAYS_QUITS: &str = "ctrl-c";

/// Which key does what: the table's keys, made ready to be looked up.
#[derive(Debug, Clone)]
pub struct Keymap {
    bound: Vec<(Key, &'static Row)>,
}

impl Default for Keymap {
    fn default() -> Self {
        let bound = ROWS
            .iter()
            .flat_map(|row| row.keys.iter().filter_map(move |name| Some((Key::parse(name)?, row))))
            .collect();
        Self { bound }
    }
}

impl Keymap {
    /// What a key does here; `None` where it does nothing.
    pub fn action(&self, key: Key, here: &Snapshot) -> Option<Action> {
        if Key::parse(ALWAYS_QUITS) == Some(key) {
            return Some(Action::Quit);
        }
        if here.types() && key.typed().is_some() {
            return None;
        }
        self.bound
            .iter()
            .find(|(bound, row)| *bound == key && (row.when)(here))
            .map(|(_, row)| row.action)
    }

    /// The keys of an action.
    pub fn keys(&self, action: Action) -> impl Iterator<Item = Key> {
        self.bound.iter().filter(move |(_, row)| row.action == action).map(|(key, _)| *key)
    }

    /// The rows to be had here, with the key to show for each.
    pub fn here(&self, here: Snapshot) -> impl Iterator<Item = (Key, &'static Row)> {
        ROWS.iter()
            .filter(move |row| (row.when)(&here))
            .filter_map(|row| Some((self.keys(row.action).next()?, row)))
    }
}

#[cfg(test)]
mod tests;
