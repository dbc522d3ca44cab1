//! The table itself: every action with its keys, its line of help and its condition.

use super::{Action, Condition, Group, Layer, Row, Snapshot, Under, walking::WALKING};
use crate::tui::place::Kind;

/// Keys that the terminal or the system keeps for itself, or cannot tell from another key.
pub const RESERVED: &[&str] =
    &["ctrl-s", "ctrl-q", "ctrl-i", "ctrl-j", "ctrl-m", "ctrl-h", "ctrl-["];

fn always(_: &Snapshot) -> bool {
    true
}

fn on_any_page(s: &Snapshot) -> bool {
    s.layer == Layer::Page
}

fn on_page(s: &Snapshot) -> bool {
    s.layer == Layer::Page && s.kind != Kind::Welcome
}

fn on_welcome(s: &Snapshot) -> bool {
    s.layer == Layer::Page && s.kind == Kind::Welcome
}

/// On a page on which letters and digits move about.
fn reads(s: &Snapshot) -> bool {
    on_page(s) && s.kind != Kind::Walk
}

/// On a page where enter does something to a change.
fn on_changes(s: &Snapshot) -> bool {
    matches!(s.kind, Kind::History | Kind::Earlier)
}

fn on_list(s: &Snapshot) -> bool {
    let types = matches!(s.layer, Layer::Filter | Layer::Ask | Layer::Question);
    !types && (s.layer != Layer::Page || s.kind != Kind::Walk)
}

fn on_covered(s: &Snapshot) -> bool {
    s.layer != Layer::Page || s.filtered && s.kind != Kind::Walk
}

fn on_plant(s: &Snapshot) -> bool {
    reads(s) && (s.under == Under::Plant || matches!(s.kind, Kind::Plant | Kind::Parent))
}

fn on_cross(s: &Snapshot) -> bool {
    reads(s)
        && (matches!(s.under, Under::Plant | Under::Cross | Under::Pairing)
            || matches!(s.kind, Kind::Plant | Kind::Parent | Kind::Cross | Kind::Pairing))
}

fn goes_sideways(s: &Snapshot) -> bool {
    reads(s) && s.sideways || s.layer == Layer::Settle
}

fn can_write(s: &Snapshot) -> bool {
    on_page(s) && s.writes
}

fn can_filter(s: &Snapshot) -> bool {
    on_page(s) && (s.sorts || s.filters)
}

fn can_sort(s: &Snapshot) -> bool {
    on_page(s) && s.sorts
}

pub(super) const fn row(
    action: Action,
    name: &'static str,
    keys: &'static [&'static str],
    group: Group,
    help: &'static str,
    when: Condition,
) -> Row {
    Row { action, name, hint: "", help, group, keys, when }
}

pub(super) const fn hinted(row: Row, hint: &'static str) -> Row {
    Row { hint, ..row }
}

/// The table. The order is that of the footer.
pub const ROWS: &[Row] = &ALL;

static ALL: [Row; WALKING.len() + TABLE.len()] = {
    let mut all = [TABLE[0]; WALKING.len() + TABLE.len()];
    let mut n = 0;
    while n < all.len() {
        all[n] = if n < WALKING.len() { WALKING[n] } else { TABLE[n - WALKING.len()] };
        n += 1;
    }
    all
};

