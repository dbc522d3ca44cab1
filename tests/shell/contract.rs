//! The JSON that outsiders build on: names and meanings that stay.

use serde_json::{Value, json};

use super::{Home, garden};

/// Holds that an object has these fields, and that each is what it is said to be: `str`, `num`,
/// `int`, `bool`, `list`, `rate` or `counts`; with `?` it may be absent, never null.
#[track_caller]
fn holds(object: &Value, fields: &[(&str, &str)]) {
    for (name, kind) in fields {
        let (kind, may_be_absent) = kind.strip_suffix('?').map_or((*kind, false), |k| (k, true));
        let Some(value) = object.get(name) else {
            assert!(may_be_absent, "{name} is absent in {object}");
            continue;
        };
        let right = match kind {
            "str" => value.is_string(),
            "num" => value.is_number(),
            "int" => value.is_u64(),
            "bool" => value.is_boolean(),
            "list" => value.is_array(),
            "rate" => is_rate(value),
            "counts" => is_counts(value),
            other => panic!("{other} is no kind"),
        };
        assert!(right, "{name} is not a {kind} in {object}");
    }
}

fn is_rate(value: &Value) -> bool {
    let get = |name: &str| value[name].as_f64().filter(|x| (0.0..=1.0).contains(x));
    let (Some(p), Some(low), Some(high), Some(_)) =
        (get("p"), get("low"), get("high"), get("level"))
    else {
        return false;
    };
    low <= p && p <= high
}

fn is_counts(value: &Value) -> bool {
    ["heads", "seeds", "sown", "up", "planted", "bloomed", "judged", "kept"]
        .iter()
        .all(|name| value.get(*name).is_none_or(Value::is_u64))
}

#[track_caller]
fn rows(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

#[track_caller]
fn row<'a>(list: &'a Value, field: &str, value: &str) -> &'a Value {
    rows(list).iter().find(|row| row[field] == value).unwrap()
}

#[test]
fn check_counts_the_records_and_lists_the_problems() {
    let check = Home::new().json(&["check"]);
    assert_eq!(
        check["records"],
        json!({"varieties": 4, "crosses": 5, "heads": 4, "lots": 3, "seedlings": 11})
    );
    assert_eq!(check["problems"], json!([]));
}

#[test]
fn trace_lists_each_plant_once_with_generation_and_side() {
    let trace = Home::new().json(&["trace", "26-10"]);
    assert_eq!(trace["plant"], "26-10");
    for ancestor in rows(&trace["ancestors"]) {
        holds(ancestor, &[("plant", "str"), ("generation", "int"), ("side", "str")]);
    }
    let side = |name: &str| {
        let a = row(&trace["ancestors"], "plant", name);
        (a["generation"].as_u64().unwrap(), a["side"].as_str().unwrap().to_owned())
    };
    assert_eq!(side("25-01"), (1, "seed".to_owned()));
    assert_eq!(side("Heron’s Reach"), (1, "pollen".to_owned()));
    assert_eq!(side("Ferry Lantern"), (1, "both".to_owned()));
    assert_eq!(side("Tide Pool"), (2, "seed".to_owned()));
    assert_eq!(rows(&trace["ancestors"]).len(), 4);
    assert_eq!(trace["descendants"], json!([]));
    holds(&trace, &[("founders", "list"), ("inbreeding", "num")]);
}

#[test]
fn kin_is_asked_of_two_of_all_or_of_a_list() {
    let home = Home::new();
    let pair = home.json(&["kin", "26-10", "gull song"]);
    let fields = [
        ("a", "str"),
        ("b", "str"),
        ("coancestry", "num"),
        ("relationship", "num"),
        ("inbreeding_of_offspring", "num"),
        ("common_ancestors", "list"),
        ("loops", "list"),
        ("loops_total", "int"),
    ];
    holds(&pair, &fields);
    for way in rows(&pair["loops"]) {
        holds(way, &[("through", "str?"), ("path", "list"), ("contribution", "num")]);
    }
    let all = home.json(&["kin"]);
    assert_eq!(rows(&all).len(), 15);
    for plant in rows(&all) {
        holds(plant, &[("plant", "str"), ("inbreeding", "num")]);
    }
    let matrix = home.json(&["kin", "--matrix", "26-10", "tide pool", "26-10"]);
    assert_eq!(matrix["plants"], json!(["26-10", "Tide Pool", "26-10"]));
    assert_eq!(matrix["coancestry"][0], matrix["coancestry"][2]);
    let (status, said) = home.fails(&["--book", garden().to_str().unwrap(), "kin", "26-10"]);
    assert_eq!(status, 2, "{said}");
}

