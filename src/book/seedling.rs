//! One numbered plant raised from a lot.

use std::cmp::Ordering;

use super::{Entry, PlantDeed, label_order};

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
    /// The order of seedlings in a family: by number and, where a number is borne twice, by key.
    pub fn order(&self, other: &Self) -> Ordering {
        label_order(&self.number, &other.number).then_with(|| self.key().cmp(other.key()))
    }

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
