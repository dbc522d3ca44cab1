//! How much seed to sow for so many keepers, as this book has it.

use crate::plan::{self, Asked, Need};

use super::{Desk, Levels};

/// Works out how much to raise.
pub fn need(desk: &Desk, asked: &Asked, levels: Levels) -> Need {
    let pairings: Vec<_> = desk.pairings().iter().map(|pairing| pairing.counts).collect();
    let season = desk.season();
    let is_over = desk.first_bloom().is_over(desk, season);
    let over = if is_over { season } else { season.before() };
    plan::sow(desk.book(), &pairings, over, asked, levels.shrunk)
}
