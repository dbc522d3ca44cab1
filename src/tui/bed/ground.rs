//! The ground of the plan: parts one below the other, each a heading and rows of places, and how
//! a cursor walks over them.
//!
//! Everything is worked out from how many rows and places there are, so a plan may be of any
//! size.

use crate::tui::action::Action;

/// A place on the ground: the part, the row and the place along it, all from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Spot {
    pub(super) part: usize,
    pub(super) row: usize,
    pub(super) place: usize,
}

/// What is on a line of the ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Line {
    /// The heading of a part.
    Heading(usize),
    /// A row of a part.
    Row(usize, usize),
    /// Between two parts, or below the last.
    Blank(usize),
}

/// How large one part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Size {
    pub(super) rows: usize,
    pub(super) places: usize,
    /// Places along the last row, where that may be cut short.
    pub(super) in_last: usize,
}

#[derive(Debug, Clone, Copy)]
struct Part {
    size: Size,
    /// The line of its heading.
    top: usize,
    /// Rows in all parts above.
    rows_above: usize,
    /// Places in all parts above.
    places_above: usize,
}

/// All parts.
#[derive(Debug, Clone, Default)]
pub(super) struct Ground {
    parts: Vec<Part>,
    n_lines: usize,
    n_rows: usize,
}

impl Size {
    /// A bed.
    pub(super) fn bed(rows: u16, places: u16) -> Self {
        let (rows, places) = (usize::from(rows), usize::from(places));
        // Places without rows, or rows without places, are no ground to walk on.
        let rows = if places == 0 { 0 } else { rows };
        Self { rows, places, in_last: places }
    }

    /// So many places in rows of `across`.
    pub(super) fn flow(n: usize, across: usize) -> Self {
        let across = across.max(1);
        let rows = n.div_ceil(across);
        Self { rows, places: across, in_last: n - rows.saturating_sub(1) * across }
    }

    fn places_in(self, row: usize) -> usize {
        if row + 1 == self.rows { self.in_last } else { self.places }
    }
}

impl Ground {
    pub(super) fn new(sizes: impl IntoIterator<Item = Size>) -> Self {
        let mut ground = Self::default();
        let mut places_above = 0;
        for size in sizes {
            let (top, rows_above) = (ground.n_lines, ground.n_rows);
            ground.parts.push(Part { size, top, rows_above, places_above });
            ground.n_lines += size.rows + 2;
            ground.n_rows += size.rows;
            places_above += size.rows * size.places;
        }
        // Nothing has to be set off below the last part.
        ground.n_lines = ground.n_lines.saturating_sub(1);
        ground
    }

    pub(super) fn n_lines(&self) -> usize {
        self.n_lines
    }

    /// Whether there is a place to stand on.
    pub(super) fn has_places(&self) -> bool {
        self.n_rows > 0
    }

    pub(super) fn line_of(&self, spot: Spot) -> usize {
        self.parts.get(spot.part).map_or(0, |part| part.top + 1 + spot.row)
    }

    pub(super) fn at(&self, line: usize) -> Line {
        let part = self.parts.partition_point(|p| p.top <= line).saturating_sub(1);
        let Some(Part { size, top, .. }) = self.parts.get(part) else { return Line::Blank(part) };
        match line - top {
            0 => Line::Heading(part),
            n if n <= size.rows => Line::Row(part, n - 1),
            _ => Line::Blank(part),
        }
    }

    /// The number of a spot among all, for the mouse.
    pub(super) fn number(&self, spot: Spot) -> usize {
        self.parts
            .get(spot.part)
            .map_or(0, |part| part.places_above + spot.row * part.size.places + spot.place)
    }

    /// The spot of a number.
    pub(super) fn spot(&self, number: usize) -> Spot {
        let part = self.parts.partition_point(|p| p.places_above <= number);
        // Parts without places begin where the next one does.
        let part = (0..part).rev().find(|&i| self.parts[i].size.rows > 0).unwrap_or_default();
        let Some(Part { size, places_above, .. }) = self.parts.get(part) else {
            return Spot::default();
        };
        let within = number - places_above;
        let across = size.places.max(1);
        self.settled(Spot { part, row: within / across, place: within % across })
    }

    /// The nearest spot that there is.
    pub(super) fn settled(&self, spot: Spot) -> Spot {
        match self.parts.get(spot.part) {
            Some(part) if part.size.rows > 0 => {
                let row = spot.row.min(part.size.rows - 1);
                let place = spot.place.min(part.size.places_in(row).saturating_sub(1));
                Spot { part: spot.part, row, place }
            }
            Some(part) => self.on_row(part.rows_above, spot.place),
            None => self.on_row(self.n_rows, spot.place),
        }
    }

    /// The spot on a row counted over all parts.
    fn on_row(&self, row: usize, place: usize) -> Spot {
        let row = row.min(self.n_rows.saturating_sub(1));
        let part = self.parts.partition_point(|p| p.rows_above <= row);
        let part = (0..part).rev().find(|&i| self.parts[i].size.rows > 0);
        let Some(part) = part else { return Spot::default() };
        let Part { size, rows_above, .. } = self.parts[part];
        let row = (row - rows_above).min(size.rows - 1);
        Spot { part, row, place: place.min(size.places_in(row).saturating_sub(1)) }
    }

