//! Levels of like parents and like records, counted together.

/// What an unknown of the equations is, and so by what it is scaled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// What a parent has by descent.
    Descent,
    /// What a group has in common.
    Group,
    Fixed,
}

/// One unknown that the records of a batch speak of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub(super) unknown: usize,
    pub(super) kind: Kind,
    /// How much of it is in a level itself; 0 but for descent.
    pub(super) share: f64,
    /// How much of it is in all records of one level together.
    pub(super) sum: f64,
}

/// The spreads, against that of a single residual.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Theta {
    pub(super) descent: f64,
    pub(super) group: f64,
    pub(super) lasting: f64,
}

/// Levels that differ in nothing but their y.
#[derive(Debug, Clone, Default)]
pub(super) struct Batch {
    /// How many there are.
    pub(super) n: f64,
    /// Records of each.
    pub(super) looks: f64,
    /// The variance of their own part by descent; 0 where that is an unknown itself.
    pub(super) own: f64,
    pub(super) parts: Vec<Part>,
    /// Sums over the records of one level of the products of two parts: the lower triangle, by
    /// rows.
    products: Vec<f64>,
    /// Sums over all records of each part times y.
    with_y: Vec<f64>,
    /// The sum of all y.
    total: f64,
    /// The sum of the squares of the totals of the levels.
    pub(super) totals_squared: f64,
}

impl Theta {
    pub(super) fn of(&self, kind: Kind) -> f64 {
        match kind {
            Kind::Descent => self.descent,
            Kind::Group => self.group,
            Kind::Fixed => 1.0,
        }
    }
}

impl Batch {
    /// A batch without levels yet. `rows` are the unknowns with which fixed effects enter the
    /// records of one level, each with how many records it is for.
    pub(super) fn new(
        shares: &[(usize, f64)],
        group: Option<usize>,
        rows: &[(&[usize], f64)],
        own: f64,
    ) -> Self {
        let looks: f64 = rows.iter().map(|(_, count)| count).sum();
        let mut parts: Vec<Part> = Vec::new();
        for &(unknown, share) in shares {
            parts.push(Part { unknown, kind: Kind::Descent, share, sum: looks * share });
        }
        if let Some(unknown) = group {
            parts.push(Part { unknown, kind: Kind::Group, share: 0.0, sum: looks });
        }
        for &(row, count) in rows {
            for &unknown in row {
                match parts.iter_mut().find(|part| part.unknown == unknown) {
                    Some(part) => part.sum += count,
                    None => {
                        parts.push(Part { unknown, kind: Kind::Fixed, share: 0.0, sum: count });
                    }
                }
            }
        }
        let mut batch = Self { looks, own, parts, ..Self::default() };
        batch.products = vec![0.0; batch.parts.len() * (batch.parts.len() + 1) / 2];
        batch.with_y = vec![0.0; batch.parts.len()];
        for &(row, count) in rows {
            let inside: Vec<f64> = batch.parts.iter().map(|part| inside(part, row)).collect();
            let mut at = 0;
            for (i, x) in inside.iter().enumerate() {
                for z in &inside[..=i] {
                    batch.products[at] += count * x * z;
                    at += 1;
                }
            }
        }
        batch
    }

    /// One more record of a level, by its row of fixed effects.
    pub(super) fn take_record(&mut self, row: &[usize], y: f64) {
        for (with_y, part) in self.with_y.iter_mut().zip(&self.parts) {
            *with_y += inside(part, row) * y;
        }
    }

    /// One more level, by the sum of its y.
    pub(super) fn take_level(&mut self, total: f64) {
        self.n += 1.0;
        self.total += total;
        self.totals_squared += total * total;
    }

    /// The variance that the records of one level have in common beyond what the unknowns say.
    fn common(&self, theta: &Theta) -> f64 {
        self.own * theta.descent.powi(2) + theta.lasting.powi(2)
    }

    /// c where the inverse of the records' variance, I + d 11′, is I − c 11′.
    pub(super) fn shrinkage(&self, theta: &Theta) -> f64 {
        let common = self.common(theta);
        common / (1.0 + self.looks * common)
    }

    /// ln of the determinant of the variance of all records.
    pub(super) fn ln_det(&self, theta: &Theta) -> f64 {
        self.n * (self.looks * self.common(theta)).ln_1p()
    }

    /// How much of what the records of a level are above what the unknowns say is its own by
    /// descent: a factor to the sum over its records.
    pub(super) fn own_factor(&self, theta: &Theta) -> f64 {
        self.own * theta.descent.powi(2) / (1.0 + self.looks * self.common(theta))
    }

    /// What the batch adds to the equations: for each pair of parts, in the order of a lower
    /// triangle, and for each part on the right-hand side.
    pub(super) fn add(
        &self,
        theta: &Theta,
        mut left: impl FnMut(usize, f64),
        mut right: impl FnMut(usize, f64),
    ) {
        let c = self.shrinkage(theta);
        let mut at = 0;
        for (i, part) in self.parts.iter().enumerate() {
            let scale = theta.of(part.kind);
            right(i, scale * (self.with_y[i] - c * part.sum * self.total));
            for other in &self.parts[..=i] {
                let sums = self.products[at] - c * part.sum * other.sum;
                left(at, self.n * scale * theta.of(other.kind) * sums);
                at += 1;
            }
        }
    }
}

/// How much of a part is in a record.
fn inside(part: &Part, row: &[usize]) -> f64 {
    match part.kind {
        Kind::Descent => part.share,
        Kind::Group => 1.0,
        Kind::Fixed => f64::from(u8::from(row.contains(&part.unknown))),
    }
}
