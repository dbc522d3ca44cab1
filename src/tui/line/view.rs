//! How the picture is drawn.

use ratatui::{
    layout::Rect,
    style::{Modifier, Style},
};

use crate::lineage::draw::{Cell, Picture, Rail, What};
use crate::tui::{
    page::Around,
    theme::Role,
    widget::{Canvas, Target, text},
};
use crate::views::kin::Loops;

use super::{
    Drawn,
    layout::{Layout, heading},
    near::Near,
    rails::Rails,
    words::{self, Piece},
};

/// Draws the picture with the cursor on a cell.
pub(super) fn draw(
    canvas: &mut Canvas<'_>,
    drawn: &Drawn,
    at: usize,
    near: &Near,
    around: &Around<'_>,
) {
    let Drawn { picture, layout, written } = drawn;
    if layout.has_heads {
        heads(canvas, picture, layout);
    }
    rails(canvas, picture, layout, near.loops());
    for rail in &picture.rails {
        label(canvas, picture, layout, rail);
    }
    follow(canvas, picture, layout, at);
    for (n, (cell, pieces)) in picture.cells.iter().zip(written).enumerate() {
        let area = if cell.column <= 0 {
            ancestor(canvas, layout, cell, picture.to(n).next().is_some(), pieces)
        } else {
            let room = layout.offspring_room(cell, canvas.area().width);
            write(canvas, (layout.text_start(cell), row(layout, cell)), room, pieces)
        };
        beside(canvas, near, cell, area);
        canvas.hit(area, Target::Line { list: 0, line: n });
        if n == at {
            let style = canvas.theme().selected();
            canvas.tint(area.x, area.y, area.width, style);
        }
    }
    if let (Some(y), Some(cell)) = (layout.foot, picture.cells.get(at)) {
        canvas.say(1, y, &words::tells(around, cell), Role::Text);
        canvas.say(1, y + 1, &near.tells(around), Role::Text);
    }
}

/// Writes beside a plant how near of kin it is: of an ancestor before its name, of offspring
/// behind.
fn beside(canvas: &mut Canvas<'_>, near: &Near, cell: &Cell, area: Rect) {
    let wide = canvas.area().width;
    let room = usize::from(if cell.column <= 0 { area.x } else { wide - area.right() });
    // A cell of the margin, and two before or behind the name.
    let room = room.saturating_sub(3);
    let cells = |piece: &Option<String>| piece.as_ref().map_or(0, |piece| text::width(piece) + 2);
    let fits = |(adds, f): &(Option<String>, Option<String>)| cells(adds) + cells(f) <= room + 2;
    let Some((adds, f)) = near.beside(cell.what).into_iter().find(fits) else { return };
    let all = u16::try_from(cells(&adds) + cells(&f)).unwrap_or(u16::MAX);
    let mut x = if cell.column <= 0 { area.x - all } else { area.right() + 2 };
    for (piece, role) in [(adds, Role::Accent), (f, Role::Quiet)] {
        if let Some(piece) = piece {
            x = canvas.say(x, area.y, &piece, role) + 2;
        }
    }
}

/// What is said when there is no plant at all.
pub(super) fn nothing(canvas: &mut Canvas<'_>) {
    canvas.say(2, 0, "There are no plants in this book yet.", Role::Quiet);
}

fn heads(canvas: &mut Canvas<'_>, picture: &Picture, layout: &Layout) {
    for (generation, end) in layout.generations() {
        let room = usize::from(layout.node(0) - layout.node(-1)).saturating_sub(2);
        canvas.say_right(end, 0, &heading(generation, room), Role::Quiet);
    }
    if picture.on > 0 {
        canvas.say(layout.hangs(1), 0, "offspring", Role::Quiet);
    }
}

fn row(layout: &Layout, cell: &Cell) -> u16 {
    layout.top.saturating_add(u16::try_from(cell.row).unwrap_or(u16::MAX))
}

