//! Copies of an allele among gametes and offspring.

use trug::stats::dosage::{Segregation, gamete, offspring};

use super::{close, table};

fn small(row: &super::Row, column: &str) -> u8 {
    row.text(column).parse().unwrap()
}

#[test]
fn copies_in_a_gamete() {
    for row in table("b02", "expected_gametes.csv") {
        let segregation = match row.text("model") {
            "random_chromosome" => Segregation::Chromosomes,
            "random_chromatid" => Segregation::Chromatids,
            other => panic!("{other}"),
        };
        let chances = gamete(small(&row, "ploidy"), small(&row, "parent_dosage"), segregation);
        let at = usize::from(small(&row, "gamete_dosage"));
        close(chances[at], row.number("prob"), 1e-12, "gamete");
    }
}

#[test]
fn copies_in_offspring() {
    for row in table("b02", "expected_crosses.csv") {
        let ploidy = small(&row, "ploidy");
        let parents = ["dosage_parent1", "dosage_parent2"].map(|c| small(&row, c));
        let chances = offspring(ploidy, parents, Segregation::Chromosomes);
        close(chances[0], row.number("P_nulliplex"), 1e-12, "none");
        let half: f64 = chances[usize::from(ploidy / 2)..].iter().sum();
        close(half, row.number("P_dosage_at_least_half"), 1e-12, "half");
        let mean: f64 = chances.iter().enumerate().map(|(k, p)| k as f64 * p).sum();
        close(mean, row.number("mean_dosage"), 1e-12, "mean");
    }
}
