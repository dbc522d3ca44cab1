//! The grid of seed parents and pollen parents: who was put to whom, and what came of it. Worked
//! out beside the screen.

use std::{cmp::Reverse, collections::BTreeMap};

use crate::book::{By, Counts, PlantId, Season};
use crate::tui::{action::Action, said, widget::text};
use crate::views::{
    Desk, Interval, Levels, Party, Weighed,
    pairings::{self, Directions},
};

/// One parent at the side or the head of the grid.
#[derive(Debug, Clone)]
pub(super) struct Parent {
    pub(super) name: Box<str>,
    party: Party,
    crosses: usize,
    /// What came of all crosses in which it stands on this side.
    pub(super) counts: Counts,
    /// The chance of its seedlings with an average partner to be kept, where that is known.
    pub(super) merit: Option<Interval>,
}

/// A pair that was made in this direction.
#[derive(Debug, Clone)]
pub(super) struct Square {
    pub(super) row: usize,
    pub(super) column: usize,
    /// The pairing, both directions together, by its place in [`Desk::pairings`].
    pub(super) pairing: usize,
    /// What came of it in this direction.
    pub(super) counts: Counts,
    /// The seasons in which it was made in this direction.
    pub(super) seasons: Vec<Season>,
}

/// The grid.
#[derive(Debug, Default)]
pub(super) struct Grid {
    /// The seed parents, downwards.
    pub(super) seed: Vec<Parent>,
    /// The pollen parents, across.
    pub(super) pollen: Vec<Parent>,
    /// By row and column.
    squares: Vec<Square>,
    rows: BTreeMap<Party, usize>,
    columns: BTreeMap<Party, usize>,
    /// Kept of judged over the whole book.
    pub(super) mean: Option<f64>,
    /// Cells of the widest name of a seed parent that was looked at.
    pub(super) name_wide: usize,
}

/// A row and a column of the grid.
pub(super) type Spot = (usize, usize);

/// Names looked at to learn how wide they are.
const MEASURED: usize = 100;

/// How a pair does against all others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Against {
    /// More keepers than chance alone would give.
    More,
    /// Neither.
    Alike,
    /// Fewer.
    Fewer,
}

impl Grid {
    pub(super) fn of(desk: &Desk) -> Self {
        let made = pairings::rows(desk, Directions::Apart, false, Levels::default());
        let mut pooled = vec![0; desk.book().crosses().len()];
        for (at, pairing) in desk.pairings().iter().enumerate() {
            for id in &pairing.crosses {
                pooled[id.index()] = at;
            }
        }
        let (mut seed, mut pollen) = (Side::default(), Side::default());
        for row in &made {
            let pairing = &row.pairing;
            let bees = pairing.crosses.iter().all(|&id| desk.book().cross(id).by == By::Bees);
            let by = if bees { By::Bees } else { By::Hand };
            seed.add(desk, &pairing.seed, By::Hand, pairing);
            pollen.add(desk, &pairing.pollen, by, pairing);
        }
        let seed = seed.ordered(&BTreeMap::new());
        let rows = places(&seed);
        // Pollen parents that were used as often stand in the order of those they were put to,
        // so that what was made lies close together.
        let mut partners = BTreeMap::new();
        for row in &made {
            if let Some(at) = rows.get(&row.pairing.seed) {
                let least = partners.entry(row.pairing.pollen.clone()).or_insert(*at);
                *least = (*at).min(*least);
            }
        }
        let pollen = pollen.ordered(&partners);
        let columns = places(&pollen);
        let mut squares: Vec<Square> = made
            .into_iter()
            .filter_map(|row| {
                let first = row.pairing.crosses.first()?;
                Some(Square {
                    row: *rows.get(&row.pairing.seed)?,
                    column: *columns.get(&row.pairing.pollen)?,
                    pairing: pooled[first.index()],
                    counts: row.pairing.counts,
                    seasons: row.pairing.seasons,
                })
            })
            .collect();
        squares.sort_by_key(|s| (s.row, s.column));
        let all = squares.iter().fold(Counts::default(), |mut all, square| {
            all += square.counts;
            all
        });
        let mean = (all.judged > 0).then(|| f64::from(all.kept) / f64::from(all.judged));
        let step = seed.len().div_ceil(MEASURED).max(1);
        let names = seed.iter().step_by(step).map(|parent| text::width(&parent.name));
        let name_wide = names.max().unwrap_or_default();
        Self { seed, pollen, squares, rows, columns, mean, name_wide }
    }

    /// Puts in what each parent passes on, and lets those stand first that pass on most. Those of
    /// whom it is not known who they are stay last.
    pub(super) fn weigh(&mut self, weighed: &Weighed) {
        let by_merit = |side: &mut Vec<Parent>| -> Vec<usize> {
            for parent in side.iter_mut() {
                let plant = parent.party.plant();
                parent.merit = plant.and_then(|plant| weighed.merit.get(&plant).copied());
            }
            let mut order: Vec<usize> = (0..side.len()).collect();
            let merit = |at: &usize| side[*at].merit.map_or(-1.0, |merit| merit.p);
            order.sort_by(|a, b| merit(b).total_cmp(&merit(a)));
            *side = order.iter().map(|&at| side[at].clone()).collect();
            let mut moved = vec![0; order.len()];
            for (to, from) in order.into_iter().enumerate() {
                moved[from] = to;
            }
            moved
        };
        let (rows, columns) = (by_merit(&mut self.seed), by_merit(&mut self.pollen));
        for square in &mut self.squares {
            (square.row, square.column) = (rows[square.row], columns[square.column]);
        }
        self.squares.sort_by_key(|s| (s.row, s.column));
        (self.rows, self.columns) = (places(&self.seed), places(&self.pollen));
    }

