//! Diaries as they are written: each entry `(on: "2026-05-29", did: Planted(…))`.

use serde::Deserialize;

use super::{
    super::amiss::{Amiss, Step},
    Date, Scores,
};
use crate::book;

/// One entry.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Entry<D> {
    on: Date,
    did: D,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum HeadDeed {
    Pollinated,
    Cut,
    InWater,
    Hung,
    Rotted,
    Lost(Box<str>),
    Threshed { seeds: u32 },
    Note(Box<str>),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum LotDeed {
    Sown { seeds: Option<u32> },
    Up(u32),
    PrickedOut(u32),
    Given { seeds: u32, to: Option<Box<str>> },
    Gone(Box<str>),
    Note(Box<str>),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum GardenDeed {
    Weather(Box<str>),
    Fed(Box<str>),
    Job(Box<str>),
    Note(Box<str>),
}

#[derive(Deserialize)]
pub(super) enum Verdict {
    Keep,
    Hold,
    Discard,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) enum PlantDeed {
    Acquired {
        from: Option<Box<str>>,
    },
    Numbered,
    Planted {
        bed: Option<Box<str>>,
        row: Option<u16>,
        place: Option<u16>,
    },
    SeenUnbloomed,
    FirstBloom,
    Look {
        who: Option<Box<str>>,
        bloom_mm: Option<f64>,
        height_cm: Option<f64>,
        group: Option<Box<str>>,
        #[serde(default)]
        colours: Vec<Box<str>>,
        #[serde(default)]
        scores: Scores,
        #[serde(default)]
        faults: Vec<Box<str>>,
        note: Option<Box<str>>,
        photo: Option<Box<str>>,
    },
    Verdict {
        is: Verdict,
        why: Option<Box<str>>,
        who: Option<Box<str>>,
    },
    TagLost,
    Lost(Box<str>),
    Lifted {
        tubers: Option<u16>,
        store: Option<Box<str>>,
    },
    Checked {
        sound: u16,
    },
    Woken,
    Ailing(Box<str>),
    Treated(Box<str>),
    MovedFrom {
        cross: Box<str>,
        why: Option<Box<str>>,
    },
    Given {
        tubers: u16,
        to: Option<Box<str>>,
    },
    Disposed(Box<str>),
    Named(Box<str>),
    Note(Box<str>),
}

/// A deed as it is written, and the deed it becomes.
pub(super) trait Deed {
    type Record;

    fn take(self, amiss: &mut Amiss) -> Self::Record;
}

/// Takes a diary. An entry without a date that can be read is left out.
pub(super) fn take<D: Deed>(
    diary: Vec<Entry<D>>,
    amiss: &mut Amiss,
) -> Vec<book::Entry<D::Record>> {
    let mut taken = Vec::with_capacity(diary.len());
    amiss.at(Step::Field("diary"), |amiss| {
        for (n, Entry { on, did }) in diary.into_iter().enumerate() {
            amiss.at(Step::Item(n), |amiss| {
                if let Some(on) = amiss.when("on", on) {
                    let did = amiss.at(Step::Field("did"), |amiss| did.take(amiss));
                    taken.push(book::Entry { on, did });
                }
            });
        }
    });
    taken
}

impl Deed for HeadDeed {
    type Record = book::HeadDeed;

    fn take(self, amiss: &mut Amiss) -> book::HeadDeed {
        match self {
            Self::Pollinated => book::HeadDeed::Pollinated,
            Self::Cut => book::HeadDeed::Cut,
            Self::InWater => book::HeadDeed::InWater,
            Self::Hung => book::HeadDeed::Hung,
            Self::Rotted => book::HeadDeed::Rotted,
            Self::Lost(why) => book::HeadDeed::Lost(amiss.line(Step::Item(0), why)),
            Self::Threshed { seeds } => book::HeadDeed::Threshed { seeds },
            Self::Note(text) => book::HeadDeed::Note(amiss.note(Step::Item(0), text)),
        }
    }
}

impl Deed for LotDeed {
    type Record = book::LotDeed;

    fn take(self, amiss: &mut Amiss) -> book::LotDeed {
        match self {
            Self::Sown { seeds } => book::LotDeed::Sown { seeds },
            Self::Up(n) => book::LotDeed::Up(n),
            Self::PrickedOut(n) => book::LotDeed::PrickedOut(n),
            Self::Given { seeds, to } => {
                book::LotDeed::Given { seeds, to: amiss.some_line("to", to) }
            }
            Self::Gone(why) => book::LotDeed::Gone(amiss.line(Step::Item(0), why)),
            Self::Note(text) => book::LotDeed::Note(amiss.note(Step::Item(0), text)),
        }
    }
}

impl Deed for PlantDeed {
    type Record = book::PlantDeed;

    fn take(self, amiss: &mut Amiss) -> book::PlantDeed {
        match self {
            Self::Acquired { from } => {
                book::PlantDeed::Acquired { from: amiss.some_line("from", from) }
            }
            Self::Numbered => book::PlantDeed::Numbered,
            Self::Planted { bed, row, place } => {
                book::PlantDeed::Planted(position(bed, row, place, amiss))
            }
            Self::SeenUnbloomed => book::PlantDeed::SeenUnbloomed,
            Self::FirstBloom => book::PlantDeed::FirstBloom,
            look @ Self::Look { .. } => book::PlantDeed::Look(Box::new(look.look(amiss))),
            Self::Verdict { is, why, who } => book::PlantDeed::Verdict {
                is: is.take(),
                why: amiss.some_line("why", why),
                who: amiss.some_line("who", who),
            },
            Self::TagLost => book::PlantDeed::TagLost,
            Self::Lost(why) => book::PlantDeed::Lost(amiss.line(Step::Item(0), why)),
            Self::Lifted { tubers, store } => {
                book::PlantDeed::Lifted { tubers, store: amiss.some_line("store", store) }
            }
            Self::Checked { sound } => book::PlantDeed::Checked { sound },
            Self::Woken => book::PlantDeed::Woken,
            Self::Ailing(what) => book::PlantDeed::Ailing(amiss.line(Step::Item(0), what)),
            Self::Treated(how) => book::PlantDeed::Treated(amiss.line(Step::Item(0), how)),
            Self::MovedFrom { cross, why } => book::PlantDeed::MovedFrom {
                cross: amiss.line(Step::Field("cross"), cross),
                why: amiss.some_line("why", why),
            },
            Self::Given { tubers, to } => {
                book::PlantDeed::Given { tubers, to: amiss.some_line("to", to) }
            }
            Self::Disposed(how) => book::PlantDeed::Disposed(amiss.line(Step::Item(0), how)),
            Self::Named(name) => book::PlantDeed::Named(amiss.line(Step::Item(0), name)),
            Self::Note(text) => book::PlantDeed::Note(amiss.note(Step::Item(0), text)),
        }
    }
}

impl Deed for GardenDeed {
    type Record = book::GardenDeed;

    fn take(self, amiss: &mut Amiss) -> book::GardenDeed {
        match self {
            Self::Weather(text) => book::GardenDeed::Weather(amiss.line(Step::Item(0), text)),
            Self::Fed(with) => book::GardenDeed::Fed(amiss.line(Step::Item(0), with)),
            Self::Job(job) => book::GardenDeed::Job(amiss.line(Step::Item(0), job)),
            Self::Note(text) => book::GardenDeed::Note(amiss.note(Step::Item(0), text)),
        }
    }
}

impl Verdict {
    fn take(self) -> book::Verdict {
        match self {
            Self::Keep => book::Verdict::Keep,
            Self::Hold => book::Verdict::Hold,
            Self::Discard => book::Verdict::Discard,
        }
    }
}

impl PlantDeed {
    /// What was seen, if this is a look.
    fn look(self, amiss: &mut Amiss) -> book::Look {
        let Self::Look { who, bloom_mm, height_cm, group, colours, scores, faults, note, photo } =
            self
        else {
            return book::Look::default();
        };
        book::Look {
            who: amiss.some_line("who", who),
            bloom_mm: amiss.some_number("bloom_mm", bloom_mm),
            height_cm: amiss.some_number("height_cm", height_cm),
            group: amiss.some_line("group", group),
            colours: amiss.lines("colours", colours),
            scores: self::scores(scores, amiss),
            faults: amiss.lines("faults", faults),
            note: amiss.some_note("note", note),
            photo: amiss.some_line("photo", photo),
        }
    }
}

fn scores(Scores(written): Scores, amiss: &mut Amiss) -> Vec<(Box<str>, f64)> {
    let mut taken: Vec<(Box<str>, f64)> = Vec::with_capacity(written.len());
    amiss.at(Step::Field("scores"), |amiss| {
        for (n, (name, score)) in written.into_iter().enumerate() {
            let name = amiss.line(Step::Item(n), name);
            if taken.iter().any(|(other, _)| *other == name) {
                amiss.at(Step::Item(n), |amiss| {
                    amiss.say(
                        format!("\"{name}\" is scored twice in one look."),
                        "Take one of the two out; the first is used until then.",
                    );
                });
            } else if let Some(score) = amiss.number(Step::Item(n), score) {
                taken.push((name, score));
            }
        }
    });
    taken
}

fn position(
    bed: Option<Box<str>>,
    row: Option<u16>,
    place: Option<u16>,
    amiss: &mut Amiss,
) -> Option<book::Position> {
    match (bed, row, place) {
        (None, None, None) => None,
        (Some(bed), Some(row @ 1..), Some(place @ 1..)) => {
            Some(book::Position { bed: amiss.line(Step::Field("bed"), bed), row, place })
        }
        _ => {
            amiss.say(
                "A position is a bed, a row and a place, the last two counted from 1.",
                "Write all three, such as Planted(bed: \"A\", row: 3, place: 12), or Planted() \
                 where the position is not known.",
            );
            None
        }
    }
}
