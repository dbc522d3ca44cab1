//! The beds: what stood where in a season, as a plan on which the cursor walks from place to
//! place.

mod ground;
mod known;
mod layout;
mod legend;
mod signs;
mod stood;
mod view;

use super::{
    action::Action,
    basis::Basis,
    page::{Around, Input, Page, Stand, Step},
    place::Place,
    said,
    widget::Canvas,
    worker::Later,
};
use crate::book::{PlantId, State, fold};
use crate::views::plant;
use ground::{Ground, Spot};
use known::Known;
use layout::{Cells, Layout, MARGIN};
use signs::Choice;
use stood::Stood;

/// The screen.
#[derive(Debug)]
pub(super) struct Beds {
    basis: Basis,
    coming: Later<Stood>,
    choice: Choice,
    /// Letters that a plant must have to stand out.
    filter: String,
    ground: Ground,
    spot: Spot,
    /// The line of the ground at the top of the plan.
    top: usize,
    /// The place at its left.
    left: usize,
    known: Known,
}

impl Default for Beds {
    fn default() -> Self {
        Self {
            basis: Basis::default(),
            coming: Later::Unasked,
            choice: Choice::All,
            filter: String::new(),
            ground: Ground::default(),
            spot: Spot::default(),
            top: 0,
            left: 0,
            known: Known::default(),
        }
    }
}

impl Beds {
    fn layout(stood: &Stood, around: &Around<'_>) -> Layout {
        let n_legend = legend::lines(stood, around.glyphs(), around.body.width).len();
        Layout::of(around.body, u16::try_from(n_legend).unwrap_or(u16::MAX))
    }

    fn cells(stood: &Stood, plan_wide: u16) -> Cells {
        Cells::of(plan_wide, stood.places, stood.label)
    }

    /// Cells of the screen from one plant without a place to the next.
    fn slot(stood: &Stood) -> u16 {
        stood.label + 4
    }

    /// How many plants without a place stand side by side.
    fn across(stood: &Stood, plan_wide: u16) -> usize {
        usize::from(plan_wide.saturating_sub(MARGIN) / Self::slot(stood)).max(1)
    }

    /// Takes in that the rows, the room or the cursor have changed.
    fn settle(&mut self, around: &Around<'_>) {
        let Some(stood) = self.coming.here() else { return };
        let plan = Self::layout(stood, around).plan;
        let across = Self::across(stood, plan.width);
        self.ground = stood.ground(across);
        self.spot = self.ground.settled(self.spot);
        self.known = Known::of(stood, self.spot, across, around);
        let (line, high) = (self.ground.line_of(self.spot), usize::from(plan.height));
        // The heading stays in the first line, so the cursor keeps below it.
        let highest = if high > 2 { line.saturating_sub(1) } else { line };
        let lowest = (line + 1).saturating_sub(high.max(1));
        let most = self.ground.n_lines().saturating_sub(high);
        self.top = self.top.clamp(lowest, highest.max(lowest)).min(most.max(lowest));
        if stood.beds.plans.get(self.spot.part).is_some() {
            let n = Self::cells(stood, plan.width).n;
            let lowest = (self.spot.place + 1).saturating_sub(n);
            self.left = self.left.clamp(lowest, self.spot.place);
            self.left = self.left.min(stood.places.saturating_sub(n).max(lowest));
        }
    }

    fn scroll(&mut self, notches: i16, around: &Around<'_>) {
        let Some(stood) = self.coming.here() else { return };
        let high = usize::from(Self::layout(stood, around).plan.height);
        let lines = usize::from(notches.unsigned_abs()) * 3;
        let most = self.ground.n_lines().saturating_sub(high);
        self.top =
            if notches < 0 { self.top.saturating_sub(lines) } else { (self.top + lines).min(most) };
        let line = self.ground.line_of(self.spot);
        let first = if high > 2 { self.top + 1 } else { self.top };
        let last = (self.top + high).saturating_sub(1);
        if line < first {
            self.spot = self.ground.row_below(first, self.spot.place);
        } else if line > last {
            self.spot = self.ground.row_above(last, self.spot.place);
        }
    }

    /// Whether a plant stands out.
    fn is_bright(&self, id: PlantId, state: crate::book::State, around: &Around<'_>) -> bool {
        if !self.choice.takes(state) {
            return false;
        }
        if self.filter.is_empty() {
            return true;
        }
        let desk = around.desk;
        let colours = plant::colours(desk, id).join(" ");
        let letters = format!("{} {colours} {}", desk.label(id), known::parents(id, around));
        fold(&letters).contains(&fold(&self.filter))
    }

