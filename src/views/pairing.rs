//! The page of a pairing: its record, season by season, and its keepers.

use crate::book::{Counts, CrossId, PlantId, State};

use super::{Desk, Interval, Levels, Pairing, kin, pairings};

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
    /// Its place in [`Desk::pairings`]; none where the two were never put to each other.
    pub place: Option<usize>,
    /// Its record.
    pub row: pairings::Row,
    /// Its crosses, in the order made.
    pub crosses: Vec<CrossRow>,
    /// Its keepers that are still kept, in the order of the roll.
    pub keepers: Vec<PlantId>,
    /// How inbred its offspring are, as a share of those of full sibs.
    pub closeness: f64,
    /// The ancestor through which the two are most of kin.
    pub through: Option<PlantId>,
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
    let inbreeding = kin::inbreeding_of_pairings(desk, [pairing]);
    let closeness = kin::of_full_sibs(desk, inbreeding.iter().sum());
    let plants = pairing.seed.plant().zip(pairing.pollen.plant());
    Page {
        place: desk.pairings().iter().position(|made| made == pairing),
        row: pairings::row(desk, pairing, levels),
        crosses,
        keepers,
        closeness,
        through: plants.filter(|_| closeness > 0.0).and_then(|(a, b)| kin::through(desk, a, b)),
    }
}