#[test]
fn trace_goes_no_further_than_it_is_told() {
    let home = Home::new();
    let up = home.json(&["trace", "26-10", "--up", "1"]);
    assert_eq!(rows(&up["ancestors"]).len(), 3);
    let down = home.json(&["trace", "ferry lantern", "--down", "0"]);
    assert_eq!(down["descendants"], json!([]));
    let all = home.json(&["trace", "ferry lantern"]);
    for descendant in rows(&all["descendants"]) {
        holds(descendant, &[("plant", "str"), ("generation", "int")]);
    }
    assert_eq!(rows(&all["descendants"]).len(), 12);
}

#[test]
fn sibs_say_how_each_belongs_and_what_was_measured() {
    let sibs = Home::new().json(&["sibs", "26-01"]);
    holds(
        &sibs,
        &[("seed_parent", "str"), ("pollen_parent", "str"), ("counts", "counts"), ("rate", "rate")],
    );
    assert_eq!(
        (&sibs["seed_parent"], &sibs["pollen_parent"]),
        (&json!("Tide Pool"), &json!("Ferry Lantern"))
    );
    for plant in rows(&sibs["plants"]) {
        holds(
            plant,
            &[
                ("plant", "str"),
                ("kin", "str"),
                ("state", "str"),
                ("verdict", "str?"),
                ("bloom_mm", "num?"),
                ("height_cm", "num?"),
                ("first_bloom", "str?"),
            ],
        );
    }
    let kin = |name: &str| row(&sibs["plants"], "plant", name)["kin"].clone();
    assert_eq!(
        (kin("26-01"), kin("26-02"), kin("Gull Song"), kin("26-12")),
        (json!("self"), json!("full"), json!("full"), json!("half"))
    );
    let gull = row(&sibs["plants"], "plant", "Gull Song");
    assert_eq!(
        (&gull["state"], &gull["verdict"], &gull["first_bloom"]),
        (&json!("named"), &json!("keep"), &json!("2025-09-09"))
    );
    assert_eq!(sibs["means"]["bloom_mm"], json!({"family": 110.0, "programme": 110.0, "n": 3}));
    assert_eq!(sibs["means"]["form"], json!({"family": 7.5, "programme": 7.0, "n": 2}));
}

#[test]
fn sibs_of_a_cross_are_its_seedlings_and_of_a_pair_those_of_both_directions() {
    let home = Home::new();
    let cross = home.json(&["sibs", "24X01"]);
    assert_eq!(rows(&cross["plants"]).len(), 4);
    assert_eq!(
        (cross["counts"]["judged"].as_u64(), cross["counts"]["kept"].as_u64()),
        (Some(2), Some(1))
    );
    let pair = home.json(&["sibs", "Tide Pool", "Ferry Lantern"]);
    assert_eq!(rows(&pair["plants"]).len(), 7);
    assert_eq!(pair["counts"]["kept"], 2);
    let bees = home.json(&["sibs", "25x02"]);
    assert_eq!(bees["pollen_parent"], "Ferry Lantern|Heron’s Reach");
}

