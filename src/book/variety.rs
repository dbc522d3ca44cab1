//! A named plant that was bought or swapped, not raised here.

use super::{Entry, Parent, PlantDeed};

/// A variety and what is known of it. A seedling of this book that was named stays a seedling,
/// with the name in its diary: one plant, one record.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Variety {
    /// The key by which crosses refer to it; also the name of its file.
    pub id: Box<str>,
    /// The name.
    pub name: Box<str>,
    /// Its seed parent.
    pub seed: Parent,
    /// Its pollen parent.
    pub pollen: Parent,
    /// Who raised it.
    pub raiser: Option<Box<str>>,
    /// The year of introduction or registration.
    pub year: Option<i16>,
    /// Flower group, by its code in the crop file.
    pub group: Option<Box<str>>,
    /// Usual diameter of the bloom, in mm.
    pub bloom_mm: Option<f64>,
    /// Usual height, in cm.
    pub height_cm: Option<f64>,
    /// Colour words, the main one first.
    pub colours: Vec<Box<str>>,
    /// Whether it sets seed; absent means not known.
    pub gives_seed: Option<bool>,
    /// Whether it gives pollen; absent means not known.
    pub gives_pollen: Option<bool>,
    /// A remark.
    pub note: Option<Box<str>>,
    /// What has happened to it here.
    pub diary: Vec<Entry<PlantDeed>>,
}
