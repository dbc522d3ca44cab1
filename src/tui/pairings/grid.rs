//! The grid of seed parents and pollen parents: who was put to whom, and what came of it. Worked
//! out beside the screen.

use std::{cmp::Reverse, collections::BTreeMap};

use crate::book::{By, Counts, Season};
use crate::tui::{action::Action, said, widget::text};
use crate::views::{
    Desk, Interval, Levels, Party,
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
    /// The chance of a new seedling to be kept, as far as the records of this direction tell.
    pub(super) chance: Interval,
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
        let at = |side: &[Parent]| -> BTreeMap<Party, usize> {
            side.iter().enumerate().map(|(i, parent)| (parent.party.clone(), i)).collect()
        };
        let rows = at(&seed);
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
        let columns = at(&pollen);
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
                    chance: row.shrunk,
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
        Self { seed, pollen, squares, mean, name_wide }
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

    /// The first pair of the first row that has one.
    pub(super) fn first(&self) -> Spot {
        self.squares.first().map_or((0, 0), |s| (s.row, s.column))
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
        let place = |side: &[Parent], party: &Party| side.iter().position(|p| p.party == *party);
        self.at((place(&self.seed, &pollen.party)?, place(&self.pollen, &seed.party)?))
    }

    /// The largest chance that anything tried has.
    pub(super) fn most(&self) -> f64 {
        let tried = self.squares.iter().filter(|s| s.counts.judged > 0);
        tried.map(|s| s.chance.p).fold(0.0, f64::max)
    }

    pub(super) fn against(&self, square: &Square) -> Against {
        match self.mean {
            Some(mean) if square.counts.judged > 0 && square.chance.low > mean => Against::More,
            Some(mean) if square.counts.judged > 0 && square.chance.high < mean => Against::Fewer,
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
