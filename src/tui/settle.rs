//! What lies on top where a change is not on the disk: two that changed the same, of which one has
//! to be chosen; or a disk that takes nothing.

use super::{
    action::Action,
    theme::Role,
    widget::{Canvas, section, text},
};
use crate::book::{Change, Conflict, Side};
use crate::views::part;

/// A part that two have changed, both ways side by side.
#[derive(Debug)]
struct Clash {
    name: String,
    mine: Vec<String>,
    theirs: Vec<String>,
    side: Side,
}

/// The page on which it is settled which way stands.
#[derive(Debug)]
pub(super) struct Settle {
    conflict: Conflict,
    clashes: Vec<Clash>,
    at: usize,
}

impl Settle {
    pub(super) fn new(conflict: Conflict) -> Self {
        let clash = |clash: &crate::book::Clash| {
            let [mine, theirs] = part::differences(clash.mine.as_ref(), clash.theirs.as_ref());
            Clash { name: part::name(&clash.spot), mine, theirs, side: Side::Mine }
        };
        let clashes = conflict.clashes().map(clash).collect();
        Self { conflict, clashes, at: 0 }
    }

    pub(super) fn act(&mut self, action: Action) {
        let last = self.clashes.len().saturating_sub(1);
        match action {
            Action::Up => self.at = self.at.saturating_sub(1),
            Action::Down => self.at = (self.at + 1).min(last),
            Action::Left | Action::Right => {
                if let Some(clash) = self.clashes.get_mut(self.at) {
                    clash.side = if action == Action::Left { Side::Mine } else { Side::Theirs };
                }
            }
            _ => {}
        }
    }

    /// What the change was.
    pub(super) fn what(&self) -> Box<str> {
        self.settled().what
    }

    /// The change as it was settled.
    pub(super) fn settled(&self) -> Change {
        let sides: Vec<Side> = self.clashes.iter().map(|clash| clash.side).collect();
        self.conflict.settle(&sides)
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>) {
        let area = canvas.area();
        let half = area.width / 2;
        let mut y = 0;
        for (n, clash) in self.clashes.iter().enumerate().skip(self.at.saturating_sub(1)) {
            if y + 3 > area.height {
                break;
            }
            let is_at = n == self.at;
            canvas.say(1, y, &clash.name, if is_at { Role::Accent } else { Role::Text });
            y += 1;
            let mut deepest = y;
            let sides = [
                (0, Side::Mine, "what you wrote", &clash.mine),
                (half, Side::Theirs, "what the file says now", &clash.theirs),
            ];
            for (x, side, heading, lines) in sides {
                let is_chosen = clash.side == side;
                let mark = canvas.theme().glyphs().here;
                let mark = if is_chosen { mark } else { " " };
                let room = usize::from(half.saturating_sub(5));
                let role = if is_chosen { Role::Strong } else { Role::Quiet };
                canvas.say(x + 1, y, mark, Role::Accent);
                let style = canvas.theme().style(role);
                let end = canvas.put(x + 3, y, room, heading, style);
                if is_at && is_chosen {
                    let selected = canvas.theme().selected();
                    canvas.tint(x + 3, y, end.saturating_sub(x + 3), selected);
                }
                let ellipsis = canvas.theme().glyphs().ellipsis;
                let said = if lines.is_empty() {
                    vec!["nothing of this".to_owned()]
                } else {
                    lines.iter().flat_map(|line| text::wrap(line, room, ellipsis)).collect()
                };
                let mut row = y + 1;
                for line in said {
                    let style = canvas.theme().style(Role::Text);
                    canvas.put(x + 3, row, room, &line, style);
                    row += 1;
                }
                deepest = deepest.max(row);
            }
            y = deepest + 1;
        }
    }
}

/// What waits to be written, and why it is not.
#[derive(Debug)]
pub(super) struct Unwritten {
    why: String,
    hint: String,
    waiting: Vec<String>,
}

impl Unwritten {
    pub(super) fn new(why: String, hint: String, waiting: Vec<String>) -> Self {
        Self { why, hint, waiting }
    }

    pub(super) fn view(&self, canvas: &mut Canvas<'_>) {
        let area = canvas.area();
        let room = usize::from(area.width.saturating_sub(4)).min(90);
        let ellipsis = canvas.theme().glyphs().ellipsis;
        let mut y = 0;
        for (sentence, role) in [(&self.why, Role::Strong), (&self.hint, Role::Text)] {
            for line in text::wrap(sentence, room, ellipsis) {
                canvas.say(1, y, &line, role);
                y += 1;
            }
        }
        let rest = section::below(area, y + 1);
        let below = section::draw(canvas, rest, "waits to be written", "");
        let mut window = canvas.within(below);
        for (y, what) in (0..below.height).zip(&self.waiting) {
            window.say(2, y, what, Role::Text);
        }
    }
}
