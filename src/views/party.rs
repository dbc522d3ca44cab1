//! A parent as a pairing sees it: a plant, one of several, or nobody known.

use crate::book::{Book, Parent, PlantId};

/// Weights are written by hand, so they need not sum to 1 to the last digit.
const CERTAIN: f64 = 1.0 - 1e-9;

/// One side of a cross.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Party {
    /// A plant of this book.
    Plant(PlantId),
    /// One of several, in the order of the book.
    Among(Box<[Party]>),
    /// A key that nobody in the book bears; the check reports it.
    Stranger(Box<str>),
    /// Nobody knows.
    Unknown,
}

impl Party {
    /// The party that a record names. Candidates of no weight are left out, and a single one of
    /// full weight is the parent.
    pub fn of(book: &Book, parent: &Parent) -> Self {
        let one =
            |key: &str| book.by_key(key).map_or_else(|| Self::Stranger(key.into()), Self::Plant);
        match parent {
            Parent::Known(key) => one(key),
            Parent::Unknown => Self::Unknown,
            Parent::OneOf(several) => {
                let likely = several.iter().filter(|c| c.weight > 0.0);
                let mut parties: Vec<Self> = likely.clone().map(|c| one(&c.key)).collect();
                parties.sort();
                parties.dedup();
                match (parties.pop(), parties.is_empty()) {
                    (None, _) => Self::Unknown,
                    (Some(only), true) if likely.map(|c| c.weight).sum::<f64>() >= CERTAIN => only,
                    (Some(last), _) => {
                        parties.push(last);
                        Self::Among(parties.into())
                    }
                }
            }
        }
    }

    /// The plant, where there is no doubt.
    pub fn plant(&self) -> Option<PlantId> {
        match self {
            Self::Plant(id) => Some(*id),
            Self::Among(_) | Self::Stranger(_) | Self::Unknown => None,
        }
    }

    /// Every plant that it may be.
    pub fn plants(&self) -> impl Iterator<Item = PlantId> {
        let (one, several) = match self {
            Self::Plant(id) => (Some(*id), &[][..]),
            Self::Among(list) => (None, &list[..]),
            Self::Stranger(_) | Self::Unknown => (None, &[][..]),
        };
        one.into_iter().chain(several.iter().filter_map(Self::plant))
    }

    /// What it is called, candidates with `or` between them; nothing where nobody knows.
    pub fn name(&self, book: &Book, or: &str) -> Option<String> {
        self.name_by(|plant| book.plant(plant).label().to_owned(), or)
    }

    /// The same, with each plant called as `call` has it.
    pub fn name_by(&self, call: impl Fn(PlantId) -> String, or: &str) -> Option<String> {
        let one = |party: &Self| match party {
            Self::Plant(id) => Some(call(*id)),
            Self::Stranger(key) => Some(key.to_string()),
            Self::Among(_) | Self::Unknown => None,
        };
        match self {
            Self::Among(list) => Some(list.iter().filter_map(one).collect::<Vec<_>>().join(or)),
            only => one(only),
        }
    }
}
