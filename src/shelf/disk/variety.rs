//! A variety as it lies in its file.

use serde::Deserialize;

use super::{
    super::amiss::{Amiss, Step},
    Disk,
    diary::{self, Entry, PlantDeed},
    parent::Parent,
};
use crate::book;

/// `varieties/ID.ron`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct Variety {
    format: u32,
    id: Box<str>,
    name: Box<str>,
    #[serde(default)]
    seed: Parent,
    #[serde(default)]
    pollen: Parent,
    raiser: Option<Box<str>>,
    year: Option<i16>,
    group: Option<Box<str>>,
    bloom_mm: Option<f64>,
    height_cm: Option<f64>,
    #[serde(default)]
    colours: Vec<Box<str>>,
    gives_seed: Option<bool>,
    gives_pollen: Option<bool>,
    note: Option<Box<str>>,
    #[serde(default)]
    diary: Vec<Entry<PlantDeed>>,
}

impl Disk for Variety {
    type Record = book::Variety;

    fn format(&self) -> u32 {
        self.format
    }

    fn take(self, amiss: &mut Amiss) -> book::Variety {
        book::Variety {
            id: amiss.line(Step::Field("id"), self.id),
            name: amiss.line(Step::Field("name"), self.name),
            seed: self.seed.take("seed", amiss),
            pollen: self.pollen.take("pollen", amiss),
            raiser: amiss.some_line("raiser", self.raiser),
            year: self.year,
            group: amiss.some_line("group", self.group),
            bloom_mm: amiss.some_number("bloom_mm", self.bloom_mm),
            height_cm: amiss.some_number("height_cm", self.height_cm),
            colours: amiss.lines("colours", self.colours),
            gives_seed: self.gives_seed,
            gives_pollen: self.gives_pollen,
            note: amiss.some_note("note", self.note),
            diary: diary::take(self.diary, amiss),
        }
    }
}
