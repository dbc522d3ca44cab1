//! A rising curve with its band, beside a second one: in dots eight to a cell or, where the terminal
//! has only plain letters, one letter a cell. The first curve is drawn through, the second dotted and
//! the band shaded, so that they are told apart without colour.

use ratatui::layout::Rect;

use super::Canvas;
use crate::tui::theme::Role;

/// A share, with its range where it has one.
pub type Share = (f64, Option<(f64, f64)>);

/// What is drawn. Every function gives a share between 0 and 1 at a place on the scale.
pub struct Plot<'a> {
    /// The ends of the scale.
    pub scale: (f64, f64),
    /// The curve that it is about, and its range.
    pub curve: &'a dyn Fn(f64) -> Option<Share>,
    /// The curve beside it.
    pub beside: &'a dyn Fn(f64) -> Option<f64>,
}

/// Dots of a cell, across and down.
const ACROSS: u16 = 2;
const DOWN: u16 = 4;
/// Of the dots of the second curve, one in so many is drawn.
const DOTTED: u16 = 3;
/// The first of the signs of eight dots.
const DOTS: u32 = 0x2800;

/// The dots of an area.
struct Dots {
    wide: u16,
    high: u16,
    /// For each cell, the dots of the first and of the second curve.
    cells: Vec<[u8; 2]>,
}

impl Dots {
    fn of(area: Rect) -> Self {
        let n = usize::from(area.width) * usize::from(area.height);
        Self { wide: area.width, high: area.height, cells: vec![[0; 2]; n] }
    }

    /// The row of dots of a share, counted from the top.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a share between 0 and 1 of a u16"
    )]
    fn row(&self, share: f64) -> u16 {
        let most = f64::from((self.high * DOWN).saturating_sub(1));
        ((1.0 - share.clamp(0.0, 1.0)) * most).round() as u16
    }

    fn set(&mut self, curve: usize, x: u16, y: u16) {
        const BITS: [[u8; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
        let at = usize::from(y / DOWN) * usize::from(self.wide) + usize::from(x / ACROSS);
        if let Some(cell) = self.cells.get_mut(at) {
            cell[curve] |= BITS[usize::from(x % ACROSS)][usize::from(y % DOWN)];
        }
    }

    /// Draws the first curve through and the second dotted.
    fn lay(&mut self, plot: &Plot<'_>) {
        let mut before: Option<u16> = None;
        for x in 0..self.wide * ACROSS {
            let place = place(plot.scale, x, self.wide * ACROSS);
            let curve = (plot.curve)(place).map(|(share, _)| self.row(share));
            if let Some(row) = curve {
                // A step is drawn as the riser that it is.
                for y in row.min(before.unwrap_or(row))..=row.max(before.unwrap_or(row)) {
                    self.set(0, x, y);
                }
            }
            before = curve;
            if x % DOTTED == 0
                && let Some(share) = (plot.beside)(place)
            {
                let y = self.row(share);
                self.set(1, x, y);
            }
        }
    }
}

/// Where on the scale the middle of one of `n` columns lies.
fn place((from, to): (f64, f64), column: u16, n: u16) -> f64 {
    from + (to - from) * (f64::from(column) + 0.5) / f64::from(n.max(1))
}

/// Draws both curves and the band into an area.
pub fn draw(canvas: &mut Canvas<'_>, area: Rect, plot: &Plot<'_>) {
    let mut canvas = canvas.within(area);
    let area = canvas.area();
    let mut dots = Dots::of(area);
    dots.lay(plot);
    let theme = canvas.theme();
    let (accent, text, quiet) =
        (theme.style(Role::Accent), theme.style(Role::Text), theme.style(Role::Quiet));
    let glyphs = theme.glyphs();
    for x in 0..area.width {
        let range = (plot.curve)(place(plot.scale, x, area.width)).and_then(|(_, range)| range);
        let band = range.map(|(low, high)| (dots.row(high) / DOWN, dots.row(low) / DOWN));
        for y in 0..area.height {
            let [first, second] =
                dots.cells[usize::from(y) * usize::from(area.width) + usize::from(x)];
            let is_plain = theme.is_ascii();
            match (first, second) {
                (0, 0) => {
                    if band.is_some_and(|(top, foot)| (top..=foot).contains(&y)) {
                        canvas.fill(x, y, 1, glyphs.band, quiet);
                    }
                }
                (0, _) if is_plain => canvas.fill(x, y, 1, ".", text),
                (_, _) if is_plain => canvas.fill(x, y, 1, "*", accent),
                _ => {
                    let sign = char::from_u32(DOTS + u32::from(first | second)).unwrap_or(' ');
                    let style = if first > 0 { accent } else { text };
                    canvas.fill(x, y, 1, sign.encode_utf8(&mut [0; 4]), style);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use ratatui::buffer::Buffer;

    use super::*;
    use crate::tui::{settings::Settings, theme::Theme};

    fn drawn(ascii: bool, size: (u16, u16)) -> Vec<String> {
        let theme = Theme::new(Settings { ascii, ..Settings::default() });
        let area = Rect::new(0, 0, size.0, size.1);
        let mut buffer = Buffer::empty(area);
        let mut hits = Vec::new();
        let mut canvas = Canvas::new(&mut buffer, &mut hits, &theme);
        let curve =
            |x: f64| (x < 8.0).then_some((x / 10.0, Some((x / 10.0 - 0.2, x / 10.0 + 0.2))));
        let plot = Plot { scale: (0.0, 10.0), curve: &curve, beside: &|_| Some(1.0) };
        draw(&mut canvas, area, &plot);
        let row = |y| (0..size.0).map(|x| buffer[(x, y)].symbol().to_owned()).collect();
        (0..size.1).map(row).collect()
    }

    #[test]
    fn the_curve_rises_within_its_band_and_ends_where_nothing_is_known() {
        let rows = drawn(true, (20, 5));
        assert_eq!(rows[4].find('*'), Some(0), "{rows:#?}");
        let column = |x: usize| rows.iter().map(|row| row.as_bytes()[x]).collect::<Vec<_>>();
        assert!(column(8).contains(&b'*') && column(8).contains(&b':'), "{rows:#?}");
        assert!(!column(18).contains(&b'*') && column(18).contains(&b'.'), "{rows:#?}");
    }

    #[test]
    fn with_fine_signs_every_cell_is_of_dots_or_band() {
        for row in drawn(false, (20, 5)) {
            let is_known = |c: char| c == ' ' || c == '░' || ('\u{2800}'..='\u{28ff}').contains(&c);
            assert!(row.chars().all(is_known), "{row}");
        }
        for size in [(0, 0), (1, 1), (3, 0), (0, 3)] {
            drawn(false, size);
        }
    }
}