/// What there is on all pages but the walk.
const TABLE: &[Row] = &[
    hinted(
        row(
            Action::Open,
            "open",
            &["enter"],
            Group::Going,
            "go into the thing under the cursor",
            |s| {
                s.types()
                    || matches!(s.layer, Layer::Settle | Layer::Unwritten | Layer::Figures)
                    || on_welcome(s)
                    || reads(s) && s.under != Under::Nothing && !on_changes(s)
            },
        ),
        "look closer",
    ),
    hinted(
        row(
            Action::Back,
            "back",
            &["backspace"],
            Group::Going,
            "back to where you came from",
            |s| reads(s) && s.n_behind > 0,
        ),
        "back",
    ),
    hinted(
        row(
            Action::Close,
            "close",
            &["esc"],
            Group::Going,
            "put away what lies on top, a filter or a choice",
            on_covered,
        ),
        "close",
    ),
    hinted(
        row(
            Action::NextList,
            "next-list",
            &["tab"],
            Group::Moving,
            "the next list of this page",
            |s| reads(s) && s.n_lists > 1 || s.layer == Layer::Form,
        ),
        "next list",
    ),
    row(Action::ListBefore, "list-before", &["shift-tab"], Group::Moving, "the list before", |s| {
        reads(s) && s.n_lists > 1 || s.layer == Layer::Form
    }),
    row(
        Action::Weigh,
        "weigh",
        &["W"],
        Group::Lists,
        "stop the forecasts, or begin them anew",
        |s| reads(s) && !s.weighing.is_empty(),
    ),
    row(
        Action::Shade,
        "shade",
        &["i"],
        Group::Lists,
        "shade by nearness of kin, or by chance",
        |s| reads(s) && !s.other_shade.is_empty(),
    ),
    hinted(
        row(
            Action::SeasonBefore,
            "season-before",
            &["[", ","],
            Group::Lists,
            "one season earlier",
            |s| reads(s) && s.seasons,
        ),
        "season",
    ),
    row(Action::SeasonAfter, "season-after", &["]", "."], Group::Lists, "one season later", |s| {
        reads(s) && s.seasons
    }),
    hinted(
        row(
            Action::Only,
            "only",
            &["o"],
            Group::Lists,
            "show only some: the next choice of this list",
            |s| reads(s) && !s.next_choice.is_empty(),
        ),
        "only some",
    ),
    hinted(
        row(Action::Sort, "sort", &["s"], Group::Lists, "order by the next column", can_sort),
        "sort",
    ),
    row(Action::Reverse, "reverse", &["r"], Group::Lists, "turn the order round", |s| {
        reads(s) && s.sorts
    }),
    hinted(
        row(
            Action::Filter,
            "filter",
            &["f"],
            Group::Lists,
            "show only what has these letters",
            can_filter,
        ),
        "filter",
    ),
    row(
        Action::SeedParent,
        "seed-parent",
        &["a"],
        Group::Going,
        "the seed parent's page: the A of A × B",
        on_cross,
    ),
    row(
        Action::PollenParent,
        "pollen-parent",
        &["b"],
        Group::Going,
        "the pollen parent's page: the B of A × B",
        on_cross,
    ),
    row(
        Action::Family,
        "family",
        &["c"],
        Group::Going,
        "the cross it came of, with all its sibs",
        on_plant,
    ),
    hinted(
        row(
            Action::Find,
            "find",
            &["/"],
            Group::Going,
            "find a plant, a cross or a pairing by a few letters",
            on_page,
        ),
        "find",
    ),
    row(
        Action::Demo,
        "demo",
        &["d"],
        Group::Going,
        "lay the demo garden out and look round it",
        on_welcome,
    ),
    row(
        Action::NewBook,
        "new-book",
        &["n"],
        Group::Going,
        "start a new book in a folder",
        on_welcome,
    ),
    row(
        Action::Spreadsheets,
        "spreadsheets",
        &["i"],
        Group::Going,
        "how spreadsheets are brought in",
        on_welcome,
    ),
    hinted(
        row(
            Action::Go(Kind::Problems),
            "problems",
            &["!"],
            Group::Screens,
            "what is wrong with the book, and where",
            on_page,
        ),
        "problems",
    ),
    hinted(
        row(
            Action::TryAgain,
            "try-again",
            &["t"],
            Group::Writing,
            "try again what could not be written",
            |s| on_page(s) && s.stuck,
        ),
        "try again",
    ),
    hinted(
        row(
            Action::LetGo,
            "let-go",
            &["x"],
            Group::Writing,
            "let go of what could not be written",
            |s| s.layer == Layer::Unwritten,
        ),
        "let go of it",
    ),
    hinted(
        row(
            Action::Note,
            "note",
            &["n"],
            Group::Writing,
            "write down what happened to what is under the cursor",
            |s| can_write(s) && reads(s),
        ),
        "write down",
    ),
    hinted(
        row(
            Action::Walk,
            "walk",
            &["w"],
            Group::Writing,
            "walk past these plants, and judge each with one key",
            |s| reads(s) && s.walks,
        ),
        "walk",
    ),
    hinted(
        row(
            Action::UndoOne,
            "undo-one",
            &["enter"],
            Group::Writing,
            "take back the change under the cursor",
            |s| can_write(s) && s.kind == Kind::History,
        ),
        "take it back",
    ),
    hinted(
        row(
            Action::BringBack,
            "bring-back",
            &["enter"],
            Group::Writing,
            "make the file what it was then",
            |s| can_write(s) && s.kind == Kind::Earlier,
        ),
        "bring it back",
    ),
    row(
        Action::Go(Kind::History),
        "history",
        &["H"],
        Group::Writing,
        "what was changed, when and by whom",
        |s| reads(s) && s.writes,
    ),
    row(
        Action::Go(Kind::Earlier),
        "earlier",
        &["E"],
        Group::Writing,
        "earlier versions of the files",
        |s| reads(s) && s.writes,
    ),
    row(Action::Undo, "undo", &["u"], Group::Writing, "take the last change back", can_write),
    row(
        Action::Redo,
        "redo",
        &["U", "ctrl-r"],
        Group::Writing,
        "do again what was taken back last",
        can_write,
    ),
    row(
        Action::Go(Kind::Parent),
        "parent",
        &["p"],
        Group::Screens,
        "this plant as a parent: partners, kin, its offspring",
        |s| on_plant(s) && s.kind != Kind::Parent,
    ),
    row(
        Action::Go(Kind::Blooms),
        "first-bloom",
        &["B"],
        Group::Screens,
        "how long these plants wait for their first bloom",
        reads,
    ),
    hinted(
        row(Action::Help, "help", &["?"], Group::Program, "the keys of this page", on_any_page),
        "keys",
    ),
    hinted(
        row(
            Action::Figures,
            "figures",
            &["f"],
            Group::Program,
            "what each figure means, and who says so",
            |s| s.layer == Layer::Help,
        ),
        "figures",
    ),
    row(Action::Up, "up", &["up", "k"], Group::Moving, "the line above", on_list),
    row(Action::Down, "down", &["down", "j"], Group::Moving, "the line below", on_list),
    row(Action::Left, "left", &["left", "h"], Group::Moving, "to the left", goes_sideways),
    row(Action::Right, "right", &["right", "l"], Group::Moving, "to the right", goes_sideways),
    row(
        Action::PageUp,
        "page-up",
        &["page-up", "ctrl-u"],
        Group::Moving,
        "a screenful up",
        on_list,
    ),
    row(
        Action::PageDown,
        "page-down",
        &["page-down", "ctrl-d", "space"],
        Group::Moving,
        "a screenful down",
        on_list,
    ),
    row(Action::First, "first", &["home", "g"], Group::Moving, "the first line", on_list),
    row(Action::Last, "last", &["end", "G"], Group::Moving, "the last line", on_list),
    row(
        Action::Go(Kind::Evening),
        "evening",
        &["1"],
        Group::Screens,
        "what happened, what waits for you",
        reads,
    ),
    row(Action::Go(Kind::Bed), "bed", &["2"], Group::Screens, "what stands where", reads),
    row(
        Action::Go(Kind::Crosses),
        "crosses",
        &["3"],
        Group::Screens,
        "what became of each cross, and the seed that is left",
        reads,
    ),
    row(
        Action::Go(Kind::Pairings),
        "pairings",
        &["4"],
        Group::Screens,
        "which pairs give keepers",
        reads,
    ),
    row(
        Action::Go(Kind::Line),
        "line",
        &["5"],
        Group::Screens,
        "where what is under the cursor came from",
        reads,
    ),
    row(Action::Redraw, "redraw", &["ctrl-l"], Group::Program, "draw the screen afresh", always),
    row(
        Action::Mouse,
        "mouse",
        &["m"],
        Group::Program,
        "give the mouse to the terminal, or take it back",
        on_any_page,
    ),
    row(
        Action::Suspend,
        "suspend",
        &["ctrl-z"],
        Group::Program,
        "to the shell; fg comes back",
        always,
    ),
    row(Action::Quit, "quit", &["q"], Group::Program, "close the book", |s| !s.types()),
];
