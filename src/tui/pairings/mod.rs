//! The pairings: which pairs give keepers. A grid of seed and pollen parents, and a ranking on a
//! common scale; the cursor is on the same pair in both.

mod chances;
mod grid;
mod grid_view;
mod layout;
mod near;
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
        listing::Key,
        lists::{Lists, Outcome, Shape},
        range::Scale,
        section,
    },
    worker::Later,
};
use crate::book::Season;
use crate::views::{
    Desk, Levels, Party, evening, kin,
    pairings::{self, Directions},
};
use chances::Chances;
use grid::{Grid, Spot};
use layout::{Layout, Parts};
use near::Near;
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
    /// How many of them have judged seedlings.
    n_tried: usize,
}

/// What the squares of the grid are shaded by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shade {
    /// The chance of a new seedling to be kept.
    Chance,
    /// How inbred offspring would be.
    Kin,
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
    /// The two on which the raiser has put the cursor; before, it stays on the best pair.
    held: Option<(Party, Party)>,
    /// How often places in the book had changed when it was put there.
    moves: u64,
    /// Whether the forecasts were there when the pairs were put in order.
    has_forecasts: bool,
    shade: Shade,
    near: Near,
    /// Of the ranges and of the shades.
    scales: (Scale, Scale),
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
            held: None,
            moves: 0,
            has_forecasts: false,
            shade: Shade::Chance,
            near: Near::default(),
            scales: (Scale { to: 1.0 }, Scale { to: 1.0 }),
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
        let n_tried = rows.iter().filter(|row| row.tried).count();
        let closeness = kin::inbreeding_of_pairings(desk, desk.pairings())
            .into_iter()
            .map(|inbreeding| kin::of_full_sibs(desk, inbreeding))
            .collect();
        Self { grid: Grid::of(desk), rows, closeness, keepers, n_tried }
    }
}

impl Pairings {
    fn layout(&self, record: &Record, around: &Around<'_>) -> Layout {
        let grid = &record.grid;
        Layout::of(around.body, (grid.seed.len(), grid.pollen.len()), self.on_grid)
    }

    fn parts(&self, record: &Record, around: &Around<'_>) -> Parts {
        let area = self.layout(record, around).grid;
        let has_merit = around.forecasts().here().is_some();
        Parts::of(area, record.grid.name_wide, record.grid.seed.len(), has_merit)
    }

    fn shapes(&self, record: &Record, around: &Around<'_>) -> [Shape<'static>; 1] {
        let height = view::list_area(self.layout(record, around).ranking).height.saturating_sub(1);
        [Shape { height, columns: ranking::COLUMNS }]
    }

    /// Chooses and orders the ranking anew.
    fn arrange(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        let list = &mut self.lists.all[RANKING];
        let chances = Chances::of(record, around);
        let (sieve, choice) = (list.sieve(), self.choice);
        let letters = |at| {
            chances.pair(at).map_or_else(String::new, |p| p.name(around.desk, around.glyphs()))
        };
        list.arrange(
            chances.n_all(),
            |at| choice.takes(chances, at) && sieve(&|| letters(at)),
            |at, column| match chances.pair(at) {
                Some(pair) => ranking::key(around, pair, column),
                None => Key::Missing,
            },
        );
        self.scales = chances.scales(|at| choice.takes(chances, at));
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
        self.near.ask(&record.grid, (self.first, (parts.down, parts.across)), around);
        self.lists.follow(&shapes);
    }

