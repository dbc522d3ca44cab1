//! Runs of plants: numbered in one go, and planted along the rows in one go.

use super::{
    Field, Kind, Unfit,
    filled::{Sheet, place},
    only,
};
use crate::book::{
    Book, Change, Codes, Cross, Entry, Fault, Life, Part, Place, PlantDeed, PlantRecord, Position,
    Season, Seedling, Severity, Spot, State, Step,
    enter::{self, Entered, Numbering, Refused},
    fold,
};

const HOW_MANY: Field = Field::must("plants", Kind::Count, "how many plants get a number").behind();
const FIRST: Field = Field::may("first", Kind::Text, "the first number; the others go on from it");

pub(super) const NUMBER_FIELDS: [Field; 3] = [
    HOW_MANY,
    FIRST,
    Field::may("at", Kind::Place, "if planted out at once: where the first one stands"),
];

pub(super) const NUMBER_FIELDS_OF_CROSS: [Field; 4] = [
    HOW_MANY,
    FIRST,
    Field::may("packet", Kind::Packet, "the packet they came from"),
    Field::may("at", Kind::Place, "if planted out at once: where the first one stands"),
];

pub(super) const PLANT_OUT_FIELDS: [Field; 3] = [
    Field::must("at", Kind::Place, "where the first one stands; the others follow along the row")
        .behind(),
    Field::may("plants", Kind::Count, "how many; empty is all that are still in their pots"),
    Field::may("first", Kind::Text, "the first number; empty is the first still in its pot"),
];

/// The most plants numbered or planted in one go: more is a slip of the finger.
const MOST: usize = 2000;

/// Gives plants their numbers and, if a place is named, plants them out from there.
pub(super) fn number(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let spot = only(sheet)?;
    let cross = cross_at(sheet, spot)?;
    let lot = match spot {
        Spot::Lot(_, n) => cross.lots.get(*n).map(|lot| lot.code.clone()),
        _ => sheet.text("packet"),
    };
    let n: usize = sheet.needed_count("plants")?;
    if n == 0 || n > MOST {
        let hint = format!("Write a number from 1 to {MOST}.");
        return Err(Sheet::unfit(
            "plants",
            format!("{n} plants cannot be numbered at once."),
            hint,
        ));
    }
    let on = sheet.filled.on;
    let numbers = numbers(sheet.book, on.season(), sheet.get("first"), n);
    let run = Numbering { cross: cross.code.clone(), lot, numbers, on };
    let entered = enter::number(sheet.book, &run, sheet.today)?;
    let Some(from) = sheet.place("at")? else { return Ok(entered) };
    let places = places(sheet.book, &from, n)?;
    let odd = crowded(sheet, &places);
    let mut change = entered.change;
    for (step, place) in change.steps.iter_mut().zip(places) {
        if let Some(Part::Seedling(seedling)) = &mut step.after {
            seedling.diary.push(Entry { on, did: PlantDeed::Planted(Some(place)) });
        }
    }
    let what = format!("{}, planted from {from}", change.what);
    let mut entered = enter::look_over(sheet.book, Change::new(what, change.steps), sheet.today)?;
    entered.doubts.extend(odd);
    Ok(entered)
}

/// Plants out along the rows what is still in its pots.
pub(super) fn plant_out(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let cross = cross_at(sheet, only(sheet)?)?;
    let from = place("at", sheet.needed("at")?)?;
    let first = sheet.get("first").map(fold);
    let in_pots = cross.seedlings.iter().filter(|s| Life::of(&s.diary).state() == State::Potted);
    let run = in_pots.skip_while(|s| first.as_ref().is_some_and(|f| fold(&s.number) != *f));
    let n = sheet.count("plants")?.unwrap_or(MOST).min(MOST);
    let run: Vec<&Seedling> = run.take(n).collect();
    let (Some(first), Some(last)) = (run.first(), run.last()) else {
        return Err(Refused::Missing("No plant of this cross waits in its pot.").into());
    };
    let on = sheet.filled.on;
    let places = places(sheet.book, &from, run.len())?;
    let odd = crowded(sheet, &places);
    let steps = run.iter().zip(places).map(|(seedling, place)| {
        let mut after = (*seedling).clone();
        after.diary.push(Entry { on, did: PlantDeed::Planted(Some(place)) });
        after.diary.sort_by_key(|entry| entry.on.first());
        Step {
            spot: Spot::Seedling(cross.code.clone(), seedling.key().into()),
            before: Some(Part::Seedling((*seedling).clone())),
            after: Some(Part::Seedling(after)),
        }
    });
    let what = format!(
        "Planted {} to {} of {} from {from}, {} plants",
        first.number,
        last.number,
        cross.code,
        run.len()
    );
    let change = Change::new(what, steps.collect());
    let mut entered = enter::look_over(sheet.book, change, sheet.today)?;
    entered.doubts.extend(odd);
    Ok(entered)
}

