//! How many of each, from heads to keepers.

use std::ops::AddAssign;

/// One of the figures along the way of a family.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// [`Counts::heads`].
    Heads,
    /// [`Counts::seeds`].
    Seeds,
    /// [`Counts::sown`].
    Sown,
    /// [`Counts::up`].
    Up,
    /// [`Counts::planted`].
    Planted,
    /// [`Counts::bloomed`].
    Bloomed,
    /// [`Counts::judged`].
    Judged,
    /// [`Counts::kept`].
    Kept,
}

/// Some of the figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Figures(u8);

impl Figures {
    /// All of them.
    pub const ALL: Self = Self(u8::MAX);

    /// Those that are said to be in.
    pub fn of(figures: [(Figure, bool); 8]) -> Self {
        let bits = figures.into_iter().filter(|(_, is_in)| *is_in).map(|(figure, _)| bit(figure));
        Self(bits.fold(0, |all, one| all | one))
    }

    /// Whether it is one of them.
    pub fn has(self, figure: Figure) -> bool {
        self.0 & bit(figure) != 0
    }

    /// All others.
    #[must_use]
    pub fn others(self) -> Self {
        Self(!self.0)
    }
}

fn bit(figure: Figure) -> u8 {
    1 << figure as u8
}

/// Counts along the way of a family. Where the records hold numbered plants, all are known; a
/// family known by totals may lack some: those stand at 0, and [`Counts::known`] tells them from
/// those of which there were none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Heads pollinated.
    pub heads: u32,
    /// Seeds threshed, or in the packet where the heads were not counted.
    pub seeds: u32,
    /// Seeds sown.
    pub sown: u32,
    /// Seedlings that came up.
    pub up: u32,
    /// Plants planted out.
    pub planted: u32,
    /// Of those, plants that opened a bloom.
    pub bloomed: u32,
    /// Of those, plants with a word of keep or discard at the end of their first bloom season.
    pub judged: u32,
    /// Of those, plants whose word was keep.
    pub kept: u32,
    /// Figures that some family wrote down.
    pub counted: Figures,
    /// Figures that some family lacks. One that others wrote down is what is known of all.
    pub missing: Figures,
}

impl Counts {
    /// A figure; none where every family lacks it.
    pub fn known(&self, figure: Figure) -> Option<u32> {
        let is_known = self.counted.has(figure) || !self.missing.has(figure);
        is_known.then_some(match figure {
            Figure::Heads => self.heads,
            Figure::Seeds => self.seeds,
            Figure::Sown => self.sown,
            Figure::Up => self.up,
            Figure::Planted => self.planted,
            Figure::Bloomed => self.bloomed,
            Figure::Judged => self.judged,
            Figure::Kept => self.kept,
        })
    }
}

impl AddAssign for Counts {
    fn add_assign(&mut self, other: Self) {
        self.heads = self.heads.saturating_add(other.heads);
        self.seeds = self.seeds.saturating_add(other.seeds);
        self.sown = self.sown.saturating_add(other.sown);
        self.up = self.up.saturating_add(other.up);
        self.planted = self.planted.saturating_add(other.planted);
        self.bloomed = self.bloomed.saturating_add(other.bloomed);
        self.judged = self.judged.saturating_add(other.judged);
        self.kept = self.kept.saturating_add(other.kept);
        self.counted.0 |= other.counted.0;
        self.missing.0 |= other.missing.0;
    }
}