    /// Puts the cursor of the other part on the same pair.
    fn together(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here() else { return };
        let (chances, ranking) = (Chances::of(record, around), &mut self.lists.all[RANKING]);
        if self.on_grid {
            if let Some(at) = chances.at(self.spot) {
                ranking.put_cursor_on(at);
            }
        } else if let Some(spot) = ranking.row().and_then(|at| chances.spot_of(at)) {
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
            _ => return Step::Passed,
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
                let next = self.choice.next(around.forecasts().here().is_some());
                self.choice = if action == Action::Only { next } else { Choice::All };
                self.arrange(around);
                return Step::Taken;
            }
            Input::Do(Action::Shade) => {
                self.shade = if self.shade == Shade::Kin { Shade::Chance } else { Shade::Kin };
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
        match record.grid.mean {
            Some(mean) => format!(
                "Which pairs give keepers, so far: {} of {n} judged, {} kept in all.",
                said::grouped(record.n_tried),
                said::percent(mean)
            ),
            None => format!("Which pairs give keepers: {n}, nothing judged yet."),
        }
    }

    fn stand(&self, around: &Around<'_>) -> Stand {
        let Some(record) = self.coming.here() else { return Stand::default() };
        let (list, chances) = (&self.lists.all[RANKING], Chances::of(record, around));
        let under = if self.on_grid {
            chances.place(self.spot)
        } else {
            list.row().and_then(|at| chances.pair(at)?.place())
        };
        let has_forecasts = chances.forecasts.here().is_some();
        let has_grid = self.on_grid || !self.layout(record, around).grid.is_empty();
        Stand {
            under,
            n_lists: 2,
            sorts: !self.on_grid,
            next_choice: if self.on_grid { "" } else { self.choice.next_words(has_forecasts) },
            seasons: true,
            sideways: self.on_grid,
            filtered: !list.filter.is_empty() || self.choice != Choice::All,
            other_shade: match self.shade {
                _ if !has_grid || record.grid.is_empty() => "",
                Shade::Chance => "shade by kin",
                Shade::Kin => "by chance",
            },
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        let season = around.season;
        let mut has_come = false;
        if let Some(may_stand) = self.basis.moved(around, true) {
            if std::mem::replace(&mut self.moves, around.edition.moves) != around.edition.moves {
                self.held = None;
            }
            let asked = around.worker.ask(around.desk, move |desk, _| Record::of(desk, season));
            self.coming.renew(asked, may_stand);
            self.near.forget();
            has_come = self.coming.here().is_some() && !self.coming.is_asked();
        }
        has_come |= self.coming.settle();
        if has_come {
            // It has come in the order in which parents were used.
            self.has_forecasts = false;
            self.arrived(around);
        }
        self.near.settle();
        let has_forecasts = around.forecasts().here().is_some();
        if self.coming.here().is_some() && self.has_forecasts != has_forecasts {
            self.has_forecasts = has_forecasts;
            self.weighed(around);
        }
        self.follow(around);
    }

    fn weighs(&self) -> bool {
        true
    }

    fn waits(&self) -> bool {
        self.coming.is_asked()
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let step = self.take(input, around);
        self.together(around);
        if let Some(record) = self.coming.here().filter(|_| !matches!(step, Step::Passed)) {
            self.held = record.grid.parties(self.spot);
        }
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
        self.at_the_best(around);
    }

    /// Takes in that the forecasts have come, or have gone with the book that they were of.
    fn weighed(&mut self, around: &Around<'_>) {
        let Some(record) = self.coming.here_mut() else { return };
        match around.forecasts().here() {
            Some(weighed) => record.grid.weigh(weighed),
            None if self.choice == Choice::NeverMade => self.choice = Choice::All,
            None => {}
        }
        self.near.forget();
        self.arrange(around);
        self.at_the_best(around);
    }

    /// Puts the cursor on the best pair in both parts or, where the raiser has put it elsewhere,
    /// there again.
    fn at_the_best(&mut self, around: &Around<'_>) {
        let held = self.held.as_ref().filter(|_| self.on_grid);
        let spot = held.zip(self.coming.here());
        let spot = spot.and_then(|((seed, pollen), record)| record.grid.spot(seed, pollen));
        if let Some(spot) = spot {
            self.spot = spot;
        }
        if self.held.is_none() {
            self.lists.all[RANKING].put_cursor(0);
        }
        self.together(around);
    }
}
