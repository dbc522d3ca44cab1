//! New records: varieties, crosses, heads, packets, and plants with their numbers.

use chrono::NaiveDate;

use super::{
    super::{
        Book, Change, Cross, Entry, Head, Lot, Part, PlantDeed, Seedling, Spot, Step, Variety, When,
    },
    Entered, Refused,
    look_over::look_over,
};

/// A run of plants that get their numbers in one go.
#[derive(Debug, Clone, PartialEq)]
pub struct Numbering {
    /// The cross they are of.
    pub cross: Box<str>,
    /// The packet they came from, where known.
    pub lot: Option<Box<str>>,
    /// Their numbers.
    pub numbers: Vec<Box<str>>,
    /// When they got them.
    pub on: When,
}

fn new_part(spot: Spot, part: Part) -> Step {
    Step { spot, before: None, after: Some(part) }
}

/// A variety comes into the book.
///
/// # Errors
/// [`Refused`] where its id is taken or what is said of it cannot be.
pub fn new_variety(book: &Book, variety: Variety, today: NaiveDate) -> Result<Entered, Refused> {
    free_plant(book, &variety.id)?;
    let what = format!("Took in {}", variety.name);
    let step = new_part(Spot::Variety(variety.id.clone()), Part::Variety(Box::new(variety)));
    look_over(book, Change::new(what, vec![step]), today)
}

/// A cross is made, with whatever heads and packets it has so far.
///
/// # Errors
/// [`Refused`] where its code, the code of a packet or a number is taken, or what is said of it
/// cannot be.
pub fn new_cross(book: &Book, cross: Cross, today: NaiveDate) -> Result<Entered, Refused> {
    if cross.code.is_empty() {
        return Err(Refused::Missing("A cross needs a code."));
    }
    if book.cross_by_code(&cross.code).is_some() {
        return Err(Refused::Taken { what: "cross", key: cross.code });
    }
    let code = cross.code.clone();
    let mut steps = vec![new_part(Spot::Cross(code.clone()), Part::cover(&cross))];
    for (n, head) in cross.heads.into_iter().enumerate() {
        steps.push(new_part(Spot::Head(code.clone(), n), Part::Head(head)));
    }
    for (n, lot) in cross.lots.into_iter().enumerate() {
        free_lot(book, &lot.code)?;
        steps.push(new_part(Spot::Lot(code.clone(), n), Part::Lot(lot)));
    }
    for seedling in cross.seedlings {
        free_plant(book, seedling.key())?;
        let spot = Spot::Seedling(code.clone(), seedling.key().into());
        steps.push(new_part(spot, Part::Seedling(seedling)));
    }
    look_over(book, Change::new(format!("Made the cross {code}"), steps), today)
}

/// Another head of a cross.
///
/// # Errors
/// [`Refused`] where there is no such cross or what is said of the head cannot be.
pub fn head(book: &Book, cross: &str, head: Head, today: NaiveDate) -> Result<Entered, Refused> {
    let n = of_cross(book, cross)?.heads.len();
    let what = match &head.tag {
        Some(tag) => format!("Pollinated a head of {cross}, tag {tag}"),
        None => format!("Pollinated a head of {cross}"),
    };
    let step = new_part(Spot::Head(cross.into(), n), Part::Head(head));
    look_over(book, Change::new(what, vec![step]), today)
}

/// Another packet of a cross.
///
/// # Errors
/// [`Refused`] where there is no such cross, the code is taken, or what is said of it cannot be.
pub fn lot(book: &Book, cross: &str, lot: Lot, today: NaiveDate) -> Result<Entered, Refused> {
    if lot.code.is_empty() {
        return Err(Refused::Missing("A packet needs a code."));
    }
    free_lot(book, &lot.code)?;
    let n = of_cross(book, cross)?.lots.len();
    let what = format!("Filled the packet {}", lot.code);
    let step = new_part(Spot::Lot(cross.into(), n), Part::Lot(lot));
    look_over(book, Change::new(what, vec![step]), today)
}

/// Plants get their numbers.
///
/// # Errors
/// [`Refused`] where a number is taken, twice in the run or empty, or there is no such cross or
/// packet.
pub fn number(book: &Book, run: &Numbering, today: NaiveDate) -> Result<Entered, Refused> {
    let cross = of_cross(book, &run.cross)?;
    if run.lot.as_deref().is_some_and(|lot| cross.lot(lot).is_none()) {
        return Err(Refused::Missing("This cross has no such packet."));
    }
    let mut steps = Vec::with_capacity(run.numbers.len());
    for (n, key) in run.numbers.iter().enumerate() {
        if key.is_empty() {
            return Err(Refused::Missing("A plant needs a number."));
        }
        free_plant(book, key)?;
        if run.numbers[..n].contains(key) {
            return Err(Refused::Taken { what: "plant", key: key.clone() });
        }
        let seedling = Seedling {
            number: key.clone(),
            id: None,
            lot: run.lot.clone(),
            diary: vec![Entry { on: run.on, did: PlantDeed::Numbered }],
        };
        let spot = Spot::Seedling(run.cross.clone(), key.clone());
        steps.push(new_part(spot, Part::Seedling(seedling)));
    }
    let what = match &run.numbers[..] {
        [] => return Err(Refused::Missing("No plants were named.")),
        [one] => format!("Numbered {one} of {}", run.cross),
        [first, .., last] => {
            format!("Numbered {first} to {last} of {}, {} plants", run.cross, run.numbers.len())
        }
    };
    look_over(book, Change::new(what, steps), today)
}

/// The cross of a code.
pub(super) fn of_cross<'a>(book: &'a Book, code: &str) -> Result<&'a Cross, Refused> {
    book.cross_with(code).ok_or_else(|| Refused::Gone(Spot::Cross(code.into())))
}

fn free_plant(book: &Book, key: &str) -> Result<(), Refused> {
    if key.is_empty() {
        return Err(Refused::Missing("A plant needs a number or an id."));
    }
    match book.by_key(key) {
        Some(_) => Err(Refused::Taken { what: "plant", key: key.into() }),
        None => Ok(()),
    }
}

fn free_lot(book: &Book, code: &str) -> Result<(), Refused> {
    let is_taken = book.crosses().iter().any(|cross| cross.lot(code).is_some());
    if is_taken { Err(Refused::Taken { what: "packet", key: code.into() }) } else { Ok(()) }
}
