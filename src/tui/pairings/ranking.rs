//! The ranking: one line a pairing, its keepers on a common scale.

use crate::book::Season;
use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{
        listing::Key,
        range::{Scale, Spread},
        table::{Cell, Column},
    },
};
use crate::views::pairings::Row;

pub(super) const COLUMNS: &[Column] = &[
    Column::words("pairing", 30, 40, 1),
    Column::figures("last made", 9, 4),
    Column::figures("kept", 9, 2),
    Column::words("", 16, 40, 0),
    Column::figures("chance", 12, 3),
];

/// Which column of [`COLUMNS`] holds the parents, which the ranges, and which the figures beside them.
pub(super) const PAIRING: usize = 0;
pub(super) const RANGE: usize = 3;
pub(super) const CHANCE: usize = 4;

/// Judged plants below which a share says little.
const ENOUGH: u32 = 5;

/// Which pairings are shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Choice {
    /// Every one that was made.
    #[default]
    All,
    /// With enough judged plants.
    Enough,
    /// With keepers in the season.
    Keepers,
    /// With nothing judged yet.
    Unjudged,
}

impl Choice {
    pub(super) fn next(self) -> Self {
        match self {
            Self::All => Self::Enough,
            Self::Enough => Self::Keepers,
            Self::Keepers => Self::Unjudged,
            Self::Unjudged => Self::All,
        }
    }

    /// The choice after this one, in a word or two.
    pub(super) fn next_words(self) -> &'static str {
        match self.next() {
            Self::All => "all pairings",
            Self::Enough => "5 or more judged",
            Self::Keepers => "with keepers",
            Self::Unjudged => "not judged",
        }
    }

    /// Whether it takes a pairing with so many keepers in the season.
    pub(super) fn takes(self, row: &Row, keepers: u32) -> bool {
        match self {
            Self::All => true,
            Self::Enough => row.pairing.counts.judged >= ENOUGH,
            Self::Keepers => keepers > 0,
            Self::Unjudged => !row.tried,
        }
    }

    /// What is shown, in words.
    pub(super) fn words(self, season: Season) -> String {
        match self {
            Self::All => String::new(),
            Self::Enough => format!("at least {ENOUGH} judged"),
            Self::Keepers => format!("with keepers of {season}"),
            Self::Unjudged => "nothing judged yet".to_owned(),
        }
    }
}

/// What stands in a row and column; `at` is the place of the pairing in the book, and `room` the
/// cells for its parents.
pub(super) fn cell<'a>(
    around: &Around<'a>,
    row: &Row,
    at: usize,
    (scale, room): (Scale, usize),
    column: usize,
) -> Cell<'a> {
    let counts = row.pairing.counts;
    match column {
        0 => Cell::text(said::pairing_within(around.desk, at, room, around.glyphs())),
        1 => Cell::quiet(last(row).map_or_else(String::new, |season| season.to_string())),
        2 if row.tried => Cell::Text(said::of(counts.kept, counts.judged).into(), Role::Strong),
        2 => Cell::quiet("not yet"),
        // What is said of a pairing of which nothing was judged is said of all of them.
        _ if !row.tried => Cell::Blank,
        RANGE => {
            let chance = row.shrunk;
            Cell::Range(Spread { at: chance.p, low: chance.low, high: chance.high }, scale)
        }
        _ => said::share_cell(&row.shrunk, around.glyphs()),
    }
}

fn last(row: &Row) -> Option<Season> {
    row.pairing.seasons.last().copied()
}

/// What a row is ordered by.
pub(super) fn key(around: &Around<'_>, row: &Row, at: usize, column: usize) -> Key {
    match column {
        0 => Key::label(said::pairing(around.desk, at, around.glyphs())),
        1 => Key::number(last(row).map(|season| season.0.into())),
        2 => Key::number(row.tried.then_some(row.pairing.counts.kept.into())),
        _ => Key::number(row.tried.then_some(row.shrunk.p)),
    }
}

/// The scale on which every range has its place.
pub(super) fn scale(rows: &[Row]) -> Scale {
    let tried = rows.iter().filter(|row| row.tried);
    Scale::reaching(tried.map(|row| row.shrunk.high).fold(0.0, f64::max))
}
