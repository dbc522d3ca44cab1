//! General and specific combining ability: what parents pass on with any partner, and what a
//! pair gives beyond that.
//!
//! Source: B. Griffing 1956, Aust. J. Biol. Sci. 9:463–493; by least squares, so that not every
//! cross need have been made.

use std::collections::BTreeMap;

use super::dense::{Factor, dot};

/// What one pair gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// The two parents, the smaller number first; the same for a selfing.
    pub parents: [usize; 2],
    /// Specific combining ability: beyond the mean and the general abilities.
    pub specific: f64,
    /// Half of what the cross with the smaller number as seed parent gives more than its
    /// reciprocal, where both were made.
    pub reciprocal: Option<f64>,
}

/// Combining abilities of a set of parents.
#[derive(Debug, Clone, PartialEq)]
pub struct Combining {
    /// The mean of all crosses, had each been made.
    pub mean: f64,
    /// General combining ability of each parent; they sum to 0.
    pub general: Vec<f64>,
    /// Every pair that was made.
    pub pairs: Vec<Pair>,
    /// The variance of each general ability, for crosses with a variance of 1.
    variance_factors: Vec<f64>,
}

impl Combining {
    /// Works out abilities from the means of crosses (seed parent, pollen parent, mean); parents
    /// are numbered from 0 to `n_parents`. None where the crosses do not link all parents with
    /// each other closely enough to tell them apart.
    pub fn of(n_parents: usize, crosses: &[(usize, usize, f64)]) -> Option<Self> {
        if n_parents == 0 {
            return None;
        }
        // The last ability is minus the sum of the others.
        let n = n_parents;
        let row = |seed: usize, pollen: usize| {
            let mut row = vec![0.0; n];
            row[n - 1] = 1.0;
            for parent in [seed, pollen] {
                if parent + 1 < n {
                    row[parent] += 1.0;
                } else {
                    row[..n - 1].iter_mut().for_each(|x| *x -= 1.0);
                }
            }
            row
        };
        let mut products = vec![0.0; n * n];
        let mut right = vec![0.0; n];
        for &(seed, pollen, mean) in crosses {
            let row = row(seed, pollen);
            for (i, x) in row.iter().enumerate() {
                right[i] += x * mean;
                for (j, y) in row.iter().enumerate() {
                    products[i * n + j] += x * y;
                }
            }
        }
        let factor = Factor::of(&products, n);
        if factor.rank() < n {
            return None;
        }
        let solution = factor.solve(&right);
        let (mean, mut general) = (solution[n - 1], solution[..n - 1].to_vec());
        general.push(-general.iter().sum::<f64>());
        let variance_factors = (0..n).map(|parent| {
            let mut which = vec![if parent + 1 < n { 0.0 } else { -1.0 }; n];
            which[n - 1] = 0.0;
            if parent + 1 < n {
                which[parent] = 1.0;
            }
            dot(&which, &factor.solve(&which))
        });
        let variance_factors = variance_factors.collect();
        let pairs = pairs(crosses, mean, &general);
        Some(Self { mean, general, pairs, variance_factors })
    }

    /// The standard error of a parent's general ability, from the variance of a cross's mean.
    pub fn general_se(&self, parent: usize, variance: f64) -> f64 {
        (self.variance_factors[parent] * variance).max(0.0).sqrt()
    }
}

fn pairs(crosses: &[(usize, usize, f64)], mean: f64, general: &[f64]) -> Vec<Pair> {
    // Sum and number of each direction.
    let mut made: BTreeMap<[usize; 2], [(f64, f64); 2]> = BTreeMap::new();
    for &(seed, pollen, value) in crosses {
        let parents = [seed.min(pollen), seed.max(pollen)];
        let (sum, number) = &mut made.entry(parents).or_default()[usize::from(seed > pollen)];
        (*sum, *number) = (*sum + value, *number + 1.0);
    }
    made.into_iter()
        .map(|(parents, [there, back])| {
            let expected = mean + general[parents[0]] + general[parents[1]];
            let one = |(sum, number): (f64, f64)| (number > 0.0).then(|| sum / number);
            let (both, reciprocal) = match (one(there), one(back)) {
                (Some(x), Some(y)) => (f64::midpoint(x, y), Some((x - y) / 2.0)),
                (x, y) => (x.or(y).unwrap_or(expected), None),
            };
            Pair { parents, specific: both - expected, reciprocal }
        })
        .collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn parents_that_are_not_linked_cannot_be_compared() {
        assert_eq!(Combining::of(0, &[]), None);
        assert_eq!(Combining::of(4, &[(0, 1, 3.0), (2, 3, 5.0)]), None);
        assert_eq!(Combining::of(3, &[(0, 1, 3.0)]), None);
    }

    #[test]
    fn abilities_that_add_up_leave_nothing_specific() {
        let g = [2.0, -1.0, -1.0];
        let crosses: Vec<_> =
            [(0, 1), (1, 2), (2, 0)].map(|(i, j)| (i, j, 10.0 + g[i] + g[j])).into();
        let found = Combining::of(3, &crosses).unwrap();
        assert!((found.mean - 10.0).abs() < 1e-12);
        for (got, wanted) in found.general.iter().zip(g) {
            assert!((got - wanted).abs() < 1e-12);
        }
        assert!(found.pairs.iter().all(|pair| pair.specific.abs() < 1e-12));
    }
}
