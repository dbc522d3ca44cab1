//! Lines that meet: every cell remembers in which directions it is joined, and gets the sign for
//! that when all are laid.

use ratatui::style::Style;

use crate::tui::widget::Canvas;

const LEFT: u8 = 1;
const RIGHT: u8 = 2;
const UP: u8 = 4;
const DOWN: u8 = 8;

/// A sheet of lines.
#[derive(Debug, Clone)]
pub(super) struct Rails {
    wide: u16,
    joined: Vec<u8>,
}

impl Rails {
    pub(super) fn new(wide: u16, high: u16) -> Self {
        Self { wide, joined: vec![0; usize::from(wide) * usize::from(high)] }
    }

    fn join(&mut self, x: u16, y: u16, directions: u8) {
        let at = usize::from(y) * usize::from(self.wide) + usize::from(x);
        if x < self.wide
            && let Some(joined) = self.joined.get_mut(at)
        {
            *joined |= directions;
        }
    }

    /// A line along a row, both ends among it.
    pub(super) fn across(&mut self, y: u16, from: u16, to: u16) {
        for x in from..to {
            self.join(x, y, RIGHT);
            self.join(x + 1, y, LEFT);
        }
    }

    /// A line along a column, both ends among it.
    pub(super) fn along(&mut self, x: u16, from: u16, to: u16) {
        for y in from.min(to)..from.max(to) {
            self.join(x, y, DOWN);
            self.join(x, y + 1, UP);
        }
    }

    /// Draws all lines.
    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, style: Style) {
        let signs = canvas.theme().glyphs().rails;
        let (mut x, mut y) = (0, 0);
        for &joined in &self.joined {
            if joined != 0 {
                canvas.put(x, y, 1, signs[usize::from(joined)], style);
            }
            x += 1;
            if x == self.wide {
                (x, y) = (0, y + 1);
            }
        }
    }
}
