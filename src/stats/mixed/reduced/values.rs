//! What everybody has by descent, for known variances, without a factor of the equations: fast
//! where there are many thousands of parents.
//!
//! Method: conjugate gradients, preconditioned by a symmetric Gauss-Seidel sweep in the manner of
//! S. C. Eisenstat 1981, SIAM J. Sci. Stat. Comput. 2:1–4.

use super::{
    super::super::{dense::dot, sparse},
    Model, Shares,
};

const MOST_STEPS: usize = 2000;

impl Model {
    /// What every level has by descent. None for variances that are none, or where the search
    /// does not come to rest.
    ///
    /// `within` is how far from nothing what is left may be, against the right-hand side: 1e-11
    /// gives figures to about eight digits.
    pub fn values(&self, shares: &Shares, within: f64) -> Option<Vec<f64>> {
        let theta = shares.theta()?;
        let (matrix, right) = self.sides(&theta);
        let solution = descend(&matrix, &right, within)?;
        let of_batch: Vec<(f64, f64)> = self
            .batches
            .iter()
            .map(|batch| {
                let (mut from_parents, mut expected) = (0.0, 0.0);
                for part in &batch.parts {
                    let effect = theta.of(part.kind) * solution[part.unknown];
                    from_parents += part.share * effect;
                    expected += part.sum * effect;
                }
                let factor = batch.own_factor(&theta);
                (from_parents - factor * expected, factor)
            })
            .collect();
        let values = self.batch_of_level.iter().zip(&self.total_of_level);
        let values = values.map(|(&batch, total)| of_batch[batch].0 + of_batch[batch].1 * total);
        Some(values.collect())
    }
}

/// A = S⁻¹ (I + L + L′) S⁻¹, its diagonal taken out by S and L strictly lower.
struct Scaled {
    scale: Vec<f64>,
    starts: Vec<usize>,
    rows: Vec<u32>,
    lower: Vec<f64>,
}

impl Scaled {
    fn of(a: &sparse::Symmetric) -> Self {
        let diagonal = (0..a.n()).map(|i| a.position(i, i).map_or(0.0, |at| a.values()[at]));
        let scale: Vec<f64> =
            diagonal.map(|d| if d > 0.0 { d.sqrt().recip() } else { 0.0 }).collect();
        let mut scaled = Self { scale, starts: vec![0], rows: Vec::new(), lower: Vec::new() };
        for (row, column, at) in a.entries() {
            scaled.starts.resize(column + 1, scaled.rows.len());
            // Places that other variances or other records would fill stay out.
            if row != column && a.values()[at] != 0.0 {
                scaled.rows.push(u32::try_from(row).unwrap_or(u32::MAX));
                let value = a.values()[at] * scaled.scale[row] * scaled.scale[column];
                scaled.lower.push(value);
            }
        }
        scaled.starts.resize(a.n() + 1, scaled.rows.len());
        scaled
    }

    fn column(&self, column: usize) -> impl Iterator<Item = (usize, f64)> + '_ {
        let range = self.starts[column]..self.starts[column + 1];
        let rows = self.rows[range.clone()].iter().map(|&row| row as usize);
        rows.zip(self.lower[range].iter().copied())
    }

    /// (I + L)⁻¹ x in place.
    fn down(&self, x: &mut [f64]) {
        for column in 0..x.len() {
            let value = x[column];
            for (row, lower) in self.column(column) {
                x[row] -= lower * value;
            }
        }
    }

    /// (I + L′)⁻¹ x in place.
    fn up(&self, x: &mut [f64]) {
        for column in (0..x.len()).rev() {
            let sum: f64 = self.column(column).map(|(row, lower)| lower * x[row]).sum();
            x[column] -= sum;
        }
    }
}

/// The solution of A·x = b: conjugate gradients on (I + L)⁻¹ (I + L + L′) (I + L′)⁻¹, of which
/// each step costs no more than one product with A.
fn descend(a: &sparse::Symmetric, b: &[f64], within: f64) -> Option<Vec<f64>> {
    let scaled = Scaled::of(a);
    let mut left: Vec<f64> = b.iter().zip(&scaled.scale).map(|(b, s)| b * s).collect();
    scaled.down(&mut left);
    let mut x = vec![0.0; a.n()];
    let mut way = left.clone();
    let mut size = dot(&left, &left);
    let enough = size * within * within;
    let (mut turned, mut rest) = (way.clone(), way.clone());
    for _ in 0..MOST_STEPS {
        if size <= enough {
            scaled.up(&mut x);
            x.iter_mut().zip(&scaled.scale).for_each(|(x, s)| *x *= s);
            return Some(x);
        }
        turned.copy_from_slice(&way);
        scaled.up(&mut turned);
        for ((rest, way), turned) in rest.iter_mut().zip(&way).zip(&turned) {
            *rest = way - turned;
        }
        scaled.down(&mut rest);
        for (turned, rest) in turned.iter_mut().zip(&rest) {
            *turned += rest;
        }
        let step = size / dot(&way, &turned);
        for ((x, way), (left, turned)) in x.iter_mut().zip(&way).zip(left.iter_mut().zip(&turned)) {
            *x += step * way;
            *left -= step * turned;
        }
        let next_size = dot(&left, &left);
        let keep = next_size / size;
        for (way, left) in way.iter_mut().zip(&left) {
            *way = left + keep * *way;
        }
        size = next_size;
    }
    None
}
