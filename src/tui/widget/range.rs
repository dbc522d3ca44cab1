//! An estimate on its range, drawn to a scale: a line from low to high with a dot at the
//! estimate. The dot, the ends and the line differ in shape, so that they read without colour.

use ratatui::layout::Rect;

use super::{Canvas, text};
use crate::tui::theme::Role;

/// What a scale reaches from 0 to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The value at the right end.
    pub to: f64,
}

/// An estimate between 0 and 1 with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The estimate.
    pub at: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Scale {
    /// The smallest of a few round scales on which everything up to `most` has its place.
    pub fn reaching(most: f64) -> Self {
        let to = [0.25, 0.5, 0.75].into_iter().find(|to| most <= *to).unwrap_or(1.0);
        Self { to }
    }

    /// The cell, of `wide`, on which a value falls.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a share between 0 and 1 of a u16"
    )]
    fn cell(self, value: f64, wide: u16) -> u16 {
        let share = if value.is_nan() { 0.0 } else { (value / self.to).clamp(0.0, 1.0) };
        (share * f64::from(wide.saturating_sub(1))).round() as u16
    }

    /// The values that get a mark, every quarter of 100 % or, on a short scale, more.
    fn marks(self) -> impl Iterator<Item = f64> {
        let step = if self.to <= 0.25 {
            0.05
        } else if self.to <= 0.5 {
            0.1
        } else {
            0.25
        };
        (0..=20_u8).map(move |i| f64::from(i) * step).filter(move |v| *v <= self.to + 1e-9)
    }
}

/// Draws a range in the row `area`, the whole width of it being the scale.
pub fn draw(canvas: &mut Canvas<'_>, area: Rect, spread: Spread, scale: Scale) {
    let mut canvas = canvas.within(area);
    let wide = canvas.area().width;
    if wide == 0 || canvas.area().height == 0 {
        return;
    }
    let glyphs = canvas.theme().glyphs();
    let quiet = canvas.theme().style(Role::Quiet);
    for mark in scale.marks() {
        canvas.fill(scale.cell(mark, wide), 0, 1, glyphs.grid, quiet);
    }
    let text = canvas.theme().style(Role::Text);
    let (low, high) = (scale.cell(spread.low, wide), scale.cell(spread.high, wide));
    if low < high {
        canvas.fill(low, 0, high - low, glyphs.whisker, text);
        canvas.fill(low, 0, 1, glyphs.low, text);
        canvas.fill(high, 0, 1, glyphs.high, text);
    }
    let accent = canvas.theme().style(Role::Accent);
    canvas.fill(scale.cell(spread.at, wide), 0, 1, glyphs.estimate, accent);
}

/// Draws the figures of the scale in the row `area`, each centred under its mark where there is
/// room, and leaves out those for which there is none. The last one says `%`, if that is not in
/// the way of another.
pub fn draw_scale(canvas: &mut Canvas<'_>, area: Rect, scale: Scale) {
    let mut canvas = canvas.within(area);
    let wide = canvas.area().width;
    let marks: Vec<f64> = scale.marks().collect();
    let mut free = 0_u16;
    let last = marks.len().saturating_sub(1);
    let label = |i: usize| format!("{:.0}", marks[i] * 100.0);
    let n_cells = |label: &str| u16::try_from(text::width(label)).unwrap_or(u16::MAX);
    let mut end_label = marks.last().map(|_| format!("{} %", label(last))).unwrap_or_default();
    let span = |i: usize| {
        let from = scale.cell(marks[i], wide).saturating_sub(n_cells(&label(i)) / 2);
        (from, from + n_cells(&label(i)))
    };
    if last > 0 && span(last - 1).1 >= wide.saturating_sub(n_cells(&end_label)) {
        end_label.truncate(end_label.len().saturating_sub(2));
    }
    let end_from = wide.saturating_sub(n_cells(&end_label));
    for i in 0..last {
        let (label, (from, to)) = (label(i), span(i));
        if from >= free && to < end_from {
            canvas.say(from, 0, &label, Role::Quiet);
            free = to + 1;
        }
    }
    if n_cells(&end_label) <= wide {
        canvas.say(end_from, 0, &end_label, Role::Quiet);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tui::{settings::Settings, theme::Theme};
    use ratatui::buffer::Buffer;

    fn drawn(wide: u16, spread: Spread, to: f64) -> [String; 2] {
        let theme = Theme::new(Settings::default());
        let (mut buffer, mut hits) = (Buffer::empty(Rect::new(0, 0, wide, 2)), Vec::new());
        let mut canvas = Canvas::new(&mut buffer, &mut hits, &theme);
        draw(&mut canvas, Rect::new(0, 0, wide, 1), spread, Scale { to });
        draw_scale(&mut canvas, Rect::new(0, 1, wide, 1), Scale { to });
        [0, 1].map(|y| (0..wide).map(|x| buffer[(x, y)].symbol()).collect())
    }

    #[test]
    fn a_range_shows_its_ends_its_estimate_and_its_scale() {
        let spread = Spread { at: 0.33, low: 0.2, high: 0.48 };
        let [range, scale] = drawn(31, spread, 0.75);
        assert_eq!(range, "·       ├────●─────┤·         ·");
        assert_eq!(scale, "0        25        50      75 %");
    }

    #[test]
    fn a_short_scale_has_all_its_marks() {
        let [_, scale] = drawn(10, Spread { at: 0.3, low: 0.2, high: 0.4 }, 0.75);
        assert_eq!(scale, "0 25 50 75");
    }

    #[test]
    fn a_range_fits_in_any_room_and_bears_any_figure() {
        let odd = [f64::NAN, -1.0, 0.0, 0.3, 2.0, f64::INFINITY];
        for wide in 0..40 {
            for at in odd {
                for (low, high) in [(0.9, 0.1), (at, at), (0.0, 1.0)] {
                    drawn(wide, Spread { at, low, high }, 1.0);
                }
            }
        }
        let [range, _] = drawn(1, Spread { at: 0.5, low: 0.2, high: 0.9 }, 1.0);
        assert_eq!(range, "●");
    }
}
