//! The page of a plant: facts, where it came from, its diary, its offspring, its sibs.

mod facts;
mod layout;
mod view;

use crate::book::PlantId;
use crate::views::{
    Levels,
    plant::{self, Page as Record},
};

use super::{
    diary::{self, Row},
    links::{self, Link},
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    plants,
    widget::{
        Canvas,
        listing::Key,
        lists::{Lists, Outcome, Shape},
        table::Column,
    },
    worker::Later,
};
use layout::Layout;

/// The lists, in the order in which one goes through them.
const FROM: usize = 0;
const DIARY: usize = 1;
const OFFSPRING: usize = 2;
const SIBS: usize = 3;

/// The columns of the crosses a plant was used in.
const CROSSES: &[Column] = &[
    Column::words("cross", 6, 10, 0),
    Column::figures("made", 4, 3),
    Column::words("as", 6, 7, 2),
    Column::words("with", 10, 40, 1),
    Column::figures("kept", 9, 1),
];
const COLUMNS: [&[Column]; 4] = [links::COLUMNS, diary::COLUMNS, CROSSES, plants::COLUMNS];

/// The page.
#[derive(Debug)]
pub(super) struct Plant {
    id: PlantId,
    coming: Later<Record>,
    from: Vec<Link>,
    diary: Vec<Row>,
    lists: Lists,
}

impl Plant {
    pub(super) fn new(id: PlantId) -> Self {
        let lists = Lists::new(COLUMNS.len());
        Self { id, coming: Later::Unasked, from: Vec::new(), diary: Vec::new(), lists }
    }

    fn layout(&self, around: &Around<'_>) -> Layout {
        let Some(record) = self.coming.here() else { return Layout::default() };
        let facts = facts::of(record, around);
        Layout::of(around, &facts, self.from.len(), record)
    }

    fn shapes(&self, around: &Around<'_>) -> [Shape<'static>; 4] {
        let layout = self.layout(around);
        let below = |rows: u16, area: ratatui::layout::Rect| area.height.saturating_sub(rows);
        let heights = [
            below(1, layout.from),
            below(1, layout.diary),
            below(2, layout.offspring),
            below(2, layout.sibs),
        ];
        [FROM, DIARY, OFFSPRING, SIBS].map(|i| Shape { height: heights[i], columns: COLUMNS[i] })
    }

    fn arrange(&mut self, list: usize, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        let listing = &mut self.lists.all[list];
        let sieve = listing.sieve();
        match list {
            FROM => {
                let from = &self.from;
                let letters = |row: usize| format!("{} {}", from[row].role, from[row].name);
                listing.arrange(
                    from.len(),
                    |row| sieve(&|| letters(row)),
                    |row, _| Key::label(letters(row)),
                );
            }
            DIARY => {
                let diary = &self.diary;
                listing.sorted = None;
                listing.arrange(
                    diary.len(),
                    |row| sieve(&|| diary::letters(&diary[row])),
                    |_, _| Key::Missing,
                );
            }
            OFFSPRING => listing.arrange(
                record.offspring.len(),
                |row| sieve(&|| view::offspring_letters(around, &record.offspring[row])),
                |row, column| view::offspring_key(around, &record.offspring[row], column),
            ),
            _ => listing.arrange(
                record.sibs.plants.len(),
                |row| sieve(&|| plants::letters(around, record.sibs.plants[row].plant)),
                |row, column| plants::key(around, record.sibs.plants[row].plant, column),
            ),
        }
    }

    /// Takes in that the record has come, or that the room has changed.
    fn arrived(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        self.from = facts::from(record, around);
        let wide = self.layout(around).diary.width;
        let Some(record) = self.coming.here() else { return };
        self.diary = diary::rows(&record.diary, wide, around);
        for list in 0..COLUMNS.len() {
            self.arrange(list, around);
        }
        let shapes = self.shapes(around);
        self.lists.settle(&shapes);
        self.lists.follow(&shapes);
    }

    fn under(&self) -> Option<Place> {
        let record = self.coming.here()?;
        let row = self.lists.current()?.row()?;
        match self.lists.at {
            FROM => self.from.get(row)?.place,
            DIARY => None,
            OFFSPRING => Some(Place::Cross(record.offspring.get(row)?.cross)),
            _ => Some(Place::Plant(record.sibs.plants.get(row)?.plant)),
        }
    }
}

impl Page for Plant {
    fn place(&self) -> Place {
        Place::Plant(self.id)
    }

    fn says(&self, around: &Around<'_>) -> String {
        match self.coming.here() {
            Some(record) => facts::says(record, around),
            None => format!("{}: {}.", around.desk.label(self.id), self.coming.instead()),
        }
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        Stand {
            under: self.under().filter(|place| *place != self.place()),
            n_lists: self.lists.all.len(),
            sorts: self.lists.at != DIARY,
            filtered: self.lists.current().is_some_and(|list| !list.filter.is_empty()),
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        if matches!(self.coming, Later::Unasked) {
            let id = self.id;
            self.coming = around
                .worker
                .ask(around.desk, move |desk, _| plant::page(desk, id, Levels::default()));
        }
        self.coming.settle();
        self.arrived(around);
    }

    fn waits(&self) -> bool {
        matches!(self.coming, Later::Asked(_))
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let shapes = self.shapes(around);
        match self.lists.take(input, &shapes) {
            Outcome::Step(step) => step,
            Outcome::Arrange(list) => {
                self.arrange(list, around);
                self.lists.follow(&shapes);
                Step::Taken
            }
        }
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        self.draw(canvas, around);
    }
}
