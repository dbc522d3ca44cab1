//! One pairing made in one season, and all that came of it: heads, lots, seedlings.

use std::cmp::Ordering;

use super::{
    Counts, Entry, Figure, Figures, HeadDeed, LotDeed, Parent, Pollen, Season, Seedling,
    label_order,
};

/// How the pollen got there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum By {
    /// By hand.
    #[default]
    Hand,
    /// By bees.
    Bees,
}

/// Whether one plant fathered a whole lot or each seedling may have its own father.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Father {
    /// One father for all, even if it is not known which.
    One,
    /// Each seedling for itself.
    Each,
}

impl By {
    /// What is assumed of the father where nobody said: one by hand, each by bees.
    pub fn usual_father(self) -> Father {
        match self {
            Self::Hand => Father::One,
            Self::Bees => Father::Each,
        }
    }
}

/// One pollinated flower head and the seed head that comes of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Head {
    /// What is written on its tag.
    pub tag: Option<Box<str>>,
    /// What has happened to it.
    pub diary: Vec<Entry<HeadDeed>>,
}

/// One packet of seed.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    /// The code on the packet; unique within the book.
    pub code: Box<str>,
    /// Whether the seeds share one father; absent means as usual for the cross.
    pub father: Option<Father>,
    /// Seeds in the packet when it was filled.
    pub seeds: Option<u32>,
    /// What has happened to it.
    pub diary: Vec<Entry<LotDeed>>,
}

/// A family of which only totals are known: its plants have no number. What nobody counted is
/// absent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Totals {
    /// Heads pollinated.
    pub heads: Option<u32>,
    /// Seeds threshed.
    pub seeds: Option<u32>,
    /// Seeds sown.
    pub sown: Option<u32>,
    /// Seedlings that came up.
    pub up: Option<u32>,
    /// Plants planted out.
    pub planted: Option<u32>,
    /// Plants that opened a bloom.
    pub bloomed: Option<u32>,
    /// Plants with a word of keep or discard at the end of their first bloom season.
    pub judged: Option<u32>,
    /// Plants whose word was keep.
    pub kept: Option<u32>,
    /// The season of the verdicts; absent means the season after the cross.
    pub judged_season: Option<Season>,
}

/// One cross. Its seedlings are a family.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cross {
    /// The code; unique within the book, and the name of its file.
    pub code: Box<str>,
    /// The season in which it was made; absent where nobody knows.
    pub season: Option<Season>,
    /// The plant that bore the seed.
    pub seed: Parent,
    /// Where the pollen came from.
    pub pollen: Pollen,
    /// How the pollen got there.
    pub by: By,
    /// For seed that was bought or given: from whom.
    pub from: Option<Box<str>>,
    /// A remark.
    pub note: Option<Box<str>>,
    /// The heads pollinated.
    pub heads: Vec<Head>,
    /// The packets of seed.
    pub lots: Vec<Lot>,
    /// The numbered plants, in order of number.
    pub seedlings: Vec<Seedling>,
    /// Totals of plants without numbers.
    pub totals: Option<Totals>,
}

impl Cross {
    /// The order of crosses in a book: by season, then by code.
    pub fn order(&self, other: &Self) -> Ordering {
        self.season.cmp(&other.season).then_with(|| label_order(&self.code, &other.code))
    }

    /// The lot with this code.
    pub fn lot(&self, code: &str) -> Option<&Lot> {
        self.lots.iter().find(|lot| &*lot.code == code)
    }

    /// Whether the seeds of a lot share one father.
    pub fn father_of(&self, lot: Option<&str>) -> Father {
        lot.and_then(|code| self.lot(code))
            .and_then(|lot| lot.father)
            .unwrap_or_else(|| self.by.usual_father())
    }

    /// The pollen parent, a selfing's being the seed parent itself.
    pub fn pollen_parent(&self) -> &Parent {
        match &self.pollen {
            Pollen::From(parent) => parent,
            Pollen::Selfed => &self.seed,
        }
    }
}

impl Totals {
    /// The counts, with 0 for what nobody counted.
    pub fn counts(&self) -> Counts {
        let n = Option::unwrap_or_default;
        let counted = Figures::of([
            (Figure::Heads, self.heads.is_some()),
            (Figure::Seeds, self.seeds.is_some()),
            (Figure::Sown, self.sown.is_some()),
            (Figure::Up, self.up.is_some()),
            (Figure::Planted, self.planted.is_some()),
            (Figure::Bloomed, self.bloomed.is_some()),
            (Figure::Judged, self.judged.is_some()),
            (Figure::Kept, self.kept.is_some()),
        ]);
        Counts {
            heads: n(self.heads),
            seeds: n(self.seeds),
            sown: n(self.sown),
            up: n(self.up),
            planted: n(self.planted),
            bloomed: n(self.bloomed),
            judged: n(self.judged),
            kept: n(self.kept),
            counted,
            missing: counted.others(),
        }
    }
}
