//! The parts a book is made of, and where each stands.

use super::super::{About, Cross, Head, Lot, Seedling, Variety};

/// Where a part stands.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Spot {
    /// The first page.
    About,
    /// A variety, by id.
    Variety(Box<str>),
    /// What is known of a cross as a whole, by code.
    Cross(Box<str>),
    /// A head of a cross, counted from 0.
    Head(Box<str>, usize),
    /// A lot of a cross, counted from 0.
    Lot(Box<str>, usize),
    /// A seedling of a cross, by key.
    Seedling(Box<str>, Box<str>),
}

/// A part of a book, with its diary.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// The first page.
    About(Box<About>),
    /// A variety.
    Variety(Box<Variety>),
    /// A cross without what came of it: no heads, lots or seedlings.
    Cross(Box<Cross>),
    /// A head.
    Head(Head),
    /// A lot.
    Lot(Lot),
    /// A seedling.
    Seedling(Seedling),
}

impl Spot {
    /// The code of the cross in whose file it stands.
    pub fn cross(&self) -> Option<&str> {
        match self {
            Self::About | Self::Variety(_) => None,
            Self::Cross(code)
            | Self::Head(code, _)
            | Self::Lot(code, _)
            | Self::Seedling(code, _) => Some(code),
        }
    }
}

impl Part {
    /// What is known of a cross as a whole.
    pub fn cover(cross: &Cross) -> Self {
        Self::Cross(Box::new(Cross {
            code: cross.code.clone(),
            season: cross.season,
            seed: cross.seed.clone(),
            pollen: cross.pollen.clone(),
            by: cross.by,
            from: cross.from.clone(),
            note: cross.note.clone(),
            heads: Vec::new(),
            lots: Vec::new(),
            seedlings: Vec::new(),
            totals: cross.totals,
        }))
    }

    /// Whether it can stand there: of the same kind, and under the same key.
    pub(super) fn fits(&self, spot: &Spot) -> bool {
        match (self, spot) {
            (Self::About(_), Spot::About)
            | (Self::Head(_), Spot::Head(..))
            | (Self::Lot(_), Spot::Lot(..)) => true,
            (Self::Variety(variety), Spot::Variety(id)) => variety.id == *id,
            (Self::Cross(cross), Spot::Cross(code)) => {
                let bare =
                    cross.heads.is_empty() && cross.lots.is_empty() && cross.seedlings.is_empty();
                cross.code == *code && bare
            }
            (Self::Seedling(seedling), Spot::Seedling(_, key)) => seedling.key() == &**key,
            _ => false,
        }
    }
}
