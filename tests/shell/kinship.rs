//! The published figures of kinship, as `trug … --json` gives them on an imported book.

use std::{collections::BTreeMap, fmt::Write as _, fs};

use serde_json::Value;

use super::Home;
use crate::published::{Row, close, figures, kinship::long_systems, table};

/// A book imported from a list.
pub(super) struct Garden(Home);

impl Garden {
    pub(super) fn of(csv: &str, rules: &[&str]) -> Self {
        let home = Home::new();
        fs::write(home.path("list.csv"), csv).unwrap();
        home.out(&[&["new", "garden"], rules].concat());
        home.out(&["--book", "garden", "import", "list.csv"]);
        Self(home)
    }

    fn of_pedigree(rows: &[Row], ploidy: &str, double_reduction: &str) -> Self {
        let rules = ["--ploidy", ploidy, "--double-reduction", double_reduction];
        Self::of(&pedigree(rows.iter(), "id"), &rules)
    }

    pub(super) fn json(&self, words: &[&str]) -> Value {
        let out = self.0.out(&[&["--book", "garden", "--json"], words].concat());
        serde_json::from_str(&out).unwrap()
    }

    fn inbreeding(&self) -> BTreeMap<String, f64> {
        let rows = self.json(&["kin"]);
        let of = |row: &Value| (text(&row["plant"]), row["inbreeding"].as_f64().unwrap());
        rows.as_array().unwrap().iter().map(of).collect()
    }

    /// The coancestry of all plants with each other, by their names.
    fn coancestry(&self) -> BTreeMap<(String, String), f64> {
        let names: Vec<String> = self.inbreeding().into_keys().collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let matrix = self.json(&[&["kin", "--matrix"], &names[..]].concat());
        let plants: Vec<String> = matrix["plants"].as_array().unwrap().iter().map(text).collect();
        assert_eq!(plants, names);
        let mut found = BTreeMap::new();
        for (a, row) in plants.iter().zip(matrix["coancestry"].as_array().unwrap()) {
            for (b, value) in plants.iter().zip(row.as_array().unwrap()) {
                found.insert((a.clone(), b.clone()), value.as_f64().unwrap());
            }
        }
        found
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}

/// A list of varieties.
fn pedigree<'a>(rows: impl Iterator<Item = &'a Row>, id: &str) -> String {
    let mut csv = "variety,seed_parent,pollen_parent\n".to_owned();
    for row in rows {
        writeln!(csv, "{},{},{}", row.text(id), row.text("parent1"), row.text("parent2")).unwrap();
    }
    csv
}

fn pair(row: &Row, a: &str, b: &str) -> (String, String) {
    (row.text(a).to_owned(), row.text(b).to_owned())
}

#[test]
fn a_small_pedigree() {
    let garden = Garden::of_pedigree(&table("a01", "data.csv"), "2", "0");
    let f = garden.inbreeding();
    for row in table("a01", "expected_F.csv") {
        close(f[row.text("id")], row.number("F"), 1e-9, row.text("id"));
    }
    let coancestry = garden.coancestry();
    for row in table("a01", "expected.csv") {
        let key = pair(&row, "row", "col");
        close(2.0 * coancestry[&key], row.number("A"), 1e-9, &format!("{key:?}"));
    }
}

#[test]
fn regular_systems_of_mating() {
    let rows = table("a02", "data.csv");
    let expected = table("a02", "expected.csv");
    let mut seen = 0;
    for system in ["selfing", "full_sib", "backcross_noninbred", "offspring_x_younger_parent"] {
        let of = || rows.iter().filter(|row| row.text("system") == system);
        let garden = Garden::of(&pedigree(of(), "pedigree_id"), &["--ploidy", "2"]);
        let f = garden.inbreeding();
        for row in of() {
            let Some(t) = row.some("is_monitored_generation") else { continue };
            let wanted = expected.iter().find(|e| e.text("t").parse() == Ok(t)).unwrap();
            let got = f[row.text("pedigree_id")];
            close(got, wanted.number(system), 1e-10, &format!("{system} {t}"));
            seen += 1;
        }
    }
    assert!(seen > 60);
}

