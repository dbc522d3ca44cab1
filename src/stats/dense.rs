//! Small dense symmetric matrices: solving, inverting, rank and log-determinant.
//!
//! Meant for a few dozen rows. Large systems are not its business.

/// A symmetric positive semi-definite matrix taken apart as P′LDL′P, with the largest remaining
/// diagonal taken first, so that a matrix short of full rank shows it.
///
/// Method: G. H. Golub & C. F. Van Loan, *Matrix Computations*, section 4.2.
#[derive(Debug, Clone)]
pub struct Factor {
    /// Row i of the factor is row `order[i]` of the matrix.
    order: Vec<usize>,
    /// L below the diagonal, by rows, unit diagonal understood.
    lower: Vec<f64>,
    /// D; only the first `rank` are used.
    pivots: Vec<f64>,
    rank: usize,
}

/// A diagonal that has shrunk to this share of what it was counts as nothing.
const NOTHING: f64 = 1e-11;

impl Factor {
    /// Takes apart an n × n matrix given by rows. Only the lower triangle is read.
    ///
    /// # Panics
    /// Never for `a.len() == n * n`.
    pub fn of(a: &[f64], n: usize) -> Self {
        debug_assert_eq!(a.len(), n * n, "a square matrix");
        let mut order: Vec<usize> = (0..n).collect();
        let mut lower = vec![0.0; n * n];
        let mut left: Vec<f64> = (0..n).map(|i| a[i * n + i]).collect();
        let mut pivots = vec![0.0; n];
        let mut rank = 0;
        for k in 0..n {
            let share = |i: usize| {
                let whole = a[i * n + i];
                if whole > 0.0 { left[i] / whole } else { 0.0 }
            };
            let best = (k..n).max_by(|&x, &y| share(order[x]).total_cmp(&share(order[y])));
            let Some(best) = best.filter(|&i| share(order[i]) > NOTHING) else { break };
            order.swap(k, best);
            for j in 0..k {
                lower.swap(k * n + j, best * n + j);
            }
            let row = order[k];
            pivots[k] = left[row];
            for i in k + 1..n {
                let other = order[i];
                let entry = a[row.max(other) * n + row.min(other)];
                let known: f64 =
                    (0..k).map(|j| lower[i * n + j] * lower[k * n + j] * pivots[j]).sum();
                let l = (entry - known) / pivots[k];
                lower[i * n + k] = l;
                left[other] -= l * l * pivots[k];
            }
            rank += 1;
        }
        Self { order, lower, pivots, rank }
    }

    /// How many rows are not combinations of others.
    pub fn rank(&self) -> usize {
        self.rank
    }

    /// Which rows those are, in no particular order.
    pub fn independent(&self) -> &[usize] {
        &self.order[..self.rank]
    }

    /// ln of the determinant; of the independent rows where the rank is short.
    pub fn ln_det(&self) -> f64 {
        self.pivots[..self.rank].iter().map(|d| d.ln()).sum()
    }

    /// A solution x of A·x = b, with 0 for every row that depends on others.
    pub fn solve(&self, b: &[f64]) -> Vec<f64> {
        let n = self.order.len();
        let mut y: Vec<f64> = self.order.iter().map(|&i| b[i]).collect();
        for i in 0..self.rank {
            let known: f64 = (0..i).map(|j| self.lower[i * n + j] * y[j]).sum();
            y[i] -= known;
        }
        for i in (0..self.rank).rev() {
            let known: f64 = (i + 1..self.rank).map(|j| self.lower[j * n + i] * y[j]).sum();
            y[i] = y[i] / self.pivots[i] - known;
        }
        let mut x = vec![0.0; n];
        for (i, &row) in self.order.iter().enumerate().take(self.rank) {
            x[row] = y[i];
        }
        x
    }

    /// The inverse, by rows; rows and columns that depend on others are 0.
    pub fn inverse(&self) -> Vec<f64> {
        let n = self.order.len();
        let mut inverse = vec![0.0; n * n];
        let mut unit = vec![0.0; n];
        for &i in self.independent() {
            unit[i] = 1.0;
            for (j, x) in self.solve(&unit).into_iter().enumerate() {
                inverse[j * n + i] = x;
            }
            unit[i] = 0.0;
        }
        inverse
    }
}

/// The rows of a symmetric positive semi-definite n × n matrix that are not combinations of
/// earlier ones, in order. [`Factor`] takes the largest first; here the first comes first.
pub fn independent_in_order(a: &[f64], n: usize) -> Vec<usize> {
    let mut left = a.to_vec();
    let mut kept = Vec::new();
    for k in 0..n {
        let pivot = left[k * n + k];
        if pivot <= NOTHING * a[k * n + k] || pivot.is_nan() {
            continue;
        }
        kept.push(k);
        for i in k + 1..n {
            let share = left[i * n + k] / pivot;
            if share != 0.0 {
                for j in k + 1..n {
                    left[i * n + j] -= share * left[k * n + j];
                }
            }
        }
    }
    kept
}

/// The sum of products of two equally long rows of numbers.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// The n × n matrix `a`, given by rows, times `x`.
pub fn times(a: &[f64], x: &[f64]) -> Vec<f64> {
    if x.is_empty() {
        return Vec::new();
    }
    a.chunks_exact(x.len()).map(|row| dot(row, x)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_fits() {
        let a = [4.0, 2.0, 1.0, 2.0, 5.0, 3.0, 1.0, 3.0, 6.0];
        let factor = Factor::of(&a, 3);
        let x = factor.solve(&[1.0, -2.0, 3.0]);
        for (got, wanted) in times(&a, &x).into_iter().zip([1.0, -2.0, 3.0]) {
            assert!((got - wanted).abs() < 1e-12);
        }
        assert!((factor.ln_det() - 67.0_f64.ln()).abs() < 1e-12);
        let inverse = factor.inverse();
        assert!((inverse[0] - 21.0 / 67.0).abs() < 1e-12);
    }

    #[test]
    fn a_row_that_depends_on_others_is_seen_and_left_at_nothing() {
        // The third row is the sum of the first two.
        let a = [2.0, 1.0, 3.0, 1.0, 2.0, 3.0, 3.0, 3.0, 6.0];
        let factor = Factor::of(&a, 3);
        assert_eq!(factor.rank(), 2);
        assert_eq!(independent_in_order(&a, 3), [0, 1]);
        let b = [1.0, 2.0, 3.0];
        for (got, wanted) in times(&a, &factor.solve(&b)).into_iter().zip(b) {
            assert!((got - wanted).abs() < 1e-12);
        }
    }

    #[test]
    fn a_matrix_of_nothing_solves_to_nothing() {
        let factor = Factor::of(&[0.0; 4], 2);
        assert_eq!(factor.rank(), 0);
        assert_eq!(factor.solve(&[1.0, 1.0]), vec![0.0, 0.0]);
        assert_eq!(Factor::of(&[], 0).rank(), 0);
    }
}
