//! `trug plan`, on a book made of published counts: J. Jansen 1990, Appl. Statist. 39:75, Table 1,
//! twelve crosses of three seed and four pollen parents.

use std::{collections::BTreeMap, path::Path};

use serde_json::{Value, json};

use super::Home;

fn strawberries() -> Home {
    let home = Home::new();
    home.out(&["new", "book"]);
    let csv = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/csv/strawberry_crosses.csv");
    home.out(&["import", &csv.display().to_string()]);
    home
}

fn plan(home: &Home, words: &[&str]) -> Value {
    let words: Vec<&str> = ["plan"].iter().chain(words).copied().chain(["--json"]).collect();
    serde_json::from_str(&home.out(&words)).unwrap()
}

fn pairs(plan: &Value) -> Vec<(String, String, u64)> {
    let pair = |row: &Value| {
        let name = |field: &str| row[field].as_str().unwrap().to_owned();
        (name("seed_parent"), name("pollen_parent"), row["seedlings"].as_u64().unwrap())
    };
    plan["pairs"].as_array().unwrap().iter().map(pair).collect()
}

/// Counted again from what is printed, with kinship from `trug kin`.
#[test]
fn a_plan_keeps_every_limit_that_it_was_given() {
    let home = strawberries();
    let words = ["--places", "120", "--pairs", "5", "--per-parent", "2", "--least", "10"];
    let more = ["--most", "40", "--max-inbreeding", "0.02", "--max-kinship", "0.035"];
    let words: Vec<&str> = words.into_iter().chain(more).collect();
    let plan = plan(&home, &words);
    let pairs = pairs(&plan);
    assert!(!pairs.is_empty() && pairs.len() <= 5);
    assert!(pairs.iter().map(|pair| pair.2).sum::<u64>() <= 120);
    let mut in_pairs: BTreeMap<&str, u32> = BTreeMap::new();
    for (seed, pollen, seedlings) in &pairs {
        assert!((10..=40).contains(seedlings));
        *in_pairs.entry(seed).or_default() += 1;
        *in_pairs.entry(pollen).or_default() += 1;
    }
    assert!(in_pairs.values().all(|&n| n <= 2), "{in_pairs:?}");
    let names: Vec<&str> = in_pairs.keys().copied().collect();
    let words: Vec<&str> = ["kin", "--matrix"].into_iter().chain(names.clone()).collect();
    let words: Vec<&str> = words.into_iter().chain(["--json"]).collect();
    let matrix: Value = serde_json::from_str(&home.out(&words)).unwrap();
    let kin = |a: &str, b: &str| {
        let at = |name| names.iter().position(|n| *n == name).unwrap();
        matrix["coancestry"][at(a)][at(b)].as_f64().unwrap()
    };
    let (mut sum, mut total) = (0.0, 0.0);
    for (a, b, n) in &pairs {
        let n = *n as f64;
        total += n;
        for (c, d, m) in &pairs {
            let between = [(a, c), (a, d), (b, c), (b, d)];
            let between: f64 = between.iter().map(|(x, y)| kin(x, y) / 4.0).sum();
            sum += n * *m as f64 * between;
        }
        // Unrelated parents: a seedling with itself is 1/8, with a sib 1/16.
        sum += n * (1.0 / 8.0 - 1.0 / 16.0);
    }
    let told = plan["mean_coancestry"].as_f64().unwrap();
    assert!((sum / (total * total) - told).abs() < 1e-9, "{} and {told}", sum / (total * total));
    assert!(told <= 0.035 + 1e-9);
    let keepers: f64 = plan["pairs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["expected_keepers"].as_f64().unwrap())
        .sum();
    assert!((keepers - plan["expected_keepers"].as_f64().unwrap()).abs() < 1e-9);
    assert!(plan["bound"].as_f64() >= plan["objective"].as_f64());
    assert!(plan["low"].as_f64() < plan["expected_keepers"].as_f64());
}

#[test]
fn a_tighter_limit_never_promises_more() {
    let home = strawberries();
    let promise = |words: &[&str]| plan(&home, words)["objective"].as_f64().unwrap();
    let free = promise(&["--places", "100", "--pairs", "6", "--per-parent", "4"]);
    assert!(promise(&["--places", "90", "--pairs", "6", "--per-parent", "4"]) < free);
    assert!(promise(&["--places", "100", "--pairs", "6", "--per-parent", "1"]) <= free + 1e-9);
    let kin = ["--places", "100", "--pairs", "6", "--per-parent", "4", "--max-kinship", "0.03"];
    assert!(promise(&kin) <= free + 1e-9);
    assert!(
        promise(&["--places", "100", "--pairs", "6", "--per-parent", "4", "--daring", "1"]) > free
    );
}

#[test]
fn a_pair_is_forced_in_or_ruled_out_by_hand() {
    let home = strawberries();
    let words = ["--places", "60", "--pairs", "3"];
    let first = pairs(&plan(&home, &words))[0].clone();
    let named = format!("{},{}", first.0, first.1);
    let without: Vec<&str> = words.into_iter().chain(["--without", &named]).collect();
    let plan_without = plan(&home, &without);
    assert!(!pairs(&plan_without).iter().any(|pair| (&pair.0, &pair.1) == (&first.0, &first.1)));
    assert_eq!(plan_without["left_out"][0]["why"], "ruled out by hand");
    // Turned round it is the same pair.
    let turned = format!("{},{}", first.1, first.0);
    let with: Vec<&str> = words.into_iter().chain(["--with", &turned]).collect();
    let row = plan(&home, &with)["pairs"]
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["seed_parent"] == json!(first.0) && row["pollen_parent"] == json!(first.1))
        .cloned();
    assert_eq!(row.unwrap()["why"], "asked for by hand");
}

#[test]
fn what_cannot_be_is_said_with_the_way_out() {
    let home = strawberries();
    let (status, said) = home.fails(&["plan", "--max-kinship", "0.001"]);
    assert_eq!(status, 1);
    assert!(said.contains("the least found is") && said.contains("--max-kinship"), "{said}");
    let pair = &pairs(&plan(&home, &["--places", "60"]))[0];
    let named = format!("{},{}", pair.0, pair.1);
    let (status, said) = home.fails(&["plan", "--places", "4", "--least", "10", "--with", &named]);
    assert_eq!(status, 1);
    assert!(said.contains("need 10 places, and there are 4"), "{said}");
    let (status, said) = home.fails(&["plan", "--with", "nobody"]);
    assert_eq!(status, 2);
    assert!(said.contains("is no pair"), "{said}");
}

#[test]
fn a_book_without_parents_says_that_there_is_nobody_to_cross() {
    let home = Home::new();
    home.out(&["new", "book"]);
    let (status, said) = home.fails(&["plan"]);
    assert_eq!(status, 1);
    assert!(said.contains("There are not two plants in the garden"), "{said}");
}

#[test]
fn more_places_than_pairs_can_fill_are_left_free() {
    let home = strawberries();
    let plan = plan(&home, &["--places", "1000", "--pairs", "4", "--most", "20"]);
    assert_eq!(pairs(&plan).iter().map(|pair| pair.2).sum::<u64>(), 80);
}
