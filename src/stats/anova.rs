//! Variance components from mean squares, by the method of moments.
//!
//! Mean squares of balanced designs are independent, and one with df degrees of freedom has the
//! sampling variance 2 MS²/df, estimated without bias by 2 MS²/(df + 2). Source: M. Lynch & B.
//! Walsh 1998, *Genetics and Analysis of Quantitative Traits*, chapters 18 and 20. A component can
//! come out below 0; that is how it shows that it is small.

use super::mixed::Estimate;

/// A mean square and its degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeanSquare {
    /// The sum of squares over the degrees of freedom.
    pub value: f64,
    /// Degrees of freedom.
    pub freedom: f64,
}

impl MeanSquare {
    fn variance(self) -> f64 {
        2.0 * self.value * self.value / (self.freedom + 2.0)
    }
}

/// A sum of mean squares, each times a factor: (4.82 − 1.86)/8 has the factors 1/8 and −1/8.
pub fn combination(parts: &[(f64, MeanSquare)]) -> Estimate {
    let value = parts.iter().map(|(factor, square)| factor * square.value).sum();
    let variance: f64 =
        parts.iter().map(|(factor, square)| factor * factor * square.variance()).sum();
    Estimate { value, se: Some(variance.sqrt()) }
}

/// A ratio of two such sums over the same mean squares, such as a heritability, with the standard
/// error of the delta method. None where the lower sum is not above 0.
pub fn ratio(squares: &[MeanSquare], over: &[f64], under: &[f64]) -> Option<Estimate> {
    let sum = |factors: &[f64]| -> f64 {
        squares.iter().zip(factors).map(|(square, factor)| square.value * factor).sum()
    };
    let (upper, lower) = (sum(over), sum(under));
    if lower.is_nan() || lower <= 0.0 {
        return None;
    }
    let value = upper / lower;
    let slopes = over.iter().zip(under).map(|(a, b)| (a - value * b) / lower);
    let variance: f64 =
        slopes.zip(squares).map(|(slope, square)| slope * slope * square.variance()).sum();
    Some(Estimate { value, se: Some(variance.sqrt()) })
}

/// The analysis of plants within families within groups of families: within pollen parents, say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nested {
    /// Between groups.
    pub groups: MeanSquare,
    /// Between families of a group.
    pub families: MeanSquare,
    /// Within families.
    pub within: MeanSquare,
    /// Plants to a family, as far as the families' mean square goes and as far as the groups'
    /// goes, and plants to a group; the three differ where numbers do.
    sizes: [f64; 3],
}

impl Nested {
    /// Analyses records of (group, family, value); families of different groups are different
    /// families, whatever their numbers. None where a level has nothing to be compared with.
    pub fn of(records: &[(usize, usize, f64)]) -> Option<Self> {
        let mut all = records.to_vec();
        all.sort_by_key(|&(group, family, _)| (group, family));
        let n = all.len() as f64;
        let grand = all.iter().map(|r| r.2).sum::<f64>() / n;
        let (mut groups, mut families, mut within) = (0.0, 0.0, 0.0);
        let (mut n_groups, mut n_families) = (0.0, 0.0);
        let (mut of_groups, mut of_families, mut shares) = (0.0, 0.0, 0.0);
        for group in all.chunk_by(|a, b| a.0 == b.0) {
            let size = group.len() as f64;
            let mean = group.iter().map(|r| r.2).sum::<f64>() / size;
            groups += size * (mean - grand).powi(2);
            of_groups += size * size;
            n_groups += 1.0;
            for family in group.chunk_by(|a, b| a.1 == b.1) {
                let plants = family.len() as f64;
                let own = family.iter().map(|r| r.2).sum::<f64>() / plants;
                families += plants * (own - mean).powi(2);
                within += family.iter().map(|r| (r.2 - own).powi(2)).sum::<f64>();
                of_families += plants * plants;
                shares += plants * plants / size;
                n_families += 1.0;
            }
        }
        let freedom = [n_groups - 1.0, n_families - n_groups, n - n_families];
        if freedom.iter().any(|&df| df < 1.0) {
            return None;
        }
        let square = |sum: f64, freedom: f64| MeanSquare { value: sum / freedom, freedom };
        Some(Self {
            groups: square(groups, freedom[0]),
            families: square(families, freedom[1]),
            within: square(within, freedom[2]),
            sizes: [
                (n - shares) / freedom[1],
                (shares - of_families / n) / freedom[0],
                (n - of_groups / n) / freedom[0],
            ],
        })
    }

    /// The three mean squares: groups, families, within.
    pub fn squares(&self) -> [MeanSquare; 3] {
        [self.groups, self.families, self.within]
    }

    /// The variance components of groups, families and within, each by its factors on the three
    /// mean squares.
    pub fn components(&self) -> [[f64; 3]; 3] {
        let [plants, plants_of_group, group] = self.sizes;
        let families = [0.0, 1.0 / plants, -1.0 / plants];
        let share = plants_of_group / plants;
        let groups = [1.0 / group, -share / group, (share - 1.0) / group];
        [groups, families, [0.0, 0.0, 1.0]]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_without_comparison_gives_nothing() {
        assert_eq!(Nested::of(&[]), None);
        assert_eq!(Nested::of(&[(0, 0, 1.0), (0, 0, 2.0), (1, 0, 3.0)]), None);
        assert_eq!(ratio(&[], &[], &[]), None);
    }
}
