//! Finding out which plants the rows are about, and which of them are one.
//!
//! A name that stands both as a variety and as a seedling is one plant: the seedling.

use super::{
    column::Column,
    faults::{At, Faults},
    gather::Gathered,
    kin::nobody_certain,
    names::{Looked, Names, Sort, Who},
    value::shown,
};
use crate::book::{Book, fold};

/// The plants of the rows, in the order of [`Gathered`]; none where a row means nobody in
/// particular.
#[derive(Debug, Default)]
pub(super) struct Enrolled {
    pub(super) seedlings: Vec<Option<Who>>,
    pub(super) varieties: Vec<Option<Who>>,
}

/// Enters all plants of the rows among the names.
pub(super) fn enrol(
    book: &Book,
    gathered: &Gathered<'_, '_>,
    names: &mut Names<'_>,
    faults: &mut Faults<'_>,
) -> Enrolled {
    let mut seedlings = Vec::with_capacity(gathered.seedlings.len());
    for told in &gathered.seedlings {
        let number = told.text(Column::Seedling).unwrap_or_default();
        seedlings.push(seedling(number, told.at(Column::Seedling), names, faults));
    }
    for (told, who) in gathered.seedlings.iter().zip(&seedlings) {
        let Some(who) = *who else { continue };
        let number = told.text(Column::Seedling).unwrap_or_default();
        claim(number, who, told.at(Column::Seedling), book, names, faults);
        if let Some(name) = told.text(Column::Name) {
            claim(name, who, told.at(Column::Name), book, names, faults);
            names.answer(who, name);
        }
    }
    let mut varieties = Vec::with_capacity(gathered.varieties.len());
    for told in &gathered.varieties {
        let name = told.text(Column::Variety).unwrap_or_default();
        varieties.push(match names.look_up(name) {
            Looked::One(who) => Some(who),
            Looked::Nobody => Some(names.add_variety(name)),
            other => {
                nobody_certain(name, &other, told.at(Column::Variety), names, faults);
                None
            }
        });
    }
    Enrolled { seedlings, varieties }
}

/// The seedling that bears a number or name, of the book or new.
fn seedling(number: &str, at: At, names: &mut Names<'_>, faults: &mut Faults<'_>) -> Option<Who> {
    let bearers = match names.look_up(number) {
        Looked::One(who) => vec![who],
        Looked::Several(all) => all,
        Looked::Nobody => Vec::new(),
        Looked::NoSuchKey => {
            nobody_certain(number, &Looked::NoSuchKey, at, names, faults);
            return None;
        }
    };
    let seedlings: Vec<Who> =
        bearers.into_iter().filter(|&who| names.sort(who) == Sort::OldSeedling).collect();
    match seedlings[..] {
        [] => Some(names.add_seedling(number)),
        [only] => Some(only),
        _ => {
            nobody_certain(number, &Looked::Several(seedlings), at, names, faults);
            None
        }
    }
}

/// Makes a variety of the book that bears the number or name of a seedling one plant with it.
fn claim(
    word: &str,
    who: Who,
    at: At,
    book: &Book,
    names: &mut Names<'_>,
    faults: &mut Faults<'_>,
) {
    for other in names.bearers(word) {
        let is_named = book.varieties().get(other.0).is_some_and(|v| fold(&v.name) == fold(word));
        let real = names.really(other);
        match names.sort(real) {
            _ if real == who => {}
            Sort::OldVariety if is_named => names.merge(real, who),
            // A variety whose key alone is like the word is another plant.
            Sort::OldVariety if real == other => {}
            _ => faults.add(
                at,
                format!("{} is the number or name of another seedling.", shown(word)),
                "Give one of the two another name.",
            ),
        }
    }
}
