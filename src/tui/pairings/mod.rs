//! The pairings: which pairs give keepers. A grid of seed and pollen parents, and a ranking on a
//! common scale; the cursor is on the same pair in both.

mod grid;
mod grid_view;
mod layout;
mod ranking;
mod view;

use super::{
    action::Action,
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    said,
    widget::{
        Canvas,
        lists::{Lists, Outcome, Shape},
        range::Scale,
        section,
    },
    worker::Later,
};
use crate::book::Season;
use crate::views::{
    Desk, Levels, evening, kin,
    pairings::{self, Directions},
};
use grid::{Grid, Spot};
use layout::{Layout, Parts};
use ranking::{CHANCE, Choice};

/// The lists, for the mouse. The grid is no list of lines; its squares are counted row by row.
const RANKING: usize = 0;
const GRID: usize = 1;

/// What the screen is drawn from.
#[derive(Debug)]
struct Record {
    grid: Grid,
    /// One for each of [`Desk::pairings`].
    rows: Vec<pairings::Row>,
    /// How near of kin the parents of each are, as a share of full sibs.
    closeness: Vec<f64>,
    /// Keepers of the season of each.
    keepers: Vec<u32>,
    scale: Scale,
}

/// The screen.
#[derive(Debug)]
pub(super) struct Pairings {
    basis: Basis,
    coming: Later<Record>,
    choice: Choice,
    lists: Lists,
    /// Whether the cursor is in the grid.
    on_grid: bool,
    spot: Spot,
    /// The first row and column of the grid in view.
    first: Spot,
}

impl Default for Pairings {
    fn default() -> Self {
        let mut lists = Lists::new(1);
        lists.all[RANKING].sorted = Some((CHANCE, true));
        Self {
            basis: Basis::default(),
            coming: Later::Unasked,
            choice: Choice::All,
            lists,
            on_grid: false,
            spot: (0, 0),
            first: (0, 0),
        }
    }
}

impl Record {
    fn of(desk: &Desk, season: Season) -> Self {
        let levels = Levels::default();
        let rows = pairings::rows(desk, Directions::Together, false, levels);
        let mut keepers = vec![0; rows.len()];
        for behind in evening::behind(desk, season, levels) {
            keepers[behind.pairing] = behind.kept;
        }
        let scale = ranking::scale(&rows);
        let closeness = kin::inbreeding_of_pairings(desk, desk.pairings())
            .into_iter()
            .map(|inbreeding| kin::of_full_sibs(desk, inbreeding))
            .collect();
        Self { grid: Grid::of(desk), rows, closeness, keepers, scale }
    }
}

