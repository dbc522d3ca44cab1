//! The colour of a bloom: a small square of it, and the word, which carries it alone where the
//! terminal has no colours.

use super::{Canvas, text};
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

/// Draws the square of the first colour and then all the words or, where there is no room for all,
/// as many as fit whole. Returns the column after it.
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
    let room = room - usize::from(WIDE);
    let ellipsis = canvas.theme().glyphs().ellipsis;
    canvas.put(x, y, room, &whole(words, room, ellipsis), style)
}

fn whole(words: &[Box<str>], room: usize, ellipsis: &str) -> String {
    let all = words.join(", ");
    let shorter = (1..words.len()).rev().map(|n| format!("{}{ellipsis}", words[..n].join(", ")));
    let mut wordings = std::iter::once(all.clone()).chain(shorter);
    wordings.find(|wording| text::width(wording) <= room).unwrap_or(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_told_in_whole_words_as_long_as_one_fits() {
        let words: Vec<Box<str>> = vec!["orange".into(), "yellow".into()];
        for (room, said) in [(14, "orange, yellow"), (13, "orange…"), (7, "orange…")] {
            assert_eq!(whole(&words, room, "…"), said);
        }
    }
}
