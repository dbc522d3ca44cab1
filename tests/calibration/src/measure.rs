//! One garden: what was forecast of every pair of its parents, and what is true.

use std::{collections::BTreeMap, sync::Arc};

use trug::{
    book::{Book, Counts, Crop, PlantId},
    kinship::{Inheritance, Kinship},
    lineage::Pedigree,
    merit::{
        Prior,
        liability::{Forecasts, Options, Outcome, Question},
    },
};

use super::kind::{Kind, Limits};

/// A pair of parents.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub parents: [PlantId; 2],
    pub kept: u32,
    pub judged: u32,
    pub truth: f64,
    pub forecast: f64,
    pub low: f64,
    pub high: f64,
    /// Forecast by the same model with the true spreads.
    pub by_true_spreads: f64,
    /// What is to be expected of the true breeding values, without what the pairing adds.
    pub by_parents: f64,
    /// Steadied by the beta-binomial.
    pub steadied: f64,
    /// Whether a plan by the forecasts picks it.
    pub picked: bool,
}

impl Pair {
    pub(super) fn is_tried(&self) -> bool {
        self.judged > 0
    }

    pub(super) fn is_within(&self) -> bool {
        self.low <= self.truth && self.truth <= self.high
    }

    /// What a forecast loses against the truth in ln of the chance given to what happens.
    pub(super) fn loss(&self, forecast: f64) -> f64 {
        let p = forecast.clamp(1e-4, 1.0 - 1e-4);
        self.truth * (self.truth / p).ln()
            + (1.0 - self.truth) * ((1.0 - self.truth) / (1.0 - p)).ln()
    }
}

/// A garden with all that is to be reported of it.
#[derive(Debug, Clone)]
pub(super) struct Measured {
    pub pairs: Vec<Pair>,
    /// Truly kept of what a plan would plant: by raw rates of pairs made before, by the
    /// forecasts, by the truth.
    pub plans: [f64; 3],
    /// Parents of the garden.
    pub n_parents: usize,
    /// Seedlings kept at the first sorting, and judged.
    pub sorted: [u32; 2],
    /// Seconds that the fit took.
    pub seconds: f64,
}

pub(super) fn measure(kind: &Kind, crop: &Arc<Crop>, seed: u64) -> Measured {
    let mut garden = kind.trial().garden(Arc::clone(crop), seed);
    let pedigree = Pedigree::of(&garden.book);
    let rules = Inheritance::of(&garden.book).expect("a crop that inherits");
    let start = std::time::Instant::now();
    let kinship = Arc::new(Kinship::of(&garden.book, &pedigree, rules));
    let fit = |options| {
        let kinship = Arc::clone(&kinship);
        Forecasts::fit(&garden.book, &pedigree, kinship, Outcome::Kept, options)
            .expect("a garden that was judged")
    };
    let forecasts = fit(Options::default());
    let seconds = start.elapsed().as_secs_f64();
    let told = fit(Options { spreads: Some(kind.spreads()), ..Options::default() });
    let (counts, prior) = record(&garden.book, &pedigree);
    let mut parents: Vec<PlantId> = counts.keys().flatten().copied().collect();
    parents.sort_unstable();
    parents.dedup();
    let mut all = Vec::new();
    for (i, &a) in parents.iter().enumerate() {
        all.extend(parents[i + 1..].iter().map(|&b| (a, b)));
    }
    let questions: Vec<Question> = all.iter().map(|&(a, b)| Question::Pair(a, b)).collect();
    let chances = forecasts.answers(&questions, 0.9).into_iter().zip(told.answers(&questions, 0.9));
    let mut pairs = Vec::new();
    for (&(a, b), (chance, told)) in all.iter().zip(chances) {
        let Some(by_parents) = garden.keep_rate_by_parents(a, b) else { continue };
        let Some(truth) = garden.keep_rate(a, b) else { continue };
        let of = counts.get(&[a, b]).copied().unwrap_or_default();
        pairs.push(Pair {
            parents: [a, b],
            kept: of.kept,
            judged: of.judged,
            truth,
            forecast: chance.p,
            low: chance.low,
            high: chance.high,
            by_true_spreads: told.p,
            by_parents,
            steadied: prior.shrunk(&of, 0.9).p,
            picked: false,
        });
    }
    let raw = |p: &Pair| p.is_tried().then(|| f64::from(p.kept) / f64::from(p.judged));
    let habit = plan(&pairs, kind.plan, raw).0;
    let (ours, picked) = plan(&pairs, kind.plan, |p| Some(p.forecast));
    let best = plan(&pairs, kind.plan, |p| Some(p.truth)).0;
    for i in picked {
        pairs[i].picked = true;
    }
    let sorted = garden.book.crosses().iter().map(|cross| cross.counts());
    let sorted = sorted.fold([0, 0], |[k, n], of| [k + of.kept, n + of.judged]);
    let n_parents = parents.len();
    Measured { pairs, plans: [habit, ours, best], n_parents, sorted, seconds }
}

/// The counts of every pair whose parents are sure, and how they lie.
fn record(book: &Book, pedigree: &Pedigree) -> (BTreeMap<[PlantId; 2], Counts>, Prior) {
    let mut counts: BTreeMap<[PlantId; 2], Counts> = BTreeMap::new();
    for id in book.cross_ids() {
        let parents = pedigree.parents_of(pedigree.family_of_cross(id));
        let pair = parents.known_seed().zip(parents.known_pollen());
        if let Some((a, b)) = pair.filter(|(a, b)| a != b) {
            *counts.entry([a.min(b), a.max(b)]).or_default() += book.cross(id).counts();
        }
    }
    let prior = Prior::of(counts.values().copied(), &book.crop().rates.kept_of_judged);
    (counts, prior)
}

/// Fills the places with the pairs that look best, and says what share of them will truly be
/// kept, and which pairs they are.
fn plan(pairs: &[Pair], limits: Limits, looks: impl Fn(&Pair) -> Option<f64>) -> (f64, Vec<usize>) {
    let mut order: Vec<(f64, usize)> =
        pairs.iter().enumerate().filter_map(|(i, pair)| Some((looks(pair)?, i))).collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut used: BTreeMap<PlantId, usize> = BTreeMap::new();
    let mut picked = Vec::new();
    for (_, i) in order {
        let free = |p: &PlantId| used.get(p).copied().unwrap_or_default() < limits.per_parent;
        if picked.len() < limits.pairs && pairs[i].parents.iter().all(free) {
            for parent in pairs[i].parents {
                *used.entry(parent).or_default() += 1;
            }
            picked.push(i);
        }
    }
    let most = (limits.most / limits.pairs as f64).max(1.0 / picked.len().max(1) as f64);
    let (mut left, mut kept) = (1.0_f64, 0.0);
    for &i in &picked {
        let share = left.min(most);
        left -= share;
        kept += share * pairs[i].truth;
    }
    (kept, picked)
}
