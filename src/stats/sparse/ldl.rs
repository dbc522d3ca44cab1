//! Taking a sparse matrix apart as P′LDL′P, solving with it, and the part of its inverse that a
//! mixed model asks for.

use std::sync::Arc;

use super::{Symmetric, order::minimum_degree};

/// Where the entries of the factor will stand: worked out once for a pattern, used for every
/// matrix that has it.
#[derive(Debug, Clone)]
pub struct Plan {
    /// Unknown `order[k]` is eliminated as number k.
    order: Vec<usize>,
    /// The number of each unknown.
    number: Vec<usize>,
    /// For each number: the entries above it in its column, as (row, place among the values of
    /// the matrix), and the place of the diagonal.
    columns: Vec<Vec<(usize, usize)>>,
    diagonal: Vec<usize>,
    /// The elimination tree.
    parent: Vec<Option<usize>>,
    /// Where each column of L begins.
    starts: Vec<usize>,
    kept_last: usize,
}

/// A matrix taken apart.
#[derive(Debug, Clone)]
pub struct Ldl {
    plan: Arc<Plan>,
    rows: Vec<usize>,
    lower: Vec<f64>,
    pivots: Vec<f64>,
}

/// Entries of an inverse: those at the places where the factor has any.
#[derive(Debug, Clone)]
pub struct Inverse {
    plan: Arc<Plan>,
    rows: Vec<usize>,
    lower: Vec<f64>,
    diagonal: Vec<f64>,
}

impl Plan {
    /// Plans for a pattern. The last `kept_last` unknowns are eliminated last, in their order.
    pub fn of(matrix: &Symmetric, kept_last: usize) -> Self {
        let n = matrix.n();
        let order = minimum_degree(matrix, kept_last.min(n));
        let mut number = vec![0; n];
        for (k, &unknown) in order.iter().enumerate() {
            number[unknown] = k;
        }
        let mut columns = vec![Vec::new(); n];
        let mut diagonal = vec![0; n];
        for (row, column, at) in matrix.entries() {
            let (i, j) = (number[row].min(number[column]), number[row].max(number[column]));
            if i == j {
                diagonal[i] = at;
            } else {
                columns[j].push((i, at));
            }
        }
        let mut parent: Vec<Option<usize>> = vec![None; n];
        let mut sizes = vec![0; n];
        let mut seen = vec![usize::MAX; n];
        for (k, column) in columns.iter().enumerate() {
            seen[k] = k;
            for &(row, _) in column {
                let mut at = row;
                while seen[at] != k {
                    seen[at] = k;
                    sizes[at] += 1;
                    at = *parent[at].get_or_insert(k);
                }
            }
        }
        let mut starts = Vec::with_capacity(n + 1);
        let mut next = 0;
        for size in sizes {
            starts.push(next);
            next += size;
        }
        starts.push(next);
        Self { order, number, columns, diagonal, parent, starts, kept_last: kept_last.min(n) }
    }

    fn n(&self) -> usize {
        self.order.len()
    }

    /// How many entries a factor has below its diagonal.
    pub fn n_entries(&self) -> usize {
        self.starts.last().copied().unwrap_or_default()
    }

    /// Takes a matrix apart that has the pattern of the plan. None where it is not positive
    /// definite.
    pub fn factor(self: &Arc<Self>, matrix: &Symmetric) -> Option<Ldl> {
        let n = self.n();
        let values = matrix.values();
        let filled = self.n_entries();
        let (mut rows, mut lower) = (vec![0; filled], vec![0.0; filled]);
        let mut ends = self.starts.clone();
        let mut pivots = vec![0.0; n];
        let mut work = vec![0.0; n];
        let mut seen = vec![usize::MAX; n];
        let (mut path, mut touched) = (Vec::new(), Vec::new());
        for k in 0..n {
            // The row k of L has an entry wherever the tree leads to from the entries of the
            // matrix; each path is walked up once, and the paths are taken in reverse.
            seen[k] = k;
            touched.clear();
            for &(row, at) in &self.columns[k] {
                work[row] += values[at];
                let mut step = row;
                while seen[step] != k {
                    seen[step] = k;
                    path.push(step);
                    let Some(up) = self.parent[step] else { break };
                    step = up;
                }
                while let Some(last) = path.pop() {
                    touched.push(last);
                }
            }
            let mut pivot = values[self.diagonal[k]];
            for &i in touched.iter().rev() {
                let y = std::mem::take(&mut work[i]);
                for at in self.starts[i]..ends[i] {
                    work[rows[at]] -= lower[at] * y;
                }
                let l = y / pivots[i];
                pivot -= l * y;
                (rows[ends[i]], lower[ends[i]]) = (k, l);
                ends[i] += 1;
            }
            if pivot.is_nan() || pivot <= 0.0 {
                return None;
            }
            pivots[k] = pivot;
        }
        Some(Ldl { plan: Arc::clone(self), rows, lower, pivots })
    }
}

