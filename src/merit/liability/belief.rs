//! What is believed of any sum of unknowns at one point of the grid, and of the chance it makes.

use crate::stats::{mixture::Component, normal};

use super::{
    Spreads,
    grid::Point,
    layout::{INBREEDING, Layout, MEAN},
};

/// A point of the grid with the covariances that forecasts ask for.
#[derive(Debug, Clone)]
pub(super) struct Belief {
    pub(super) point: Point,
    n_core: usize,
    /// For each unknown that has to do with everything, its covariance with all unknowns.
    columns: Vec<Vec<f64>>,
    variances: Vec<f64>,
}

/// A plant that never became a parent, as one: it has a half of each parent, something of its own,
/// and perhaps was liked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Leaf {
    /// Its share in the sum.
    pub(super) share: f64,
    /// Its Mendelian sampling.
    pub(super) sampling: f64,
    /// Where the answer was yes: the plant itself as a sum, its own part left out.
    pub(super) liked: Option<Box<Asked>>,
}

/// The seedlings of a pairing, or other plants, as a sum of unknowns.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Asked {
    /// Breeding values, by their unknowns.
    pub(super) values: Vec<(usize, f64)>,
    /// What pairings add, by their unknowns.
    pub(super) pairings: Vec<(usize, f64)>,
    /// What plants without a name bring: their unknown, its share, and on how many sides.
    pub(super) nameless: Vec<(usize, f64, f64)>,
    pub(super) seasons: Vec<(usize, f64)>,
    pub(super) leaves: Vec<Leaf>,
    pub(super) inbreeding: f64,
    /// Breeding values of plants that nobody knows, in units of the variance among founders.
    pub(super) fresh: f64,
    /// The same of pairings that were never made.
    pub(super) fresh_pairings: f64,
    /// How much of the variance among founders is left among the seedlings.
    pub(super) sampling: f64,
    /// How much of the variance of pairings is.
    pub(super) mixed_pairings: f64,
}

/// The liking of seedlings: where their mean lies and how sure that is, on a scale on which they
/// spread by 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Liking {
    pub(super) mean: f64,
    pub(super) variance: f64,
    pub(super) scale: f64,
}

impl Belief {
    pub(super) fn of(layout: &Layout, point: Point) -> Self {
        let n_core = layout.n_core();
        let n = point.mode.at.len();
        let mut unit = vec![0.0; n];
        let columns = (0..n_core)
            .map(|i| {
                unit[i] = 1.0;
                let column = point.mode.covariance_times(&unit);
                unit[i] = 0.0;
                column
            })
            .collect();
        let variances = point.mode.variances();
        Self { point, n_core, columns, variances }
    }

    pub(super) fn spreads(&self) -> &Spreads {
        &self.point.spreads
    }

    /// The mean and the variance of a sum. What pairings add is taken for independent of each
    /// other once the rest is known; only candidates make it a little less so.
    pub(super) fn liking(&self, asked: &Asked) -> Liking {
        let spreads = self.spreads();
        let core = self.core(asked);
        let at = &self.point.mode.at;
        let mut mean: f64 = core.iter().map(|&(i, x)| x * at[i]).sum();
        let mut variance = 0.0;
        let open = self.behind(asked);
        for &(i, x) in &core {
            debug_assert!(i < self.n_core, "an unknown that has to do with everything");
            let column = &self.columns[i];
            variance += x * core.iter().map(|&(j, y)| y * column[j]).sum::<f64>();
            for &(w, y) in &open {
                variance += 2.0 * x * y * column[w];
            }
        }
        for &(w, y) in &open {
            mean += y * at[w];
            variance += y * y * self.variances[w];
        }
        let own = spreads.parents * spreads.parents;
        variance += asked.fresh * own + asked.fresh_pairings * spreads.pairings * spreads.pairings;
        for leaf in &asked.leaves {
            let (more, spread) = self.leaf(leaf);
            mean += leaf.share * more;
            variance += leaf.share * leaf.share * spread;
        }
        let scale = self.scale(asked);
        let variance = variance.max(0.0) / (scale * scale);
        Liking { mean: mean / scale, variance, scale }
    }

