//! One dated observation of a plant by one person.

/// What somebody saw. Anything not looked at is absent.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    /// Who looked; absent means the raiser.
    pub who: Option<Box<str>>,
    /// Diameter of the bloom, in mm.
    pub bloom_mm: Option<f64>,
    /// Height of the plant, in cm.
    pub height_cm: Option<f64>,
    /// Flower group, by its code in the crop file.
    pub group: Option<Box<str>>,
    /// Colour words of the crop file, the main one first; markings after them.
    pub colours: Vec<Box<str>>,
    /// Scores by trait name, in the order written.
    pub scores: Vec<(Box<str>, f64)>,
    /// Faults seen.
    pub faults: Vec<Box<str>>,
    /// Anything else.
    pub note: Option<Box<str>>,
    /// Path of a picture, relative to the book.
    pub photo: Option<Box<str>>,
}

impl Look {
    /// Whether what was seen can only be seen on an open bloom.
    pub fn shows_bloom(&self) -> bool {
        self.bloom_mm.is_some() || !self.colours.is_empty() || self.group.is_some()
    }
}
