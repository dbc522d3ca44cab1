//! Taking one more entry into a plant's diary: as something known, as more, or as a clash.

use super::{
    compare::{Came, Clash, Compare},
    faults::At,
    look,
};
use crate::book::{Entry, PlantDeed, Verdict, When, fold};

/// An entry that a row tells of.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Deed {
    pub(super) on: When,
    /// Whether the date is not the row's own but taken from something else in it.
    pub(super) assumed: bool,
    pub(super) did: PlantDeed,
    pub(super) at: At,
}

/// Stands for the reason of a loss where none was given: the diary wants one.
pub(super) const NO_REASON: &str = "no reason given";

/// How a told entry stands to one of the diary.
enum Fit {
    /// They are about different things.
    Apart,
    /// The diary's entry, perhaps with more in it.
    Same(Box<Entry<PlantDeed>>),
    /// They cannot both be right.
    Clash(Clash),
}

/// Takes a told entry into a diary. An entry that says the same is left, or filled; otherwise a
/// new one goes where its date puts it.
pub(super) fn enter(diary: &mut Vec<Entry<PlantDeed>>, deed: &Deed) -> Result<Came, Clash> {
    let mut clash = None;
    let mut filled = None;
    for (n, entry) in diary.iter().enumerate() {
        match fit(entry, deed) {
            Fit::Apart => {}
            Fit::Same(with) if *with == *entry => return Ok(Came::Same),
            Fit::Same(with) => {
                filled.get_or_insert((n, with));
            }
            Fit::Clash(found) => {
                clash.get_or_insert(found);
            }
        }
    }
    if let Some((n, with)) = filled {
        if diary[n].on == with.on {
            diary[n] = *with;
        } else {
            diary.remove(n);
            insert(diary, *with);
        }
    } else if let Some(clash) = clash {
        return Err(clash);
    } else {
        insert(diary, Entry { on: deed.on, did: deed.did.clone() });
    }
    Ok(Came::More)
}

/// Puts an entry after all that may have happened before it.
fn insert(diary: &mut Vec<Entry<PlantDeed>>, entry: Entry<PlantDeed>) {
    let after = diary.iter().rposition(|other| !entry.on.surely_before(other.on));
    diary.insert(after.map_or(0, |n| n + 1), entry);
}

/// Whether both may be dates of the same event.
fn overlap(a: When, b: When) -> bool {
    !a.surely_before(b) && !b.surely_before(a)
}

/// The date of the diary, or the told one where that is finer and of the same event.
fn finer(known: When, deed: &Deed) -> When {
    let inside = deed.on.first() >= known.first() && deed.on.last() <= known.last();
    if inside && !deed.assumed { deed.on } else { known }
}

fn fit(entry: &Entry<PlantDeed>, deed: &Deed) -> Fit {
    use PlantDeed as D;
    let near = overlap(entry.on, deed.on);
    let in_season = entry.on.season() == deed.on.season();
    let on = finer(entry.on, deed);
    let same = |did: D| Fit::Same(Box::new(Entry { on, did }));
    let dates_differ = |what: &str| Fit::Clash(clash(what, &entry.on, &deed.on));
    match (&entry.did, &deed.did) {
        (D::Planted(known), D::Planted(told)) => {
            if !(near || deed.assumed) {
                return if in_season { dates_differ("planted") } else { Fit::Apart };
            }
            match (known, told) {
                (Some(a), Some(b)) if a != b => Fit::Clash(clash("position", a, b)),
                _ => same(D::Planted(known.clone().or_else(|| told.clone()))),
            }
        }
        (D::SeenUnbloomed, D::SeenUnbloomed) if near => same(D::SeenUnbloomed),
        (D::FirstBloom, D::FirstBloom) if near => same(D::FirstBloom),
        (D::FirstBloom, D::FirstBloom) => dates_differ("first_bloom"),
        (D::Look(known), D::Look(told))
            if is_same_person(known.who.as_deref(), told.who.as_deref()) =>
        {
            let mut filled = known.clone();
            let compare = look::compare(&mut filled, told);
            if near {
                settle(compare, || same(D::Look(filled)))
            } else if deed.assumed && compare.done() == Ok(Came::Same) {
                Fit::Same(Box::new(entry.clone()))
            } else {
                Fit::Apart
            }
        }
        (D::Verdict { is, why, who: by }, D::Verdict { is: told, why: told_why, who: told_by }) => {
            // A date that is only assumed may be another one the next time.
            let one_word = near || (deed.assumed && (in_season || is == told));
            if !one_word || !is_same_person(by.as_deref(), told_by.as_deref()) {
                return Fit::Apart;
            }
            let mut why = why.clone();
            let mut compare = Compare::default();
            if is != told {
                compare.clash("verdict", word(*is, entry.on), word(*told, deed.on));
            }
            compare.text("why", &mut why, told_why.as_deref());
            settle(compare, || same(D::Verdict { is: *is, why, who: by.clone() }))
        }
        (D::Lost(known), D::Lost(told)) => {
            if !(near || deed.assumed) {
                return dates_differ("lost_on");
            }
            let mut why = Some(known.clone()).filter(|why| **why != *NO_REASON);
            let told = Some(&**told).filter(|why| *why != NO_REASON);
            let mut compare = Compare::default();
            compare.text("lost_why", &mut why, told);
            settle(compare, || same(D::Lost(why.unwrap_or_else(|| NO_REASON.into()))))
        }
        (D::Named(known), D::Named(told)) if fold(known) == fold(told) => same(entry.did.clone()),
        (D::Named(known), D::Named(told)) => Fit::Clash(clash("name", known, told)),
        // A look may hold the remark already.
        (D::Look(known), D::Note(told))
            if known.note.as_ref().is_some_and(|note| fold(note) == fold(told)) =>
        {
            Fit::Same(Box::new(entry.clone()))
        }
        (D::Note(known), D::Note(told)) if fold(known) == fold(told) => same(entry.did.clone()),
        _ => Fit::Apart,
    }
}

/// Whether both looked, or both did not say who did.
fn is_same_person(a: Option<&str>, b: Option<&str>) -> bool {
    a.map(fold) == b.map(fold)
}

fn word(is: Verdict, on: When) -> String {
    format!("{} on {on}", is.word())
}

fn clash(what: &str, known: &impl ToString, told: &impl ToString) -> Clash {
    Clash { what: what.to_owned(), known: known.to_string(), told: told.to_string() }
}

fn settle(compare: Compare, same: impl FnOnce() -> Fit) -> Fit {
    match compare.done() {
        Ok(_) => same(),
        Err(clash) => Fit::Clash(clash),
    }
}
