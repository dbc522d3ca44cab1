//! What is forecast of every pair, worked out once for all screens.
//!
//! It lies on the desk, and a desk never changes: with another book comes another desk, on which
//! nothing has been weighed yet. So nobody can be shown what an older book had to say.

use std::{collections::BTreeMap, sync::PoisonError};

use crate::book::PlantId;
use crate::merit::liability::{Forecasts, NotEnough, Options, Outcome, Question};

use super::{
    Desk, Interval, Levels,
    pairings::{self, Directions, Row},
    parents,
};

/// The chance that a new seedling of a pair is kept, and how the pair stands among others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// The chance, in an average season.
    pub chance: Interval,
    /// The chance that none of the other pairings made has a better one.
    pub best: f64,
}

/// What is forecast of every pair at the usual levels.
#[derive(Debug)]
pub struct Weighed {
    /// For each of [`Desk::pairings`].
    pub made: Vec<Forecast>,
    /// The pairs of living parents that were never made, with their forecasts. Their chances to be
    /// the best are among all pairs, made and not.
    pub untried: Vec<Row>,
    /// What each parent passes on.
    pub merit: BTreeMap<PlantId, Interval>,
    /// The places in `untried` by the two plants, the earlier of the roll first.
    places: BTreeMap<[PlantId; 2], usize>,
}

/// How far the weighing has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stage {
    /// All counts are weighed against each other; so many ways were tried so far.
    Weighing(usize),
    /// Pair after pair is told; this share of it is done.
    Telling(f64),
}

/// Hears how far the work has come, and says whether it is to go on.
pub type Watch<'a> = dyn Fn(Stage) -> bool + 'a;

/// Pairs told between two looks at whether to go on.
const AT_ONCE: usize = 500;

impl Weighed {
    fn of(desk: &Desk, forecasts: &Forecasts, watch: &Watch<'_>) -> Option<Self> {
        let levels = Levels::default();
        let mut rows = pairings::rows(desk, Directions::Together, true, levels);
        let questions: Vec<Question> =
            rows.iter().map(|row| pairings::question(desk, &row.pairing)).collect();
        let mut chances = Vec::with_capacity(rows.len());
        for some in questions.chunks(AT_ONCE) {
            if !watch(Stage::Telling(0.5 * chances.len() as f64 / rows.len() as f64)) {
                return None;
            }
            chances.extend(forecasts.answers(some, levels.shrunk));
        }
        let best = |of, from| {
            forecasts.chance_best_watched(of, &|share| watch(Stage::Telling(from + 0.25 * share)))
        };
        let n_made = desk.pairings().len();
        let (made, all) = (best(&questions[..n_made], 0.5)?, best(&questions, 0.75)?);
        for ((row, &chance), best) in rows.iter_mut().zip(&chances).zip(all) {
            (row.forecast, row.chance_best) = (Some(chance), Some(best));
        }
        let untried = rows.split_off(n_made);
        let made = chances.into_iter().zip(made);
        let place = |(at, row): (usize, &Row)| Some((pair(row)?, at));
        Some(Self {
            made: made.map(|(chance, best)| Forecast { chance, best }).collect(),
            places: untried.iter().enumerate().filter_map(place).collect(),
            untried,
            merit: merit(desk, levels),
        })
    }

    /// The place in `untried` of two plants, whichever bears the seed.
    pub fn place(&self, a: PlantId, b: PlantId) -> Option<usize> {
        self.places.get(&in_order(a, b)).copied()
    }
}

impl Desk {
    /// What is forecast, as far as that is known already: none where nobody has weighed it yet,
    /// and the reason where the book has too little for it.
    pub fn weighed(&self) -> Option<Result<&Weighed, NotEnough>> {
        Some(self.weighed.get()?.as_ref().map_err(|why| *why))
    }

    /// Works out what is forecast of every pair, which may take long. Nothing comes of it when
    /// `watch` says that it is not to go on.
    pub fn weigh(&self, watch: &Watch<'_>) {
        let forecasts =
            self.forecasts_watched(Directions::Together, &|n| watch(Stage::Weighing(n)));
        let weighed = match forecasts {
            None => return,
            Some(Err(why)) => Err(*why),
            Some(Ok(forecasts)) => match Weighed::of(self, forecasts, watch) {
                None => return,
                Some(weighed) => Ok(weighed),
            },
        };
        // Somebody may have been quicker, with the same result.
        self.weighed.set(weighed).ok();
    }

    pub(super) fn forecasts_watched(
        &self,
        directions: Directions,
        goes_on: &dyn Fn(usize) -> bool,
    ) -> Option<&Result<Forecasts, NotEnough>> {
        let (kept, is_split) = match directions {
            Directions::Together => (&self.forecasts[0], false),
            Directions::Apart => (&self.forecasts[1], true),
        };
        if let Some(fitted) = kept.get() {
            return Some(fitted);
        }
        // A fit that broke down has left nothing behind.
        let _alone = self.weighing.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(fitted) = kept.get() {
            return Some(fitted);
        }
        let book = (self.book(), self.pedigree());
        let (kinship, options) =
            (self.kinship().clone(), Options { is_split, ..Options::default() });
        let fitted = Forecasts::fit_watched(book, kinship, Outcome::Kept, options, goes_on)?;
        Some(kept.get_or_init(|| fitted))
    }
}

fn merit(desk: &Desk, levels: Levels) -> BTreeMap<PlantId, Interval> {
    let mut rows = parents::rows(desk, levels);
    parents::merit(desk, &mut rows, levels);
    rows.iter().filter_map(|row| Some((row.parent.plant()?, row.merit?))).collect()
}

fn pair(row: &Row) -> Option<[PlantId; 2]> {
    Some(in_order(row.pairing.seed.plant()?, row.pairing.pollen.plant()?))
}

/// Two plants, the earlier of the roll first.
pub(super) fn in_order(a: PlantId, b: PlantId) -> [PlantId; 2] {
    if a <= b { [a, b] } else { [b, a] }
}
