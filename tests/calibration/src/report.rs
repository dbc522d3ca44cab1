//! Many gardens of a kind, as rows of a table.

use super::measure::{Measured, Pair};

/// Figures of some pairs over all gardens of a kind.
#[derive(Debug, Clone, Default)]
pub(super) struct Figures {
    pub n: usize,
    /// Share of 90 % ranges that hold the truth.
    pub within: f64,
    pub below: f64,
    pub width: f64,
    /// Mean loss in ln chance, in thousandths: of the forecasts, of raw rates, of steadied ones.
    pub loss: [f64; 3],
    /// Mean rank correlation with the truth: of the same three, of the model told the true spreads,
    /// and of the true breeding values.
    pub rank: [f64; 5],
}

pub(super) fn figures(gardens: &[Measured], is_asked: impl Fn(&Pair) -> bool) -> Figures {
    let pairs: Vec<&Pair> = gardens.iter().flat_map(|g| &g.pairs).filter(|p| is_asked(p)).collect();
    let mean = |of: &dyn Fn(&Pair) -> f64| {
        pairs.iter().map(|p| of(p)).sum::<f64>() / pairs.len().max(1) as f64
    };
    let looks: [fn(&Pair) -> f64; 5] =
        [|p| p.forecast, raw, |p| p.steadied, |p| p.by_true_spreads, |p| p.by_parents];
    Figures {
        n: pairs.len(),
        within: mean(&|p| f64::from(u8::from(p.is_within()))),
        below: mean(&|p| f64::from(u8::from(p.truth < p.low))),
        width: mean(&|p| p.high - p.low),
        loss: [0, 1, 2].map(|i: usize| 1000.0 * mean(&|p| p.loss(looks[i](p)))),
        rank: looks.map(|look| {
            let each = gardens.iter().filter_map(|garden| {
                let pairs: Vec<&Pair> = garden.pairs.iter().filter(|p| is_asked(p)).collect();
                let looks: Vec<f64> = pairs.iter().map(|p| look(p)).collect();
                let truth: Vec<f64> = pairs.iter().map(|p| p.truth).collect();
                rank_correlation(&looks, &truth)
            });
            let each: Vec<f64> = each.collect();
            each.iter().sum::<f64>() / each.len().max(1) as f64
        }),
    }
}

/// Kept of judged; a half where nothing was judged, which orders nothing.
fn raw(pair: &Pair) -> f64 {
    if pair.judged == 0 { 0.5 } else { f64::from(pair.kept) / f64::from(pair.judged) }
}

/// The share of ranges that hold the truth in each third of all pairs of a kind, in the order of
/// what `by` says.
pub(super) fn thirds(gardens: &[Measured], by: fn(&Pair) -> f64) -> [f64; 3] {
    let mut pairs: Vec<&Pair> = gardens.iter().flat_map(|g| &g.pairs).collect();
    pairs.sort_by(|a, b| by(a).total_cmp(&by(b)));
    let n = pairs.len();
    [0, 1, 2].map(|third| {
        let part = &pairs[n * third / 3..n * (third + 1) / 3];
        part.iter().filter(|p| p.is_within()).count() as f64 / part.len().max(1) as f64
    })
}

/// Spearman's; none of fewer than four, or where all look alike.
pub(super) fn rank_correlation(a: &[f64], b: &[f64]) -> Option<f64> {
    if a.len() < 4 {
        return None;
    }
    let (a, b) = (ranks(a), ranks(b));
    let middle = (a.len() as f64 - 1.0) / 2.0;
    let product = |x: &[f64], y: &[f64]| -> f64 {
        x.iter().zip(y).map(|(x, y)| (x - middle) * (y - middle)).sum()
    };
    let spread = (product(&a, &a) * product(&b, &b)).sqrt();
    Some(if spread > 0.0 { product(&a, &b) / spread } else { 0.0 })
}

/// Ranks from 0, shared by equals.
fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|&i, &j| values[i].total_cmp(&values[j]));
    let mut ranks = vec![0.0; values.len()];
    let mut first = 0;
    while first < order.len() {
        let same = order[first..].iter().take_while(|&&i| values[i] <= values[order[first]]);
        let end = first + same.count().max(1);
        for &i in &order[first..end] {
            ranks[i] = (first + end - 1) as f64 / 2.0;
        }
        first = end;
    }
    ranks
}
