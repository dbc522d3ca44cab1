//! Where a forecast comes from: what each source adds to it.

use crate::book::PlantId;
use crate::stats::{Interval, mixture};

use super::{
    Forecasts, Question,
    belief::{Asked, Belief, mixture as liking_of},
    grid,
    layout::Term,
};

/// What each source adds to a forecast, as chances. Together they are the forecast.
///
/// A source adds what the forecast loses when that source is taken out of the book, after those
/// listed behind it were taken out before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sources {
    /// What a pair of plants would have that nothing is known of, as the book goes.
    pub book: f64,
    /// That the two are related, or one is inbred.
    pub inbreeding: f64,
    /// What kin of the two did, in other crosses and by the words on them.
    pub kin: f64,
    /// What the two did with other partners, and the words on the two themselves.
    pub parents: f64,
    /// What the pair itself gave.
    pub own: f64,
    /// The forecast.
    pub whole: Interval,
}

/// Fitting again takes time: so many unknowns over all points of the grid at most, the heaviest
/// points standing for all. Books so small that the counts say little of the spreads keep all.
const MOST_UNKNOWNS: usize = 40_000;

impl Forecasts {
    /// Where the forecast of a pair comes from. This fits the model again without some counts, so
    /// it is asked for one pair at a time.
    pub fn sources(&self, seed: PlantId, pollen: PlantId, level: f64) -> Sources {
        let whole = self.pair(seed, pollen, level);
        let asked = self.asking().question(&Question::Pair(seed, pollen));
        let stranger = Asked { fresh: 0.5, fresh_pairings: 1.0, sampling: 0.5, ..Asked::default() };
        let inbred =
            Asked { inbreeding: asked.inbreeding, sampling: asked.sampling, ..stranger.clone() };
        let is_own = |term: &Term| term.seen.plant.is_none() && term.is_of(&[seed, pollen]);
        let is_parents = |term: &Term| match term.seen.plant {
            Some(plant) => plant == seed || plant == pollen,
            None => term.is_of(&[seed]) || term.is_of(&[pollen]),
        };
        let all = self.without(|_| false);
        let mean = |beliefs: &[Belief], asked: &Asked| {
            mixture::chance(&liking_of(beliefs, asked), level).p
        };
        // Fewer points give all but the same forecast; the rest is scaled away.
        let full = mean(&all, &asked);
        let others = self.without(is_own);
        let without_own = mean(&others, &asked);
        let rest = self.without(|term| is_own(term) || is_parents(term));
        let [without_parents, inbred, stranger] =
            [&asked, &inbred, &stranger].map(|asked| mean(&rest, asked));
        let off = whole.p - full;
        Sources {
            book: stranger + off,
            inbreeding: inbred - stranger,
            kin: without_parents - inbred,
            parents: without_own - without_parents,
            own: full - without_own,
            whole,
        }
    }

    fn without(&self, is_out: impl Fn(&Term) -> bool) -> Vec<Belief> {
        let n_unknowns = self.beliefs.first().map_or(1, |belief| belief.point.mode.at.len());
        let most = (MOST_UNKNOWNS / n_unknowns).max(1);
        let beliefs = self.beliefs.iter().take(most);
        let points: Vec<_> = beliefs.map(|belief| belief.point.clone()).collect();
        let points = grid::again(&self.layout, &self.latent, &points, is_out);
        points.into_iter().map(|point| Belief::of(&self.layout, point)).collect()
    }
}
