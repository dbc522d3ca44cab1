//! Who the parents of a cross are, as far as anybody knows.
//!
//! A parent is named by key: the id of a variety or of a seedling. A key is only text; whether
//! anybody in the book bears it is the business of [`super::Book`].

/// One of several plants that may have been the parent.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The key of the plant.
    pub key: Box<str>,
    /// The probability that it was this one; between 0 and 1.
    pub weight: f64,
}

/// A parent: known, one of several, or unknown.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Parent {
    /// This plant, by its key.
    Known(Box<str>),
    /// One of these. Weights that sum to less than 1 leave the rest to an unknown plant.
    OneOf(Vec<Candidate>),
    /// Nobody knows.
    #[default]
    Unknown,
}

/// Where the pollen came from.
#[derive(Debug, Clone, PartialEq)]
pub enum Pollen {
    /// From another plant (or, by its key, perhaps the same one).
    From(Parent),
    /// From the seed parent itself.
    Selfed,
}

impl Parent {
    /// The key, when the parent is known for certain.
    pub fn known(&self) -> Option<&str> {
        match self {
            Self::Known(key) => Some(key),
            Self::OneOf(_) | Self::Unknown => None,
        }
    }

    /// Every plant that may have been the parent, with its probability.
    pub fn candidates(&self) -> impl Iterator<Item = (&str, f64)> {
        let (one, several) = match self {
            Self::Known(key) => (Some((&**key, 1.0)), &[][..]),
            Self::OneOf(list) => (None, &list[..]),
            Self::Unknown => (None, &[][..]),
        };
        one.into_iter().chain(several.iter().map(|c| (&*c.key, c.weight)))
    }
}

impl Default for Pollen {
    fn default() -> Self {
        Self::From(Parent::Unknown)
    }
}
