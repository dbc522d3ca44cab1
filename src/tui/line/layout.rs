//! How much of a lineage fits, and where its columns lie.

use crate::book::PlantId;
use crate::lineage::draw::{Cell, Picture, Room, What};
use crate::tui::{page::Around, widget::text};

use super::words;

/// Where a picture lies in the room of the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Layout {
    /// For every generation, the plant in the middle first, the column at which its plants end
    /// and the rails of their parents meet.
    nodes: Vec<u16>,
    /// The first row of the picture.
    pub(super) top: u16,
    /// Rows above it are headings.
    pub(super) has_heads: bool,
    /// The row in which is said what the cursor is on, and below it how near of kin.
    pub(super) foot: Option<u16>,
}

/// From one generation to the next: the word on the rail, and a stretch of rail around it.
const STEP: u16 = 10;
/// More than that only tears parents and offspring apart.
const WIDEST_STEP: u16 = 16;
/// Room for the plants of the oldest generation.
const NAME: u16 = 16;
/// A name longer than that is cut rather than given more room.
const WIDEST_NAME: u16 = 30;
/// Room beside the names for what is told of loops.
const BESIDE: u16 = 11;
/// Room for the offspring at least and at most.
const OFFSPRING: (u16, u16) = (34, 64);
/// Room for the offspring of one generation, beside that for the rails of the next.
const NESTED: u16 = 30;
/// From the rail of the crosses of a plant to that of the crosses of its offspring.
const INDENT: u16 = 9;

/// Lays out the line of a plant.
pub(super) fn draw(around: &Around<'_>, centre: PlantId) -> (Picture, Layout) {
    let (wide, high) = (around.body.width, around.body.height);
    let has_heads = high >= 8;
    let has_foot = high >= 6;
    let pedigree = around.desk.pedigree();
    let for_offspring = match pedigree.offspring(centre) {
        [] => 2,
        _ => (wide / 5 * 2).clamp(OFFSPRING.0, OFFSPRING.1).min(wide / 5 * 3),
    };
    let middle = wide.saturating_sub(for_offspring);
    let room = Room {
        rows: usize::from(high - u16::from(has_heads) - 2 * u16::from(has_foot)).max(1),
        back: usize::from(middle.saturating_sub(NAME) / STEP),
        on: usize::from(for_offspring.saturating_sub(NESTED) / INDENT + 1),
    };
    let notable = |plant| around.desk.brief(plant).stage.is_some();
    let picture = pedigree.picture(centre, room, notable);
    let layout = Layout {
        nodes: nodes(around, &picture, middle),
        top: u16::from(has_heads),
        has_heads,
        foot: has_foot.then(|| high - 2),
    };
    (picture, layout)
}

/// The columns at which the generations end, as far to the left as their names allow.
fn nodes(around: &Around<'_>, picture: &Picture, middle: u16) -> Vec<u16> {
    let mut widths = vec![0; picture.back + 1];
    for cell in picture.cells.iter().filter(|cell| cell.column <= 0) {
        let generation = usize::try_from(-cell.column).unwrap_or_default();
        let most = usize::from(WIDEST_NAME);
        let name = words::width(&words::cell(around, cell, (What::Unknown, 0), most));
        widths[generation] = name.min(most).max(widths[generation]);
    }
    let widths: Vec<u16> = widths.iter().map(|&w| u16::try_from(w).unwrap_or(u16::MAX)).collect();
    let back = u16::try_from(picture.back).unwrap_or(u16::MAX);
    let oldest = widths.last().copied().unwrap_or_default();
    // Only a plant that stands in two places can close a loop that is drawn.
    let can_loop = picture.cells.iter().any(|cell| cell.column < 0 && cell.mark.is_some());
    let margin = if can_loop { BESIDE } else { 0 };
    let step = (middle.saturating_sub(oldest + margin + 3) / back.max(1)).clamp(STEP, WIDEST_STEP);
    let needed = (0..).zip(&widths).map(|(generation, name)| name + 3 + generation * step);
    let first = (needed.max().unwrap_or_default() + margin).min(middle).saturating_sub(1);
    (0..=back).map(|generation| first.saturating_sub(generation * step)).collect()
}

impl Layout {
    /// The column at which an ancestor, or the plant in the middle, ends.
    pub(super) fn node(&self, column: i32) -> u16 {
        let generation = usize::try_from(-column).unwrap_or_default();
        self.nodes.get(generation).copied().unwrap_or_default()
    }

    /// The column of the rail on which offspring hang.
    pub(super) fn hangs(&self, column: i32) -> u16 {
        let generation = u16::try_from((column - 1) / 2).unwrap_or_default();
        let within = if column % 2 == 0 { 4 } else { 0 };
        self.node(0) + 3 + generation * INDENT + within
    }

    /// The column at which the text of an offspring cell begins.
    pub(super) fn text_start(&self, cell: &Cell) -> u16 {
        self.hangs(cell.column) + if cell.column % 2 == 0 { 2 } else { 10 }
    }

    /// Cells for it, in a page of `wide` cells.
    pub(super) fn offspring_room(&self, cell: &Cell, wide: u16) -> usize {
        usize::from(wide.saturating_sub(self.text_start(cell) + 1))
    }

    /// Cells for the text of an ancestor, or of the plant in the middle.
    pub(super) fn ancestor_room(&self, cell: &Cell) -> usize {
        usize::from(self.node(cell.column).saturating_sub(2))
    }

    /// Every generation of ancestors with the column at which it ends.
    pub(super) fn generations(&self) -> impl Iterator<Item = (usize, u16)> + '_ {
        self.nodes.iter().copied().enumerate().skip(1)
    }
}

/// The words that say where the generations stand.
pub(super) fn heading(generation: usize, room: usize) -> String {
    let long = match generation {
        1 => "parents",
        2 => "grandparents",
        _ => "",
    };
    if !long.is_empty() && text::width(long) <= room {
        return long.to_owned();
    }
    format!("{generation} back")
}
