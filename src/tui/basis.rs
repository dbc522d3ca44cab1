//! What a page was worked out from: the book as it stood, and the season that was looked at.

use super::page::Around;
use crate::book::Season;

/// A state of the book since it was opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Edition {
    /// How often the book was changed.
    pub changes: u64,
    /// How often plants, crosses or pairings changed their places in it, so that places kept in
    /// memory lead elsewhere.
    pub moves: u64,
}

/// What a page rests on.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Basis(Option<(Edition, Option<Season>)>);

impl Basis {
    /// Takes in how things stand. None where the page rests on that already; otherwise whether
    /// what is shown may be shown until it is worked out anew.
    pub(super) fn moved(&mut self, around: &Around<'_>, is_of_season: bool) -> Option<bool> {
        let now = (around.edition, is_of_season.then_some(around.season));
        match self.0.replace(now) {
            Some(before) if before == now => None,
            Some((edition, season)) => Some(edition.moves == now.0.moves && season == now.1),
            None => Some(false),
        }
    }
}
