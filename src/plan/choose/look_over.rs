//! Every plan is looked over here, against every limit, by code that shares nothing with what made
//! it.

use super::Question;

/// A limit that a plan does not keep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Broken {
    /// More places than there are.
    Places,
    /// More pairs than allowed.
    Pairs,
    /// A parent in more pairs than allowed.
    PerParent(usize),
    /// A choice with fewer or more places than it may have.
    Size(usize),
    /// A choice that had to be made is missing.
    Missing(usize),
    /// Nearer of kin than allowed: the mean coancestry.
    Kin(f64),
}

/// The mean of a small book's kinship is known to about this.
const KIN_ROUNDING: f64 = 1e-9;

/// The limits that a plan breaks; none of a good one.
pub fn broken(question: &Question, places: &[u32]) -> Vec<Broken> {
    let limits = &question.limits;
    let mut broken = Vec::new();
    let chosen: Vec<usize> = (0..places.len()).filter(|&at| places[at] > 0).collect();
    if places.iter().map(|&n| u64::from(n)).sum::<u64>() > u64::from(limits.places) {
        broken.push(Broken::Places);
    }
    if chosen.len() as u64 > u64::from(limits.pairs) {
        broken.push(Broken::Pairs);
    }
    for parent in 0..question.n_parents {
        let n = chosen.iter().filter(|&&at| question.choices[at].parents.contains(&parent));
        if n.count() as u64 > u64::from(limits.per_parent) {
            broken.push(Broken::PerParent(parent));
        }
    }
    for (at, choice) in question.choices.iter().enumerate() {
        let n = places.get(at).copied().unwrap_or_default();
        if n > 0 && !(choice.least..=choice.most).contains(&n) {
            broken.push(Broken::Size(at));
        }
        if choice.must && n == 0 {
            broken.push(Broken::Missing(at));
        }
    }
    if let Some(kin) = &question.kin {
        let mut sum = 0.0;
        let mut total = 0.0;
        for &a in &chosen {
            let n_a = f64::from(places[a]);
            total += n_a;
            sum += n_a * kin.own[a];
            for &b in &chosen {
                let ways = question.choices[a]
                    .parents
                    .iter()
                    .flat_map(|&x| question.choices[b].parents.iter().map(move |&y| kin.of(x, y)));
                sum += n_a * f64::from(places[b]) * ways.sum::<f64>() / 4.0;
            }
        }
        let mean = sum / (total * total);
        if total > 0.0 && mean > kin.most + KIN_ROUNDING {
            broken.push(Broken::Kin(mean));
        }
    }
    broken
}