impl Pairings {
    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        let grid = &record.grid;
        Layout::of(around.body, (grid.seed.len(), grid.pollen.len()), self.on_grid)
    }

    fn parts(&self, record: &Record, around: &Around<'_>) -> Parts {
        let area = self.layout(record, around).grid;
        Parts::of(area, record.grid.name_wide, record.grid.seed.len())
    }

    fn shapes(&self, record: &Record, around: &Around<'_>) -> [Shape<'static>; 1] {
        let height = view::list_area(self.layout(record, around).ranking).height.saturating_sub(1);
        [Shape { height, columns: ranking::COLUMNS }]
    }

    /// Chooses and orders the ranking anew.
    fn arrange(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        let list = &mut self.lists.all[RANKING];
        let (sieve, choice) = (list.sieve(), self.choice);
        list.arrange(
            record.rows.len(),
            |at| {
                choice.takes(&record.rows[at], record.keepers[at])
                    && sieve(&|| said::pairing(around.desk, at, around.glyphs()))
            },
            |at, column| ranking::key(around, &record.rows[at], at, column),
        );
    }

    /// Lets the windows follow their cursors.
    fn follow(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        let (shapes, parts) = (self.shapes(record, around), self.parts(record, around));
        self.spot = record.grid.settled(self.spot);
        let follow = |first: usize, at: usize, seen: usize, n: usize| {
            let lowest = (at + 1).saturating_sub(seen);
            first.clamp(lowest, at).min(n.saturating_sub(seen).max(lowest))
        };
        let (seed, pollen) = (record.grid.seed.len(), record.grid.pollen.len());
        self.first = (
            follow(self.first.0, self.spot.0, parts.down, seed),
            follow(self.first.1, self.spot.1, parts.across, pollen),
        );
        self.lists.follow(&shapes);
    }

    /// Puts the cursor of the other part on the same pair.
    fn together(&mut self) {
        let Some(record) = self.coming.here() else { return };
        if self.on_grid {
            if let Some(square) = record.grid.at(self.spot) {
                self.lists.all[RANKING].put_cursor_on(square.pairing);
            }
        } else if let Some(spot) =
            self.lists.all[RANKING].row().and_then(|at| record.grid.spot_of(at))
        {
            self.spot = spot;
        }
    }

    fn on_grid(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let Some(record) = self.coming.here() else { return Step::Passed };
        let parts = self.parts(record, around);
        match input {
            Input::Do(action) => match record.grid.moved(self.spot, action, parts.down) {
                Some(spot) => self.spot = spot,
                None => return Step::Passed,
            },
            Input::Line { line, .. } => {
                let across = record.grid.pollen.len().max(1);
                let spot = record.grid.settled((line / across, line % across));
                let was_on = std::mem::replace(&mut self.spot, spot) == spot;
                if std::mem::replace(&mut self.on_grid, true) && was_on {
                    return Step::Open;
                }
            }
            Input::Wheel { notches, .. } => {
                let rows = usize::from(notches.unsigned_abs()) * 3;
                let most = record.grid.seed.len().saturating_sub(parts.down);
                let top = self.first.0;
                let top = if notches < 0 { top.saturating_sub(rows) } else { top + rows };
                self.first.0 = top.min(most);
                self.spot.0 = self.spot.0.clamp(self.first.0, self.first.0 + parts.down - 1);
            }
            Input::Filter(_) | Input::Head { .. } | Input::Kept | Input::Leave => {
                return Step::Passed;
            }
        }
        Step::Taken
    }

    fn take(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let Some(record) = self.coming.here() else { return Step::Passed };
        let shapes = self.shapes(record, around);
        match input {
            Input::Do(Action::NextList | Action::ListBefore) => {
                self.on_grid = !self.on_grid;
                return Step::Taken;
            }
            Input::Do(action @ (Action::Only | Action::Close)) => {
                let is_next = action == Action::Only;
                self.choice = if is_next { self.choice.next() } else { Choice::All };
                self.arrange(around);
                return Step::Taken;
            }
            Input::Do(_) | Input::Wheel { list: None, .. } if self.on_grid => {
                return self.on_grid(input, around);
            }
            Input::Line { list: GRID, .. } | Input::Wheel { list: Some(GRID), .. } => {
                return self.on_grid(input, around);
            }
            Input::Line { .. } if std::mem::replace(&mut self.on_grid, false) => {
                // The first click only brings the cursor over.
                self.lists.take(input, &shapes);
                return Step::Taken;
            }
            _ => {}
        }
        match self.lists.take(input, &shapes) {
            Outcome::Step(step) => step,
            Outcome::Arrange(_) => {
                self.arrange(around);
                Step::Taken
            }
        }
    }
}

impl Page for Pairings {
    fn place(&self) -> Place {
        Place::Pairings
    }

    fn says(&self, _: &Around<'_>) -> String {
        let Some(record) = self.coming.here() else {
            return format!("Pairings: {}.", self.coming.instead());
        };
        let n = said::many(record.rows.len(), "pairing", "pairings");
        let tried = record.rows.iter().filter(|row| row.tried).count();
        match record.grid.mean {
            Some(mean) => format!(
                "Which pairs give keepers, so far: {} of {n} judged, {} kept in all.",
                said::grouped(tried),
                said::percent(mean)
            ),
            None => format!("Which pairs give keepers: {n}, nothing judged yet."),
        }
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        let Some(record) = self.coming.here() else { return Stand::default() };
        let list = &self.lists.all[RANKING];
        let under = if self.on_grid {
            record.grid.at(self.spot).map(|square| square.pairing)
        } else {
            list.row()
        };
        Stand {
            under: under.map(Place::Pairing),
            n_lists: 2,
            sorts: !self.on_grid,
            next_choice: if self.on_grid { "" } else { self.choice.next_words() },
            seasons: true,
            sideways: self.on_grid,
            filtered: !list.filter.is_empty() || self.choice != Choice::All,
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        let season = around.season;
        if let Some(may_stand) = self.basis.moved(around, true) {
            let asked = around.worker.ask(around.desk, move |desk, _| Record::of(desk, season));
            self.coming.renew(asked, may_stand);
            if self.coming.here().is_some() {
                self.arrived(around);
            }
        }
        if self.coming.settle() {
            self.arrived(around);
        }
        self.follow(around);
    }

    fn waits(&self) -> bool {
        self.coming.is_asked()
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let step = self.take(input, around);
        self.together();
        self.follow(around);
        step
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        match self.coming.here() {
            Some(record) => self.draw(record, canvas, around),
            None => section::instead(canvas, canvas.area(), self.coming.instead()),
        }
    }
}

impl Pairings {
    /// Takes in that the record has come.
    fn arrived(&mut self, around: &Around<'_>) {
        self.arrange(around);
        if let Some(record) = self.coming.here() {
            // The most used parents come into view first.
            if self.spot == (0, 0) {
                self.spot = record.grid.first();
            }
        }
    }
}
