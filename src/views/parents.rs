//! What each parent has given: as seed parent and as pollen parent.

use std::collections::BTreeMap;

use crate::book::{Counts, PlantId};

use super::{Desk, Interval, Levels, Party, pairings::Directions};

/// What came of a plant in one of its two roles.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Role {
    /// Crosses in which it had this role for certain.
    pub crosses: u32,
    /// Counts over them.
    pub counts: Counts,
    /// Kept of judged.
    pub rate: Option<Interval>,
}

/// One parent.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The plant, or a key that nobody bears.
    pub parent: Party,
    /// Bearing the seed. A selfing counts on both sides.
    pub as_seed: Role,
    /// Giving the pollen.
    pub as_pollen: Role,
    /// The chance that a seedling of it with an average partner is kept in an average season; put
    /// in by [`merit`].
    pub merit: Option<Interval>,
    /// Crosses of which it may have been a parent, among others; they count nowhere above.
    pub perhaps: u32,
}

/// Every plant that has been used in a cross, in the order of the roll.
pub fn rows(desk: &Desk, levels: Levels) -> Vec<Row> {
    let mut found: BTreeMap<Party, Row> = BTreeMap::new();
    for id in desk.book().cross_ids() {
        let counts = desk.counts(id);
        let (seed, pollen) = desk.parties(id);
        for (party, bears) in [(seed, true), (pollen, false)] {
            match party {
                Party::Unknown => {}
                Party::Among(list) => {
                    for one in list {
                        entry(&mut found, one).perhaps += 1;
                    }
                }
                Party::Plant(_) | Party::Stranger(_) => {
                    let row = entry(&mut found, party);
                    let role = if bears { &mut row.as_seed } else { &mut row.as_pollen };
                    role.crosses += 1;
                    role.counts += counts;
                }
            }
        }
    }
    let mut rows: Vec<Row> = found.into_values().collect();
    for row in &mut rows {
        for role in [&mut row.as_seed, &mut row.as_pollen] {
            role.rate = levels.rate(role.counts.kept, role.counts.judged);
        }
    }
    rows
}

fn entry<'a>(found: &'a mut BTreeMap<Party, Row>, parent: &Party) -> &'a mut Row {
    found.entry(parent.clone()).or_insert_with(|| Row {
        parent: parent.clone(),
        as_seed: Role::default(),
        as_pollen: Role::default(),
        merit: None,
        perhaps: 0,
    })
}

/// Puts in what each parent passes on, where the book has enough to tell.
pub fn merit(desk: &Desk, rows: &mut [Row], levels: Levels) {
    let Some(forecasts) = desk.forecasts(Directions::Together) else { return };
    for row in rows {
        row.merit = row.parent.plant().map(|plant| forecasts.parent(plant, levels.shrunk));
    }
}

/// What one plant has given as a parent, if it ever was one.
pub fn row(desk: &Desk, plant: PlantId, levels: Levels) -> Option<Row> {
    rows(desk, levels).into_iter().find(|row| row.parent.plant() == Some(plant))
}
