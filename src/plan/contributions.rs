//! How much each parent should contribute: the most merit under a limit on kinship, or the least
//! kinship there can be.
//!
//! The optimal contributions of T. H. E. Meuwissen 1997, J. Anim. Sci. 75:934–940: maximise Σ c u
//! with c'Kc at most a limit, K the coancestries with those of each with itself. For any price of
//! kinship the best contributions are found by exchanging between two parents at a time (as J. C.
//! Platt 1998 does for a like problem); the price that just keeps the limit is found by halving.

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked<'a> {
    /// The merit of each parent.
    pub merits: &'a [f64],
    /// The coancestry of each with each and with itself, by rows.
    pub coancestry: &'a [f64],
    /// The group of each, such as seed and pollen parents. Each group contributes the same.
    pub groups: &'a [usize],
    /// The most that one parent may contribute.
    pub most: f64,
}

/// A share for each parent, summing to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Contributions {
    /// The shares.
    pub shares: Vec<f64>,
    /// Σ share × merit.
    pub merit: f64,
    /// Σ share × share × coancestry.
    pub kinship: f64,
}

/// Exchanges that leave this much of merit on the table end a search.
const SETTLED: f64 = 1e-13;
const MOST_ROUNDS: usize = 20_000;
const HALVINGS: usize = 100;

/// The least kinship that there can be; none where the caps leave no room for a whole.
pub fn least_kin(asked: &Asked<'_>) -> Option<Contributions> {
    let shares = settle(asked, even(asked)?, 0.0, 1.0);
    Some(of(asked, shares))
}

/// The most merit with kinship at most `limit`; none where there is nothing so little of kin.
pub fn best(asked: &Asked<'_>, limit: f64) -> Option<Contributions> {
    let least = least_kin(asked)?;
    if least.kinship > limit {
        return None;
    }
    let free = of(asked, settle(asked, least.shares.clone(), 1.0, 0.0));
    if free.kinship <= limit {
        return Some(free);
    }
    // Merit − price × kinship; as a share of the whole, so that both ends are finite.
    let (mut cheap, mut dear) = (0.0, 1.0);
    let mut within = least;
    for _ in 0..HALVINGS {
        let price = 0.5 * (cheap + dear);
        let next = of(asked, settle(asked, within.shares.clone(), 1.0 - price, price));
        if next.kinship <= limit {
            (within, dear) = (next, price);
        } else {
            cheap = price;
        }
    }
    Some(within)
}

fn of(asked: &Asked<'_>, shares: Vec<f64>) -> Contributions {
    let merit = shares.iter().zip(asked.merits).map(|(c, u)| c * u).sum();
    let kinship = shares.iter().zip(with_all(asked, &shares)).map(|(c, k)| c * k).sum();
    Contributions { shares, merit, kinship }
}

fn with_all(asked: &Asked<'_>, shares: &[f64]) -> Vec<f64> {
    let rows = asked.coancestry.chunks_exact(shares.len().max(1));
    rows.map(|row| row.iter().zip(shares).map(|(k, c)| k * c).sum()).collect()
}

/// Everybody in a group the same.
fn even(asked: &Asked<'_>) -> Option<Vec<f64>> {
    let n_groups = asked.groups.iter().max()? + 1;
    let in_group = |group| asked.groups.iter().filter(|&&g| g == group).count();
    let share = |&group: &usize| 1.0 / (n_groups * in_group(group)) as f64;
    let shares: Vec<f64> = asked.groups.iter().map(share).collect();
    shares.iter().all(|&share| share <= asked.most + 1e-12).then_some(shares)
}

/// The shares with the most of `merit` × merit − `price` × kinship.
fn settle(asked: &Asked<'_>, mut shares: Vec<f64>, merit: f64, price: f64) -> Vec<f64> {
    let n = shares.len();
    let mut with_all = with_all(asked, &shares);
    for _ in 0..MOST_ROUNDS {
        let slope = |i: usize| merit * asked.merits[i] - 2.0 * price * with_all[i];
        let mut best = (SETTLED, 0, 0, 0.0);
        for from in (0..n).filter(|&i| shares[i] > 0.0) {
            for to in (0..n).filter(|&i| asked.groups[i] == asked.groups[from]) {
                let rise = slope(to) - slope(from);
                let room = shares[from].min(asked.most - shares[to]);
                if rise <= 0.0 || room <= 0.0 {
                    continue;
                }
                let k = |a: usize, b: usize| asked.coancestry[a * n + b];
                let bend = 2.0 * price * (k(to, to) + k(from, from) - 2.0 * k(to, from));
                let step = if bend > 0.0 { (rise / bend).min(room) } else { room };
                let gain = step * (rise - 0.5 * bend * step);
                if gain > best.0 {
                    best = (gain, from, to, step);
                }
            }
        }
        let (_, from, to, step) = best;
        if step == 0.0 {
            break;
        }
        shares[from] -= step;
        shares[to] += step;
        for (i, k) in with_all.iter_mut().enumerate() {
            *k += step * (asked.coancestry[i * n + to] - asked.coancestry[i * n + from]);
        }
    }
    shares
}
