//! Where the parts of the page stand, and how much of a plant a cell of the plan shows.

use ratatui::layout::Rect;

use crate::tui::widget::section::{above, below, beside};

/// The parts of the page; one without room is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Layout {
    pub(super) legend: Rect,
    /// The numbers of the places.
    pub(super) ruler: Rect,
    pub(super) plan: Rect,
    /// What is known of the plant under the cursor.
    pub(super) known: Rect,
}

/// Cells before the first place of a row, for its number.
pub(super) const MARGIN: u16 = 6;

const NOWHERE: Rect = Rect::ZERO;

impl Layout {
    /// Divides the body. The legend wants `n_legend` lines of the whole width.
    pub(super) fn of(body: Rect, n_legend: u16) -> Self {
        let has_legend = body.height > n_legend.saturating_add(7);
        let (legend, rest) = if has_legend {
            let gap = u16::from(body.height >= 16 + n_legend);
            (above(body, n_legend), below(body, n_legend + gap))
        } else {
            (NOWHERE, body)
        };
        let (plan, known) = if body.width >= 96 {
            let wide = (body.width / 4).clamp(34, 42);
            beside(rest, body.width - wide - 2, 2)
        } else {
            let lines = match rest.height {
                0..5 => 0,
                5..9 => 1,
                9..14 => 3,
                _ => 6,
            };
            let high = rest.height - lines;
            // A line is left blank above, where there are several.
            (above(rest, high), below(rest, high + u16::from(lines > 3)))
        };
        let ruler = above(plan, u16::from(plan.height > 3));
        Self { legend, ruler, plan: below(plan, ruler.height), known }
    }
}

/// What a cell of the plan shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Cells {
    /// Cells of the screen from one place to the next.
    pub(super) wide: u16,
    /// Whether the colour of the bloom stands beside the sign.
    pub(super) has_bloom: bool,
    /// Cells for the number of the plant; 0 where there is no room for it.
    pub(super) label: u16,
    /// Places that can be seen at once.
    pub(super) n: usize,
}

impl Cells {
    /// Cells that have something in them, up to the gap before the next place.
    pub(super) fn inked(self) -> u16 {
        1 + u16::from(self.has_bloom) + if self.label > 0 { 1 + self.label } else { 0 }
    }

    /// As much as fits for rows of `places`, with numbers of `label` cells, in a plan of `wide`
    /// cells.
    pub(super) fn of(wide: u16, places: usize, label: u16) -> Self {
        let room = usize::from(wide.saturating_sub(MARGIN));
        let fits = |cell: u16| places.saturating_mul(usize::from(cell)) <= room;
        let (wide, has_bloom, label) = if fits(label + 4) {
            (label + 4, true, label)
        } else if fits(label + 3) {
            (label + 3, false, label)
        } else if fits(4) {
            // The rows fill the room, as long as a row still reads as one.
            let spread = u16::try_from(room / places.max(1)).unwrap_or(u16::MAX);
            (spread.min(6), true, 0)
        } else {
            (if fits(3) { 3 } else { 2 }, false, 0)
        };
        Self { wide, has_bloom, label, n: (room / usize::from(wide)).max(1) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_never_overlap_and_stay_on_the_page() {
        for width in (0..210).step_by(3) {
            for height in 0..60 {
                for n_legend in 1..4 {
                    let body = Rect::new(2, 3, width, height);
                    let Layout { legend, ruler, plan, known } = Layout::of(body, n_legend);
                    let parts = [legend, ruler, plan, known];
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

    #[test]
    fn the_more_room_the_more_a_cell_tells() {
        let of = |wide| {
            let cells = Cells::of(wide, 15, 6);
            (cells.wide, cells.has_bloom, cells.label)
        };
        assert_eq!(of(200), (10, true, 6));
        assert_eq!(of(145), (9, false, 6));
        assert_eq!(of(80), (4, true, 0));
        assert_eq!(of(55), (3, false, 0));
        assert_eq!(of(45), (2, false, 0));
        assert_eq!(Cells::of(20, 15, 6).n, 7);
        assert_eq!(Cells::of(0, 15, 6).n, 1);
    }
}
