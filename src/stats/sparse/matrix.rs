//! A sparse symmetric matrix.

/// A symmetric matrix of which the lower triangle is stored, column by column.
#[derive(Debug, Clone, PartialEq)]
pub struct Symmetric {
    n: usize,
    starts: Vec<usize>,
    rows: Vec<usize>,
    values: Vec<f64>,
}

impl Symmetric {
    /// The n × n matrix of these entries (row, column, value). An entry stands for both of its
    /// triangles, whichever it is written in; entries at the same place add up. Every diagonal
    /// entry is there, if need be as 0.
    pub fn new(n: usize, entries: impl IntoIterator<Item = (usize, usize, f64)>) -> Self {
        let mut all: Vec<(usize, usize, f64)> = entries
            .into_iter()
            .map(|(row, column, value)| (row.min(column), row.max(column), value))
            .chain((0..n).map(|i| (i, i, 0.0)))
            .collect();
        all.sort_unstable_by_key(|&(column, row, _)| (column, row));
        let mut matrix = Self { n, starts: vec![0], rows: Vec::new(), values: Vec::new() };
        for same in all.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            let (column, row, _) = same[0];
            while matrix.starts.len() <= column {
                matrix.starts.push(matrix.rows.len());
            }
            matrix.rows.push(row);
            matrix.values.push(same.iter().map(|(.., value)| value).sum());
        }
        matrix.starts.resize(n + 1, matrix.rows.len());
        matrix
    }

    /// How many rows it has.
    pub fn n(&self) -> usize {
        self.n
    }

    /// The stored values, column by column.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// The stored values, to be changed in place.
    pub fn values_mut(&mut self) -> &mut [f64] {
        &mut self.values
    }

    /// Where among the stored values an entry is, if it is stored.
    pub fn position(&self, row: usize, column: usize) -> Option<usize> {
        let (low, high) = (row.min(column), row.max(column));
        let (first, end) = (self.starts[low], self.starts[low + 1]);
        self.rows[first..end].binary_search(&high).ok().map(|at| first + at)
    }

    /// Every stored entry as (row, column, place among the values).
    pub fn entries(&self) -> impl Iterator<Item = (usize, usize, usize)> + '_ {
        (0..self.n).flat_map(move |column| {
            (self.starts[column]..self.starts[column + 1])
                .map(move |at| (self.rows[at], column, at))
        })
    }

    /// The matrix times a vector.
    pub fn times(&self, x: &[f64]) -> Vec<f64> {
        let mut product = vec![0.0; self.n];
        for (row, column, at) in self.entries() {
            product[row] += self.values[at] * x[column];
            if row != column {
                product[column] += self.values[at] * x[row];
            }
        }
        product
    }
}
