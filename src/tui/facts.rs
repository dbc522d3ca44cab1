//! Facts on a page: a name and what there is to say, line by line.

use ratatui::layout::Rect;

use super::{
    theme::Role,
    widget::{Canvas, swatch, text},
};
use crate::book::Crop;

/// Cells for the name of a fact.
const NAME: u16 = 12;

/// One fact.
#[derive(Debug, Clone)]
pub(super) enum Fact<'a> {
    /// Plain words.
    Words(&'static str, String),
    /// Colour words with a swatch, and more words after them.
    Bloom(&'a [Box<str>], &'a Crop, String),
}

/// Draws facts from the top of `area`, each on as many lines as it takes. Returns the rows used.
pub(super) fn draw(canvas: &mut Canvas<'_>, area: Rect, facts: &[Fact<'_>]) -> u16 {
    let mut canvas = canvas.within(area);
    let (wide, high) = (canvas.area().width, canvas.area().height);
    let room = usize::from(wide.saturating_sub(NAME + 2));
    let mut y = 0;
    for fact in facts {
        if y >= high {
            break;
        }
        match fact {
            Fact::Words(name, said) => {
                canvas.say(2, y, name, Role::Quiet);
                let lines = text::wrap(said, room, canvas.theme().glyphs().ellipsis);
                for line in &lines {
                    canvas.say(NAME + 1, y, line, Role::Text);
                    y += 1;
                }
            }
            Fact::Bloom(words, crop, more) => {
                canvas.say(2, y, "bloom", Role::Quiet);
                let first = words.first().map(AsRef::as_ref);
                let x = swatch::draw(&mut canvas, NAME + 1, y, first, crop);
                for line in bloom(words, more, room, canvas.theme().glyphs().ellipsis) {
                    canvas.say(x, y, &line, Role::Text);
                    y += 1;
                }
            }
        }
    }
    y.min(high)
}

/// The words of a bloom, the colours first, on as many lines as they take.
fn bloom(words: &[Box<str>], more: &str, room: usize, ellipsis: &str) -> Vec<String> {
    let colours = words.join(", ");
    let between = if colours.is_empty() || more.is_empty() { "" } else { ", " };
    let room = room.saturating_sub(usize::from(swatch::WIDE));
    text::wrap(&format!("{colours}{between}{more}"), room, ellipsis)
}

/// Rows that facts take in a page `wide` cells wide.
pub(super) fn n_rows(facts: &[Fact<'_>], wide: u16, ellipsis: &str) -> u16 {
    let room = usize::from(wide.saturating_sub(NAME + 2));
    let all: usize = facts
        .iter()
        .map(|fact| match fact {
            Fact::Words(_, said) => text::wrap(said, room, ellipsis).len(),
            Fact::Bloom(words, _, more) => bloom(words, more, room, ellipsis).len(),
        })
        .sum();
    u16::try_from(all).unwrap_or(u16::MAX)
}
