//! A bar whose length is a share of its room.

use super::Canvas;
use crate::tui::theme::Role;

/// Draws `share` (0 to 1) of `wide` cells at a column and row of the window, to an eighth of a
/// cell. A share above 0 shows at least a sliver.
pub fn draw(canvas: &mut Canvas<'_>, x: u16, y: u16, wide: u16, share: f64, role: Role) {
    let glyphs = canvas.theme().glyphs();
    let style = canvas.theme().style(role);
    let eighths = eighths(wide, share);
    let whole = u16::try_from(eighths / 8).unwrap_or(u16::MAX).min(wide);
    canvas.fill(x, y, whole, glyphs.bar[7], style);
    let rest = eighths % 8;
    if rest > 0 && whole < wide {
        canvas.fill(x + whole, y, 1, glyphs.bar[rest - 1], style);
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share between 0 and 1 of a u16"
)]
fn eighths(wide: u16, share: f64) -> usize {
    if share.is_nan() || share <= 0.0 {
        return 0;
    }
    let most = usize::from(wide) * 8;
    ((most as f64 * share.min(1.0)).round() as usize).clamp(1.min(most), most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_never_outgrows_its_room_and_never_hides_the_last_plant() {
        assert_eq!(eighths(10, 0.5), 40);
        assert_eq!(eighths(10, 7.0), 80);
        assert_eq!(eighths(10, 0.000_1), 1);
        assert_eq!(eighths(10, 0.0), 0);
        assert_eq!(eighths(10, f64::NAN), 0);
        assert_eq!(eighths(0, 1.0), 0);
    }
}