#[test]
fn half_sibs_and_backcrosses_to_an_inbred_line() {
    let expected = table("a02", "expected.csv");
    for system in long_systems() {
        let mut csv = "variety,seed_parent,pollen_parent\n".to_owned();
        for plant in &system.plants {
            writeln!(csv, "{}", plant.join(",")).unwrap();
        }
        let f = Garden::of(&csv, &["--ploidy", "2"]).inbreeding();
        for (t, plant) in &system.watched {
            let wanted = expected.iter().find(|e| e.text("t").parse() == Ok(*t)).unwrap();
            close(f[plant], wanted.number(system.column), 1e-10, &format!("{} {t}", system.column));
        }
    }
}

#[test]
fn the_loops_of_roan_gauntlet() {
    let garden = Garden::of_pedigree(&table("a03", "data.csv"), "2", "0");
    let f = garden.inbreeding();
    for row in table("a03", "expected_F.csv") {
        close(f[row.text("id")], row.number("F"), 1e-12, row.text("id"));
    }
    let [sire, dam] = ["Royal Duke of Gloster", "Princess Royal"];
    let kin = garden.json(&["kin", sire, dam]);
    assert_eq!((&kin["a"], &kin["b"]), (&Value::from(sire), &Value::from(dam)));
    let number = |of: &Value| of.as_f64().unwrap();
    let mut sum = 0.0;
    let mut got: Vec<String> = Vec::new();
    for way in kin["loops"].as_array().unwrap() {
        let path: Vec<String> = way["path"].as_array().unwrap().iter().map(text).collect();
        let top = path.iter().position(|plant| *plant == way["through"]).unwrap();
        let up: Vec<String> = path[..=top].iter().rev().cloned().collect();
        let (up, down) = (up.join(" > "), path[top..].join(" > "));
        sum += number(&way["contribution"]);
        got.push(format!("{up} | {down} = {}", number(&way["contribution"])));
    }
    let path = |row: &Row| format!("{} = {}", row.text("path"), row.number("contribution"));
    let mut wanted: Vec<String> = table("a03", "expected_paths.csv").iter().map(path).collect();
    got.sort();
    wanted.sort();
    assert_eq!(got, wanted);
    assert_eq!(kin["loops_total"], 4);
    close(sum, number(&kin["coancestry"]), 1e-12, "all loops together");
    close(number(&kin["coancestry"]), 9.0 / 64.0, 1e-12, "coancestry");
    close(number(&kin["relationship"]), 9.0 / 32.0, 1e-12, "relationship");
    close(number(&kin["inbreeding_of_offspring"]), 9.0 / 64.0, 1e-12, "F of the offspring");
    let common: Vec<String> =
        kin["common_ancestors"].as_array().unwrap().iter().map(text).collect();
    assert!(common.contains(&"Champion of England".to_owned()), "{common:?}");
    assert!(common.contains(&"Lord Raglan".to_owned()), "{common:?}");
    let roan = garden.json(&["trace", "Roan Gauntlet"]);
    close(number(&roan["inbreeding"]), 9.0 / 64.0, 1e-12, "F of a traced plant");
}

#[test]
fn shuffled_pedigrees() {
    for (check, ploidy) in [("a06", 2.0), ("b04", 8.0)] {
        let garden = Garden::of_pedigree(&table(check, "data.csv"), &format!("{ploidy}"), "0");
        let f = garden.inbreeding();
        for row in table(check, "expected.csv") {
            close(f[row.text("id")], row.number("F"), 1e-10, row.text("id"));
        }
        let coancestry = garden.coancestry();
        for row in table(check, "expected_coancestry.csv") {
            let key = pair(&row, "id1", "id2");
            close(coancestry[&key], row.number("coancestry"), 1e-10, &format!("{key:?}"));
        }
        let mean = f.values().sum::<f64>() / f.len() as f64;
        close(mean, figures(check, "expected_summary.csv")["mean_F"], 1e-10, "mean F");
    }
}

#[test]
fn three_thousand_real_people() {
    let rows = table("a08", "data.csv");
    let f = Garden::of_pedigree(&rows, "2", "0").inbreeding();
    let inbred: BTreeMap<String, f64> = table("a08", "expected.csv")
        .iter()
        .map(|row| (row.text("id").to_owned(), row.number("F")))
        .collect();
    assert_eq!(f.len(), rows.len());
    for (plant, f) in f {
        close(f, inbred.get(&plant).copied().unwrap_or_default(), 1e-12, &plant);
    }
}

