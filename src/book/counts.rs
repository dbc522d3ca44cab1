//! How many of each, from heads to keepers.

use std::ops::AddAssign;

/// Counts along the way of a family. Where the records hold numbered plants, all are known;
/// a family known by totals may lack some, and those stand at 0.
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
    }
}
