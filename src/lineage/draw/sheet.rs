//! The finished picture, and how its two halves are put side by side.

use std::{cmp::Ordering, collections::BTreeMap};

use crate::book::PlantId;

use super::super::{FamilyId, Pedigree};

/// What stands in a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A plant.
    Plant(PlantId),
    /// A parent that nobody knows, beside one that is known.
    Unknown,
    /// One of so many plants, for which there is no room.
    OneOf(usize),
    /// A cross of the plant before it.
    Cross(FamilyId),
    /// So many seedlings more of the cross above.
    MoreSeedlings(usize),
    /// So many crosses more of the plant before it.
    MoreCrosses(usize),
}

/// In which direction the eye has to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    /// Nowhere: it is drawn here.
    Here,
    /// It is drawn further up.
    Up,
    /// It is drawn further down.
    Down,
}

/// A number that ties together the places where one thing belongs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mark {
    /// The number, counted down the picture.
    pub number: usize,
    /// Where it is drawn in full.
    pub drawn: Toward,
    /// The cell in which it is.
    pub cell: usize,
}

/// One thing in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cell {
    /// Generations from the plant in the middle, ancestors below 0. Among offspring the odd
    /// columns hold crosses, and varieties of which no cross is known; the even ones seedlings.
    pub column: i32,
    /// The row, from 0.
    pub row: usize,
    /// What it is.
    pub what: What,
    /// Its number, if it belongs in more than one place.
    pub mark: Option<Mark>,
    /// Ancestors that are not drawn for want of room.
    pub behind: usize,
    /// Crosses in which it is a parent that are not drawn for want of room.
    pub beyond: usize,
}

/// What a plant was in a cross.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Role {
    /// It bore the seed.
    Seed,
    /// It gave the pollen.
    Pollen,
    /// It did both.
    Selfed,
}

/// A line from a parent towards its offspring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rail {
    /// The older cell.
    pub from: usize,
    /// The younger cell.
    pub to: usize,
    /// What the older was; nothing between a cross and its seedlings.
    pub role: Option<Role>,
    /// Whether it is known for certain.
    pub certain: bool,
}

/// A picture of a lineage.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// What is drawn; the first is the plant in the middle.
    pub cells: Vec<Cell>,
    /// What is joined to what.
    pub rails: Vec<Rail>,
    /// How many rows it takes.
    pub rows: usize,
    /// How many generations of ancestors are drawn.
    pub back: usize,
    /// How many generations of offspring are drawn.
    pub on: usize,
}

impl Picture {
    /// The rails from the parents of a cell.
    pub fn to(&self, cell: usize) -> impl Iterator<Item = &Rail> {
        self.rails.iter().filter(move |rail| rail.to == cell)
    }

    /// The rails from a cell to its offspring.
    pub fn from(&self, cell: usize) -> impl Iterator<Item = &Rail> {
        self.rails.iter().filter(move |rail| rail.from == cell)
    }
}

/// A cell whose row is not settled yet.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    pub(super) cell: Cell,
    /// The draft in which the same thing is drawn in full, if it is not drawn in this one.
    pub(super) same_as: Option<usize>,
    /// What stands above it and hangs on it, from top to bottom.
    pub(super) above: Vec<usize>,
    /// What stands below it and hangs on it.
    pub(super) below: Vec<usize>,
}

/// A picture in the making.
pub(super) struct Sheet<'a> {
    pub(super) pedigree: &'a Pedigree,
    pub(super) drafts: Vec<Draft>,
    pub(super) rails: Vec<Rail>,
    plants: BTreeMap<PlantId, usize>,
    families: BTreeMap<FamilyId, usize>,
}

impl<'a> Sheet<'a> {
    /// A sheet with nothing but the plant in the middle.
    pub(super) fn new(pedigree: &'a Pedigree, centre: PlantId) -> Self {
        let (plants, families) = (BTreeMap::new(), BTreeMap::new());
        let mut sheet = Self { pedigree, drafts: Vec::new(), rails: Vec::new(), plants, families };
        sheet.put(0, What::Plant(centre));
        sheet
    }

    /// Adds a thing. What is drawn already is only referred to.
    pub(super) fn put(&mut self, column: i32, what: What) -> usize {
        let at = self.drafts.len();
        let first = match what {
            What::Plant(plant) => *self.plants.entry(plant).or_insert(at),
            What::Cross(family) => *self.families.entry(family).or_insert(at),
            _ => at,
        };
        self.drafts.push(Draft {
            cell: Cell { column, row: 0, what, mark: None, behind: 0, beyond: 0 },
            same_as: (first != at).then_some(first),
            above: Vec::new(),
            below: Vec::new(),
        });
        at
    }

    /// The drafts that hang on one, itself among them, from top to bottom.
    pub(super) fn column_of(&self, at: usize) -> Vec<usize> {
        let mut order = Vec::new();
        let mut waiting = vec![(at, false)];
        while let Some((at, is_own_turn)) = waiting.pop() {
            let draft = &self.drafts[at];
            if is_own_turn {
                order.push(at);
                continue;
            }
            waiting.extend(draft.below.iter().rev().map(|&below| (below, false)));
            waiting.push((at, true));
            waiting.extend(draft.above.iter().rev().map(|&above| (above, false)));
        }
        order
    }

    /// Puts the two halves side by side, the offspring half above and half below the plant in
    /// the middle as far as there is room for that.
    pub(super) fn finish(mut self, back: &[usize], on: &[usize]) -> Picture {
        let rows = back.len().max(on.len());
        let middle = back.iter().position(|&at| at == 0).unwrap_or_default();
        let down = (on.len() / 2).saturating_sub(middle).min(rows - back.len());
        let top = (down + middle).saturating_sub(on.len() / 2).min(rows - on.len());
        for (half, first) in [(back, down), (on, top)] {
            for (place, &at) in half.iter().enumerate() {
                self.drafts[at].cell.row = first + place;
            }
        }
        self.number();
        let column = |draft: &Draft| draft.cell.column;
        let least = self.drafts.iter().map(column).min().unwrap_or_default();
        let most = self.drafts.iter().map(column).max().unwrap_or_default();
        Picture {
            cells: self.drafts.into_iter().map(|draft| draft.cell).collect(),
            rails: self.rails,
            rows,
            back: usize::try_from(-least).unwrap_or_default(),
            on: usize::try_from(most).unwrap_or_default().div_ceil(2),
        }
    }

    /// Numbers what is referred to, down the picture.
    fn number(&mut self) {
        let mut drawn: Vec<usize> = self.drafts.iter().filter_map(|d| d.same_as).collect();
        drawn.sort_by_key(|&at| (self.drafts[at].cell.row, self.drafts[at].cell.column));
        drawn.dedup();
        for at in 0..self.drafts.len() {
            let cell = self.drafts[at].same_as.unwrap_or(at);
            let Some(number) = drawn.iter().position(|&other| other == cell) else { continue };
            let (here, there) = (self.drafts[at].cell.row, self.drafts[cell].cell.row);
            let drawn = match there.cmp(&here) {
                _ if cell == at => Toward::Here,
                Ordering::Less | Ordering::Equal => Toward::Up,
                Ordering::Greater => Toward::Down,
            };
            self.drafts[at].cell.mark = Some(Mark { number: number + 1, drawn, cell });
        }
    }
}
