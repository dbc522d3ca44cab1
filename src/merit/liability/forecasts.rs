//! The fitted model, and what can be asked of it.

use std::sync::Arc;

use thiserror::Error;

use crate::book::{Book, PlantId, Season};
use crate::kinship::Kinship;
use crate::lineage::Pedigree;
use crate::stats::{Interval, glmm::Latent, mixture, normal};

use super::{
    Outcome, Question, Spreads,
    asking::Asking,
    belief::{Asked, Belief, mixture as liking_of},
    families::{Record, record},
    grid,
    layout::Layout,
};

/// Why there are no forecasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NotEnough {
    /// Nothing of the kind was ever counted.
    #[error("Nothing has been judged yet.")]
    NothingJudged,
    /// More parents than can be worked with together.
    #[error("There are too many parents to weigh against each other.")]
    TooManyParents,
    /// The search came to no end.
    #[error("The counts could not be weighed against each other.")]
    NotSettled,
}

/// What may be chosen.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Options {
    /// Whether `A × B` and `B × A` are two pairings.
    pub is_split: bool,
    /// The spreads, where they are known, as in an invented garden; else the counts tell them.
    pub spreads: Option<Spreads>,
}

/// Forecasts of every pair, and what they rest on.
#[derive(Debug)]
pub struct Forecasts {
    kinship: Arc<Kinship>,
    pub(super) layout: Layout,
    pub(super) latent: Latent,
    pub(super) beliefs: Vec<Belief>,
    liked: Vec<(PlantId, Season)>,
}

/// A share that is usual where neither the crop nor the book has one.
const ANY: f64 = 0.5;
/// Parents and their ancestors beyond which the fit would take minutes.
const MOST_PARENTS: usize = 600;

impl Forecasts {
    /// Weighs everything that was counted of one outcome.
    pub fn fit(
        book: &Book,
        pedigree: &Pedigree,
        kinship: Arc<Kinship>,
        outcome: Outcome,
        options: Options,
    ) -> Result<Self, NotEnough> {
        let fitted = Self::fit_watched((book, pedigree), kinship, outcome, options, &|_| true);
        fitted.unwrap_or(Err(NotEnough::NotSettled))
    }

    /// The same, for whoever wants to hear how many ways the spreads may lie were tried so far and
    /// may say that it is not to go on. Nothing comes of it then.
    pub fn fit_watched(
        (book, pedigree): (&Book, &Pedigree),
        kinship: Arc<Kinship>,
        outcome: Outcome,
        options: Options,
        goes_on: &dyn Fn(usize) -> bool,
    ) -> Option<Result<Self, NotEnough>> {
        // Before anything is laid out for them.
        if pedigree.used().len() > MOST_PARENTS {
            return Some(Err(NotEnough::TooManyParents));
        }
        let Record { seen, liked } = record(book, pedigree, outcome);
        if seen.is_empty() {
            return Some(Err(NotEnough::NothingJudged));
        }
        let usual = outcome.usual(book.crop()).unwrap_or(ANY);
        let usual = normal::quantile(usual);
        let layout = Layout::of(pedigree, &kinship, &seen, options.is_split, usual);
        if layout.descent.plants().len() > MOST_PARENTS {
            return Some(Err(NotEnough::TooManyParents));
        }
        let points = match options.spreads {
            Some(spreads) => grid::at(&layout, spreads).into_iter().collect(),
            None => grid::points(&layout, goes_on)?,
        };
        if points.is_empty() {
            return Some(Err(NotEnough::NotSettled));
        }
        let latent = layout.latent();
        let beliefs = points.into_iter().map(|point| Belief::of(&layout, point)).collect();
        Some(Ok(Self { kinship, layout, latent, beliefs, liked }))
    }

    pub(super) fn asking(&self) -> Asking<'_> {
        Asking::new(&self.layout, &self.kinship, &self.liked)
    }

    pub(super) fn chance(&self, asked: &Asked, level: f64) -> Interval {
        mixture::chance(&liking_of(&self.beliefs, asked), level)
    }

    /// The chance that a new seedling of this pair is kept in an average season: its mean, and the
    /// range that holds `level` of the belief. Any two plants may be asked about.
    pub fn pair(&self, seed: PlantId, pollen: PlantId, level: f64) -> Interval {
        self.chance(&self.asking().question(&Question::Pair(seed, pollen)), level)
    }

    /// The chances of many at once. Those with the same seed parent one after another cost least.
    pub fn answers(&self, questions: &[Question], level: f64) -> Vec<Interval> {
        let mut asking = self.asking();
        questions.iter().map(|of| self.chance(&asking.question(of), level)).collect()
    }

    /// The chance that a seedling of this plant with an average partner is kept in an average
    /// season. Average is among the parents of this book, and the two are unrelated.
    pub fn parent(&self, plant: PlantId, level: f64) -> Interval {
        let asking = self.asking();
        let mut asked = self.average(0.5);
        asking.plant(&mut asked, plant, 0.5);
        self.chance(&asked, level)
    }

    /// The chance that a seedling of an average pair would have been kept in one season; of an
    /// average one where nothing was counted in that season.
    pub fn season(&self, season: Season, level: f64) -> Interval {
        let mut asked = self.average(1.0);
        asked.seasons = self.layout.season(season).map(|at| (at, 1.0)).into_iter().collect();
        self.chance(&asked, level)
    }

    /// The seasons in which anything was counted, oldest first.
    pub fn seasons(&self) -> &[Season] {
        &self.layout.seasons
    }

    /// The spreads, as means over what is believed of them.
    pub fn spreads(&self) -> Spreads {
        let mean = |of: fn(&Spreads) -> f64| {
            self.beliefs.iter().map(|b| b.point.weight * of(b.spreads())).sum()
        };
        Spreads {
            parents: mean(|s| s.parents),
            pairings: mean(|s| s.pairings),
            seasons: mean(|s| s.seasons),
        }
    }

    /// A share of the average parent, and the spread among the seedlings of unrelated parents.
    fn average(&self, share: f64) -> Asked {
        let plants = self.layout.descent.plants().iter().flatten();
        let values: Vec<usize> = plants.filter_map(|&plant| self.layout.value(plant)).collect();
        let each = share / values.len().max(1) as f64;
        let values = values.into_iter().map(|at| (at, each)).collect();
        Asked { values, sampling: 0.5, ..Asked::default() }
    }
}
