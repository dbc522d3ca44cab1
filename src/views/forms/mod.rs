//! Forms: everything that can be written down, each with its word and its fields.
//!
//! Shell and screen both ask what stands in [`FORMS`], and both hand what was filled in to
//! [`Form::enter`], so that neither can record what the other cannot.

mod family;
mod fields;
mod filled;
mod garden;
mod heads;
mod likely;
mod packets;
mod parents;
mod plants;
mod propose;
mod run;

use chrono::NaiveDate;

use crate::book::{
    Book, Entry, Spot,
    enter::{self, Diarist, Entered, Refused},
};

use super::words;

pub use fields::{Field, Kind, List};
pub use filled::{Filled, Unfit, when};
pub use likely::likely;
pub use propose::{choices, propose};

use filled::Sheet;

/// What a form is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Of {
    /// A plant.
    Plant,
    /// A head, or several of one cross.
    Head,
    /// A packet.
    Packet,
    /// A cross.
    Cross,
    /// The garden and the book as a whole.
    Garden,
}

impl Of {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Plant, Self::Head, Self::Packet, Self::Cross, Self::Garden];

    /// What it is called, as in "a deed of a plant".
    pub fn name(self) -> &'static str {
        match self {
            Self::Plant => "a plant",
            Self::Head => "a head",
            Self::Packet => "a packet",
            Self::Cross => "a cross",
            Self::Garden => "the garden",
        }
    }

    /// What stands at a spot.
    pub fn at(spot: &Spot) -> Self {
        match spot {
            Spot::About => Self::Garden,
            Spot::Variety(_) | Spot::Seedling(..) => Self::Plant,
            Spot::Cross(_) => Self::Cross,
            Spot::Head(..) => Self::Head,
            Spot::Lot(..) => Self::Packet,
        }
    }
}

/// Something that can be written down.
#[derive(Debug)]
pub struct Form {
    /// What it is about.
    pub of: Of,
    /// Its word: small letters and hyphens.
    pub word: &'static str,
    /// What it says of the thing, in a few words.
    pub says: &'static str,
    /// Its fields besides the date, in the order in which they are asked for.
    pub fields: &'static [Field],
    make: Make,
}

type Work = fn(&Sheet<'_>) -> Result<Entered, Unfit>;

/// What comes of a form.
#[derive(Debug, Clone, Copy)]
enum Make {
    /// The same entry in the diary of each thing.
    Entry(Work),
    /// A change of its own.
    Own(Work),
}

/// Every form, group by group.
pub const FORMS: [&[Form]; 5] =
    [plants::FORMS, heads::FORMS, packets::FORMS, family::FORMS, garden::FORMS];

/// The forms about one sort of thing.
pub fn of(what: Of) -> impl Iterator<Item = &'static Form> {
    FORMS.into_iter().flatten().filter(move |form| form.of == what)
}

/// The form of a word.
pub fn named(what: Of, word: &str) -> Option<&'static Form> {
    of(what).find(|form| form.word == word)
}

impl Form {
    /// What comes of it, filled in for these things, ready to be done.
    ///
    /// # Errors
    /// [`Unfit`] where a field cannot be read, or what it says cannot be.
    pub fn enter(
        &self,
        book: &Book,
        spots: &[Spot],
        filled: &Filled,
        today: NaiveDate,
    ) -> Result<Entered, Unfit> {
        let sheet = Sheet { form: self, book, spots, filled, today };
        match self.make {
            Make::Entry(work) | Make::Own(work) => work(&sheet),
        }
    }

    /// Whether it can be filled in for several things at once.
    pub fn is_for_several(&self) -> bool {
        matches!(self.make, Make::Entry(_))
    }

    /// What is to be taken care of with it.
    pub fn cautions<'b>(&self, book: &'b Book) -> impl Iterator<Item = &'b str> {
        let word = self.word;
        let all = book.crop().cautions.iter();
        all.filter(move |caution| caution.at.iter().any(|at| **at == *word)).map(|c| &*c.says)
    }
}

/// What a thing is called.
pub fn name(book: &Book, spot: &Spot) -> String {
    match spot {
        Spot::About => "the garden".to_owned(),
        Spot::Variety(key) | Spot::Seedling(_, key) => match book.by_key(key) {
            Some(plant) => words::plant(book, plant).into_owned(),
            None => key.to_string(),
        },
        Spot::Cross(code) => code.to_string(),
        Spot::Head(code, n) => format!("{code}, {}", head(book, code, *n)),
        Spot::Lot(code, n) => match book.cross_with(code).and_then(|cross| cross.lots.get(*n)) {
            Some(lot) => lot.code.to_string(),
            None => code.to_string(),
        },
    }
}

/// What a head is called beside the code of its cross: by its tag, or by its place.
pub fn head(book: &Book, code: &str, n: usize) -> String {
    match book.cross_with(code).and_then(|cross| cross.heads.get(n)?.tag.as_deref()) {
        Some(tag) => format!("head {tag}"),
        None => format!("head {}", n + 1),
    }
}

/// What several things are called together.
fn names(book: &Book, spots: &[Spot]) -> String {
    match spots {
        [Spot::Head(code, n), rest @ ..] if !rest.is_empty() => {
            let others = rest.iter().map(|spot| match spot {
                Spot::Head(code, n) => head(book, code, *n),
                other => name(book, other),
            });
            let all: Vec<String> = [head(book, code, *n)].into_iter().chain(others).collect();
            format!("{code}, {}", all.join(", "))
        }
        spots => spots.iter().map(|spot| name(book, spot)).collect::<Vec<_>>().join(", "),
    }
}

/// Writes an entry into the diary of each thing of a form.
fn note<D: Diarist>(sheet: &Sheet<'_>, did: D, said: &str) -> Result<Entered, Unfit> {
    let Sheet { book, spots, filled, today, .. } = *sheet;
    let what = format!("{}: {said}, {}", names(book, spots), words::day(filled.on));
    let entry = Entry { on: filled.on, did };
    Ok(enter::note(book, spots, &entry, &what, today)?)
}

/// The one thing that a form is about.
fn only<'s>(sheet: &Sheet<'s>) -> Result<&'s Spot, Unfit> {
    match sheet.spots {
        [spot] => Ok(spot),
        _ => Err(Refused::Missing("This is written down for one thing at a time.").into()),
    }
}
