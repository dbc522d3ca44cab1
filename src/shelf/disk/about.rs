//! The first page of a book as it lies in its file.

use serde::Deserialize;

use super::{
    super::amiss::{Amiss, Step},
    Date, Disk,
    diary::{self, Entry, GardenDeed},
};
use crate::book;

/// `book.ron`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct About {
    format: u32,
    garden: Box<str>,
    raiser: Option<Box<str>>,
    crop: Box<str>,
    ploidy: Option<u8>,
    double_reduction: Option<f64>,
    sizes: Option<Box<str>>,
    today: Option<Date>,
    #[serde(default)]
    beds: Vec<Bed>,
    #[serde(default)]
    frosts: Vec<Frost>,
    #[serde(default)]
    aims: Vec<Aim>,
    #[serde(default)]
    patterns: Patterns,
    note: Option<Box<str>>,
    #[serde(default)]
    diary: Vec<Entry<GardenDeed>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Bed {
    name: Box<str>,
    rows: u16,
    places: u16,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Frost {
    season: i16,
    last: Option<Date>,
    first: Option<Date>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Aim {
    of: Box<str>,
    want: Want,
    #[serde(default = "one")]
    weight: f64,
}

fn one() -> f64 {
    1.0
}

#[derive(Deserialize)]
enum Want {
    More,
    Less,
    Between(f64, f64),
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Patterns {
    cross: Option<Box<str>>,
    seedling: Option<Box<str>>,
}

impl Disk for About {
    type Record = book::About;

    fn format(&self) -> u32 {
        self.format
    }

    fn take(self, amiss: &mut Amiss) -> book::About {
        book::About {
            garden: amiss.line(Step::Field("garden"), self.garden),
            raiser: amiss.some_line("raiser", self.raiser),
            crop: amiss.line(Step::Field("crop"), self.crop),
            ploidy: self.ploidy,
            double_reduction: amiss.some_number("double_reduction", self.double_reduction),
            sizes: amiss.some_line("sizes", self.sizes),
            today: self.today.and_then(|day| amiss.day("today", day)),
            beds: amiss.each("beds", self.beds, Bed::take),
            frosts: amiss.each("frosts", self.frosts, Frost::take).into_iter().flatten().collect(),
            aims: amiss.each("aims", self.aims, Aim::take).into_iter().flatten().collect(),
            patterns: amiss.at(Step::Field("patterns"), |amiss| self.patterns.take(amiss)),
            note: amiss.some_note("note", self.note),
            diary: diary::take(self.diary, amiss),
        }
    }
}

impl Bed {
    fn take(self, amiss: &mut Amiss) -> book::Bed {
        book::Bed {
            name: amiss.line(Step::Field("name"), self.name),
            rows: self.rows,
            places: self.places,
        }
    }
}

impl Frost {
    fn take(self, amiss: &mut Amiss) -> Option<book::Frost> {
        Some(book::Frost {
            season: amiss.season("season", self.season)?,
            last: self.last.and_then(|day| amiss.day("last", day)),
            first: self.first.and_then(|day| amiss.day("first", day)),
        })
    }
}

impl Aim {
    fn take(self, amiss: &mut Amiss) -> Option<book::Aim> {
        let of = amiss.line(Step::Field("of"), self.of);
        let want = amiss.at(Step::Field("want"), |amiss| match self.want {
            Want::More => Some(book::Want::More),
            Want::Less => Some(book::Want::Less),
            Want::Between(low, high) => {
                let low = amiss.number(Step::Item(0), low);
                let high = amiss.number(Step::Item(1), high);
                Some(book::Want::Between(low?, high?))
            }
        });
        let weight = amiss.number(Step::Field("weight"), self.weight);
        Some(book::Aim { of, want: want?, weight: weight? })
    }
}

impl Patterns {
    fn take(self, amiss: &mut Amiss) -> book::Patterns {
        let usual = book::Patterns::default();
        book::Patterns {
            cross: amiss.some_line("cross", self.cross).unwrap_or(usual.cross),
            seedling: amiss.some_line("seedling", self.seedling).unwrap_or(usual.seedling),
        }
    }
}
