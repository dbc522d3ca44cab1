//! The three spreads: a grid over what they may be, each point weighted by how well it goes with
//! the counts.
//!
//! The unknowns are integrated out at each point by Laplace's approximation; from the best point
//! the grid is walked outwards until what lies beyond hardly counts. Source: H. Rue, S. Martino &
//! N. Chopin 2009, J. R. Stat. Soc. B 71:319–392, in its plainest form.

use std::collections::{BTreeMap, BTreeSet};

use crate::stats::glmm::{Latent, Mode};

use super::layout::{Layout, Term};

/// The spreads of liking, on the scale on which one plant's own chance has a spread of 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spreads {
    /// Of breeding values among unrelated parents.
    pub parents: f64,
    /// Of what a pairing adds beyond its parents.
    pub pairings: f64,
    /// Between seasons.
    pub seasons: f64,
}

impl Spreads {
    /// Of what plants that nobody knows bring to a cross, on one side or on both.
    pub(super) fn nameless(&self, sides: f64) -> f64 {
        (0.25 * sides * self.parents.powi(2) + self.pairings.powi(2)).sqrt()
    }
}

/// What is believed of the three spreads before anything is counted: half-normal, with these
/// scales.
pub(super) const BELIEVED: [f64; 3] = [0.6, 0.4, 0.3];

/// The spreads that are tried. Nearly nothing is among them; below it nothing changes.
const STEPS: [f64; 14] =
    [0.03, 0.1, 0.17, 0.25, 0.33, 0.42, 0.52, 0.64, 0.78, 0.95, 1.15, 1.4, 1.75, 2.2];
/// Where the search begins.
const START: [usize; 3] = [6, 3, 3];
/// Points whose ln weight is this far below the best are left out.
const FAR: f64 = 3.5;

/// One point of the grid.
#[derive(Debug, Clone)]
pub(super) struct Point {
    pub(super) weight: f64,
    pub(super) spreads: Spreads,
    pub(super) mode: Mode,
}

type At = [usize; 3];

/// Every point that counts, the heaviest first, with weights that sum to 1. Empty where the model
/// could not be fitted. `goes_on` hears of each point that is looked at, and nothing comes of it
/// all when it says no.
pub(super) fn points(layout: &Layout, goes_on: &dyn Fn(usize) -> bool) -> Option<Vec<Point>> {
    let latent = layout.latent();
    let mut search = Search { layout, latent, known: BTreeMap::new(), goes_on, is_halted: false };
    let mut best = START;
    while let Some(better) = search.better(best) {
        best = better;
    }
    let top = search.ln_weight(best, None);
    let mut waiting = vec![best];
    let mut within: BTreeSet<At> = BTreeSet::from([best]);
    while let Some(at) = waiting.pop() {
        for next in beside(at) {
            if !within.contains(&next) && search.ln_weight(next, Some(at)) > top - FAR {
                within.insert(next);
                waiting.push(next);
            }
        }
    }
    if search.is_halted {
        return None;
    }
    let mut known = search.known;
    let points = within.into_iter().filter_map(|at| {
        let (ln_weight, mode) = known.remove(&at).flatten()?;
        Some(Point { weight: (ln_weight - top).exp(), spreads: spreads(at), mode })
    });
    Some(weighed(points.collect()))
}

/// The one point where the spreads are known.
pub(super) fn at(layout: &Layout, spreads: Spreads) -> Option<Point> {
    let mode = layout.latent().mode(&layout.observations(&spreads, |_| false), None)?;
    Some(Point { weight: 1.0, spreads, mode })
}

/// Scales the weights so that they sum to 1.
fn weighed(mut points: Vec<Point>) -> Vec<Point> {
    let whole: f64 = points.iter().map(|point| point.weight).sum();
    for point in &mut points {
        point.weight /= whole;
    }
    points.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    points
}

/// The same points with other counts left out: their modes and weights anew. `points` have to
/// come from this layout.
pub(super) fn again(
    layout: &Layout,
    latent: &Latent,
    points: &[Point],
    is_out: impl Fn(&Term) -> bool,
) -> Vec<Point> {
    let mut found: Vec<(f64, Point)> = Vec::with_capacity(points.len());
    for point in points {
        let observations = layout.observations(&point.spreads, &is_out);
        if let Some(mode) = latent.mode(&observations, Some(&point.mode.at)) {
            let ln_weight = point.weight.ln() + mode.ln_evidence - point.mode.ln_evidence;
            found.push((ln_weight, Point { mode, ..*point }));
        }
    }
    let top = found.iter().map(|(ln, _)| *ln).fold(f64::NEG_INFINITY, f64::max);
    let scale = |(ln, point): (f64, Point)| Point { weight: (ln - top).exp(), ..point };
    weighed(found.into_iter().map(scale).collect())
}

fn spreads([parents, pairings, seasons]: At) -> Spreads {
    Spreads { parents: STEPS[parents], pairings: STEPS[pairings], seasons: STEPS[seasons] }
}

/// The points next to one on the grid.
fn beside(at: At) -> impl Iterator<Item = At> {
    (0..3).flat_map(move |i| {
        let lower = at[i].checked_sub(1);
        let higher = Some(at[i] + 1).filter(|&next| next < STEPS.len());
        lower.into_iter().chain(higher).map(move |next| {
            let mut beside = at;
            beside[i] = next;
            beside
        })
    })
}

/// ln of what is believed of a spread, times the width of the grid there.
fn ln_believed(step: usize, scale: f64) -> f64 {
    let low = step.checked_sub(1).map_or(0.0, |below| f64::midpoint(STEPS[below], STEPS[step]));
    let high =
        STEPS.get(step + 1).map_or(STEPS[step] * 1.25, |&above| f64::midpoint(STEPS[step], above));
    (high - low).ln() - 0.5 * (STEPS[step] / scale).powi(2)
}

struct Search<'l> {
    layout: &'l Layout,
    latent: Latent,
    /// ln of the weight of each point that was looked at, with its mode.
    known: BTreeMap<At, Option<(f64, Mode)>>,
    goes_on: &'l dyn Fn(usize) -> bool,
    is_halted: bool,
}

impl Search<'_> {
    fn better(&mut self, at: At) -> Option<At> {
        let here = self.ln_weight(at, None);
        let all: Vec<(f64, At)> =
            beside(at).map(|next| (self.ln_weight(next, Some(at)), next)).collect();
        let best = all.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
        (best.0 > here).then_some(best.1)
    }

    /// ln of the weight of a point, looked for from the mode of another one.
    fn ln_weight(&mut self, at: At, from: Option<At>) -> f64 {
        if let Some(known) = self.known.get(&at) {
            return known.as_ref().map_or(f64::NEG_INFINITY, |(ln, _)| *ln);
        }
        // Points of no weight bring the search to its end.
        self.is_halted |= !(self.goes_on)(self.known.len() + 1);
        if self.is_halted {
            return f64::NEG_INFINITY;
        }
        let start = from.and_then(|from| self.known.get(&from)?.as_ref());
        let observations = self.layout.observations(&spreads(at), |_| false);
        let mode = self.latent.mode(&observations, start.map(|(_, mode)| &mode.at[..]));
        let found = mode.filter(|mode| mode.ln_evidence.is_finite()).map(|mode| {
            let believed: f64 = at.iter().zip(BELIEVED).map(|(&i, s)| ln_believed(i, s)).sum();
            (mode.ln_evidence + believed, mode)
        });
        let ln_weight = found.as_ref().map_or(f64::NEG_INFINITY, |(ln, _)| *ln);
        self.known.insert(at, found);
        ln_weight
    }
}
