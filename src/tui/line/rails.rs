//! Lines that meet: every cell remembers in which directions it is joined, and gets the sign for
//! that when all are laid. A line that lies in a loop is drawn heavier than the others.

use ratatui::style::Style;

use crate::tui::widget::Canvas;

const LEFT: u8 = 1;
const RIGHT: u8 = 2;
const UP: u8 = 4;
const DOWN: u8 = 8;
const ALL: u8 = 15;
const IN_A_LOOP: u8 = 16;

/// A sheet of lines.
#[derive(Debug, Clone)]
pub(super) struct Rails {
    wide: u16,
    joined: Vec<u8>,
    /// What is laid on now lies in a loop.
    in_a_loop: bool,
}

impl Rails {
    pub(super) fn new(wide: u16, high: u16) -> Self {
        let joined = vec![0; usize::from(wide) * usize::from(high)];
        Self { wide, joined, in_a_loop: false }
    }

    /// Whether the lines that follow lie in a loop.
    pub(super) fn begin(&mut self, in_a_loop: bool) {
        self.in_a_loop = in_a_loop;
    }

    fn join(&mut self, x: u16, y: u16, directions: u8) {
        let at = usize::from(y) * usize::from(self.wide) + usize::from(x);
        if x < self.wide
            && let Some(joined) = self.joined.get_mut(at)
        {
            *joined |= directions;
            if self.in_a_loop {
                *joined |= IN_A_LOOP;
            }
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

    /// The end of a line that comes from what stands above.
    pub(super) fn hang(&mut self, x: u16, y: u16) {
        self.join(x, y, UP);
    }

    /// Draws all lines.
    pub(super) fn draw(&self, canvas: &mut Canvas<'_>, style: Style, in_loops: Style) {
        let glyphs = canvas.theme().glyphs();
        let (mut x, mut y) = (0, 0);
        for &joined in &self.joined {
            if joined != 0 {
                let (signs, style) = match joined & IN_A_LOOP {
                    0 => (glyphs.rails, style),
                    _ => (glyphs.loops, in_loops),
                };
                canvas.put(x, y, 1, signs[usize::from(joined & ALL)], style);
            }
            x += 1;
            if x == self.wide {
                (x, y) = (0, y + 1);
            }
        }
    }
}
