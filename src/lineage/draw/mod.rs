//! The picture of a plant's lineage: what stands in which row and column, and what is joined to
//! what. Knows no terminal; whoever draws it decides how wide a column is.
//!
//! The plant that is asked about stands in the middle. Its ancestors stand before it, a column a
//! generation, and every plant stands between its two parents: the seed parent above it, the
//! pollen parent below. A plant therefore never shares its row, and the way from it to a parent
//! crosses no other. After it stand its offspring, cross by cross. A plant that belongs in two
//! places is drawn in the nearer one, and the other refers to it by a number.

mod back;
mod on;
mod sheet;

pub use sheet::{Cell, Mark, Picture, Rail, Role, Toward, What};

use crate::book::PlantId;

use self::sheet::Sheet;
use super::Pedigree;

/// How much room a picture has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// Rows; the plant itself takes one.
    pub rows: usize,
    /// Generations of ancestors at most.
    pub back: usize,
    /// Generations of offspring at most.
    pub on: usize,
}

impl Pedigree {
    /// The lineage of a plant as a picture that fits into a room.
    ///
    /// Of large families the plants that are parents and those that are `notable` are drawn
    /// first, and the rest is counted.
    pub fn picture(
        &self,
        centre: PlantId,
        room: Room,
        notable: impl Fn(PlantId) -> bool,
    ) -> Picture {
        let mut sheet = Sheet::new(self, centre);
        let back = back::fill(&mut sheet, room);
        let on = on::fill(&mut sheet, room, notable);
        sheet.finish(&back, &on)
    }
}