fn rails(canvas: &mut Canvas<'_>, picture: &Picture, layout: &Layout, loops: Option<&Loops>) {
    let area = canvas.area();
    let mut rails = Rails::new(area.width, area.height);
    let is_in_a_loop = |from: &Cell, to: &Cell| match (loops, from.what, to.what) {
        (Some(loops), What::Plant(parent), What::Plant(child)) => {
            loops.steps.contains(&(child, parent))
        }
        _ => false,
    };
    for rail in &picture.rails {
        let (from, to) = (&picture.cells[rail.from], &picture.cells[rail.to]);
        let (older, younger) = (row(layout, from), row(layout, to));
        rails.begin(is_in_a_loop(from, to));
        if to.column <= 0 {
            let (start, end) = (layout.node(from.column), layout.node(to.column));
            rails.across(older, start, end);
            rails.along(end, older, younger);
            continue;
        }
        let x = layout.hangs(to.column);
        match from.column {
            0 => {
                rails.across(older, layout.node(0), x);
                rails.along(x, older, younger);
            }
            // Below the name of a variety, not beside it.
            column if column % 2 == 1 && matches!(from.what, What::Plant(_)) => {
                rails.hang(x, older + 1);
                rails.along(x, older + 1, younger);
            }
            _ => rails.along(x, older, younger),
        }
        rails.across(younger, x, layout.text_start(to) - 2);
    }
    let theme = canvas.theme();
    rails.draw(canvas, theme.style(Role::Quiet), theme.style(Role::Strong));
}

/// Writes on a rail what the parent was, close to where it meets the other.
fn label(canvas: &mut Canvas<'_>, picture: &Picture, layout: &Layout, rail: &Rail) {
    let (from, to) = (&picture.cells[rail.from], &picture.cells[rail.to]);
    let style = canvas.theme().style(Role::Text);
    let word = words::part(rail);
    if to.column <= 0 {
        let end = layout.node(to.column).saturating_sub(1);
        canvas.put_right(end, row(layout, from), 8, word, style);
    } else {
        let end = layout.text_start(to) - 2;
        canvas.put_right(end, row(layout, to), 8, word, style);
    }
}

/// Makes the rails from the parents of a cell stand out.
fn follow(canvas: &mut Canvas<'_>, picture: &Picture, layout: &Layout, at: usize) {
    let style = canvas.theme().style(Role::Accent).remove_modifier(Modifier::DIM);
    for rail in picture.to(at).filter(|rail| picture.cells[rail.to].column <= 0) {
        let (from, to) = (&picture.cells[rail.from], &picture.cells[rail.to]);
        let (older, younger) = (row(layout, from), row(layout, to));
        let (start, end) = (layout.node(from.column), layout.node(to.column));
        canvas.tint(start, older, end - start, style);
        for y in older.min(younger)..=older.max(younger) {
            canvas.tint(end, y, 1, style);
        }
    }
}

/// Writes a plant before its node. Returns where.
fn ancestor(
    canvas: &mut Canvas<'_>,
    layout: &Layout,
    cell: &Cell,
    has_parents: bool,
    pieces: &[Piece],
) -> Rect {
    let node = layout.node(cell.column);
    let y = row(layout, cell);
    if has_parents {
        let times = canvas.theme().glyphs().times;
        canvas.put(node, y, 1, times, canvas.theme().style(Role::Strong));
    }
    let room = layout.ancestor_room(cell);
    let wide = words::width(pieces).min(room);
    let x = node.saturating_sub(1 + u16::try_from(wide).unwrap_or(u16::MAX));
    write(canvas, (x, y), wide, pieces)
}

/// Writes pieces one after the other, as far as there is room.
fn write(canvas: &mut Canvas<'_>, (x, y): (u16, u16), room: usize, pieces: &[Piece]) -> Rect {
    let mut at = x;
    let mut left = room;
    for (content, style) in pieces {
        let style: Style = *style;
        at = canvas.put(at, y, left, content, style);
        left = left.saturating_sub(text::width(content));
    }
    Rect::new(x, y, at.saturating_sub(x), 1)
}
