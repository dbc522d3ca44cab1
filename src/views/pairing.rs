//! The page of a pairing: its record, season by season, and its keepers.

use crate::book::{Counts, CrossId, PlantId, State};

use super::{Desk, Interval, Levels, Pairing, pairings};

/// One of its crosses.
#[derive(Debug, Clone, PartialEq)]
pub struct CrossRow {
    /// The cross.
    pub cross: CrossId,
    /// Whether it was made the other way round than the pairing is written.
    pub turned: bool,
    /// Its counts.
    pub counts: Counts,
    /// Kept of judged.
    pub rate: Option<Interval>,
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Its record.
    pub row: pairings::Row,
    /// Its crosses, in the order made.
    pub crosses: Vec<CrossRow>,
    /// Its keepers that are still kept, in the order of the roll.
    pub keepers: Vec<PlantId>,
}

/// Puts the page together.
pub fn page(desk: &Desk, pairing: &Pairing, levels: Levels) -> Page {
    let crosses = pairing
        .crosses
        .iter()
        .map(|&cross| {
            let counts = desk.counts(cross);
            CrossRow {
                cross,
                turned: desk.parties(cross).0 != pairing.seed,
                counts,
                rate: levels.rate(counts.kept, counts.judged),
            }
        })
        .collect();
    let keepers = pairing
        .crosses
        .iter()
        .flat_map(|&cross| desk.book().family(cross))
        .filter(|&id| matches!(desk.brief(id).state, State::Kept | State::Named))
        .collect();
    Page { row: pairings::row(desk, pairing, levels), crosses, keepers }
}