#[test]
fn pairings_pool_both_directions_under_the_one_first_made() {
    let home = Home::new();
    let all = home.json(&["pairings"]);
    for pairing in rows(&all) {
        holds(
            pairing,
            &[
                ("seed_parent", "str?"),
                ("pollen_parent", "str?"),
                ("seasons", "list"),
                ("counts", "counts"),
                ("rate", "rate?"),
                ("shrunk", "rate"),
                ("forecast", "rate"),
                ("tried", "bool"),
                ("inbreeding", "num"),
                ("chance_best", "num"),
            ],
        );
        let judged = pairing["counts"]["judged"].as_u64().unwrap();
        assert_eq!(pairing["tried"], json!(judged > 0));
        assert_eq!(pairing.get("rate").is_some(), judged > 0);
    }
    let best: f64 = rows(&all).iter().map(|row| row["chance_best"].as_f64().unwrap()).sum();
    assert!((best - 1.0).abs() < 1e-9, "one of them is the best: {best}");
    let ferry = row(&all, "pollen_parent", "Tide Pool");
    assert_eq!(ferry["seasons"], json!([2024, 2025]));
    assert_eq!((&ferry["counts"]["kept"], &ferry["counts"]["judged"]), (&json!(2), &json!(3)));
    assert_eq!((&ferry["rate"]["level"], &ferry["shrunk"]["level"]), (&json!(0.95), &json!(0.9)));
    let unknown = row(&all, "seed_parent", "Heron’s Reach");
    assert!(unknown.get("pollen_parent").is_none(), "an unknown pollen parent is absent");
    assert_eq!(row(&all, "seed_parent", "25-01")["pollen_parent"], "Ferry Lantern|Heron’s Reach");

    let split = home.json(&["pairings", "--split", "--level", "0.5"]);
    assert_eq!(rows(&split).len(), rows(&all).len() + 1);
    let turned = row(&split, "seed_parent", "Tide Pool");
    assert_eq!((&turned["seasons"], &turned["shrunk"]["level"]), (&json!([2025]), &json!(0.5)));
}

#[test]
fn untried_pairs_are_of_living_parents_and_can_set_seed() {
    let all = Home::new().json(&["pairings", "--untried"]);
    let untried: Vec<&Value> =
        rows(&all).iter().filter(|row| row["seasons"] == json!([])).collect();
    let mut pairs: Vec<(&str, &str)> = untried
        .iter()
        .map(|p| (p["seed_parent"].as_str().unwrap(), p["pollen_parent"].as_str().unwrap()))
        .collect();
    pairs.sort_unstable();
    // Tide Pool sets no seed, so it is the pollen parent; Lost Cause is dead and was never used.
    assert_eq!(
        pairs,
        [
            ("25-01", "Tide Pool"),
            ("Ferry Lantern", "25-01"),
            ("Ferry Lantern", "Heron’s Reach"),
            ("Heron’s Reach", "25-01"),
            ("Heron’s Reach", "Tide Pool"),
        ]
    );
    assert!(untried.iter().all(|p| p["tried"] == false));
}

#[test]
fn pairings_stand_in_the_order_of_their_table() {
    let home = Home::new();
    for words in [&["pairings"][..], &["pairings", "--split"], &["pairings", "--untried"]] {
        let chances: Vec<f64> = rows(&home.json(words))
            .iter()
            .map(|row| row["forecast"]["p"].as_f64().unwrap())
            .collect();
        assert!(chances.is_sorted_by(|a, b| a >= b), "the best first: {chances:?}");
    }
}

#[test]
fn parents_are_counted_in_each_role_and_candidates_in_neither() {
    let parents = Home::new().json(&["parents"]);
    for parent in rows(&parents) {
        holds(parent, &[("parent", "str")]);
        for role in ["as_seed", "as_pollen"] {
            holds(&parent[role], &[("counts", "counts"), ("rate", "rate?")]);
        }
        holds(parent, &[("merit", "rate")]);
        assert!(parent.get("traits").is_none());
    }
    let ferry = row(&parents, "parent", "Ferry Lantern");
    assert_eq!(
        (&ferry["as_seed"]["counts"]["judged"], &ferry["as_pollen"]["counts"]["judged"]),
        (&json!(2), &json!(1))
    );
    let heron = row(&parents, "parent", "Heron’s Reach");
    assert_eq!(heron["as_pollen"]["counts"]["planted"], 0);
}

#[test]
fn the_rows_of_the_other_screens_are_there() {
    let home = Home::new();
    let crosses = home.json(&["crosses"]);
    assert_eq!(rows(&crosses).len(), 5);
    holds(
        &crosses[0],
        &[
            ("cross", "str"),
            ("season", "int"),
            ("by", "str"),
            ("counts", "counts"),
            ("rate", "rate"),
        ],
    );
    assert_eq!(rows(&home.json(&["crosses", "--season", "2025"])).len(), 3);
    let seed = home.json(&["seed"]);
    holds(
        &seed[0],
        &[("packet", "str"), ("cross", "str"), ("seeds", "int"), ("sown", "int"), ("left", "int")],
    );
    assert_eq!(seed[0]["left"], 2, "of twelve, eight were sown in one year and two in the next");
    let bed = home.json(&["bed"]);
    holds(
        &bed[0],
        &[("bed", "str"), ("row", "int"), ("place", "int"), ("plant", "str"), ("state", "str")],
    );
    let evening = home.json(&["evening"]);
    holds(
        &evening,
        &[
            ("season", "int"),
            ("today", "str"),
            ("steps", "list"),
            ("waiting", "list"),
            ("keepers", "list"),
            ("pairings", "list"),
            ("pairings_before", "list"),
        ],
    );
    let paths = home.json(&["paths"]);
    holds(&paths, &[("book", "str"), ("settings", "str")]);
}

