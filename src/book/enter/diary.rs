//! Entries in diaries: written, amended, struck out.

use chrono::NaiveDate;

use super::{
    super::{
        Book, Change, Entry, HeadDeed, LotDeed, Part, PlantDeed, PlantId, PlantRecord, Spot, Step,
        When,
    },
    Entered, Refused,
    look_over::look_over,
};

/// Deeds of one kind, and the part of the book in whose diary they stand.
pub trait Diarist: Clone + PartialEq + Sized {
    /// The diary of a part that has one of this kind.
    fn diary(part: &mut Part) -> Option<&mut Vec<Entry<Self>>>;
}

impl Diarist for PlantDeed {
    fn diary(part: &mut Part) -> Option<&mut Vec<Entry<Self>>> {
        match part {
            Part::Variety(variety) => Some(&mut variety.diary),
            Part::Seedling(seedling) => Some(&mut seedling.diary),
            _ => None,
        }
    }
}

impl Diarist for HeadDeed {
    fn diary(part: &mut Part) -> Option<&mut Vec<Entry<Self>>> {
        match part {
            Part::Head(head) => Some(&mut head.diary),
            _ => None,
        }
    }
}

impl Diarist for LotDeed {
    fn diary(part: &mut Part) -> Option<&mut Vec<Entry<Self>>> {
        match part {
            Part::Lot(lot) => Some(&mut lot.diary),
            _ => None,
        }
    }
}

impl Book {
    /// Where a plant's record stands.
    pub fn spot_of(&self, plant: PlantId) -> Spot {
        match self.plant(plant) {
            PlantRecord::Variety(variety) => Spot::Variety(variety.id.clone()),
            PlantRecord::Seedling(cross, seedling) => {
                Spot::Seedling(cross.code.clone(), seedling.key().into())
            }
        }
    }
}

/// Writes an entry into the diary of each of these parts: after everything that happened on the
/// same day or before. `what` describes it in the history.
///
/// # Errors
/// [`Refused`] where the entry cannot be true of one of them; then none is written.
pub fn note<D: Diarist>(
    book: &Book,
    spots: &[Spot],
    entry: &Entry<D>,
    what: &str,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let write = |diary: &mut Vec<Entry<D>>| {
        let n = place_for(diary, entry.on);
        diary.insert(n, entry.clone());
        true
    };
    enter(book, spots, write, what, today)
}

/// Puts another entry in the place of the `n`th, counted from 0, and moves it to where its date
/// belongs.
///
/// # Errors
/// As [`note`].
pub fn amend<D: Diarist>(
    book: &Book,
    spot: &Spot,
    n: usize,
    entry: &Entry<D>,
    what: &str,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let write = |diary: &mut Vec<Entry<D>>| {
        if n >= diary.len() {
            return false;
        }
        if diary[n].on == entry.on {
            diary[n] = entry.clone();
            return true;
        }
        diary.remove(n);
        let place = place_for(diary, entry.on);
        diary.insert(place, entry.clone());
        true
    };
    enter(book, std::slice::from_ref(spot), write, what, today)
}

/// Takes the `n`th entry out, counted from 0.
///
/// # Errors
/// As [`note`].
pub fn strike<D: Diarist>(
    book: &Book,
    spot: &Spot,
    n: usize,
    what: &str,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let write = |diary: &mut Vec<Entry<D>>| {
        let is_there = n < diary.len();
        if is_there {
            diary.remove(n);
        }
        is_there
    };
    enter(book, std::slice::from_ref(spot), write, what, today)
}

/// Writes several entries into one diary in one go: each in the place of the one with its number,
/// or as a new one.
///
/// # Errors
/// As [`note`].
pub fn several<D: Diarist>(
    book: &Book,
    spot: &Spot,
    entries: &[(Option<usize>, Entry<D>)],
    what: &str,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let write = |diary: &mut Vec<Entry<D>>| {
        // Those that stand are replaced first: new ones move the others on.
        for (n, entry) in entries {
            match *n {
                Some(n) if n < diary.len() => diary[n] = entry.clone(),
                Some(_) => return false,
                None => {}
            }
        }
        for (_, entry) in entries.iter().filter(|(n, _)| n.is_none()) {
            let place = place_for(diary, entry.on);
            diary.insert(place, entry.clone());
        }
        true
    };
    enter(book, std::slice::from_ref(spot), write, what, today)
}

fn enter<D: Diarist>(
    book: &Book,
    spots: &[Spot],
    write: impl Fn(&mut Vec<Entry<D>>) -> bool,
    what: &str,
    today: NaiveDate,
) -> Result<Entered, Refused> {
    let mut steps = Vec::with_capacity(spots.len());
    for spot in spots {
        let gone = || Refused::Gone(spot.clone());
        let before = book.part(spot).ok_or_else(gone)?;
        let mut after = before.clone();
        let written = D::diary(&mut after).is_some_and(&write);
        if !written {
            return Err(gone());
        }
        steps.push(Step { spot: spot.clone(), before: Some(before), after: Some(after) });
    }
    look_over(book, Change::new(what, steps), today)
}

/// Where an entry of a date goes: after all that may have happened before it or on the same day.
fn place_for<D>(diary: &[Entry<D>], on: When) -> usize {
    diary.iter().rposition(|entry| !on.surely_before(entry.on)).map_or(0, |n| n + 1)
}
