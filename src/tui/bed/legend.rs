//! The legend: each sign with its word and how many there are.

use crate::tui::{
    glyphs::Glyphs,
    said,
    theme::Role,
    widget::{Canvas, text},
};

use super::{
    signs::{self, Choice, STATES},
    stood::Stood,
};

/// One sign.
#[derive(Debug)]
pub(super) struct Entry {
    sign: &'static str,
    role: Role,
    /// How many, and what that is called.
    said: String,
    /// Whether it is among what is asked for.
    state: Option<crate::book::State>,
}

/// Cells between two entries.
const GAP: usize = 3;

/// The entries broken into lines of at most `wide` cells. States of which there is none are
/// left out.
pub(super) fn lines(stood: &Stood, glyphs: &Glyphs, wide: u16) -> Vec<Vec<Entry>> {
    let room = usize::from(wide.saturating_sub(2));
    let mut lines: Vec<Vec<Entry>> = vec![Vec::new()];
    let mut used = 0;
    for entry in entries(stood, glyphs) {
        let need = 2 + text::width(&entry.said);
        if used > 0 && used + GAP + need > room {
            lines.push(Vec::new());
            used = 0;
        }
        used += need + if used > 0 { GAP } else { 0 };
        if let Some(line) = lines.last_mut() {
            line.push(entry);
        }
    }
    lines
}

fn entries(stood: &Stood, glyphs: &Glyphs) -> Vec<Entry> {
    let states = STATES.into_iter().zip(stood.states).filter(|(_, n)| *n > 0);
    let mut entries: Vec<Entry> = states
        .map(|(state, n)| Entry {
            sign: signs::sign(state, glyphs),
            role: signs::role(state),
            said: format!("{} {}", said::grouped(n), signs::word(state)),
            state: Some(state),
        })
        .collect();
    if stood.n_empty > 0 {
        entries.push(Entry {
            sign: glyphs.plants.empty,
            role: Role::Quiet,
            said: format!("{} empty", said::grouped(stood.n_empty)),
            state: None,
        });
    }
    entries
}

/// Draws the lines from the top of the window; what is not asked for is quiet.
pub(super) fn draw(canvas: &mut Canvas<'_>, lines: &[Vec<Entry>], choice: Choice) {
    for (y, line) in (0..canvas.area().height).zip(lines) {
        let mut x = 1;
        for entry in line {
            let asked = entry.state.is_some_and(|state| choice.takes(state));
            let role = |usual| if asked { usual } else { Role::Quiet };
            x = canvas.say(x, y, entry.sign, role(entry.role));
            x = canvas.say(x + 1, y, &entry.said, role(Role::Text)) + 3;
        }
    }
}