    pub(super) fn is_empty(&self) -> bool {
        self.squares.is_empty()
    }

    /// The pair at a spot, if it was ever made.
    pub(super) fn at(&self, spot: Spot) -> Option<&Square> {
        let found = self.squares.binary_search_by_key(&spot, |s| (s.row, s.column));
        found.ok().map(|at| &self.squares[at])
    }

    /// The spots of a row that lie between two columns.
    pub(super) fn row(&self, row: usize, from: usize, to: usize) -> &[Square] {
        let first = self.squares.partition_point(|s| (s.row, s.column) < (row, from));
        let end = self.squares.partition_point(|s| (s.row, s.column) < (row, to));
        &self.squares[first..end.max(first)]
    }

    /// Where a pairing stands, in the direction with the most judged plants.
    pub(super) fn spot_of(&self, pairing: usize) -> Option<Spot> {
        let both = self.squares.iter().filter(|s| s.pairing == pairing);
        both.max_by_key(|s| s.counts.judged).map(|s| (s.row, s.column))
    }

    /// The pair at a spot, made or not, in words.
    pub(super) fn name(&self, (row, column): Spot, times: &str) -> Option<String> {
        let (seed, pollen) = (self.seed.get(row)?, self.pollen.get(column)?);
        if seed.party == pollen.party && seed.party.plant().is_some() {
            return Some(format!("{} selfed", seed.name));
        }
        Some(format!("{} {times} {}", seed.name, pollen.name))
    }

    /// The pair at a spot the other way round, if that was made.
    pub(super) fn turned(&self, (row, column): Spot) -> Option<&Square> {
        let (seed, pollen) = (self.seed.get(row)?, self.pollen.get(column)?);
        if seed.party.plant().is_none() || seed.party == pollen.party {
            return None;
        }
        self.at(self.spot(&pollen.party, &seed.party)?)
    }

    /// The spot of two parents, the seed parent first.
    pub(super) fn spot(&self, seed: &Party, pollen: &Party) -> Option<Spot> {
        Some((*self.rows.get(seed)?, *self.columns.get(pollen)?))
    }

    /// The parents at a spot.
    pub(super) fn parties(&self, (row, column): Spot) -> Option<(Party, Party)> {
        Some((self.seed.get(row)?.party.clone(), self.pollen.get(column)?.party.clone()))
    }

    /// The two plants at a spot, where it is known which they are.
    pub(super) fn plants(&self, (row, column): Spot) -> Option<[PlantId; 2]> {
        Some([self.seed.get(row)?.party.plant()?, self.pollen.get(column)?.party.plant()?])
    }

    /// The plants of some rows.
    pub(super) fn seed_plants(
        &self,
        first: usize,
        n: usize,
    ) -> impl Iterator<Item = Option<PlantId>> {
        self.seed.iter().skip(first).take(n).map(|parent| parent.party.plant())
    }

    /// The plants of some columns.
    pub(super) fn pollen_plants(
        &self,
        first: usize,
        n: usize,
    ) -> impl Iterator<Item = Option<PlantId>> {
        self.pollen.iter().skip(first).take(n).map(|parent| parent.party.plant())
    }

    /// How a chance stands against what is kept over all.
    pub(super) fn against(&self, chance: &Interval) -> Against {
        match self.mean {
            Some(mean) if chance.low > mean => Against::More,
            Some(mean) if chance.high < mean => Against::Fewer,
            _ => Against::Alike,
        }
    }

    /// Where an action of moving leads, on a page of `height` rows; `None` for another action.
    pub(super) fn moved(&self, (row, column): Spot, action: Action, height: usize) -> Option<Spot> {
        let page = height.saturating_sub(1).max(1);
        let spot = match action {
            Action::Up => (row.saturating_sub(1), column),
            Action::Down => (row + 1, column),
            Action::Left => (row, column.saturating_sub(1)),
            Action::Right => (row, column + 1),
            Action::PageUp => (row.saturating_sub(page), column),
            Action::PageDown => (row + page, column),
            Action::First => (0, column),
            Action::Last => (usize::MAX, column),
            _ => return None,
        };
        Some(self.settled(spot))
    }

    /// The nearest spot on the grid.
    pub(super) fn settled(&self, (row, column): Spot) -> Spot {
        let last = |side: &[Parent]| side.len().saturating_sub(1);
        (row.min(last(&self.seed)), column.min(last(&self.pollen)))
    }
}

fn places(side: &[Parent]) -> BTreeMap<Party, usize> {
    side.iter().enumerate().map(|(i, parent)| (parent.party.clone(), i)).collect()
}

/// The parents of one side while they are gathered.
#[derive(Debug, Default)]
struct Side(BTreeMap<Party, Parent>);

impl Side {
    fn add(&mut self, desk: &Desk, party: &Party, by: By, pairing: &pairings::Pairing) {
        let parent = self.0.entry(party.clone()).or_insert_with(|| Parent {
            name: said::party(desk, party, by).into(),
            party: party.clone(),
            crosses: 0,
            counts: Counts::default(),
            merit: None,
        });
        parent.crosses += pairing.crosses.len();
        parent.counts += pairing.counts;
    }

    /// The most used first, of those used as often the one with the first of the partners; those
    /// of whom it is not known who they are, last.
    fn ordered(self, partners: &BTreeMap<Party, usize>) -> Vec<Parent> {
        let mut all: Vec<Parent> = self.0.into_values().collect();
        all.sort_by_cached_key(|parent| {
            let unsure = matches!(parent.party, Party::Among(_) | Party::Unknown);
            let partner = partners.get(&parent.party).copied();
            (unsure, Reverse(parent.crosses), partner, Reverse(parent.counts.judged))
        });
        all
    }
}
