//! Where pages draw: a clipped window on the screen's cells, which also notes what can be
//! clicked.

use ratatui::{
    buffer::Buffer,
    layout::Rect,
    style::{Modifier, Style},
};

use super::text;
use crate::tui::{
    action::Action,
    theme::{Role, Theme},
};

/// What a click falls on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Target {
    /// An action, as if its key were pressed.
    Do(Action),
    /// A line of the page's list of this number; the line is counted from the first of the
    /// list, not of the window.
    Line {
        /// Which list of the page.
        list: usize,
        /// Which line of it.
        line: usize,
    },
    /// A head of a column.
    Head {
        /// Which list of the page.
        list: usize,
        /// Which column of it.
        column: usize,
    },
}

/// A part of the screen that can be clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hit {
    /// Where.
    pub area: Rect,
    /// What.
    pub target: Target,
}

/// A window to draw on.
#[derive(Debug)]
pub struct Canvas<'a> {
    buffer: &'a mut Buffer,
    hits: &'a mut Vec<Hit>,
    theme: &'a Theme,
    area: Rect,
}

impl<'a> Canvas<'a> {
    /// A window on the whole of a buffer.
    pub fn new(buffer: &'a mut Buffer, hits: &'a mut Vec<Hit>, theme: &'a Theme) -> Self {
        let area = buffer.area;
        Self { buffer, hits, theme, area }
    }

    /// The window.
    pub fn area(&self) -> Rect {
        self.area
    }

