//! The ranking: one line a pairing, its keepers on a common scale.

use super::chances::{Chances, Pair};
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
use crate::views::{pairings::Row, words};

pub(super) const COLUMNS: &[Column] = &[
    Column::words("pairing", 30, 40, 1),
    Column::figures("last made", 9, 4),
    Column::counts("kept", 9, 2),
    Column::words("", 16, 40, 0),
    Column::figures("chance", 12, 3),
    Column::figures("best", 5, 5),
];

/// Which column of [`COLUMNS`] holds the parents, which the ranges, which the figures
/// beside them, and which the chance to be the best.
pub(super) const PAIRING: usize = 0;
pub(super) const RANGE: usize = 3;
pub(super) const CHANCE: usize = 4;
const BEST: usize = 5;

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
    /// Never made, of living parents.
    NeverMade,
}

impl Choice {
    /// The choice after this one. Of pairs that were never made nothing is told but forecasts.
    pub(super) fn next(self, has_forecasts: bool) -> Self {
        match self {
            Self::All => Self::Enough,
            Self::Enough => Self::Keepers,
            Self::Keepers => Self::Unjudged,
            Self::Unjudged if has_forecasts => Self::NeverMade,
            Self::Unjudged | Self::NeverMade => Self::All,
        }
    }

    /// The choice after this one, in a word or two.
    pub(super) fn next_words(self, has_forecasts: bool) -> &'static str {
        match self.next(has_forecasts) {
            Self::All => "all pairings",
            Self::Enough => "5 or more judged",
            Self::Keepers => "with keepers",
            Self::Unjudged => "not judged",
            Self::NeverMade => "never made",
        }
    }

    /// Whether it takes one of the pairs.
    pub(super) fn takes(self, chances: Chances<'_>, at: usize) -> bool {
        let Some(row) = chances.record.rows.get(at) else { return self == Self::NeverMade };
        match self {
            Self::All => true,
            Self::Enough => row.pairing.counts.judged >= ENOUGH,
            Self::Keepers => chances.record.keepers[at] > 0,
            Self::Unjudged => !row.tried,
            Self::NeverMade => false,
        }
    }

    /// What is shown, in words.
    pub(super) fn words(self, season: Season) -> String {
        match self {
            Self::All => String::new(),
            Self::Enough => format!("at least {ENOUGH} judged"),
            Self::Keepers => format!("with keepers of {season}"),
            Self::Unjudged => "nothing judged yet".to_owned(),
            Self::NeverMade => "pairs of living parents never made".to_owned(),
        }
    }
}

/// What stands in a row and column; `room` is the cells for its parents.
pub(super) fn cell<'a>(
    around: &Around<'a>,
    pair: Pair<'_>,
    (scale, room): (Scale, usize),
    column: usize,
) -> Cell<'a> {
    let (row, counts) = (pair.row, pair.row.pairing.counts);
    match column {
        0 => {
            let name = pair.name(around.desk, around.glyphs());
            Cell::text(said::pair_within(name, room, around.glyphs()))
        }
        1 if pair.made.is_none() => Cell::quiet("never"),
        1 => Cell::quiet(last(row).map_or_else(String::new, |season| season.to_string())),
        2 if row.tried => Cell::Text(said::of(counts.kept, counts.judged).into(), Role::Strong),
        2 => Cell::quiet(if pair.made.is_some() { "not yet" } else { "untried" }),
        // What is said of any pair is said of all of them.
        _ if !pair.is_told => Cell::Blank,
        RANGE => {
            let chance = pair.chance;
            Cell::Range(Spread { at: chance.p, low: chance.low, high: chance.high }, scale)
        }
        CHANCE => said::share_cell(&pair.chance, around.glyphs()),
        _ => pair.best.map_or(Cell::Blank, |best| Cell::quiet(words::whole_percent(best))),
    }
}

fn last(row: &Row) -> Option<Season> {
    row.pairing.seasons.last().copied()
}

/// What a row is ordered by.
pub(super) fn key(around: &Around<'_>, pair: Pair<'_>, column: usize) -> Key {
    let row = pair.row;
    match column {
        0 => Key::label(pair.name(around.desk, around.glyphs())),
        1 => Key::number(last(row).map(|season| season.0.into())),
        2 => Key::number(row.tried.then_some(row.pairing.counts.kept.into())),
        BEST => Key::number(pair.best),
        _ => Key::number(pair.is_told.then_some(pair.chance.p)),
    }
}
