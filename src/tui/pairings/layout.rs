//! Where the grid and the ranking stand: side by side, one above the other, or one at a time.

use ratatui::layout::Rect;

use crate::tui::widget::section::{above, below, beside};

/// The parts of the page; one without room is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Layout {
    pub(super) grid: Rect,
    pub(super) ranking: Rect,
}

/// Cells of the screen from one pollen parent to the next.
pub(super) const CELL: u16 = 10;
/// Cells for the own figures of a seed parent.
pub(super) const FIGURES: u16 = 9;
/// Cells for what a parent passes on, with its range.
pub(super) const MERIT: u16 = 9;
/// Rows above the first seed parent: heading, names on two rows, own figures.
const HEADS: u16 = 4;
/// Rows below the last: a blank, two of what is under the cursor, and what the shades mean.
const FEET: u16 = 4;
/// Cells that the ranking needs for its ranges.
const RANKING: u16 = 104;

impl Layout {
    /// Divides the body for a grid of `rows` by `columns` with names of `name` cells.
    pub(super) fn of(body: Rect, (rows, columns): (usize, usize), on_grid: bool) -> Self {
        let count = |n: usize| u16::try_from(n).unwrap_or(u16::MAX);
        if body.width >= RANKING + 72 {
            let margin = 25 + FIGURES + MERIT + 1;
            let wanted = count(columns).saturating_mul(CELL).saturating_add(margin);
            let most = (body.width - RANKING).min(body.width * 5 / 9);
            let (grid, ranking) = beside(body, wanted.clamp(48, most), 2);
            return Self { grid, ranking };
        }
        if body.width >= 66 && body.height >= 30 {
            let wanted = count(rows).saturating_add(HEADS + 1 + FEET);
            let high = wanted.min(body.height / 2);
            return Self { grid: above(body, high), ranking: below(body, high + 1) };
        }
        if on_grid {
            Self { grid: body, ranking: Rect::ZERO }
        } else {
            Self { grid: Rect::ZERO, ranking: body }
        }
    }
}

/// How the grid is divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Parts {
    /// Cells for the name of a seed parent.
    pub(super) name: u16,
    /// The column at which the first pollen parent begins.
    pub(super) from: u16,
    /// Pollen parents that can be seen at once.
    pub(super) across: usize,
    /// Seed parents that can be seen at once.
    pub(super) down: usize,
    /// Rows above the first seed parent.
    pub(super) heads: u16,
    /// Whether the margins say what each parent passes on.
    pub(super) has_merit: bool,
    /// Whether there is room for what stands below the grid.
    pub(super) has_feet: bool,
}

impl Parts {
    /// `has_merit` tells whether there is anything to say of what parents pass on.
    pub(super) fn of(area: Rect, name_wide: usize, rows: usize, has_merit: bool) -> Self {
        let has_merit = has_merit && area.width >= 66 && area.height >= 12;
        let (merit, heads) = if has_merit { (MERIT + 1, HEADS + 1) } else { (0, HEADS) };
        let most = (area.width / if has_merit { 5 } else { 4 }).clamp(4, 22);
        let name = u16::try_from(name_wide).unwrap_or(u16::MAX).clamp(4, most);
        let from = 1 + name + FIGURES + merit + 2;
        let across = usize::from(area.width.saturating_sub(from) / CELL).max(1);
        let has_feet = area.height > heads + FEET + 1;
        let feet = if has_feet { FEET } else { 0 };
        let down = usize::from(area.height.saturating_sub(heads + feet)).max(1).min(rows.max(1));
        Self { name, from, across, down, heads, has_merit, has_feet }
    }
}

impl Parts {
    /// Where the own figures of the seed parents end.
    pub(super) fn figures_to(&self) -> u16 {
        self.from - 2 - if self.has_merit { MERIT + 1 } else { 0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_never_overlap_and_one_of_them_is_always_there() {
        for width in (0..210).step_by(3) {
            for height in 0..60 {
                for (size, on_grid) in [((3, 4), true), ((400, 900), false), ((0, 0), true)] {
                    let body = Rect::new(3, 2, width, height);
                    let Layout { grid, ranking } = Layout::of(body, size, on_grid);
                    assert_eq!(grid.intersection(ranking).area(), 0);
                    for part in [grid, ranking] {
                        let inside = part.intersection(body).area() == part.area();
                        assert!(inside || part.is_empty(), "{part} of {body}");
                    }
                    assert!(body.is_empty() || grid.area() + ranking.area() > 0);
                }
            }
        }
    }
}