    /// The part of a plant that is its own. Where the plant was liked, that says something of it:
    /// the moments are those of a normal distribution cut off at the line between keep and
    /// discard (N. L. Johnson, S. Kotz & N. Balakrishnan 1994, *Continuous Univariate
    /// Distributions* 1, section 13.10).
    fn leaf(&self, leaf: &Leaf) -> (f64, f64) {
        let own = leaf.sampling * self.spreads().parents.powi(2);
        let Some(liked) = &leaf.liked else { return (0.0, own) };
        let family = self.liking(liked);
        let whole = 1.0 + own;
        let z = family.mean * family.scale / whole.sqrt();
        let slope = normal::slope_of_ln_below(z);
        let moved = own / whole.sqrt();
        (moved * slope, own - moved * moved * slope * (slope + z))
    }

    /// The spread among the seedlings themselves.
    fn scale(&self, asked: &Asked) -> f64 {
        let Spreads { parents, pairings, .. } = *self.spreads();
        (1.0 + asked.sampling * parents * parents + asked.mixed_pairings * pairings * pairings)
            .sqrt()
    }

    /// The factors of the unknowns that have to do with one pairing or cross alone.
    fn behind(&self, asked: &Asked) -> Vec<(usize, f64)> {
        let spreads = self.spreads();
        let pairings = asked.pairings.iter().map(|&(at, x)| (at, x * spreads.pairings));
        let nameless = asked.nameless.iter();
        pairings.chain(nameless.map(|&(at, x, sides)| (at, x * spreads.nameless(sides)))).collect()
    }

    /// A sum as factors of the unknowns that have to do with everything.
    fn core(&self, asked: &Asked) -> Vec<(usize, f64)> {
        let spreads = self.spreads();
        let mut core = vec![(MEAN, 1.0), (INBREEDING, asked.inbreeding)];
        core.extend(asked.seasons.iter().map(|&(at, x)| (at, spreads.seasons * x)));
        core.extend(asked.values.iter().map(|&(at, x)| (at, spreads.parents * x)));
        core
    }

    /// A sum made ready for drawing what may be the truth again and again.
    pub(super) fn ready(&self, asked: &Asked) -> Ready {
        let Spreads { parents, pairings, .. } = *self.spreads();
        let scale = self.scale(asked).recip();
        let factors = self.core(asked).into_iter().chain(self.behind(asked));
        let factors = factors.map(|(at, x)| (at, x * scale)).collect();
        let season = self.spreads().seasons * scale;
        let mut ready = Ready { factors, at: 0.0, open: 0.0, season };
        let mut open = asked.fresh * parents * parents + asked.fresh_pairings * pairings * pairings;
        for leaf in &asked.leaves {
            let (more, spread) = self.leaf(leaf);
            ready.at += leaf.share * more * scale;
            open += leaf.share * leaf.share * spread;
        }
        ready.open = open.sqrt() * scale;
        ready
    }
}

/// A sum at one point of the grid, on the scale of [`Liking`].
#[derive(Debug, Clone)]
pub(super) struct Ready {
    factors: Vec<(usize, f64)>,
    at: f64,
    /// The spread of what is not among the unknowns.
    open: f64,
    /// The spread among seasons.
    pub(super) season: f64,
}

impl Ready {
    /// Its value at a draw of the unknowns; `z` is a standard normal deviate for the rest.
    pub(super) fn drawn(&self, draw: &[f64], z: impl FnOnce() -> f64) -> f64 {
        let known: f64 = self.factors.iter().map(|&(at, x)| x * draw[at]).sum();
        let rest = if self.open > 0.0 { self.open * z() } else { 0.0 };
        self.at + known + rest
    }
}

/// The chances of a sum at all points of the grid.
pub(super) fn mixture(beliefs: &[Belief], asked: &Asked) -> Vec<Component> {
    let component = |belief: &Belief| {
        let liking = belief.liking(asked);
        // A sum that is known for certain has a spread all the same, too small to be seen.
        let sd = liking.variance.sqrt().max(1e-9);
        Component { weight: belief.point.weight, mean: liking.mean, sd }
    };
    beliefs.iter().map(component).collect()
}
