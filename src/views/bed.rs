//! What stands where in a season, as a plan of the beds.

use chrono::NaiveDate;

use crate::book::{Life, PlantDeed, PlantId, Position, Season, State, When};

use super::Desk;

/// One plant in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cell {
    /// The row, from 1.
    pub row: u16,
    /// The place along it, from 1.
    pub place: u16,
    /// The plant.
    pub plant: PlantId,
    /// How it stood at the end of the season, or stands today.
    pub state: State,
}

/// One bed in one season.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The bed.
    pub bed: Box<str>,
    /// Rows in it: as many as the book says, or as were used.
    pub rows: u16,
    /// Places along a row.
    pub places: u16,
    /// Who stands there, by row and place. A place can have been given twice.
    pub cells: Vec<Cell>,
}

/// All beds in one season.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beds {
    /// The season.
    pub season: Season,
    /// The beds, those of the book first and in its order, then others by name.
    pub plans: Vec<Plan>,
    /// Plants planted in the season whose place is not known.
    pub elsewhere: Vec<(PlantId, State)>,
}

impl Plan {
    /// Everyone at one place.
    pub fn at(&self, row: u16, place: u16) -> &[Cell] {
        let from = self.cells.partition_point(|c| (c.row, c.place) < (row, place));
        let to = self.cells.partition_point(|c| (c.row, c.place) <= (row, place));
        &self.cells[from..to]
    }
}

/// The last season, up to today's, in which anything was planted.
pub fn last_planted(desk: &Desk) -> Season {
    let today = desk.season();
    let of_plant = |id| {
        let last = desk.brief(id).planted_last?;
        // A date still to come is a slip of the pen; the others count.
        if last <= today { Some(last) } else { planted_until(desk, id, today) }
    };
    desk.book().plants().filter_map(of_plant).max().unwrap_or(today)
}

fn planted_until(desk: &Desk, plant: PlantId, season: Season) -> Option<Season> {
    let planted =
        desk.book().plant(plant).diary().iter().filter(|e| matches!(e.did, PlantDeed::Planted(_)));
    planted.map(|e| e.on.season()).filter(|&planted| planted <= season).max()
}

/// The beds as they were planted in a season.
pub fn beds(desk: &Desk, season: Season) -> Beds {
    let mut plans: Vec<Plan> = desk
        .book()
        .about()
        .beds
        .iter()
        .map(|bed| Plan {
            bed: bed.name.clone(),
            rows: bed.rows,
            places: bed.places,
            cells: Vec::new(),
        })
        .collect();
    let n_known = plans.len();
    let mut elsewhere = Vec::new();
    for plant in desk.book().plants() {
        let brief = desk.brief(plant);
        let in_time = brief.planted.is_some_and(|on| on.season() <= season)
            && brief.last.is_some_and(|last| last >= season);
        if !in_time || !planted_in(desk, plant, season) {
            continue;
        }
        let state = state_after(desk, plant, season);
        let Some(position) = position_in(desk, plant, season) else {
            elsewhere.push((plant, state));
            continue;
        };
        let cell = Cell { row: position.row, place: position.place, plant, state };
        match plans.iter_mut().find(|plan| plan.bed == position.bed) {
            Some(plan) => plan.cells.push(cell),
            None => plans.push(Plan {
                bed: position.bed.clone(),
                rows: 0,
                places: 0,
                cells: vec![cell],
            }),
        }
    }
    plans[n_known..].sort_by(|a, b| a.bed.cmp(&b.bed));
    for plan in &mut plans {
        plan.cells.sort_unstable();
        for cell in &plan.cells {
            plan.rows = plan.rows.max(cell.row);
            plan.places = plan.places.max(cell.place);
        }
    }
    Beds { season, plans, elsewhere }
}

fn plantings(
    desk: &Desk,
    plant: PlantId,
    season: Season,
) -> impl DoubleEndedIterator<Item = Option<&Position>> {
    let diary = desk.book().plant(plant).diary().iter();
    diary.filter(move |e| e.on.season() == season).filter_map(|e| match &e.did {
        PlantDeed::Planted(position) => Some(position.as_ref()),
        _ => None,
    })
}

fn planted_in(desk: &Desk, plant: PlantId, season: Season) -> bool {
    plantings(desk, plant, season).next().is_some()
}

/// The place that a plant was given last in a season.
fn position_in(desk: &Desk, plant: PlantId, season: Season) -> Option<&Position> {
    plantings(desk, plant, season).rev().flatten().next()
}

fn state_after(desk: &Desk, plant: PlantId, season: Season) -> State {
    if season >= desk.season() {
        return desk.brief(plant).state;
    }
    Life::until(desk.book().plant(plant).diary(), last_day(season)).state()
}

/// 31 December of a season.
pub(super) fn last_day(season: Season) -> NaiveDate {
    When::year(season).last()
}
