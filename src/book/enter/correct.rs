//! Mix-ups put right: a plant that belongs to another family, two numbers that are one plant.

use chrono::NaiveDate;

use super::{
    super::{Book, Change, Entry, Parent, Part, PlantDeed, Pollen, Seedling, Spot, Step, When},
    Entered, Refused,
    family::of_cross,
    look_over::look_over,
};

/// Moves a seedling to the cross it turned out to be of; its diary says so.
///
/// # Errors
/// [`Refused`] where either is not there, or the plant's diary cannot be true of that cross.
pub fn move_to(
    book: &Book,
    plant: &Spot,
    (cross, lot): (&str, Option<&str>),
    (on, why): (When, Option<&str>),
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let (from, before) = seedling(book, plant)?;
    let to = of_cross(book, cross)?;
    if lot.is_some_and(|lot| to.lot(lot).is_none()) {
        return Err(Refused::Missing("This cross has no such packet."));
    }
    if *from == *cross {
        return Err(Refused::Missing("It is of this cross already."));
    }
    let mut after = before.clone();
    after.lot = lot.map(Into::into);
    let did = PlantDeed::MovedFrom { cross: from.clone(), why: why.map(Into::into) };
    after.diary.push(Entry { on, did });
    // The latest word on a day stands last, and the dates stay in order.
    after.diary.sort_by_key(|entry| entry.on.first());
    let spot = Spot::Seedling(cross.into(), after.key().into());
    let what = format!("Moved {} from {from} to {cross}", before.number);
    let steps = vec![
        Step { spot: plant.clone(), before: Some(Part::Seedling(before)), after: None },
        Step { spot, before: None, after: Some(Part::Seedling(after)) },
    ];
    look_over(book, Change::new(what, steps), today)
}

/// Joins two numbers found to be one plant. What stands in the diary of the second goes into that
/// of the first, and whoever has the second for a parent has the first from then on.
///
/// # Errors
/// [`Refused`] where either is no seedling of this book, or what is told of the two cannot be
/// true of one plant.
pub fn join(
    book: &Book,
    (stays, goes): (&Spot, &Spot),
    on: When,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    if stays == goes {
        return Err(Refused::Missing("These are one plant already."));
    }
    let (_, first) = seedling(book, stays)?;
    let (_, second) = seedling(book, goes)?;
    let mut joined = first.clone();
    joined.lot = joined.lot.or_else(|| second.lot.clone());
    joined.diary.extend(second.diary.iter().cloned());
    joined.diary.sort_by_key(|entry| entry.on.first());
    drop_echoes(&mut joined.diary);
    let note = format!("also bore the number {}", second.number);
    joined.diary.push(Entry { on, did: PlantDeed::Note(note.into()) });
    let (kept, gone) = (first.key().to_owned(), second.key().to_owned());
    let what = format!("Joined {} to {}: one plant", second.number, first.number);
    let mut steps = vec![
        Step { spot: goes.clone(), before: Some(Part::Seedling(second)), after: None },
        Step {
            spot: stays.clone(),
            before: Some(Part::Seedling(first)),
            after: Some(Part::Seedling(joined)),
        },
    ];
    steps.extend(renamed(book, &gone, &kept));
    look_over(book, Change::new(what, steps), today)
}

fn seedling(book: &Book, spot: &Spot) -> Result<(Box<str>, Seedling), Refused> {
    match (spot, book.part(spot)) {
        (Spot::Seedling(cross, _), Some(Part::Seedling(seedling))) => Ok((cross.clone(), seedling)),
        (Spot::Seedling(..), _) => Err(Refused::Gone(spot.clone())),
        _ => Err(Refused::Missing("Only a seedling can be moved or joined.")),
    }
}

/// Takes out what was told of both: one first bloom, one numbering, and entries that are the same.
fn drop_echoes(diary: &mut Vec<Entry<PlantDeed>>) {
    let mut kept: Vec<Entry<PlantDeed>> = Vec::with_capacity(diary.len());
    for entry in diary.drain(..) {
        let happens_once = matches!(entry.did, PlantDeed::FirstBloom | PlantDeed::Numbered);
        let is_echo = kept
            .iter()
            .any(|other| other.did == entry.did && (happens_once || other.on == entry.on));
        if !is_echo {
            kept.push(entry);
        }
    }
    *diary = kept;
}

/// The steps by which whoever has one key for a parent has another.
fn renamed(book: &Book, old: &str, new: &str) -> Vec<Step> {
    let mut steps = Vec::new();
    for cross in book.crosses() {
        let mut cover = Part::cover(cross);
        let Part::Cross(after) = &mut cover else { continue };
        let mut is_parent = rename(&mut after.seed, old, new);
        if let Pollen::From(parent) = &mut after.pollen {
            is_parent |= rename(parent, old, new);
        }
        if is_parent {
            let spot = Spot::Cross(cross.code.clone());
            steps.push(Step { spot, before: Some(Part::cover(cross)), after: Some(cover) });
        }
    }
    for variety in book.varieties() {
        let mut after = variety.clone();
        if rename(&mut after.seed, old, new) | rename(&mut after.pollen, old, new) {
            steps.push(Step {
                spot: Spot::Variety(variety.id.clone()),
                before: Some(Part::Variety(Box::new(variety.clone()))),
                after: Some(Part::Variety(Box::new(after))),
            });
        }
    }
    steps
}

fn rename(parent: &mut Parent, old: &str, new: &str) -> bool {
    match parent {
        Parent::Known(key) if **key == *old => {
            *key = new.into();
            true
        }
        Parent::OneOf(candidates) => {
            let mut is_parent = false;
            for candidate in candidates.iter_mut().filter(|candidate| *candidate.key == *old) {
                candidate.key = new.into();
                is_parent = true;
            }
            is_parent
        }
        _ => false,
    }
}
