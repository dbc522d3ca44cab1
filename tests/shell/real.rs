//! Published records, taken in through the shell and asked for again through it.

use std::{collections::BTreeMap, fs, path::Path};

use serde_json::Value;

use super::Home;

fn data(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name).display().to_string()
}

/// A book with one spreadsheet in it.
fn book_of(csv: &str) -> Home {
    let home = Home::new();
    home.out(&["new", "book"]);
    home.out(&["import", &data(csv)]);
    home
}

fn json(home: &Home, words: &[&str]) -> Value {
    let words: Vec<&str> = words.iter().copied().chain(["--json"]).collect();
    serde_json::from_str(&home.out(&words)).unwrap()
}

/// The rows of a table of expected figures, comments left out.
fn expected(name: &str) -> Vec<BTreeMap<String, String>> {
    let text = fs::read_to_string(data(name)).unwrap();
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

#[track_caller]
fn is_near(rate: &Value, expected: [&str; 3], within: f64) {
    for (name, expected) in ["p", "low", "high"].into_iter().zip(expected) {
        let (got, expected) = (rate[name].as_f64().unwrap(), expected.parse::<f64>().unwrap());
        assert!((got - expected).abs() <= within, "{name} is {got}, not {expected}");
    }
}

/// I. Kitchener, study of collerette seedlings, dahliaworld.co.uk; intervals after Wilson.
#[test]
fn eight_dahlia_seed_parents_have_their_published_rates_and_intervals() {
    let home = book_of("csv/collerette_seed_parents.csv");
    let parents = json(&home, &["parents"]);
    let pairings = json(&home, &["pairings"]);
    let rows = expected("rates/dahlia_seed_parents.csv");
    let rows: Vec<_> = rows.iter().filter(|row| row["seed_parent"].len() == 1).collect();
    assert_eq!(rows.len(), 8);
    for row in rows {
        let figures = [&*row["rate"], &*row["low95"], &*row["high95"]];
        let find = |list: &Value, field: &str| {
            let list = list.as_array().unwrap().iter();
            list.clone().find(|given| given[field] == *row["seed_parent"]).unwrap().clone()
        };
        let parent = find(&parents, "parent");
        is_near(&parent["as_seed"]["rate"], figures, 1e-6);
        assert_eq!(parent["as_seed"]["rate"]["level"], 0.95);
        assert!(parent["as_pollen"].get("rate").is_none());
        let pairing = find(&pairings, "seed_parent");
        is_near(&pairing["rate"], figures, 1e-6);
        assert!(pairing.get("pollen_parent").is_none());
    }
}

/// J. Jansen 1990, Appl. Statist. 39:75, Table 1; a beta-binomial fitted by maximum likelihood.
#[test]
fn twelve_strawberry_crosses_are_steadied_as_the_fitted_model_has_it() {
    let home = book_of("csv/strawberry_crosses.csv");
    let pairings = json(&home, &["pairings", "--level", "0.95"]);
    let rows = expected("rates/strawberry_crosses.csv");
    assert_eq!(rows.len(), 12);
    for row in &rows {
        let list = pairings.as_array().unwrap();
        let is = |given: &&Value| {
            given["seed_parent"] == *row["female"] && given["pollen_parent"] == *row["male"]
        };
        let given = list.iter().find(is).unwrap();
        is_near(&given["shrunk"], [&row["EB_mean"], &row["EB_lo95"], &row["EB_hi95"]], 1e-4);
        assert_eq!(given["counts"]["kept"].to_string(), row["kept"]);
        assert_eq!(given["counts"]["judged"].to_string(), row["n"]);
    }
}

/// D. R. Reid 1992, royal92: 3,010 people; sets by networkx.
#[test]
fn anybody_of_three_thousand_people_can_be_traced() {
    let home = book_of("csv/royal_families.csv");
    let check = json(&home, &["check"]);
    assert_eq!(check["records"]["varieties"], 3010);
    let rows = expected("pedigrees/royal_families_expected.csv");
    for row in rows.iter().step_by(600) {
        let trace = json(&home, &["trace", &row["variety"]]);
        let n = |field: &str| trace[field].as_array().unwrap().len().to_string();
        assert_eq!(n("ancestors"), row["ancestors"], "of {}", row["variety"]);
        assert_eq!(n("descendants"), row["descendants"], "of {}", row["variety"]);
    }
}
