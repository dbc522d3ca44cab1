//! A cross as it lies in its file, with all that came of it.

use serde::Deserialize;

use super::{
    super::amiss::{Amiss, Step},
    Disk,
    diary::{self, Entry, HeadDeed, LotDeed, PlantDeed},
    parent::{Parent, Pollen},
};
use crate::book;

/// `crosses/SEASON/CODE.ron`.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct Cross {
    format: u32,
    code: Box<str>,
    season: Option<i16>,
    #[serde(default)]
    seed: Parent,
    #[serde(default)]
    pollen: Pollen,
    #[serde(default)]
    by: By,
    from: Option<Box<str>>,
    note: Option<Box<str>>,
    #[serde(default)]
    heads: Vec<Head>,
    #[serde(default)]
    lots: Vec<Lot>,
    #[serde(default)]
    seedlings: Vec<Seedling>,
    totals: Option<Totals>,
}

#[derive(Default, Deserialize)]
enum By {
    #[default]
    Hand,
    Bees,
}

#[derive(Deserialize)]
enum Father {
    One,
    Each,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Head {
    tag: Option<Box<str>>,
    #[serde(default)]
    diary: Vec<Entry<HeadDeed>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Lot {
    code: Box<str>,
    father: Option<Father>,
    seeds: Option<u32>,
    #[serde(default)]
    diary: Vec<Entry<LotDeed>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Seedling {
    number: Box<str>,
    id: Option<Box<str>>,
    lot: Option<Box<str>>,
    #[serde(default)]
    diary: Vec<Entry<PlantDeed>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Totals {
    heads: Option<u32>,
    seeds: Option<u32>,
    sown: Option<u32>,
    up: Option<u32>,
    planted: Option<u32>,
    bloomed: Option<u32>,
    judged: Option<u32>,
    kept: Option<u32>,
    judged_season: Option<i16>,
}

impl Disk for Cross {
    type Record = book::Cross;

    fn format(&self) -> u32 {
        self.format
    }

    fn take(self, amiss: &mut Amiss) -> book::Cross {
        book::Cross {
            code: amiss.line(Step::Field("code"), self.code),
            season: self.season.and_then(|year| amiss.season("season", year)),
            seed: self.seed.take("seed", amiss),
            pollen: self.pollen.take("pollen", amiss),
            by: match self.by {
                By::Hand => book::By::Hand,
                By::Bees => book::By::Bees,
            },
            from: amiss.some_line("from", self.from),
            note: amiss.some_note("note", self.note),
            heads: amiss.each("heads", self.heads, Head::take),
            lots: amiss.each("lots", self.lots, Lot::take),
            seedlings: amiss.each("seedlings", self.seedlings, Seedling::take),
            totals: self
                .totals
                .map(|totals| amiss.at(Step::Field("totals"), |amiss| totals.take(amiss))),
        }
    }
}

impl Head {
    pub(super) fn take(self, amiss: &mut Amiss) -> book::Head {
        book::Head { tag: amiss.some_line("tag", self.tag), diary: diary::take(self.diary, amiss) }
    }
}

impl Lot {
    pub(super) fn take(self, amiss: &mut Amiss) -> book::Lot {
        book::Lot {
            code: amiss.line(Step::Field("code"), self.code),
            father: self.father.map(|father| match father {
                Father::One => book::Father::One,
                Father::Each => book::Father::Each,
            }),
            seeds: self.seeds,
            diary: diary::take(self.diary, amiss),
        }
    }
}

impl Seedling {
    pub(super) fn take(self, amiss: &mut Amiss) -> book::Seedling {
        book::Seedling {
            number: amiss.line(Step::Field("number"), self.number),
            id: amiss.some_line("id", self.id),
            lot: amiss.some_line("lot", self.lot),
            diary: diary::take(self.diary, amiss),
        }
    }
}

impl Totals {
    fn take(self, amiss: &mut Amiss) -> book::Totals {
        book::Totals {
            heads: self.heads,
            seeds: self.seeds,
            sown: self.sown,
            up: self.up,
            planted: self.planted,
            bloomed: self.bloomed,
            judged: self.judged,
            kept: self.kept,
            judged_season: self.judged_season.and_then(|year| amiss.season("judged_season", year)),
        }
    }
}
