//! The page of a plant as a parent: what it gave as seed and as pollen parent, its partners, its
//! kin, what it passes on, its families against their parents, and what its offspring went on to
//! do.

mod rows;
mod slow;
mod view;

use ratatui::layout::Rect;

use crate::book::PlantId;
use crate::views::{
    Levels,
    parent::{self, Page as Record},
};

use super::{
    facts as lines,
    page::Around,
    place::Place,
    plants,
    sheet::{Sheet, SheetPage, Work},
    widget::{
        Canvas,
        listing::Key,
        lists::Lists,
        section::{above, below, beside},
        table::Column,
    },
};
use slow::Slow;

/// The lists, in the order in which one goes through them.
const PARTNERS: usize = 0;
const KIN: usize = 1;
const TRAITS: usize = 2;
const FAMILIES: usize = 3;
const OFFSPRING: usize = 4;

/// The page.
#[derive(Debug)]
pub(super) struct Parent {
    id: PlantId,
    /// Its named offspring, and those that became parents.
    offspring: Vec<PlantId>,
    slow: Slow,
}

/// Where its parts stand; one without room is empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Layout {
    facts: Rect,
    lists: [Rect; 5],
}

impl Parent {
    pub(super) fn page(id: PlantId) -> SheetPage<Self> {
        SheetPage::new(Self { id, offspring: Vec::new(), slow: Slow::default() })
    }

    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        let body = around.body;
        let facts = rows::facts(record, &self.slow, around);
        let wide = if body.width < 110 { body.width } else { body.width / 2 - 1 };
        let n_facts = lines::n_rows(&facts, wide, around.glyphs().ellipsis).min(body.height / 3);
        let n = |list| u16::try_from(self.n_rows(record, list)).unwrap_or(u16::MAX);
        // A heading, the heads of the columns, and a blank line below.
        let wanted = |list| n(list).max(1).saturating_add(3);
        let mut places = [Rect::ZERO; 5];
        let mut fill = |area: Rect, lists: &[usize]| {
            let mut rest = area;
            for (i, &list) in lists.iter().enumerate() {
                let others: u16 = lists[i + 1..].iter().map(|&l| wanted(l).min(5)).sum();
                let fair = rest.height / u16::try_from(lists.len() - i).unwrap_or(1);
                let high = wanted(list).min(fair.max(rest.height.saturating_sub(others)));
                let last = i + 1 == lists.len();
                let high = if last { rest.height } else { high };
                // Less than a heading, heads and a row is of no use.
                if high < 4 {
                    break;
                }
                places[list] = above(rest, if last { high } else { high - 1 });
                rest = below(rest, high);
            }
        };
        if body.width < 66 {
            fill(below(body, n_facts + 1), &[PARTNERS, TRAITS, KIN, OFFSPRING, FAMILIES]);
            return Layout { facts: above(body, n_facts), lists: places };
        }
        let facts = above(Rect { width: wide, ..body }, n_facts);
        let (left, right) = if body.width < 110 {
            beside(below(body, n_facts + 1), body.width / 2 - 1, 1)
        } else {
            let (left, right) = beside(body, wide, 2);
            (below(left, n_facts + 1), right)
        };
        fill(left, &[PARTNERS, FAMILIES, OFFSPRING]);
        fill(right, &[TRAITS, KIN]);
        Layout { facts, lists: places }
    }
}

impl Sheet for Parent {
    type Record = Record;

    const COLUMNS: &'static [&'static [Column]] =
        &[rows::PARTNERS, rows::KIN, rows::TRAITS, rows::FAMILIES, plants::OF_A_FAMILY];

    fn place(&self) -> Place {
        Place::Parent(self.id)
    }

    fn work(&self, _: &Around<'_>) -> Option<Work<Record>> {
        let id = self.id;
        Some(Box::new(move |desk| parent::page(desk, id, Levels::default())))
    }

    fn fit(&mut self, record: &Record, around: &Around<'_>) {
        self.slow.ask(around, self.id);
        let went_on = &record.went_on;
        self.offspring = went_on.named.iter().chain(&went_on.parents).copied().collect();
        self.offspring.sort_unstable();
        self.offspring.dedup();
    }

    fn height(&self, record: &Record, _: &Lists, list: usize, around: &Around<'_>) -> u16 {
        self.layout(record, around).lists[list].height.saturating_sub(2)
    }

    fn n_rows(&self, record: &Record, list: usize) -> usize {
        match list {
            PARTNERS => record.partners.len(),
            KIN => record.kin.len(),
            TRAITS => self.slow.traits().len(),
            FAMILIES => self.slow.families().len(),
            _ => self.offspring.len(),
        }
    }

    fn key(
        &self,
        record: &Record,
        (list, column): (usize, usize),
        row: usize,
        around: &Around<'_>,
    ) -> Key {
        match list {
            PARTNERS => rows::partner_key(around, &record.partners[row], column),
            KIN => rows::kin_key(around, &record.kin[row], column),
            TRAITS => rows::trait_key(&self.slow.traits()[row], column),
            FAMILIES => rows::family_key(around, &self.slow.families()[row], column),
            _ => plants::key(around, self.offspring[row], column),
        }
    }

    fn letters(&self, record: &Record, list: usize, row: usize, around: &Around<'_>) -> String {
        let label = |plant| around.desk.label(plant).to_owned();
        match list {
            PARTNERS => rows::partner(around, record, row),
            KIN => label(record.kin[row].plant),
            TRAITS => self.slow.traits()[row].name.to_string(),
            FAMILIES => label(self.slow.families()[row].with),
            _ => plants::letters(around, self.offspring[row]),
        }
    }

    fn opens(&self, record: &Record, list: usize, row: usize) -> Option<Place> {
        match list {
            PARTNERS => Some(Place::Pairing(record.partners.get(row)?.pairing)),
            KIN => Some(Place::Parent(record.kin.get(row)?.plant)),
            TRAITS => None,
            FAMILIES => Some(Place::Parent(self.slow.families().get(row)?.with)),
            _ => Some(Place::Plant(*self.offspring.get(row)?)),
        }
    }

    fn says(&self, record: &Record, around: &Around<'_>) -> String {
        rows::says(record, around)
    }

    fn draw(&self, record: &Record, lists: &Lists, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        view::draw(self, record, lists, canvas, around);
    }
}
