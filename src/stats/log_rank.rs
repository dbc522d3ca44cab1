//! Whether the waiting times of several groups differ.
//!
//! Source: N. Mantel 1966, Cancer Chemother. Rep. 50:163–170; R. Peto & J. Peto 1972, J. R. Stat.
//! Soc. A 135:185–207. The variance is that of the hypergeometric distribution.

use statrs::function::gamma::checked_gamma_ur;

use super::{
    dense::{Factor, dot},
    survival::Watched,
};

/// The outcome of a log-rank test.
#[derive(Debug, Clone, PartialEq)]
pub struct LogRank {
    /// Events seen in each group.
    pub seen: Vec<f64>,
    /// Events to be expected in each group if all waited alike.
    pub expected: Vec<f64>,
    /// Variance of seen − expected in each group.
    pub variance: Vec<f64>,
    /// The test statistic.
    pub chi_square: f64,
    /// Its degrees of freedom: the groups that can differ at all, less one.
    pub freedom: usize,
    /// The chance of a statistic as large as this if all waited alike.
    pub p: f64,
}

/// Compares groups; absent where no two of them were ever at risk together when something
/// happened.
pub fn log_rank(groups: &[&[Watched]]) -> Option<LogRank> {
    let n = groups.len();
    let mut all: Vec<(f64, usize, bool)> = groups
        .iter()
        .enumerate()
        .flat_map(|(g, group)| group.iter().map(move |one| (one.time, g, one.happened)))
        .filter(|(time, ..)| time.is_finite())
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut at_risk = vec![0.0; n];
    for &(_, group, _) in &all {
        at_risk[group] += 1.0;
    }
    let (mut seen, mut expected) = (vec![0.0; n], vec![0.0; n]);
    let mut covariance = vec![0.0; n * n];
    for tied in all.chunk_by(|a, b| a.0.total_cmp(&b.0).is_eq()) {
        let risk: f64 = at_risk.iter().sum();
        let events = tied.iter().filter(|(.., happened)| *happened).count() as f64;
        let spread = if risk > 1.0 { events * (risk - events) / (risk - 1.0) } else { 0.0 };
        for g in 0..n {
            let share = at_risk[g] / risk;
            expected[g] += events * share;
            for h in 0..n {
                let same = if g == h { share } else { 0.0 };
                covariance[g * n + h] += spread * (same - share * at_risk[h] / risk);
            }
        }
        for &(_, group, happened) in tied {
            seen[group] += f64::from(u8::from(happened));
            at_risk[group] -= 1.0;
        }
    }
    let excess: Vec<f64> = seen.iter().zip(&expected).map(|(o, e)| o - e).collect();
    let factor = Factor::of(&covariance, n);
    let freedom = factor.rank();
    if freedom == 0 {
        return None;
    }
    let chi_square = dot(&excess, &factor.solve(&excess)).max(0.0);
    let p = checked_gamma_ur(freedom as f64 / 2.0, chi_square / 2.0).unwrap_or(1.0);
    let variance = (0..n).map(|g| covariance[g * n + g]).collect();
    Some(LogRank { seen, expected, variance, chi_square, freedom, p })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn events(times: &[f64]) -> Vec<Watched> {
        times.iter().map(|&t| Watched::event(t)).collect()
    }

    #[test]
    fn groups_that_never_met_cannot_be_compared() {
        assert_eq!(log_rank(&[]), None);
        assert_eq!(log_rank(&[&events(&[1.0, 2.0])]), None);
        assert_eq!(log_rank(&[&[Watched::not_by(3.0)], &[Watched::not_by(4.0)]]), None);
    }

    #[test]
    fn an_empty_group_changes_nothing() {
        let (a, b) = (events(&[1.0, 4.0, 6.0]), events(&[2.0, 3.0, 9.0]));
        let two = log_rank(&[&a, &b]).map(|t| (t.chi_square, t.freedom));
        let three = log_rank(&[&a, &[], &b]).map(|t| (t.chi_square, t.freedom));
        let (two, three) = (two.unwrap_or_default(), three.unwrap_or_default());
        assert_eq!((two.1, three.1), (1, 1));
        assert!((two.0 - three.0).abs() < 1e-12);
    }

    #[test]
    fn the_same_times_show_no_difference() {
        let a = events(&[1.0, 4.0, 6.0]);
        let test = log_rank(&[&a, &a, &a]).map(|t| (t.chi_square, t.freedom, t.p));
        let (chi_square, freedom, p) = test.unwrap_or_default();
        assert!(chi_square < 1e-12 && freedom == 2 && (p - 1.0).abs() < 1e-12);
    }
}
