//! What was changed, and what files held before: two pages, each a list with what the one under
//! the cursor would change told below it.

mod earlier;
mod history;

use ratatui::layout::Rect;

pub(super) use earlier::Earlier;
pub(super) use history::History;

use super::{
    page::{Around, Stand},
    theme::Role,
    widget::{
        Canvas,
        listing::Listing,
        lists::Lists,
        section,
        table::{self, Cell, Column, Table},
        text,
    },
};
use crate::book::Step;
use crate::views::part;

/// What one change does to one part: its name, and the lines that go and that come.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Told {
    name: String,
    goes: Vec<String>,
    comes: Vec<String>,
}

/// What steps would do, part by part.
fn told(steps: &[Step]) -> Vec<Told> {
    let one = |step: &Step| {
        let [goes, comes] = part::differences(step.before.as_ref(), step.after.as_ref());
        Told { name: part::name(&step.spot), goes, comes }
    };
    steps.iter().filter(|step| step.before != step.after).map(one).collect()
}

/// How such a page stands: a list that can be ordered and filtered, and leads nowhere.
fn stand(lists: &Lists) -> Stand {
    Stand {
        n_lists: 1,
        sorts: true,
        filtered: lists.current().is_some_and(|list| !list.filter.is_empty()),
        ..Stand::default()
    }
}

/// The list, and below it the room for what is told in full.
fn parts(body: Rect) -> (Rect, Rect) {
    let below = (body.height / 2).min(14);
    let list = section::above(body, body.height - below);
    (list, section::below(body, list.height + u16::from(below > 4)))
}

/// Rows of the list that can be seen.
fn rows_seen(around: &Around<'_>) -> u16 {
    parts(around.body).0.height.saturating_sub(2)
}

/// Draws the list under its heading, or a sentence where there is nothing in it.
fn draw_list<'a>(
    canvas: &mut Canvas<'_>,
    area: Rect,
    (heading, nothing): (&str, &str),
    (columns, listing): (&'a [Column], &'a Listing),
    n_all: usize,
    cell: &'a dyn Fn(usize, usize) -> Cell<'a>,
) {
    let note = section::note(listing, n_all, columns, canvas.theme().glyphs());
    let rest = section::draw(canvas, area, heading, &note);
    if listing.is_empty() {
        let sentence = if n_all == 0 { nothing } else { "None is like that." };
        return section::instead(canvas, rest, sentence);
    }
    table::draw(canvas, rest, &Table { columns, listing, list: 0, focused: true, cell });
}

/// Draws what the one under the cursor would change, with a sentence above it.
fn draw_told(
    canvas: &mut Canvas<'_>,
    area: Rect,
    sentence: &str,
    (goes, comes): (&str, &str),
    told: &[Told],
) {
    let mut window = canvas.within(area);
    let room = usize::from(window.area().width.saturating_sub(2)).min(110);
    let ellipsis = window.theme().glyphs().ellipsis;
    let mut y = 0;
    for line in text::wrap(sentence, room, ellipsis) {
        window.say(1, y, &line, Role::Strong);
        y += 1;
    }
    for one in told {
        window.say(1, y, &one.name, Role::Accent);
        y += 1;
        for (word, lines) in [(goes, &one.goes), (comes, &one.comes)] {
            for line in lines {
                for (n, line) in
                    text::wrap(line, room.saturating_sub(12), ellipsis).iter().enumerate()
                {
                    if n == 0 {
                        window.say(3, y, word, Role::Quiet);
                    }
                    window.say(12, y, line, Role::Text);
                    y += 1;
                }
            }
        }
    }
}
