//! Lists of plants side by side: sibs, keepers, what came of a cross.

use super::{
    page::Around,
    said,
    theme::Role,
    widget::{
        listing::Key,
        table::{Cell, Column},
    },
};
use crate::book::{PlantId, State};
use crate::views::{
    plant,
    sibs::{self, Measures},
    words,
};

/// The columns of such a list.
pub(super) const COLUMNS: &[Column] = &[
    Column::words("plant", 7, 26, 0),
    Column::words("colour", 11, 18, 2),
    Column::words("state", 9, 9, 1),
    Column::figures("mm", 4, 3),
    Column::figures("cm", 4, 5),
    Column::figures("opened", 11, 6),
    Column::words("scores", 16, 40, 7),
    Column::words("kin", 6, 8, 4),
];

/// The columns where all are of one family, so that their kinship goes without saying.
pub(super) const OF_A_FAMILY: &[Column] = COLUMNS.split_at(COLUMNS.len() - 1).0;

/// How a plant belongs to those beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Beside {
    /// It is the one the page is of.
    Itself,
    /// A full sib.
    FullSib,
    /// A half sib.
    HalfSib,
}

/// How a state looks.
pub(super) fn role(state: State) -> Role {
    match state {
        State::Kept | State::Named => Role::Good,
        State::Open | State::Held => Role::Warn,
        State::Unbloomed | State::Potted => Role::Text,
        State::Discarded | State::Lost => Role::Quiet,
    }
}

/// What stands in a line. A plant among those of its own family is a [`Beside::FullSib`].
pub(super) fn cell<'a>(
    around: &Around<'a>,
    id: PlantId,
    beside: Beside,
    column: usize,
) -> Cell<'a> {
    let desk = around.desk;
    let state = desk.brief(id).state;
    let measured = |name| match Measures::of(desk, id).get(name) {
        Some(value) => Cell::text(format!("{value:.0}")),
        None => Cell::quiet(around.glyphs().unknown),
    };
    match column {
        0 if beside == Beside::Itself => Cell::Text(desk.label(id).into(), Role::Strong),
        0 => Cell::text(desk.label(id)),
        1 => Cell::Bloom(plant::colours(desk, id), desk.book().crop()),
        2 => Cell::Text(words::state(state).into(), role(state)),
        3 => measured(sibs::BLOOM_MM),
        4 => measured(sibs::HEIGHT_CM),
        5 => match desk.brief(id).first_bloom {
            Some(on) => Cell::quiet(words::day(on)),
            None => Cell::quiet(around.glyphs().unknown),
        },
        7 => Cell::quiet(match beside {
            Beside::Itself => "itself",
            Beside::FullSib => "full sib",
            Beside::HalfSib => "half sib",
        }),
        _ => Cell::quiet(scores(around, id)),
    }
}

/// What was scored, in a line: `form 7, stem 5`.
pub(super) fn scores(around: &Around<'_>, id: PlantId) -> String {
    let measures = Measures::of(around.desk, id);
    let scored = around.desk.book().crop().traits.iter().filter_map(|of| {
        let value = measures.get(&of.name)?;
        Some(format!("{} {}", of.name, said::score(value)))
    });
    scored.collect::<Vec<_>>().join(", ")
}

/// What a line is ordered by.
pub(super) fn key(around: &Around<'_>, id: PlantId, column: usize) -> Key {
    let desk = around.desk;
    let measured = |name| Key::number(Measures::of(desk, id).get(name));
    match column {
        0 => Key::label(desk.label(id)),
        1 => plant::colours(desk, id).first().map_or(Key::Missing, |c| Key::label(&**c)),
        2 => Key::label(words::state(desk.brief(id).state)),
        3 => measured(sibs::BLOOM_MM),
        4 => measured(sibs::HEIGHT_CM),
        5 => Key::day(desk.brief(id).first_bloom),
        _ => Key::label(scores(around, id)),
    }
}

/// The words of a line that a filter looks at.
pub(super) fn letters(around: &Around<'_>, id: PlantId) -> String {
    let colours = plant::colours(around.desk, id).join(" ");
    let state = words::state(around.desk.brief(id).state);
    format!("{} {colours} {state}", around.desk.label(id))
}