    fn row_number(&self, spot: Spot) -> usize {
        self.parts.get(spot.part).map_or(0, |part| part.rows_above + spot.row)
    }

    /// Where an action of moving leads, on a page of `height` lines; `None` for another action.
    pub(super) fn moved(&self, spot: Spot, action: Action, height: u16) -> Option<Spot> {
        let row = self.row_number(spot);
        let page = usize::from(height).saturating_sub(2).max(1);
        let spot = match action {
            Action::Up => self.on_row(row.saturating_sub(1), spot.place),
            Action::Down => self.on_row(row + 1, spot.place),
            Action::PageUp => self.on_row(row.saturating_sub(page), spot.place),
            Action::PageDown => self.on_row(row + page, spot.place),
            Action::First => self.on_row(0, 0),
            Action::Last => self.on_row(self.n_rows, usize::MAX),
            Action::Left => Spot { place: spot.place.saturating_sub(1), ..spot },
            Action::Right => Spot { place: spot.place + 1, ..spot },
            Action::NextList | Action::ListBefore => self.next_part(spot, action),
            _ => return None,
        };
        Some(self.settled(spot))
    }

    fn next_part(&self, spot: Spot, action: Action) -> Spot {
        let n = self.parts.len();
        let by = if action == Action::NextList { 1 } else { n.saturating_sub(1) };
        let mut ways = (1..=n).map(|i| (spot.part + i * by) % n);
        let next = ways.find(|&part| self.parts[part].size.rows > 0);
        Spot { part: next.unwrap_or(spot.part), row: 0, place: 0 }
    }

    /// The first row at or below a line.
    pub(super) fn row_below(&self, line: usize, place: usize) -> Spot {
        match self.at(line) {
            Line::Row(part, row) => self.settled(Spot { part, row, place }),
            Line::Heading(part) => self.settled(Spot { part, row: 0, place }),
            Line::Blank(part) => self.settled(Spot { part: part + 1, row: 0, place }),
        }
    }

    /// The first row at or above a line.
    pub(super) fn row_above(&self, line: usize, place: usize) -> Spot {
        match self.at(line) {
            Line::Row(part, row) => self.settled(Spot { part, row, place }),
            Line::Blank(part) => self.settled(Spot { part, row: usize::MAX, place }),
            Line::Heading(part) => {
                let above = self.parts.get(part).map_or(0, |p| p.rows_above);
                self.on_row(above.saturating_sub(1), place)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ground() -> Ground {
        Ground::new([Size::bed(3, 5), Size::bed(0, 9), Size::bed(2, 2), Size::flow(7, 3)])
    }

    #[test]
    fn the_lines_of_all_parts_follow_one_another() {
        let ground = ground();
        let lines: Vec<Line> = (0..ground.n_lines()).map(|line| ground.at(line)).collect();
        assert_eq!(lines[0], Line::Heading(0));
        assert_eq!(lines[3], Line::Row(0, 2));
        assert_eq!(lines[4], Line::Blank(0));
        assert_eq!(lines[5], Line::Heading(1));
        assert_eq!(lines[7], Line::Heading(2));
        assert_eq!(lines.last(), Some(&Line::Row(3, 2)));
    }

    #[test]
    fn every_place_has_a_number_and_is_found_by_it() {
        let ground = ground();
        let sizes = [(0, 3, 5), (2, 2, 2), (3, 2, 3)];
        for (part, rows, places) in sizes {
            for row in 0..rows {
                for place in 0..places {
                    let spot = Spot { part, row, place };
                    assert_eq!(ground.spot(ground.number(spot)), spot);
                }
            }
        }
    }

    #[test]
    fn the_cursor_walks_from_bed_to_bed_and_never_off_the_ground() {
        let ground = ground();
        let go = |spot, action| ground.moved(spot, action, 4).unwrap_or(spot);
        let end = Spot { part: 0, row: 2, place: 4 };
        assert_eq!(go(end, Action::Down), Spot { part: 2, row: 0, place: 1 });
        assert_eq!(go(end, Action::NextList), Spot { part: 2, row: 0, place: 0 });
        assert_eq!(go(end, Action::Right), end);
        let last = Spot { part: 3, row: 2, place: 0 };
        assert_eq!(go(end, Action::Last), last);
        assert_eq!(go(last, Action::Right), last, "the last row is short");
        let keys = [Action::Down, Action::Right, Action::PageDown, Action::Up, Action::PageUp];
        for ground in [ground.clone(), Ground::default(), Ground::new([Size::bed(4, 0)])] {
            let mut spot = Spot::default();
            for i in 0..200 {
                let action = if i % 7 == 0 { Action::NextList } else { keys[i * i % 5] };
                spot = ground.moved(spot, action, 3).unwrap_or(spot);
                let on_row = matches!(ground.at(ground.line_of(spot)), Line::Row(..));
                assert!(on_row || !ground.has_places(), "{spot:?}");
            }
        }
    }
}