    /// The look of things.
    pub fn theme(&self) -> &'a Theme {
        self.theme
    }

    /// A smaller window; what lies outside this one is cut off.
    pub fn within(&mut self, area: Rect) -> Canvas<'_> {
        let area = area.intersection(self.area);
        Canvas { buffer: self.buffer, hits: self.hits, theme: self.theme, area }
    }

    /// Notes that a click in `area` means `target`. What is noted later lies on top.
    pub fn hit(&mut self, area: Rect, target: Target) {
        let area = area.intersection(self.area);
        if !area.is_empty() {
            self.hits.push(Hit { area, target });
        }
    }

    /// The room from column `x` of the window on row `y` of the window.
    fn room(&self, x: u16, y: u16) -> Option<(u16, u16, usize)> {
        if x >= self.area.width || y >= self.area.height {
            return None;
        }
        Some((self.area.x + x, self.area.y + y, usize::from(self.area.width - x)))
    }

    /// Writes a text at a column and row of the window, in at most `most` cells. Returns the
    /// column after it.
    pub fn put(&mut self, x: u16, y: u16, most: usize, content: &str, style: Style) -> u16 {
        let Some((left, top, room)) = self.room(x, y) else { return x };
        let most = most.min(room);
        let content = text::cut(content, most, self.theme.glyphs().ellipsis);
        let mut at = left;
        for (grapheme, wide) in text::cells(&content) {
            let wide = u16::try_from(wide).unwrap_or(u16::MAX);
            if at.saturating_add(wide) > self.area.right() {
                break;
            }
            debug_assert!(
                !self.bears_letter(at, top) || grapheme == " ",
                "\"{content}\" lies on top of other letters at {at}, {top}"
            );
            self.cell(at, top, grapheme, style);
            for covered in at + 1..at + wide {
                self.cell(covered, top, " ", style);
            }
            at += wide;
        }
        at - self.area.x
    }

    /// Whether a letter stands here already: text on text is a fault of the layout, found while
    /// developing by drawing every page at every size.
    fn bears_letter(&self, x: u16, y: u16) -> bool {
        self.buffer
            .cell((x, y))
            .is_some_and(|cell| cell.symbol().chars().any(char::is_alphanumeric))
    }

    fn cell(&mut self, x: u16, y: u16, symbol: &str, style: Style) {
        if let Some(cell) = self.buffer.cell_mut((x, y)) {
            // What stood here before must not shine through.
            cell.reset();
            cell.set_symbol(symbol).set_style(style);
        }
    }

    /// Writes a text in the look of a role. Returns the column after it.
    pub fn say(&mut self, x: u16, y: u16, content: &str, role: Role) -> u16 {
        self.put(x, y, usize::MAX, content, self.theme.style(role))
    }

    /// Writes pieces one after the other. Returns the column after the last.
    pub fn pieces(&mut self, x: u16, y: u16, pieces: &[(&str, Role)]) -> u16 {
        pieces.iter().fold(x, |x, (content, role)| self.say(x, y, content, *role))
    }

    /// Writes a text so that it ends before column `end`, in at most `most` cells. Returns the
    /// column at which it begins.
    pub fn put_right(&mut self, end: u16, y: u16, most: usize, content: &str, style: Style) -> u16 {
        let most = most.min(usize::from(end.min(self.area.width)));
        let content = text::cut(content, most, self.theme.glyphs().ellipsis);
        let wide = u16::try_from(text::width(&content)).unwrap_or(u16::MAX);
        let x = end.min(self.area.width).saturating_sub(wide);
        self.put(x, y, most, &content, style);
        x
    }

    /// Writes a text in the look of a role so that it ends before column `end`.
    pub fn say_right(&mut self, end: u16, y: u16, content: &str, role: Role) -> u16 {
        self.put_right(end, y, usize::MAX, content, self.theme.style(role))
    }

    /// Fills a stretch of a row with one sign.
    pub fn fill(&mut self, x: u16, y: u16, wide: u16, sign: &str, style: Style) {
        for column in x..x.saturating_add(wide).min(self.area.width) {
            if let Some((left, top, _)) = self.room(column, y) {
                self.cell(left, top, sign, style);
            }
        }
    }

    /// Makes whole cells of the swatches in a reversed stretch: there the cell has the colour of the
    /// bloom, and the sign that of the ground.
    fn fill_swatches(&mut self, area: Rect) {
        let swatch = self.theme.glyphs().swatch;
        for position in area.positions() {
            if let Some(cell) = self.buffer.cell_mut(position)
                && cell.symbol() == swatch
            {
                cell.set_symbol(" ");
            }
        }
    }

    /// Lays a style over a stretch of a row, on top of what stands there.
    pub fn tint(&mut self, x: u16, y: u16, wide: u16, style: Style) {
        if x < self.area.width && y < self.area.height {
            let wide = wide.min(self.area.width - x);
            let area = Rect::new(self.area.x + x, self.area.y + y, wide, 1);
            self.buffer.set_style(area, style);
            if style.add_modifier.contains(Modifier::REVERSED) {
                self.fill_swatches(area);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tui::settings::Settings;

    #[test]
    fn nothing_is_drawn_outside_the_window() {
        let theme = Theme::new(Settings::default());
        for (width, height) in [(0, 0), (1, 1), (5, 2)] {
            let mut buffer = Buffer::empty(Rect::new(0, 0, 7, 4));
            let mut hits = Vec::new();
            let mut canvas = Canvas::new(&mut buffer, &mut hits, &theme);
            let mut window = canvas.within(Rect::new(1, 1, width, height));
            for x in 0..9 {
                for y in 0..6 {
                    window.fill(0, y, 9, " ", Style::new());
                    window.say(x, y, "霧x霧", Role::Text);
                    window.fill(0, y, 9, " ", Style::new());
                    window.say_right(x, y, "霧x", Role::Text);
                    window.fill(x, y, 9, "=", Style::new());
                    window.tint(x, y, 9, Style::new());
                    window.hit(Rect::new(x, y, 9, 9), Target::Do(Action::Quit));
                }
            }
            let inside = Rect::new(1, 1, width, height);
            for position in buffer.area.positions() {
                let drawn = buffer[position].symbol() != " ";
                assert!(!drawn || inside.contains(position), "{position} of {inside}");
            }
            assert!(hits.iter().all(|hit| hit.area.intersection(inside) == hit.area));
        }
    }
}
