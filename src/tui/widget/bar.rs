//! A bar whose length is a share of its room.

use super::Canvas;
use crate::tui::theme::Role;

/// Draws `share` (0 to 1) of `wide` cells at a column and row of the window, to half a cell. A
/// share above 0 shows at least a stub.
pub fn draw(canvas: &mut Canvas<'_>, x: u16, y: u16, wide: u16, share: f64, role: Role) {
    let glyphs = canvas.theme().glyphs();
    let style = canvas.theme().style(role);
    let halves = halves(wide, share);
    canvas.fill(x, y, halves / 2, glyphs.bar, style);
    if halves % 2 == 1 {
        canvas.fill(x + halves / 2, y, 1, glyphs.stub, style);
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share between 0 and 1 of a u16"
)]
fn halves(wide: u16, share: f64) -> u16 {
    let most = wide.saturating_mul(2);
    if share.is_nan() || share <= 0.0 {
        return 0;
    }
    ((f64::from(most) * share.min(1.0)).round() as u16).clamp(1.min(most), most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_never_outgrows_its_room_and_never_hides_the_last_plant() {
        assert_eq!(halves(10, 0.5), 10);
        assert_eq!(halves(10, 7.0), 20);
        assert_eq!(halves(10, 0.000_1), 1);
        assert_eq!(halves(10, 0.0), 0);
        assert_eq!(halves(10, f64::NAN), 0);
        assert_eq!(halves(0, 1.0), 0);
    }
}