#[test]
fn selfing_and_full_sib_mating_at_every_ploidy() {
    for ploidy in ["2", "4", "6", "8"] {
        let f = Garden::of_pedigree(&table("b01", "data_selfing.csv"), ploidy, "0").inbreeding();
        for row in table("b01", "expected_selfing.csv") {
            let t = row.text("t");
            let wanted = row.number(&format!("F_ploidy{ploidy}"));
            close(f[&format!("g{t}")], wanted, 1e-10, &format!("{ploidy}x {t}"));
        }
        let sibs = Garden::of_pedigree(&table("b01", "data_fullsib.csv"), ploidy, "0");
        let (f, coancestry) = (sibs.inbreeding(), sibs.coancestry());
        for row in table("b01", "expected_fullsib.csv") {
            let t = row.text("t");
            let key = (format!("m{t}"), format!("f{t}"));
            let wanted = row.number(&format!("F_ploidy{ploidy}"));
            close(f[&key.0], wanted, 1e-10, &format!("{ploidy}x {t}"));
            let wanted = row.number(&format!("coancestry_sibs_ploidy{ploidy}"));
            close(coancestry[&key], wanted, 1e-10, &format!("{ploidy}x sibs {t}"));
        }
        let first = sibs.json(&["kin", "m0", "f0"]);
        close(first["of_full_sib_mating"].as_f64().unwrap(), 1.0, 1e-12, "full sibs");
    }
}

/// A probability written `1/15`, as the shell takes it.
fn decimal(fraction: &str) -> String {
    let number = |t: &str| t.parse::<f64>().unwrap();
    let value = fraction.split_once('/').map(|(over, under)| number(over) / number(under));
    value.unwrap_or_else(|| number(fraction)).to_string()
}

#[test]
fn double_reduction_at_every_ploidy() {
    let rows = table("b03", "data.csv");
    let (f, kinship) = (table("b03", "expected_F.csv"), table("b03", "expected_kinship.csv"));
    let mut rules: Vec<(String, String)> = f.iter().map(|r| pair(r, "ploidy", "alpha")).collect();
    rules.dedup();
    // A book takes no more than is certain to be possible.
    let most = |ploidy: &str| trug::book::most_double_reduction(ploidy.parse().unwrap()) + 1e-12;
    rules.retain(|(ploidy, alpha)| decimal(alpha).parse::<f64>().unwrap() <= most(ploidy));
    assert!(rules.len() > 6);
    for (ploidy, alpha) in rules {
        let garden = Garden::of_pedigree(&rows, &ploidy, &decimal(&alpha));
        let (got, coancestry) = (garden.inbreeding(), garden.coancestry());
        let of = |row: &&Row| row.text("ploidy") == ploidy && row.text("alpha") == alpha;
        for row in f.iter().filter(of) {
            close(got[row.text("id")], row.number("F"), 1e-10, &format!("{ploidy}x {alpha}"));
        }
        for row in kinship.iter().filter(of) {
            let key = pair(row, "id1", "id2");
            close(coancestry[&key], row.number("coancestry"), 1e-10, &format!("{key:?}"));
        }
    }
}

#[test]
fn selfing_and_full_sib_mating_with_double_reduction() {
    let series = table("b03", "expected_series.csv");
    let mut rules: Vec<(String, String)> =
        series.iter().map(|row| pair(row, "ploidy", "alpha")).collect();
    rules.dedup();
    assert!(rules.len() > 3, "{rules:?}");
    for (ploidy, alpha) in rules {
        let of = |row: &&Row| row.text("ploidy") == ploidy && row.text("alpha") == alpha;
        let inbreeding =
            |file| Garden::of_pedigree(&table("b01", file), &ploidy, &decimal(&alpha)).inbreeding();
        let [selfed, sibs] = ["data_selfing.csv", "data_fullsib.csv"].map(inbreeding);
        for row in series.iter().filter(of) {
            let what = format!("{ploidy}x {alpha}, generation {}", row.text("t"));
            let (g, m) = (format!("g{}", row.text("t")), format!("m{}", row.text("t")));
            close(selfed[&g], row.number("F_selfing"), 1e-10, &what);
            close(sibs[&m], row.number("F_fullsib"), 1e-10, &what);
        }
    }
}

