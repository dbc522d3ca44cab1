//! A cross as plain `serde` and `ron` read it: the peer that opening a book is measured against.
#![allow(dead_code, reason = "the fields are read from the file, and that is what is measured")]

use std::collections::BTreeMap;

use ron::{Options, extensions::Extensions};
use serde::Deserialize;

#[derive(Deserialize)]
pub struct Cross {
    format: u32,
    code: String,
    season: Option<i16>,
    #[serde(default)]
    seed: Parent,
    #[serde(default)]
    pollen: Parent,
    #[serde(default)]
    by: Option<By>,
    from: Option<String>,
    note: Option<String>,
    #[serde(default)]
    heads: Vec<Head>,
    #[serde(default)]
    lots: Vec<Lot>,
    #[serde(default)]
    seedlings: Vec<Seedling>,
}

#[derive(Deserialize, Default)]
enum Parent {
    Known(String),
    OneOf(Vec<(String, f64)>),
    #[default]
    Unknown,
    Selfed,
}

#[derive(Deserialize)]
enum By {
    Hand,
    Bees,
}

#[derive(Deserialize)]
enum Father {
    One,
    Each,
}

#[derive(Deserialize)]
struct Head {
    tag: Option<String>,
    #[serde(default)]
    diary: Vec<Entry<HeadDeed>>,
}

#[derive(Deserialize)]
struct Lot {
    code: String,
    father: Option<Father>,
    seeds: Option<u32>,
    #[serde(default)]
    diary: Vec<Entry<LotDeed>>,
}

#[derive(Deserialize)]
struct Seedling {
    number: String,
    id: Option<String>,
    lot: Option<String>,
    #[serde(default)]
    diary: Vec<Entry<PlantDeed>>,
}

#[derive(Deserialize)]
struct Entry<D> {
    on: String,
    did: D,
}

#[derive(Deserialize)]
enum HeadDeed {
    Pollinated,
    Cut,
    InWater,
    Hung,
    Rotted,
    Lost(String),
    Threshed { seeds: u32 },
    Note(String),
}

#[derive(Deserialize)]
enum LotDeed {
    Sown { seeds: Option<u32> },
    Up(u32),
    PrickedOut(u32),
    Given { seeds: u32, to: Option<String> },
    Gone(String),
    Note(String),
}

#[derive(Deserialize)]
enum Word {
    Keep,
    Hold,
    Discard,
}

#[derive(Deserialize)]
enum PlantDeed {
    Acquired {
        from: Option<String>,
    },
    Numbered,
    Planted {
        bed: Option<String>,
        row: Option<u16>,
        place: Option<u16>,
    },
    SeenUnbloomed,
    FirstBloom,
    Look {
        who: Option<String>,
        bloom_mm: Option<f64>,
        height_cm: Option<f64>,
        group: Option<String>,
        #[serde(default)]
        colours: Vec<String>,
        #[serde(default)]
        scores: BTreeMap<String, f64>,
        #[serde(default)]
        faults: Vec<String>,
        note: Option<String>,
        photo: Option<String>,
    },
    Verdict {
        is: Word,
        why: Option<String>,
        who: Option<String>,
    },
    TagLost,
    Lost(String),
    Lifted {
        tubers: Option<u16>,
        store: Option<String>,
    },
    Checked {
        sound: u16,
    },
    Woken,
    Treated(String),
    MovedFrom {
        cross: String,
        why: Option<String>,
    },
    Named(String),
    Note(String),
}

/// Reads one cross.
pub fn read(text: &str) -> Result<Cross, ron::error::SpannedError> {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME).from_str(text)
}
