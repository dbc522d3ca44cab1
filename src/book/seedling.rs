//! One numbered plant raised from a lot.

use super::{Entry, PlantDeed};

/// A seedling. It can become a parent, and it may be named.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Seedling {
    /// The number on its label; any text.
    pub number: Box<str>,
    /// The key by which others refer to it, where the number alone would not do because another
    /// plant bears the same. Absent means the number is the key.
    pub id: Option<Box<str>>,
    /// The code of the lot it came from, where known.
    pub lot: Option<Box<str>>,
    /// What has happened to it.
    pub diary: Vec<Entry<PlantDeed>>,
}

impl Seedling {
    /// The key by which crosses refer to it.
    pub fn key(&self) -> &str {
        self.id.as_deref().unwrap_or(&self.number)
    }

    /// The name it was given last, if any.
    pub fn name(&self) -> Option<&str> {
        self.diary.iter().rev().find_map(|e| match &e.did {
            PlantDeed::Named(name) => Some(&**name),
            _ => None,
        })
    }
}
