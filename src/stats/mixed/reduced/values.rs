//! What everybody has by descent, for known variances, without a factor of the equations: fast
//! where there are many thousands of parents.
//!
//! Method: conjugate gradients with the diagonal taken out. Source: J. R. Shewchuk 1994, *An
//! Introduction to the Conjugate Gradient Method Without the Agonizing Pain*.

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

/// The solution of A·x = b.
fn descend(a: &sparse::Symmetric, b: &[f64], within: f64) -> Option<Vec<f64>> {
    let diagonal: Vec<f64> =
        (0..a.n()).filter_map(|i| Some(a.values()[a.position(i, i)?])).collect();
    let scaled = |left: &[f64]| -> Vec<f64> {
        left.iter().zip(&diagonal).map(|(x, d)| if *d > 0.0 { x / d } else { 0.0 }).collect()
    };
    let mut x = vec![0.0; a.n()];
    let mut left = b.to_vec();
    let mut way = scaled(&left);
    let mut size = dot(&left, &way);
    let enough = size * within * within;
    for _ in 0..MOST_STEPS {
        if size <= enough {
            return Some(x);
        }
        let turned = a.times(&way);
        let step = size / dot(&way, &turned);
        for (x, way) in x.iter_mut().zip(&way) {
            *x += step * way;
        }
        for (left, turned) in left.iter_mut().zip(&turned) {
            *left -= step * turned;
        }
        let next = scaled(&left);
        let next_size = dot(&left, &next);
        let keep = next_size / size;
        for (way, next) in way.iter_mut().zip(&next) {
            *way = next + keep * *way;
        }
        size = next_size;
    }
    None
}