    fn take(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let Some(stood) = self.coming.here() else { return Step::Passed };
        match input {
            Input::Do(Action::Only) => self.choice = self.choice.next(),
            Input::Do(Action::Close) => self.choice = Choice::All,
            Input::Do(action) => {
                let high = Self::layout(stood, around).plan.height;
                match self.ground.moved(self.spot, action, high) {
                    Some(spot) => self.spot = spot,
                    None => return Step::Passed,
                }
            }
            Input::Filter(letters) => letters.clone_into(&mut self.filter),
            Input::Line { line, .. } => {
                let spot = self.ground.spot(line);
                if std::mem::replace(&mut self.spot, spot) == spot {
                    return Step::Open;
                }
            }
            Input::Wheel { notches, .. } => self.scroll(notches, around),
            _ => return Step::Passed,
        }
        Step::Taken
    }
}

impl Page for Beds {
    fn place(&self) -> Place {
        Place::Bed
    }

    fn says(&self, around: &Around<'_>) -> String {
        let season = around.season;
        let Some(stood) = self.coming.here() else {
            return format!("Beds of {season}: {}.", self.coming.instead());
        };
        if stood.n_plants() == 0 {
            return format!("Nothing was planted in {season}.");
        }
        let plants = said::many(stood.n_plants(), "plant", "plants");
        let stood_in = match stood.beds.plans.len() {
            0 => plants,
            n => format!("{plants} in {}", said::many(n, "bed", "beds")),
        };
        let end = match (self.choice, self.filter.is_empty()) {
            (Choice::All, true) => {
                let keepers = said::many(stood.n(Choice::Keepers), "keeper", "keepers");
                format!("{keepers}, {} undecided", said::grouped(stood.n(Choice::Waiting)))
            }
            (choice, true) => {
                format!("marked are {} {}", said::grouped(stood.n(choice)), choice.words())
            }
            (choice, false) => format!("marked are {} with \"{}\"", choice.words(), self.filter),
        };
        said::fitting(
            [
                format!("Where things stood in {season}: {stood_in}; {end}."),
                format!("In {season}: {stood_in}; {end}."),
                format!("In {season}: {end}."),
            ],
            around.line_room(),
        )
    }

    fn stand(&self, _: &Around<'_>) -> Stand {
        let Some(stood) = self.coming.here() else {
            return Stand { seasons: true, ..Stand::default() };
        };
        let n_beds = stood.beds.plans.iter().filter(|p| p.rows > 0 && p.places > 0).count();
        Stand {
            under: self.known.plant.map(|(id, _)| Place::Plant(id)),
            n_lists: n_beds + usize::from(!stood.beds.elsewhere.is_empty()),
            filters: true,
            next_choice: self.choice.next_words(),
            seasons: true,
            sideways: true,
            filtered: !self.filter.is_empty() || self.choice != Choice::All,
            walks: self.known.plant.is_some(),
            ..Stand::default()
        }
    }

    fn refresh(&mut self, around: &Around<'_>) {
        let season = around.season;
        if let Some(may_stand) = self.basis.moved(around, true) {
            let asked = around.worker.ask(around.desk, move |desk, _| Stood::of(desk, season));
            self.coming.renew(asked, may_stand);
        }
        self.coming.settle();
        self.settle(around);
    }

    fn waits(&self) -> bool {
        self.coming.is_asked()
    }

    fn plants(&self, around: &Around<'_>) -> Vec<PlantId> {
        let Some(stood) = self.coming.here() else { return Vec::new() };
        let cells = stood.beds.plans.iter().flat_map(|plan| &plan.cells);
        let placed = cells.map(|cell| (cell.plant, cell.state));
        let here = self.known.plant.map(|(plant, _)| plant);
        placed
            .chain(stood.beds.elsewhere.iter().copied())
            .filter(|&(plant, state)| {
                let stands = !matches!(state, State::Lost | State::Discarded);
                Some(plant) == here || stands && self.is_bright(plant, state, around)
            })
            .map(|(plant, _)| plant)
            .collect()
    }

    fn update(&mut self, input: Input<'_>, around: &Around<'_>) -> Step {
        let step = self.take(input, around);
        self.settle(around);
        step
    }

    fn view(&self, canvas: &mut Canvas<'_>, around: &Around<'_>) {
        self.draw(canvas, around);
    }
}
