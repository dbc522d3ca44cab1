//! The beds of a season with what is counted of them: worked out beside the screen.

use crate::book::{PlantId, Season, State};
use crate::tui::widget::text;
use crate::views::{
    Desk,
    bed::{self, Beds, Cell},
};

use super::{
    ground::{Ground, Size, Spot},
    signs::{Choice, STATES},
};

/// How many plants there are in a part, and how many of them are keepers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Count {
    pub(super) plants: usize,
    pub(super) keepers: usize,
}

/// What stood in a season.
#[derive(Debug)]
pub(super) struct Stood {
    pub(super) beds: Beds,
    /// Plants by state, in the order of [`STATES`].
    pub(super) states: [usize; STATES.len()],
    /// Places at which nobody stood.
    pub(super) n_empty: usize,
    /// For each bed, and last for the plants whose place is not known.
    pub(super) counts: Vec<Count>,
    /// Cells of the widest of the numbers that were looked at.
    pub(super) label: u16,
    /// Places along the longest row.
    pub(super) places: usize,
}

/// Who is at a spot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Who<'a> {
    /// Those who were given a place of a bed, the one who stands there first.
    In(&'a str, &'a [Cell]),
    /// A plant whose place is not known.
    Elsewhere(PlantId, State),
    /// No such spot.
    Nobody,
}

/// Numbers looked at to learn how wide they are.
const MEASURED: usize = 200;
/// Cells beyond which a number is cut.
const LABEL: usize = 12;

impl Stood {
    pub(super) fn of(desk: &Desk, season: Season) -> Self {
        let beds = bed::beds(desk, season);
        let mut states = [0; STATES.len()];
        let mut counts = Vec::new();
        let mut n_empty = 0;
        for plan in &beds.plans {
            counts.push(count(plan.cells.iter().map(|c| c.state), &mut states));
            let taken = plan.cells.chunk_by(|a, b| (a.row, a.place) == (b.row, b.place)).count();
            n_empty += (usize::from(plan.rows) * usize::from(plan.places)).saturating_sub(taken);
        }
        counts.push(count(beds.elsewhere.iter().map(|e| e.1), &mut states));
        let all: usize = counts.iter().map(|c| c.plants).sum();
        let step = all.div_ceil(MEASURED).max(1);
        let cells = beds.plans.iter().flat_map(|p| &p.cells).map(|c| c.plant);
        let numbers = cells.chain(beds.elsewhere.iter().map(|e| e.0)).step_by(step);
        let label = numbers.map(|id| text::width(desk.label(id))).max().unwrap_or_default();
        let label = u16::try_from(label.clamp(4, LABEL)).unwrap_or_default();
        let places = beds.plans.iter().map(|p| usize::from(p.places)).max().unwrap_or_default();
        Self { beds, states, n_empty, counts, label, places }
    }

    pub(super) fn n_plants(&self) -> usize {
        self.counts.iter().map(|c| c.plants).sum()
    }

    /// How many plants a choice takes.
    pub(super) fn n(&self, choice: Choice) -> usize {
        let both = STATES.iter().zip(self.states);
        both.filter(|(state, _)| choice.takes(**state)).map(|(_, n)| n).sum()
    }

    /// The ground of all beds, with the plants without a place in rows of `across`.
    pub(super) fn ground(&self, across: usize) -> Ground {
        let beds = self.beds.plans.iter().map(|plan| Size::bed(plan.rows, plan.places));
        let elsewhere = self.beds.elsewhere.len();
        Ground::new(beds.chain((elsewhere > 0).then(|| Size::flow(elsewhere, across))))
    }

    /// Who is at a spot of that ground.
    pub(super) fn who(&self, spot: Spot, across: usize) -> Who<'_> {
        let Some(plan) = self.beds.plans.get(spot.part) else {
            let at = spot.row.saturating_mul(across).saturating_add(spot.place);
            let found = self.beds.elsewhere.get(at);
            return found.map_or(Who::Nobody, |(plant, state)| Who::Elsewhere(*plant, *state));
        };
        let number = |n: usize| u16::try_from(n + 1).unwrap_or(u16::MAX);
        Who::In(&plan.bed, plan.at(number(spot.row), number(spot.place)))
    }
}

impl Who<'_> {
    /// The plant that stands there: of several the one that is not gone, or came last.
    pub(super) fn plant(self) -> Option<(PlantId, State)> {
        match self {
            Self::In(_, cells) => {
                let stands = |c: &&Cell| !is_gone(c.state);
                let cell = cells.iter().rev().find(stands).or(cells.last())?;
                Some((cell.plant, cell.state))
            }
            Self::Elsewhere(plant, state) => Some((plant, state)),
            Self::Nobody => None,
        }
    }

    /// How many stand there at once; more than one is a slip of the pen.
    pub(super) fn n_standing(self) -> usize {
        match self {
            Self::In(_, cells) => cells.iter().filter(|c| !is_gone(c.state)).count(),
            Self::Elsewhere(..) => 1,
            Self::Nobody => 0,
        }
    }
}

fn is_gone(state: State) -> bool {
    matches!(state, State::Lost | State::Discarded)
}

fn count(of: impl Iterator<Item = State>, states: &mut [usize; STATES.len()]) -> Count {
    let mut count = Count::default();
    for state in of {
        count.plants += 1;
        count.keepers += usize::from(Choice::Keepers.takes(state));
        if let Some(at) = STATES.iter().position(|s| *s == state) {
            states[at] += 1;
        }
    }
    count
}
