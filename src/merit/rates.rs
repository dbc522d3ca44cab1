//! How many of the judged seedlings are kept, family by family: as counted, and steadied by all
//! the others.

use crate::book::{Counts, Usual};
use crate::stats::{Beta, Interval, Spread, jeffreys, spread, wilson};

/// Families with two or more judged plants without which nothing is said of how they differ.
const LEAST_FAMILIES: usize = 3;

/// What a keep rate is taken to be before a family's own plants are counted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Prior {
    /// The families of the book differ, and this is how: a beta distribution fitted to them.
    FromBook {
        /// Worth this many kept.
        alpha: f64,
        /// Worth this many not kept.
        beta: f64,
        /// Families with judged plants that it rests on.
        n_families: usize,
    },
    /// The families differ no more than chance would have it: one rate for all, known from all
    /// judged plants together.
    NoDifference {
        /// Plants kept, in all.
        kept: u32,
        /// Plants judged, in all.
        judged: u32,
        /// Families with judged plants that it rests on.
        n_families: usize,
    },
    /// The book has too few families to tell: the usual share of the crop.
    Usual {
        /// Worth this many kept.
        alpha: f64,
        /// Worth this many not kept.
        beta: f64,
    },
}

/// The kept of the judged with their Wilson interval; `None` where nothing was judged.
pub fn rate(counts: &Counts, level: f64) -> Option<Interval> {
    share(counts.kept, counts.judged, level)
}

/// Any share, `k` of `n`, with its Wilson interval; `None` where `n` is 0.
pub fn share(k: u32, n: u32, level: f64) -> Option<Interval> {
    wilson(k, n, level)
}

impl Prior {
    /// Learns from families how keep rates lie, each given once with its counts: crosses, or
    /// pairings with their crosses added up. `usual` is the crop's share, for books that cannot
    /// tell yet.
    ///
    /// The shares are fitted by a beta-binomial, by maximum likelihood, and the fit is then taken
    /// as known. It is not believed beyond what the plants can bear: a fit worth more plants than
    /// were judged is no difference at all, and one worth less than a single plant (nearly every
    /// family all or nothing) is held at one, the weight of Jeffreys' prior.
    pub fn of(families: impl IntoIterator<Item = Counts>, usual: &Usual) -> Self {
        let groups: Vec<(u32, u32)> = families
            .into_iter()
            .filter(|c| c.judged > 0)
            .map(|c| (c.kept.min(c.judged), c.judged))
            .collect();
        if groups.iter().filter(|(_, judged)| *judged > 1).count() < LEAST_FAMILIES {
            return Self::usual(usual);
        }
        let n_families = groups.len();
        let (kept, judged) = groups.iter().fold((0_u32, 0_u32), |(kept, judged), (k, n)| {
            (kept.saturating_add(*k), judged.saturating_add(*n))
        });
        let from_book = |mean: f64, worth: f64| Self::FromBook {
            alpha: mean * worth,
            beta: (1.0 - mean) * worth,
            n_families,
        };
        match spread(groups) {
            Spread::Beta { alpha, beta, .. } if alpha + beta < f64::from(judged) => {
                from_book(alpha / (alpha + beta), (alpha + beta).max(1.0))
            }
            Spread::AllOrNothing { p } => from_book(p, 1.0),
            Spread::Beta { .. } | Spread::Alike { .. } | Spread::Unknown => {
                Self::NoDifference { kept, judged, n_families }
            }
        }
    }

    fn usual(usual: &Usual) -> Self {
        let known = usual.value > 0.0 && usual.value < 1.0 && usual.worth > 0.0;
        // A crop that names no usual share leaves all shares open, at the weight of one plant.
        let (mean, worth) = if known { (usual.value, usual.worth) } else { (0.5, 1.0) };
        Self::Usual { alpha: mean * worth, beta: (1.0 - mean) * worth }
    }

    /// A family's keep rate with its own plants counted in; for one that was never tried, the
    /// prior itself. The figure is the mean, and the range holds `level` of the belief, with as
    /// much left out below as above.
    pub fn shrunk(&self, family: &Counts, level: f64) -> Interval {
        match *self {
            Self::FromBook { alpha, beta, .. } | Self::Usual { alpha, beta } => {
                let kept = family.kept.min(family.judged);
                let rest = family.judged - kept;
                Beta::new(alpha + f64::from(kept), beta + f64::from(rest)).interval(level)
            }
            // Its own plants are in the common rate already.
            Self::NoDifference { kept, judged, .. } => jeffreys(kept, judged, level),
        }
    }
}
