//! The records as they lie on disk, format 1, and how each becomes a record in memory.
//!
//! These structs say what a file may hold; nothing else does. Taking a record from one never
//! fails: whatever makes no sense is left out or altered, and said in [`Amiss`].

mod about;
mod cross;
mod diary;
mod journal;
mod parent;
mod variety;

use std::fmt;

use serde::{Deserialize, Deserializer, de};

use super::amiss::Amiss;
use crate::book::When;

pub(super) use about::About;
pub(super) use cross::Cross;
pub(super) use journal::{Did, JournalHead, JournalStep, Touched};
pub(super) use variety::Variety;

/// The format that is written, and the newest that can be read.
pub(super) const FORMAT: u32 = 1;

/// A file's content: which format it claims, and what record it makes.
pub(super) trait Disk: for<'a> Deserialize<'a> {
    /// The record in memory.
    type Record;

    /// The format the file claims to be in.
    fn format(&self) -> u32;

    /// The record, with what was wrong noted in `amiss`.
    fn take(self, amiss: &mut Amiss) -> Self::Record;
}

/// A date as it was written: read where it can be, kept as text where it cannot.
pub(super) struct Date(pub(super) Result<When, Box<str>>);

impl<'de> Deserialize<'de> for Date {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Reader;
        impl de::Visitor<'_> for Reader {
            type Value = Date;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a date in quotes")
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Date, E> {
                Ok(Date(When::parse(text).map_err(|_kept| text.into())))
            }
        }
        from.deserialize_str(Reader)
    }
}

/// Scores by trait, in the order written and with repeats, which a map would swallow.
#[derive(Default)]
pub(super) struct Scores(pub(super) Vec<(Box<str>, f64)>);

impl<'de> Deserialize<'de> for Scores {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Reader;
        impl<'de> de::Visitor<'de> for Reader {
            type Value = Scores;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("scores by trait")
            }

            fn visit_map<A: de::MapAccess<'de>>(self, mut map: A) -> Result<Scores, A::Error> {
                let mut scores = Vec::new();
                while let Some(score) = map.next_entry()? {
                    scores.push(score);
                }
                Ok(Scores(scores))
            }
        }
        from.deserialize_map(Reader)
    }
}