/// Who stands already, in the season of a form, at one of these places.
pub(super) fn crowded(sheet: &Sheet<'_>, places: &[Position]) -> Vec<Fault> {
    let season = sheet.filled.on.season();
    let is_meant = |key: &str| {
        sheet.spots.iter().any(|spot| match spot {
            Spot::Seedling(_, meant) | Spot::Variety(meant) => **meant == *key,
            _ => false,
        })
    };
    let each = sheet.book.plants().filter_map(|id| {
        let plant = sheet.book.plant(id);
        let life = Life::of(plant.diary());
        let position = life.position.filter(|at| places.contains(at))?;
        let is_there = life.planted_last.is_some_and(|on| on.season() == season) && life.is_alive();
        (is_there && !is_meant(plant.key())).then(|| Fault {
            at: match plant {
                PlantRecord::Variety(variety) => Place::Variety(variety.id.clone(), None),
                PlantRecord::Seedling(cross, _) => Place::Cross(cross.code.clone()),
            },
            severity: Severity::Warning,
            message: format!("{} stands at {position} already.", plant.label()),
            hint: "Look whether one of the two stands elsewhere.".to_owned(),
        })
    });
    each.collect()
}

/// The cross of a spot.
pub(super) fn cross_at<'b>(sheet: &Sheet<'b>, spot: &Spot) -> Result<&'b Cross, Unfit> {
    let cross = spot.cross().and_then(|code| sheet.book.cross_with(code));
    cross.ok_or_else(|| Refused::Gone(spot.clone()).into())
}

/// So many numbers, from the one named or else the next of the book's pattern.
pub(super) fn numbers(book: &Book, season: Season, first: Option<&str>, n: usize) -> Vec<Box<str>> {
    match first {
        None => {
            let taken = book.plants().map(|id| book.plant(id));
            let taken = taken.flat_map(|p| [Some(p.key()), p.number()]).flatten();
            let mut codes =
                Codes::new(&book.about().patterns.seedling, taken.map(Into::into).collect());
            (0..n).map(|_| codes.take(Some(season))).collect()
        }
        Some(first) => {
            // The digits at its end go on; a number without any is taken as it stands.
            let stem = first.trim_end_matches(|c: char| c.is_ascii_digit());
            let digits = first.strip_prefix(stem).unwrap_or_default();
            let Ok(from) = digits.parse::<u64>() else { return vec![first.into(); n] };
            let wide = digits.len();
            let each = (from..).take(n);
            each.map(|i| format!("{stem}{i:0wide$}").into()).collect()
        }
    }
}

/// So many places from one on: along its row, then along the rows after it.
fn places(book: &Book, from: &Position, n: usize) -> Result<Vec<Position>, Unfit> {
    let bed = book.about().beds.iter().find(|bed| bed.name == from.bed);
    let (rows, wide) = bed.map_or((u16::MAX, u16::MAX), |bed| (bed.rows, bed.places));
    let mut place = from.clone();
    let mut all = Vec::with_capacity(n);
    while all.len() < n {
        if place.place > wide {
            place = Position { row: place.row.saturating_add(1), place: 1, ..place };
        }
        if place.row > rows || place.row == u16::MAX {
            return Err(Sheet::unfit(
                "at",
                format!("From {from} on, the bed has room for {} of the {n} plants.", all.len()),
                "Begin further up, take fewer, or make the bed larger in book.ron.",
            ));
        }
        all.push(place.clone());
        place.place = place.place.saturating_add(1);
    }
    Ok(all)
}
