//! What parents pass on, asked for through the shell.

use std::{fmt::Write as _, fs};

use serde_json::Value;

use super::Home;

fn parents(home: &Home, book: &str, more: &[&str]) -> Vec<Value> {
    let words: Vec<&str> =
        ["--book", book, "parents", "--json"].iter().chain(more).copied().collect();
    serde_json::from_str::<Value>(&home.out(&words)).unwrap().as_array().unwrap().clone()
}

fn number(value: &Value, field: &str) -> f64 {
    value[field].as_f64().unwrap_or_else(|| panic!("{field} of {value}"))
}

/// Twelve parents whose seedlings are each the mean of both, but for what chance adds: what is
/// passed on comes back in the order it went in.
#[test]
fn what_a_spreadsheet_of_seedlings_says_of_their_parents() {
    let mut rows =
        "seedling,seed_parent,pollen_parent,season,look_on,bloom_mm,score:form\n".to_owned();
    let mut state = 7_u64;
    let mut chance = || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f64 / (1_u64 << 24) as f64 - 0.5
    };
    for a in 0..6 {
        for b in 6..12 {
            for n in 0..4 {
                let mm = 100.0 + 4.0 * f64::from(a + b) + 24.0 * chance();
                let row = format!("{a}-{b}-{n},P{a},P{b},2024,2025-08-20,{mm:.0},");
                writeln!(rows, "{row}").unwrap();
            }
        }
    }
    rows.push_str("spare,P0,P6,2024,2025-08-20,,6\n");
    let home = Home::new();
    fs::write(home.path("seedlings.csv"), rows).unwrap();
    home.out(&["new", "book"]);
    home.out(&["import", "seedlings.csv"]);
    let rows = parents(&home, "book", &[]);
    let value = |name: &str| {
        let row = rows.iter().find(|row| row["parent"] == name).unwrap();
        assert!(row["traits"].get("form").is_none(), "one score is not enough");
        number(&row["traits"]["bloom_mm"], "value")
    };
    let best: f64 = ["P4", "P5", "P10", "P11"].map(value).iter().sum();
    let worst: f64 = ["P0", "P1", "P6", "P7"].map(value).iter().sum();
    assert!(best > worst + 4.0 * 4.0, "{best} {worst}");
    let said = home.out(&["--book", "book", "parents"]);
    assert!(said.contains("Not enough yet to tell of form: 30 measured plants"), "{said}");
    assert!(said.contains("144 of 144"), "measured of bloomed is said: {said}");
}

#[test]
fn figures_of_the_demo_garden_are_figures_and_its_aims_add_up() {
    let home = Home::new();
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/demo");
    let rows = parents(&home, demo, &[]);
    let wide = parents(&home, demo, &["--level", "0.99"]);
    let (mut n, mut n_aims) = (0, 0);
    for (row, wide) in rows.iter().zip(&wide) {
        for (name, passed) in row.get("traits").into_iter().flat_map(|all| all.as_object().unwrap())
        {
            n += 1;
            let [low, value, high] = ["low", "value", "high"].map(|field| number(passed, field));
            assert!(low < value && value < high, "{name} of {}", row["parent"]);
            assert!((0.0..=1.0).contains(&number(passed, "reliability")));
            assert!((number(passed, "level") - 0.9).abs() < 1e-12);
            assert!(number(&wide["traits"][name], "low") < low, "a surer range is wider");
        }
        let Some(aims) = row.get("aims") else { continue };
        n_aims += 1;
        let parts = aims["parts"].as_array().unwrap();
        let sum: f64 = parts.iter().map(|p| number(p, "nearer") * number(p, "weight")).sum();
        assert!((sum - number(aims, "points")).abs() < 1e-9);
        let weights: f64 = parts.iter().map(|part| number(part, "weight")).sum();
        assert!((weights - 1.0).abs() < 1e-9);
    }
    assert!(n > 150 && n_aims > 30, "{n} traits of {n_aims} parents");
}
