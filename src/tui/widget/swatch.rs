//! The colour of a bloom: a small square of it, and the word, which carries it alone where the
//! terminal has no colours.

use super::Canvas;
use crate::book::Crop;
use crate::tui::theme::Role;

/// Cells a square and the blank after it take.
pub const WIDE: u16 = 2;

/// Draws the square of the first colour word and a blank at a column and row of the window;
/// only blanks where the word or the colours are missing. Returns the column after it.
pub fn draw(canvas: &mut Canvas<'_>, x: u16, y: u16, word: Option<&str>, crop: &Crop) -> u16 {
    let style = word
        .and_then(|word| crop.colour(word))
        .and_then(|colour| canvas.theme().swatch(colour.swatch));
    if let Some(style) = style {
        canvas.put(x, y, 1, canvas.theme().glyphs().swatch, style);
    }
    x.saturating_add(WIDE)
}

/// Draws the square of the first colour and then all the words, cut to the room. Returns the column
/// after it.
pub fn with_words(
    canvas: &mut Canvas<'_>,
    (x, y): (u16, u16),
    room: usize,
    words: &[Box<str>],
    crop: &Crop,
) -> u16 {
    let Some(first) = words.first() else { return x };
    if room < usize::from(WIDE) {
        return x;
    }
    let x = draw(canvas, x, y, Some(first), crop);
    let style = canvas.theme().style(Role::Text);
    canvas.put(x, y, room - usize::from(WIDE), &words.join(", "), style)
}