impl Ldl {
    /// ln of the determinant of the part that was not kept last, and of the rest given that.
    pub fn ln_dets(&self) -> (f64, f64) {
        let sum = |pivots: &[f64]| pivots.iter().map(|d| d.ln()).sum();
        let (first, last) = self.pivots.split_at(self.plan.n() - self.plan.kept_last);
        (sum(first), sum(last))
    }

    /// The solution x of A·x = b.
    pub fn solve(&self, b: &[f64]) -> Vec<f64> {
        let plan = &*self.plan;
        let mut x: Vec<f64> = plan.order.iter().map(|&unknown| b[unknown]).collect();
        for k in 0..plan.n() {
            let value = x[k];
            for at in plan.starts[k]..plan.starts[k + 1] {
                x[self.rows[at]] -= self.lower[at] * value;
            }
        }
        for (x, pivot) in x.iter_mut().zip(&self.pivots) {
            *x /= pivot;
        }
        for k in (0..plan.n()).rev() {
            for at in plan.starts[k]..plan.starts[k + 1] {
                x[k] -= self.lower[at] * x[self.rows[at]];
            }
        }
        let mut solution = vec![0.0; plan.n()];
        for (&unknown, x) in plan.order.iter().zip(x) {
            solution[unknown] = x;
        }
        solution
    }

    /// L′⁻¹ D^−½ z: of standard normal deviates `z` it makes deviates whose covariance is the
    /// inverse of the matrix.
    pub fn deviates(&self, z: &[f64]) -> Vec<f64> {
        let plan = &*self.plan;
        let mut x: Vec<f64> = z.iter().zip(&self.pivots).map(|(z, d)| z / d.sqrt()).collect();
        let mut deviates = vec![0.0; plan.n()];
        for k in (0..plan.n()).rev() {
            for at in plan.starts[k]..plan.starts[k + 1] {
                x[k] -= self.lower[at] * x[self.rows[at]];
            }
            deviates[plan.order[k]] = x[k];
        }
        deviates
    }

    /// The entries of the inverse at the places where the factor has any: among them every
    /// diagonal entry, and every place where the matrix itself has an entry.
    ///
    /// Source: K. Takahashi, J. Fagan & M. S. Chin 1973; A. M. Erisman & W. F. Tinney 1975,
    /// Commun. ACM 18:177–179.
    pub fn inverse(&self) -> Inverse {
        self.inverse_of_first(self.plan.n())
    }

    /// The same, of the part of the matrix that was not kept last alone, as if the rest were
    /// known.
    pub fn inverse_without_last(&self) -> Inverse {
        self.inverse_of_first(self.plan.n() - self.plan.kept_last)
    }

    fn inverse_of_first(&self, n: usize) -> Inverse {
        let plan = &*self.plan;
        let mut inverse = vec![0.0; self.lower.len()];
        let mut diagonal = vec![0.0; plan.n()];
        // The entries of the column in hand, by row: of the factor, and of the inverse so far.
        let mut factor = vec![0.0; plan.n()];
        let mut sums = vec![0.0; plan.n()];
        let mut is_in = vec![false; plan.n()];
        for k in (0..n).rev() {
            let range = plan.starts[k]..plan.starts[k + 1];
            let range =
                range.start..range.start + self.rows[range.clone()].partition_point(|&row| row < n);
            for at in range.clone() {
                factor[self.rows[at]] = self.lower[at];
                is_in[self.rows[at]] = true;
            }
            for at in range.clone() {
                let i = self.rows[at];
                sums[i] += factor[i] * diagonal[i];
                let column = plan.starts[i]..plan.starts[i + 1];
                for (&j, entry) in self.rows[column.clone()].iter().zip(&inverse[column]) {
                    if j < n && is_in[j] {
                        sums[j] += factor[i] * entry;
                        sums[i] += factor[j] * entry;
                    }
                }
            }
            let mut own = 1.0 / self.pivots[k];
            for at in range {
                let i = self.rows[at];
                inverse[at] = -std::mem::take(&mut sums[i]);
                own -= self.lower[at] * inverse[at];
                factor[i] = 0.0;
                is_in[i] = false;
            }
            diagonal[k] = own;
        }
        Inverse { plan: Arc::clone(&self.plan), rows: self.rows.clone(), lower: inverse, diagonal }
    }
}

