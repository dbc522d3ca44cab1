//! The pairs of the ranking and the grid with their chances, as they stand just now: forecasts or,
//! as long as there are none, steadied rates.

use super::{Record, grid::Spot};
use crate::book::By;
use crate::tui::{
    glyphs::Glyphs, page::Around, place::Place, said, weighing::Standing, widget::range::Scale,
};
use crate::views::{Desk, Interval, pairings::Row};

/// All chances.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chances<'a> {
    pub(super) record: &'a Record,
    pub(super) forecasts: Standing<'a>,
}

/// A pair with its chance. Pairs are counted through: first those made, in the order of
/// [`Desk::pairings`], then those never made.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair<'a> {
    pub(super) row: &'a Row,
    /// Its place in [`Desk::pairings`]; none for a pair that was never made.
    pub(super) made: Option<usize>,
    pub(super) chance: Interval,
    /// The chance to be the best, of those made or of all.
    pub(super) best: Option<f64>,
    /// Whether the chance says more of it than of any pair.
    pub(super) is_told: bool,
}

impl<'a> Chances<'a> {
    pub(super) fn of(record: &'a Record, around: &Around<'a>) -> Self {
        Self { record, forecasts: around.forecasts() }
    }

    /// How many pairs there are, made and not.
    pub(super) fn n_all(self) -> usize {
        self.n_made() + self.untried().len()
    }

    pub(super) fn n_made(self) -> usize {
        self.record.rows.len()
    }

    fn untried(self) -> &'a [Row] {
        self.forecasts.here().map_or(&[], |weighed| &weighed.untried)
    }

    pub(super) fn pair(self, at: usize) -> Option<Pair<'a>> {
        if let Some(row) = self.record.rows.get(at) {
            let forecast = self.forecasts.of(at);
            return Some(Pair {
                row,
                made: Some(at),
                chance: forecast.map_or(row.shrunk, |forecast| forecast.chance),
                best: forecast.map(|forecast| forecast.best),
                is_told: row.tried || forecast.is_some(),
            });
        }
        let row = self.untried().get(at - self.n_made())?;
        let (chance, best) = (row.chance(), row.chance_best);
        Some(Pair { row, made: None, chance, best, is_told: true })
    }

    /// The pair on a spot of the grid, made in one direction or the other, or never.
    pub(super) fn at(self, spot: Spot) -> Option<usize> {
        let grid = &self.record.grid;
        if let Some(square) = grid.at(spot).or_else(|| grid.turned(spot)) {
            return Some(square.pairing);
        }
        let [seed, pollen] = grid.plants(spot)?;
        Some(self.n_made() + self.forecasts.here()?.place(seed, pollen)?)
    }

    /// The page of what is on a spot.
    pub(super) fn place(self, spot: Spot) -> Option<Place> {
        let grid = &self.record.grid;
        match grid.at(spot).or_else(|| grid.turned(spot)) {
            Some(square) => Some(Place::Pairing(square.pairing)),
            None => grid.plants(spot).map(|[seed, pollen]| Place::Pair(seed, pollen)),
        }
    }

    /// The spot on which a pair stands.
    pub(super) fn spot_of(self, at: usize) -> Option<Spot> {
        let grid = &self.record.grid;
        if at < self.n_made() {
            return grid.spot_of(at);
        }
        let pairing = &self.pair(at)?.row.pairing;
        grid.spot(&pairing.seed, &pairing.pollen)
            .or_else(|| grid.spot(&pairing.pollen, &pairing.seed))
    }

    /// The scales on which the ranges of some pairs and the shades of all have their places.
    pub(super) fn scales(self, takes: impl Fn(usize) -> bool) -> (Scale, Scale) {
        let told = (0..self.n_all()).filter_map(|at| Some((at, self.pair(at)?)));
        let told = told.filter(|(_, pair)| pair.is_told);
        let (high, most) = told.fold((0.0, 0.0), |(high, most): (f64, f64), (at, pair)| {
            let own = if takes(at) { pair.chance.high } else { 0.0 };
            (high.max(own), most.max(pair.chance.p))
        });
        (Scale::reaching(high), Scale::reaching(most))
    }
}

impl Pair<'_> {
    pub(super) fn name(&self, desk: &Desk, glyphs: &Glyphs) -> String {
        if let Some(at) = self.made {
            return said::pairing(desk, at, glyphs);
        }
        let pairing = &self.row.pairing;
        said::pair(desk, (&pairing.seed, &pairing.pollen), By::Hand, glyphs)
    }

    pub(super) fn place(&self) -> Option<Place> {
        if let Some(at) = self.made {
            return Some(Place::Pairing(at));
        }
        let pairing = &self.row.pairing;
        Some(Place::Pair(pairing.seed.plant()?, pairing.pollen.plant()?))
    }
}
