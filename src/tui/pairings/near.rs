//! How near of kin the parents of the squares in view are. Of a large book there are too many
//! squares to work all of them out.

use super::grid::{Grid, Spot};
use crate::tui::{page::Around, worker::Later};
use crate::views::kin;

/// The squares of a window, with how inbred offspring would be as shares of full sibs.
#[derive(Debug)]
struct Window {
    first: Spot,
    size: Spot,
    shares: Vec<Option<f64>>,
}

/// What is known, and what was asked for.
#[derive(Debug, Default)]
pub(super) struct Near {
    here: Option<Window>,
    coming: Later<Window>,
    asked: Option<(Spot, Spot)>,
}

impl Near {
    /// Asks for the squares of a window, if it is another than the last.
    pub(super) fn ask(&mut self, grid: &Grid, (first, size): (Spot, Spot), around: &Around<'_>) {
        if self.asked.replace((first, size)) != Some((first, size)) {
            let seed: Vec<_> = grid.seed_plants(first.0, size.0).collect();
            let pollen: Vec<_> = grid.pollen_plants(first.1, size.1).collect();
            let size = (seed.len(), pollen.len());
            self.coming = around.worker.ask(around.desk, move |desk, _| Window {
                first,
                size,
                shares: kin::closeness(desk, &seed, &pollen),
            });
        }
        self.settle();
    }

    /// Takes in what has come.
    pub(super) fn settle(&mut self) {
        self.coming.settle();
        if let Some(window) = self.coming.take() {
            self.here = Some(window);
        }
    }

    /// Lets go of everything.
    pub(super) fn forget(&mut self) {
        *self = Self::default();
    }

    pub(super) fn at(&self, (row, column): Spot) -> Option<f64> {
        let Window { first, size, shares } = self.here.as_ref()?;
        let at = (row.checked_sub(first.0)?, column.checked_sub(first.1)?);
        if at.0 >= size.0 || at.1 >= size.1 {
            return None;
        }
        shares.get(at.0 * size.1 + at.1).copied()?
    }
}
