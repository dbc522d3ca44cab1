//! Where the parts of the evening stand, in whatever room there is.
//!
//! A wide screen has three columns above the pairings, a usual one two, a narrow one stacks
//! everything. What finds no room is left out: first the way of the seed, never the pairings.

use ratatui::layout::Rect;

use crate::tui::widget::section::{above, below, beside};

/// The parts of the page; one without room is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Layout {
    /// What is due, above everything else; empty where nothing is.
    pub(super) due: Rect,
    pub(super) way: Rect,
    pub(super) waiting: Rect,
    pub(super) keepers: Rect,
    pub(super) pairings: Rect,
    /// The pairings behind the keepers of the season before.
    pub(super) before: Rect,
}

/// Rows that the way of the seed takes: a heading, six steps, heads and what is due.
const WAY: u16 = 10;
/// Rows around the pairings: the heading, the heads of the columns, the scale.
pub(super) const AROUND_PAIRINGS: u16 = 3;

const NOWHERE: Rect = Rect::ZERO;

/// Rows in each list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Rows {
    pub(super) waiting: u16,
    pub(super) keepers: u16,
    pub(super) pairings: u16,
    pub(super) before: u16,
    pub(super) due: u16,
}

impl Layout {
    pub(super) fn of(body: Rect, rows: Rows) -> Self {
        // All of it where there is much room; on a usual screen the most pressing.
        let most = if body.height >= 30 { rows.due } else { (body.height / 6).min(rows.due) };
        if most == 0 {
            return Self::rest_of(body, rows);
        }
        let due = above(body, most.saturating_add(1));
        Self { due, ..Self::rest_of(below(body, most.saturating_add(2)), rows) }
    }

    fn rest_of(body: Rect, rows: Rows) -> Self {
        let due = NOWHERE;
        if body.width < 66 {
            return Self::stacked(body);
        }
        let is_wide = body.width >= 150;
        let n_pairings = if is_wide { rows.pairings.max(rows.before) } else { rows.pairings };
        let wanted = n_pairings.saturating_add(AROUND_PAIRINGS);
        // No more than what leaves the way of the seed in view, or half of a low page.
        let low = wanted.min(body.height.saturating_sub(WAY + 1).max(body.height / 2));
        // No higher than its lists, so that what is left of a tall page is left at its foot.
        let lists = if is_wide { rows.waiting.max(rows.keepers) } else { both(rows) };
        let high = (body.height - low).min(lists.saturating_add(2).max(WAY + 2));
        let top = above(body, high.saturating_sub(1));
        let pairings = below(body, high);
        if is_wide {
            let (way, rest) = beside(top, 62, 2);
            let (waiting, keepers) = beside(rest, rest.width / 2 - 1, 2);
            let (pairings, before) = beside(pairings, pairings.width / 2 - 1, 2);
            return Self { due, way, waiting, keepers, pairings, before };
        }
        let (way, rest) = beside(top, if body.width >= 110 { 59 } else { 36 }, 1);
        // Half each, unless one list is content with less: its rows, heading and a blank.
        let lower = rows.keepers.saturating_add(1).max(2).min(rest.height / 2);
        let upper = rows.waiting.saturating_add(2).max(3).min(rest.height - lower);
        Self {
            due,
            way,
            waiting: above(rest, upper.saturating_sub(1)),
            keepers: below(rest, upper),
            pairings,
            before: NOWHERE,
        }
    }

    fn stacked(body: Rect) -> Self {
        let has_way = body.height >= 30;
        let (way, rest) =
            if has_way { (above(body, WAY), below(body, WAY + 1)) } else { (NOWHERE, body) };
        let third = rest.height / 3;
        if third < 3 {
            let (up, low) = (above(rest, rest.height / 2), below(rest, rest.height / 2));
            let due = NOWHERE;
            return Self {
                due,
                way,
                waiting: NOWHERE,
                keepers: up,
                pairings: low,
                before: NOWHERE,
            };
        }
        Self {
            due: NOWHERE,
            way,
            waiting: above(rest, third),
            keepers: above(below(rest, third), third),
            pairings: below(rest, 2 * third),
            before: NOWHERE,
        }
    }
}

/// Rows of the lists of plants one above the other, with a heading and a blank between.
fn both(rows: Rows) -> u16 {
    rows.waiting.saturating_add(rows.keepers).saturating_add(2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_never_overlap_and_stay_on_the_page() {
        for width in (0..210).step_by(3) {
            for height in 0..60 {
                for n in [0, 3, 40] {
                    let body = Rect::new(3, 2, width, height);
                    let rows =
                        Rows { waiting: 43 - n, keepers: n, pairings: n, before: 5, due: n / 3 };
                    let layout = Layout::of(body, rows);
                    let parts = [
                        layout.due,
                        layout.way,
                        layout.waiting,
                        layout.keepers,
                        layout.pairings,
                        layout.before,
                    ];
                    for (i, part) in parts.iter().enumerate() {
                        let inside = part.intersection(body).area() == part.area();
                        assert!(inside || part.is_empty(), "{part} of {body}");
                        for other in &parts[i + 1..] {
                            assert_eq!(part.intersection(*other).area(), 0, "{part} and {other}");
                        }
                    }
                }
            }
        }
    }
}
