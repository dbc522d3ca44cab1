//! Where the arrows lead: to the left a parent, to the right offspring, up and down along the
//! column or among the offspring.

use crate::book::PlantId;
use crate::lineage::{
    Pedigree,
    draw::{Cell, Picture, Toward, What},
};
use crate::tui::action::Action;

/// Where an action leads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Move {
    /// To another cell.
    To(usize),
    /// To a picture of its own around this plant, whose kin had no room in this one.
    Beyond(PlantId),
    /// There is nothing there.
    Nowhere,
    /// The action moves nothing.
    NoSuch,
}

/// Follows an action from a cell.
pub(super) fn moved(picture: &Picture, at: usize, action: Action, pedigree: &Pedigree) -> Move {
    let Some(cell) = picture.cells.get(at) else { return Move::Nowhere };
    let to = match action {
        Action::Left => return left(picture, at, cell, pedigree),
        Action::Right => return right(picture, at, cell, pedigree),
        Action::Up if cell.column == 0 => parent(picture, at, true),
        Action::Down if cell.column == 0 => parent(picture, at, false),
        Action::Up => along(picture, cell).rfind(|(_, row)| *row < cell.row),
        Action::Down => along(picture, cell).find(|(_, row)| *row > cell.row),
        Action::First | Action::PageUp => along(picture, cell).next(),
        Action::Last | Action::PageDown => along(picture, cell).next_back(),
        _ => return Move::NoSuch,
    };
    to.map_or(Move::Nowhere, |(cell, _)| Move::To(cell))
}

/// Whether the cursor can stand on a cell.
fn holds(what: What) -> bool {
    !matches!(what, What::Unknown | What::OneOf(_))
}

/// The cells among which one goes up and down, from top to bottom: those of the same generation,
/// or all offspring.
fn along(picture: &Picture, from: &Cell) -> std::vec::IntoIter<(usize, usize)> {
    let is_along = |cell: &Cell| {
        holds(cell.what)
            && if from.column > 0 { cell.column > 0 } else { cell.column == from.column }
    };
    let mut cells: Vec<(usize, usize)> = picture
        .cells
        .iter()
        .enumerate()
        .filter(|(_, cell)| is_along(cell))
        .map(|(at, cell)| (at, cell.row))
        .collect();
    cells.sort_by_key(|&(_, row)| row);
    cells.into_iter()
}

/// The nearest parent that is drawn above or below a plant.
fn parent(picture: &Picture, at: usize, above: bool) -> Option<(usize, usize)> {
    let row = picture.cells[at].row;
    picture
        .to(at)
        .map(|rail| (rail.from, picture.cells[rail.from]))
        .filter(|(_, cell)| holds(cell.what) && (cell.row < row) == above)
        .map(|(from, cell)| (from, cell.row))
        .min_by_key(|(_, other)| other.abs_diff(row))
}

fn left(picture: &Picture, at: usize, cell: &Cell, pedigree: &Pedigree) -> Move {
    if cell.column > 0 {
        return picture.to(at).next().map_or(Move::Nowhere, |rail| Move::To(rail.from));
    }
    if let Some(mark) = cell.mark.filter(|mark| mark.drawn != Toward::Here) {
        return Move::To(mark.cell);
    }
    let nearest = parent(picture, at, true).or_else(|| parent(picture, at, false));
    match (nearest, cell.what) {
        (Some((parent, _)), _) => Move::To(parent),
        (None, What::Plant(plant)) if cell.column < 0 && !pedigree.is_founder(plant) => {
            Move::Beyond(plant)
        }
        _ => Move::Nowhere,
    }
}

fn right(picture: &Picture, at: usize, cell: &Cell, pedigree: &Pedigree) -> Move {
    if cell.column > 0
        && let Some(mark) = cell.mark.filter(|mark| mark.drawn != Toward::Here)
    {
        return Move::To(mark.cell);
    }
    let nearest = picture
        .from(at)
        .map(|rail| rail.to)
        .filter(|&to| holds(picture.cells[to].what))
        .min_by_key(|&to| (picture.cells[to].row.abs_diff(cell.row), to));
    match (nearest, cell.what) {
        (Some(younger), _) => Move::To(younger),
        (None, What::Plant(plant)) if cell.column > 0 && !pedigree.offspring(plant).is_empty() => {
            Move::Beyond(plant)
        }
        _ => Move::Nowhere,
    }
}