impl Inverse {
    /// An entry of the inverse; none at a place where the factor has no entry.
    pub fn at(&self, row: usize, column: usize) -> Option<f64> {
        let (i, j) = (self.plan.number[row], self.plan.number[column]);
        let (low, high) = (i.min(j), i.max(j));
        if low == high {
            return Some(self.diagonal[low]);
        }
        let (first, end) = (self.plan.starts[low], self.plan.starts[low + 1]);
        let at = self.rows[first..end].binary_search(&high).ok()?;
        Some(self.lower[first + at])
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use proptest::prelude::*;

    use super::{super::super::dense, *};

    /// Random sparse entries, made positive definite by a heavy diagonal.
    fn some_matrix() -> impl Strategy<Value = Symmetric> {
        (2_usize..25).prop_flat_map(|n| {
            proptest::collection::vec((0..n, 0..n, -1.0..1.0_f64), 0..3 * n).prop_map(move |list| {
                let mut heavy = vec![0.5; n];
                for &(i, j, value) in &list {
                    heavy[i] += value.abs();
                    heavy[j] += value.abs();
                }
                let diagonal = heavy.into_iter().enumerate().map(|(i, value)| (i, i, value));
                Symmetric::new(n, list.into_iter().filter(|(i, j, _)| i != j).chain(diagonal))
            })
        })
    }

    fn whole(matrix: &Symmetric) -> Vec<f64> {
        let n = matrix.n();
        let mut all = vec![0.0; n * n];
        for (row, column, at) in matrix.entries() {
            all[row * n + column] = matrix.values()[at];
            all[column * n + row] = matrix.values()[at];
        }
        all
    }

    proptest! {
        #[test]
        fn it_solves_and_inverts_like_the_dense_one(matrix in some_matrix(), last in 0_usize..3) {
            let n = matrix.n();
            let last = last.min(n);
            let plan = Arc::new(Plan::of(&matrix, last));
            let mut order = plan.order.clone();
            prop_assert_eq!(&order[n - last..], &(n - last..n).collect::<Vec<_>>()[..]);
            order.sort_unstable();
            prop_assert_eq!(order, (0..n).collect::<Vec<_>>());

            let ldl = plan.factor(&matrix).unwrap();
            let dense = dense::Factor::of(&whole(&matrix), n);
            let (first, rest) = ldl.ln_dets();
            prop_assert!((first + rest - dense.ln_det()).abs() < 1e-9);
            let b: Vec<f64> = (0..n).map(|i| 1.0 - 0.1 * i as f64).collect();
            for (got, wanted) in matrix.times(&ldl.solve(&b)).into_iter().zip(b) {
                prop_assert!((got - wanted).abs() < 1e-9);
            }

            let (all, alone) = (ldl.inverse(), ldl.inverse_without_last());
            let wanted = dense.inverse();
            let m = n - last;
            let leading: Vec<f64> = whole(&matrix).chunks(n).take(m).flat_map(|row| row[..m].to_vec()).collect();
            let wanted_alone = dense::Factor::of(&leading, m).inverse();
            for (row, column, _) in matrix.entries() {
                let got = all.at(row, column).unwrap();
                prop_assert!((got - wanted[row * n + column]).abs() < 1e-9);
                if row < m && column < m {
                    let got = alone.at(row, column).unwrap();
                    prop_assert!((got - wanted_alone[row * m + column]).abs() < 1e-9);
                }
            }
        }
    }

    #[test]
    fn what_is_not_positive_definite_is_refused() {
        let matrix = Symmetric::new(2, [(0, 0, 1.0), (1, 1, 1.0), (1, 0, 2.0)]);
        assert!(Arc::new(Plan::of(&matrix, 0)).factor(&matrix).is_none());
        let nothing = Symmetric::new(0, []);
        assert!(Arc::new(Plan::of(&nothing, 0)).factor(&nothing).is_some());
    }

    #[test]
    fn leaves_are_eliminated_without_fill() {
        // A hundred leaves on each of three parents, and the parents on one another.
        let leaves = (3..303).flat_map(|i| [(i, i, 2.0), (i, i % 3, -0.5), (i, (i + 1) % 3, -0.5)]);
        let parents = [(0, 0, 300.0), (1, 1, 300.0), (2, 2, 300.0)];
        let matrix = Symmetric::new(303, leaves.chain(parents));
        let plan = Plan::of(&matrix, 0);
        assert_eq!(plan.starts.last(), Some(&(600 + 3)));
    }
}
