//! Plants to raise and seeds to sow.

use trug::stats::numbers::{Share, chance_of_at_least, fewest};

use super::table;

#[test]
fn plants_needed_to_recover_a_trait() {
    for row in table("i01", "expected.csv") {
        let (over, under) = row.text("q").split_once('/').unwrap();
        let chance = over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap();
        for r in 1..=15 {
            let got = fewest(r, row.number("p"), &[Share::Exact(chance)]);
            assert_eq!(got, Some(row.count(&format!("r{r}"))), "{r} of {over}/{under}");
        }
    }
}

#[test]
fn seeds_to_sow_through_germination_and_survival() {
    for row in table("i03", "expected.csv") {
        let stages = ["germination", "survival", "trait_q"].map(|c| Share::Exact(row.number(c)));
        let (r, wanted) = (row.count("r"), row.count("n_seeds"));
        assert_eq!(fewest(r, row.number("p"), &stages), Some(wanted));
        assert!(chance_of_at_least(r, wanted - 1, &stages) < row.number("p"));
    }
}
