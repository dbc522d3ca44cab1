//! Looking a change over before it is done.

use chrono::NaiveDate;

use super::{
    super::{Book, Change, Part, Place, PlantRecord, Severity, check::faults},
    Entered, Refused,
};

/// What a change would bring that was not there before.
///
/// # Errors
/// [`Refused::CannotBe`] with every new error; [`Refused::Gone`] where the book is no longer as
/// the change takes it to be.
pub fn look_over(book: &Book, change: Change, today: NaiveDate) -> Result<Entered, Refused> {
    let before = around(book, &change);
    let mut after = before.clone();
    after.apply(&change).map_err(|stale| Refused::Gone(stale.spot))?;
    // Whoever stands outside the part looked at is known all the same.
    let is_elsewhere = |key: &str| book.by_key(key).is_some();
    let mut old: Vec<(Place, Box<str>)> = faults(&before, today, is_elsewhere)
        .into_iter()
        .map(|fault| (whole(fault.at), fault.message.into()))
        .collect();
    let mut wrong = Vec::new();
    let mut doubts = Vec::new();
    for fault in faults(&after, today, is_elsewhere) {
        let place = whole(fault.at.clone());
        let known = old.iter().position(|(at, said)| *at == place && **said == *fault.message);
        match (known, fault.severity) {
            (Some(n), _) => drop(old.swap_remove(n)),
            (None, Severity::Error) => wrong.push(fault),
            (None, Severity::Warning) => doubts.push(fault),
        }
    }
    if wrong.is_empty() { Ok(Entered { change, doubts }) } else { Err(Refused::CannotBe(wrong)) }
}

/// A book of the records that a change touches and of their parents, so that looking it over
/// costs the same however large the book is.
fn around(book: &Book, change: &Change) -> Book {
    let (mut varieties, mut crosses) = book.touched(change);
    let new = change.steps.iter().filter_map(|step| match &step.after {
        Some(Part::Cross(cross)) => Some(&**cross),
        _ => None,
    });
    let parents: Vec<&str> = crosses
        .iter()
        .copied()
        .chain(new)
        .flat_map(|cross| cross.seed.candidates().chain(cross.pollen_parent().candidates()))
        .map(|(key, _)| key)
        .collect();
    for plant in parents.into_iter().filter_map(|key| book.by_key(key)) {
        match book.plant(plant) {
            PlantRecord::Variety(variety) => varieties.push(variety),
            PlantRecord::Seedling(cross, _) => crosses.push(cross),
        }
    }
    book.excerpt(varieties, crosses)
}

/// A place without its entry: an entry put in before it moves the others on.
fn whole(place: Place) -> Place {
    match place {
        Place::Variety(id, _) => Place::Variety(id, None),
        Place::Head(cross, n, _) => Place::Head(cross, n, None),
        Place::Lot(cross, n, _) => Place::Lot(cross, n, None),
        // A seedling put in before it moves the others on too.
        Place::Seedling(cross, _, _) => Place::Cross(cross),
        Place::Field(of, name) => Place::Field(Box::new(whole(*of)), name),
        Place::Item(of, name, n) => Place::Item(Box::new(whole(*of)), name, n),
        Place::About | Place::Cross(_) => place,
    }
}
