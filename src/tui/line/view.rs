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

use super::{
    Drawn,
    layout::{Layout, heading},
    rails::Rails,
    words::{self, Piece},
};

/// Draws the picture with the cursor on a cell.
pub(super) fn draw(canvas: &mut Canvas<'_>, drawn: &Drawn, at: usize, around: &Around<'_>) {
    let Drawn { picture, layout } = drawn;
    if layout.has_heads {
        heads(canvas, picture, layout);
    }
    rails(canvas, picture, layout);
    for rail in &picture.rails {
        label(canvas, picture, layout, rail);
    }
    follow(canvas, picture, layout, at);
    let hangs_on =
        |n: usize| picture.to(n).next().map_or(What::Unknown, |rail| picture.cells[rail.from].what);
    let wide = canvas.area().width;
    let crosses = (0..).zip(&picture.cells).filter(|(_, cell)| cell.column > 0);
    let wording = words::for_all(
        around,
        crosses.map(|(n, cell)| (*cell, hangs_on(n), offspring_room(layout, cell, wide))),
    );
    for (n, cell) in picture.cells.iter().enumerate() {
        let area = if cell.column <= 0 {
            ancestor(canvas, layout, cell, picture.to(n).next().is_some(), around)
        } else {
            offspring(canvas, layout, cell, (hangs_on(n), wording), around)
        };
        canvas.hit(area, Target::Line { list: 0, line: n });
        if n == at {
            let style = canvas.theme().selected();
            canvas.tint(area.x, area.y, area.width, style);
        }
    }
    if let (Some(y), Some(cell)) = (layout.foot, picture.cells.get(at)) {
        canvas.say(1, y, &words::tells(around, cell), Role::Text);
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

fn rails(canvas: &mut Canvas<'_>, picture: &Picture, layout: &Layout) {
    let area = canvas.area();
    let mut rails = Rails::new(area.width, area.height);
    for rail in &picture.rails {
        let (from, to) = (&picture.cells[rail.from], &picture.cells[rail.to]);
        let (older, younger) = (row(layout, from), row(layout, to));
        if to.column <= 0 {
            let (start, end) = (layout.node(from.column), layout.node(to.column));
            rails.across(older, start, end);
            rails.along(end, older, younger);
        } else {
            let x = layout.hangs(to.column);
            if from.column == 0 {
                rails.across(older, layout.node(0), x);
            }
            rails.along(x, older, younger);
            rails.across(younger, x, text_start(layout, to) - 2);
        }
    }
    let style = canvas.theme().style(Role::Quiet);
    rails.draw(canvas, style);
}

/// The column at which the text of an offspring cell begins.
fn text_start(layout: &Layout, cell: &Cell) -> u16 {
    layout.hangs(cell.column) + if cell.column % 2 == 0 { 2 } else { 10 }
}

/// Cells for it, in a page of `wide` cells.
fn offspring_room(layout: &Layout, cell: &Cell, wide: u16) -> usize {
    usize::from(wide.saturating_sub(text_start(layout, cell) + 1))
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
        let end = text_start(layout, to) - 2;
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
    around: &Around<'_>,
) -> Rect {
    let node = layout.node(cell.column);
    let y = row(layout, cell);
    if has_parents {
        let times = canvas.theme().glyphs().times;
        canvas.put(node, y, 1, times, canvas.theme().style(Role::Strong));
    }
    let room = usize::from(node.saturating_sub(2));
    let pieces = words::cell(around, cell, (What::Unknown, 0), room);
    let wide = words::width(&pieces).min(room);
    let x = node.saturating_sub(1 + u16::try_from(wide).unwrap_or(u16::MAX));
    write(canvas, (x, y), wide, &pieces)
}

fn offspring(
    canvas: &mut Canvas<'_>,
    layout: &Layout,
    cell: &Cell,
    wording: (What, usize),
    around: &Around<'_>,
) -> Rect {
    let x = text_start(layout, cell);
    let room = offspring_room(layout, cell, canvas.area().width);
    let pieces = words::cell(around, cell, wording, room);
    write(canvas, (x, row(layout, cell)), room, &pieces)
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
