//! How many copies of an allele offspring inherit, where parents have several copies of each
//! chromosome.
//!
//! Source: J. B. S. Haldane 1930, J. Genet. 22:359–372.

/// How the chromosomes of a parent are dealt out to a gamete.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Segregation {
    /// Half of the chromosomes, each as likely as any other: no double reduction.
    Chromosomes,
    /// Any of the chromatids, two to a chromosome: the most that crossing over can do.
    Chromatids,
}

/// The chances of 0, 1, … v/2 copies in a gamete of a parent with `copies` of `ploidy`.
pub fn gamete(ploidy: u8, copies: u8, segregation: Segregation) -> Vec<f64> {
    let each = if segregation == Segregation::Chromatids { 2 } else { 1 };
    let (all, with) = (u32::from(ploidy) * each, u32::from(copies.min(ploidy)) * each);
    let drawn = u32::from(ploidy / 2);
    let ways = |j: u32| choose(with, j) * choose(all - with, drawn - j);
    (0..=drawn).map(|j| ways(j) / choose(all, drawn)).collect()
}

/// The chances of 0, 1, … v copies in the offspring of two parents; of a selfing where both are
/// the same.
pub fn offspring(ploidy: u8, parents: [u8; 2], segregation: Segregation) -> Vec<f64> {
    let [seed, pollen] = parents.map(|copies| gamete(ploidy, copies, segregation));
    let mut chances = vec![0.0; seed.len() + pollen.len() - 1];
    for (i, s) in seed.iter().enumerate() {
        for (j, p) in pollen.iter().enumerate() {
            chances[i + j] += s * p;
        }
    }
    chances
}

/// The number of ways to choose k of n; 0 where there are not as many.
fn choose(n: u32, k: u32) -> f64 {
    if k > n {
        return 0.0;
    }
    (0..k).fold(1.0, |ways, i| ways * f64::from(n - i) / f64::from(i + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_sum_to_one_and_no_chromosome_set_gives_nothing() {
        for segregation in [Segregation::Chromosomes, Segregation::Chromatids] {
            let sum: f64 = offspring(8, [3, 5], segregation).iter().sum();
            assert!((sum - 1.0).abs() < 1e-14);
        }
        assert_eq!(offspring(0, [0, 0], Segregation::Chromosomes), vec![1.0]);
    }
}