/// The pedigree of the check on uncertain parents, with candidates as a list has them.
fn with_candidates() -> String {
    let mut plants: BTreeMap<String, [Vec<String>; 2]> = BTreeMap::new();
    for row in table("c01", "data.csv") {
        let sides = plants.entry(row.text("id").to_owned()).or_default();
        let key = row.text("candidate_parent");
        let side = &mut sides[usize::from(row.text("side") == "2")];
        if !key.is_empty() {
            side.push(format!("{key}={}", decimal(row.text("probability"))));
        }
    }
    let mut csv = "variety,seed_parent,pollen_parent\n".to_owned();
    for (plant, [seed, pollen]) in plants {
        writeln!(csv, "{plant},{},{}", seed.join("|"), pollen.join("|")).unwrap();
    }
    csv
}

#[test]
fn uncertain_parents_average_the_relationship() {
    for ploidy in ["2", "4", "8"] {
        let garden = Garden::of(&with_candidates(), &["--ploidy", ploidy]);
        let (f, coancestry) = (garden.inbreeding(), garden.coancestry());
        let of = |row: &&Row| row.text("ploidy") == ploidy;
        for row in table("c01", "expected_F.csv").iter().filter(of) {
            close(f[row.text("id")], row.number("F"), 1e-10, row.text("id"));
        }
        for row in table("c01", "expected.csv").iter().filter(of) {
            let key = pair(row, "id1", "id2");
            let wanted = row.number("coancestry");
            close(coancestry[&key], wanted, 1e-10, &format!("{ploidy}x {key:?}"));
        }
    }
}

#[test]
fn one_unnamed_father_makes_full_sibs_and_each_his_own_does_not() {
    for row in table("c03", "expected.csv") {
        for (father, column) in [("one", "A_same"), ("each", "A_independent")] {
            let mut csv = "seedling,seed_parent,pollen_parent,father,planted\n".to_owned();
            for seedling in ["25-1", "25-2"] {
                writeln!(csv, "{seedling},M,P=0.5|Q=0.5,{father},2025-05-20").unwrap();
            }
            let garden = Garden::of(&csv, &["--ploidy", row.text("ploidy")]);
            let relationship = |a, b| garden.json(&["kin", a, b])["relationship"].as_f64().unwrap();
            close(relationship("25-1", "25-2"), row.number(column), 1e-12, column);
            close(relationship("25-1", "P"), 0.25, 1e-12, "to a candidate");
        }
    }
}

#[test]
fn founders_hold_all_of_a_plant_and_the_unknown_stand_together() {
    let garden = Garden::of(
        "variety,seed_parent,pollen_parent\nChild,A,?\nGrandchild,Child,?\nA,,\n",
        &["--ploidy", "2"],
    );
    let trace = garden.json(&["trace", "Grandchild", "--up", "1"]);
    let founders = serde_json::json!([{"plant": "A", "share": 0.25}, {"share": 0.75}]);
    assert_eq!(trace["founders"], founders);
    let founder = garden.json(&["trace", "A"]);
    assert_eq!(founder["founders"], serde_json::json!([{"plant": "A", "share": 1.0}]));
}

#[test]
fn pairings_say_how_inbred_their_seedlings_are() {
    let garden = Garden::of(
        "seedling,seed_parent,pollen_parent,season,planted\n\
         1,A,B,2020,2021-05-20\n2,A,B,2020,2021-05-20\n3,A,A,2020,2021-05-20\n\
         4,1,2,2021,2022-05-20\n5,1,?,2021,2022-05-20\n6,3,1,2021,2022-05-20\n",
        &["--ploidy", "2"],
    );
    let rows = garden.json(&["pairings", "--untried"]);
    let f = |seed: &str, pollen: &str| {
        let is = |row: &&Value| {
            row["seed_parent"] == seed && row["pollen_parent"].as_str().unwrap_or("?") == pollen
        };
        rows.as_array().unwrap().iter().find(is).unwrap()["inbreeding"].as_f64().unwrap()
    };
    for (seed, pollen, wanted) in [
        ("A", "B", 0.0),
        ("1", "2", 0.25),
        ("1", "?", 0.0),
        ("A", "A", 0.5),
        ("3", "1", 0.25),
        ("A", "1", 0.25),
        ("3", "2", 0.25),
    ] {
        close(f(seed, pollen), wanted, 1e-12, &format!("{seed} × {pollen}"));
    }
}
