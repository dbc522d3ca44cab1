//! What a place in the bed gives: a plant that blooms, is judged and is kept.

use crate::book::{Book, Season, Usual};
use crate::stats::{Beta, Interval};

use super::sow::grown_in;

/// A share of a stage, as a beta distribution of what is believed of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// Worth so many that came through.
    pub through: f64,
    /// Worth so many that did not.
    pub lost: f64,
    /// Counted in this book: came through, of how many.
    pub counted: (u32, u32),
}

/// What happens to a plant between planting and its keep rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stages {
    /// Planted seedlings that came into bloom in their first season.
    pub bloom: Stage,
    /// Those in bloom that were judged.
    pub judged: Stage,
}

/// Expected keepers of one place, and how uncertain that expectation is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// The mean.
    pub mean: f64,
    /// Its standard deviation: not of what one plant does, but of what is believed of the mean.
    pub sd: f64,
}

/// A judgement is a matter of being there; of nothing known, most in bloom are judged. Common
/// practice, no source.
const JUDGED: f64 = 0.9;
const JUDGED_WORTH: f64 = 10.0;

impl Stage {
    pub(super) fn of(counted: (u32, u32), usual: f64, worth: f64) -> Self {
        let (k, n) = (f64::from(counted.0), f64::from(counted.1));
        Self { through: usual * worth + k, lost: (1.0 - usual) * worth + (n - k), counted }
    }

    pub(super) fn of_usual(counted: (u32, u32), usual: &Usual) -> Self {
        let known = usual.value > 0.0 && usual.value < 1.0 && usual.worth > 0.0;
        let (value, worth) = if known { (usual.value, usual.worth) } else { (0.5, 2.0) };
        Self::of(counted, value, worth)
    }

    /// The mean share.
    pub fn mean(&self) -> f64 {
        self.through / (self.through + self.lost)
    }

    /// The mean of the square of the share.
    fn square(&self) -> f64 {
        let all = self.through + self.lost;
        self.through * (self.through + 1.0) / (all * (all + 1.0))
    }

    /// The mean and the range of what is believed.
    pub fn range(&self, level: f64) -> Interval {
        Beta::new(self.through, self.lost).interval(level)
    }
}

impl Stages {
    /// From the crosses of a book; `over` is the last season whose plants had their chance.
    pub fn of(book: &Book, over: Season) -> Self {
        let (mut planted, mut bloomed, mut judged) = (0_u32, 0_u32, 0_u32);
        for cross in book.crosses() {
            if grown_in(cross).is_some_and(|season| season > over) {
                continue;
            }
            let counts = cross.counts();
            if counts.planted >= counts.bloomed && counts.bloomed >= counts.judged {
                planted = planted.saturating_add(counts.planted);
                bloomed = bloomed.saturating_add(counts.bloomed);
                judged = judged.saturating_add(counts.judged);
            }
        }
        let usual = &book.crop().rates.bloomed_of_planted;
        Self {
            bloom: Stage::of_usual((bloomed, planted), usual),
            judged: Stage::of((judged, bloomed), JUDGED, JUDGED_WORTH),
        }
    }

    /// The share of planted seedlings that are judged, drawn as it may be; `share` gives numbers
    /// between 0 and 1.
    pub(super) fn drawn(&self, share: &mut dyn FnMut() -> f64) -> f64 {
        [self.bloom, self.judged]
            .map(|stage| Beta::new(stage.through, stage.lost).quantile(share()))
            .into_iter()
            .product()
    }

    /// What a place is worth whose seedling would be kept, once judged, at this rate.
    pub fn place(&self, keep: Rate) -> Place {
        let mean = self.bloom.mean() * self.judged.mean() * keep.mean;
        let square =
            self.bloom.square() * self.judged.square() * (keep.mean.powi(2) + keep.sd.powi(2));
        Place { mean, sd: (square - mean * mean).max(0.0).sqrt() }
    }
}

/// A keep rate as it is believed to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// Its mean.
    pub mean: f64,
    /// Its standard deviation.
    pub sd: f64,
}

impl Rate {
    /// A beta distribution of this mean and spread.
    pub fn as_beta(&self) -> Beta {
        let mean = self.mean.clamp(1e-6, 1.0 - 1e-6);
        let room = mean * (1.0 - mean);
        let worth = (room / self.sd.powi(2).max(1e-12) - 1.0).clamp(1e-3, 1e9);
        Beta::new(mean * worth, (1.0 - mean) * worth)
    }
}