#[test]
fn a_figure_that_nobody_counted_is_absent() {
    let home = Home::new();
    let old = &row(&home.json(&["crosses"]), "cross", "OLD")["counts"].clone();
    let known = json!(
        {"sown": 50, "up": 40, "planted": 30, "bloomed": 25, "judged": 20, "kept": 4}
    );
    assert_eq!(old, &known, "no heads and no seeds were ever written down");
    let pairings = home.json(&["pairings"]);
    assert_eq!(row(&pairings, "seed_parent", "Heron’s Reach")["counts"], known);
    let sure = &row(&home.json(&["crosses"]), "cross", "26X01")["counts"].clone();
    assert_eq!((&sure["heads"], &sure["kept"]), (&json!(2), &json!(0)));
}

#[test]
fn whatever_stands_on_a_sheet_stands_in_the_json() {
    let home = Home::new();
    let evening = home.json(&["evening"]);
    let keeper = row(&evening["keepers"], "plant", "26-01");
    assert_eq!(keeper["colours"], json!(["white", "pink"]));
    assert_eq!(
        (&keeper["seed_parent"], &keeper["pollen_parent"], &keeper["first_bloom"]),
        (&json!("Tide Pool"), &json!("Ferry Lantern"), &json!("2026-09-14"))
    );
    let before = home.json(&["evening", "--season", "2025"]);
    assert_eq!(evening["pairings_before"], before["pairings"]);
    assert_eq!(row(&before["waiting"], "plant", "Gull Song")["verdict_why"], "stem may firm up");
    let bed = home.json(&["bed"]);
    assert_eq!(row(&bed, "plant", "25-01")["colours"], json!(["apricot"]));
    let trace = home.json(&["trace", "26-10"]);
    assert_eq!(trace["pollen_parent"], "Ferry Lantern|Heron’s Reach");
    let up = row(&trace["ancestors"], "plant", "25-01");
    assert_eq!(
        (&up["seed_parent"], &up["pollen_parent"]),
        (&json!("Ferry Lantern"), &json!("Tide Pool"))
    );
}

#[test]
fn what_a_year_came_to_is_counted_step_by_step() {
    let evening = Home::new().json(&["evening"]);
    let n = |step: &str| row(&evening["steps"], "step", step)["n"].as_u64().unwrap();
    // Numbered plants: 17 sown, 12 up, 6 planted, 5 opened, 2 judged, 1 kept. Totals of OLD: 50,
    // 40, 30, 25, 20, 4.
    assert_eq!(
        ["sown", "up", "planted", "bloomed", "judged", "kept"].map(n),
        [67, 52, 36, 30, 22, 5]
    );
    let due = &evening["due"];
    assert_eq!((&due["hanging"], &due["oldest_days"]), (&json!(1), &json!(40)));
    assert_eq!((&due["packets"], &due["seeds"]), (&json!(2), &json!(22)));
}

#[test]
fn a_parent_tells_its_partners_its_kin_and_what_its_offspring_went_on_to_do() {
    let parents = Home::new().json(&["parents"]);
    let ferry = row(&parents, "parent", "Ferry Lantern");
    let partners = rows(&ferry["partners"]);
    assert!(!partners.is_empty());
    for partner in partners {
        assert!(partner["kept"].as_u64() <= partner["judged"].as_u64());
        let shrunk = &partner["shrunk"];
        assert!(shrunk["low"].as_f64() <= shrunk["p"].as_f64());
        assert!(shrunk["p"].as_f64() <= shrunk["high"].as_f64());
    }
    for kin in rows(&ferry["kin"]) {
        assert!(kin["plant"].is_string() && kin["relationship"].as_f64() > Some(0.0));
    }
    let went_on = &ferry["went_on"];
    assert!(went_on["kept"].as_u64() <= went_on["judged"].as_u64());
    assert!(went_on["bloomed"].as_u64() <= went_on["seedlings"].as_u64());
}
