//! How much to sow, and first blooms, as `trug … --json` gives them.

use std::{collections::BTreeMap, fmt::Write as _};

use serde_json::{Value, json};

use super::{Home, kinship::Garden};
use crate::published::{Row, close, figures, table};

#[test]
fn plants_needed_to_recover_a_trait() {
    let home = Home::new();
    for row in table("i01", "expected.csv") {
        let (over, under) = row.text("q").split_once('/').unwrap();
        let keep = over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap();
        for r in [1, 4, 15] {
            let need = home.json(&[
                "sow",
                "--keepers",
                &r.to_string(),
                "--assurance",
                row.text("p"),
                "--keep",
                &keep.to_string(),
                "--germination",
                "1",
                "--survival",
                "1",
            ]);
            let wanted = row.count(&format!("r{r}"));
            assert_eq!((&need["plants"], &need["seeds"]), (&json!(wanted), &json!(wanted)));
        }
    }
}

#[test]
fn seeds_to_sow_through_germination_and_survival() {
    let home = Home::new();
    for row in table("i03", "expected.csv") {
        let need = home.json(&[
            "sow",
            "--keepers",
            row.text("r"),
            "--assurance",
            row.text("p"),
            "--keep",
            row.text("trait_q"),
            "--germination",
            row.text("germination"),
            "--survival",
            row.text("survival"),
        ]);
        assert_eq!(need["seeds"], json!(row.count("n_seeds")));
        assert!((need["assurance"].as_f64().unwrap() - row.number("p")).abs() < 1e-12);
    }
}

#[test]
fn rates_that_are_not_given_come_from_the_book_or_from_what_is_usual() {
    let home = Home::new();
    let need = home.json(&["sow", "--keepers", "2"]);
    assert_eq!(need["germination"]["from"], "book");
    assert!(need["seeds"].as_u64().unwrap() > need["plants"].as_u64().unwrap());
    let known = home.json(&["sow", "--keepers", "2", "--keep", "0.2"]);
    assert_eq!(known["keep"]["from"], "given");
    let empty = Garden::of("variety\nAlone\n", &["--ploidy", "8"]);
    let usual = empty.json(&["sow", "--keepers", "1"]);
    for stage in ["germination", "survival", "keep"] {
        assert_eq!(usual[stage]["from"], "usual");
    }
    let hopeless = home.json(&["sow", "--keepers", "1", "--keep", "0"]);
    assert!(hopeless.get("plants").is_none() && hopeless.get("seeds").is_none());
}

/// The day so many days after planting.
fn day(after: f64) -> String {
    let planted = chrono::NaiveDate::from_ymd_opt(2025, 5, 1).unwrap();
    #[expect(clippy::cast_possible_truncation, reason = "whole days below a year")]
    let day = planted + chrono::Duration::days(after as i64);
    day.to_string()
}

/// A list in which each group is a family, and who was watched no longer was lost.
fn waits(rows: &[Row], group: &str) -> String {
    let mut csv =
        "seedling,seed_parent,pollen_parent,season,planted,first_bloom,lost_on,lost_why\n"
            .to_owned();
    for (n, row) in rows.iter().enumerate() {
        let end = day(row.number("time"));
        let (bloom, lost, why) =
            if row.count("event") == 1 { (&*end, "", "") } else { ("", &*end, "slugs") };
        let family = row.text(group);
        writeln!(csv, "25-{n:03},{family},Pollen,2024,{},{bloom},{lost},{why}", day(0.0)).unwrap();
    }
    csv
}

/// The curves of the families, by seed parent.
fn by_family(first_bloom: &Value) -> BTreeMap<String, Value> {
    let rows = first_bloom["pairings"].as_array().unwrap().iter();
    rows.map(|row| (row["seed_parent"].as_str().unwrap().to_owned(), row.clone())).collect()
}

#[track_caller]
fn step(line: &Value, day: f64) -> &Value {
    let steps = line["steps"].as_array().unwrap();
    steps.iter().find(|step| step["day"].as_f64() == Some(day)).unwrap()
}

#[test]
fn the_curves_and_the_log_rank_test_of_a_clinical_trial() {
    let garden = Garden::of(&waits(&table("h01", "data.csv"), "treat"), &[]);
    let first_bloom = &garden.json(&["evening", "--level", "0.95"])["first_bloom"];
    let families = by_family(first_bloom);
    for row in table("h01", "expected_km.csv") {
        let step = step(&families[row.text("group")], row.number("time"));
        assert_eq!(step["at_risk"], json!(row.count("n_risk")));
        assert_eq!(step["bloomed"], json!(row.count("n_event")));
        let near = |field: &str, column: &str| {
            close(step[field].as_f64().unwrap(), row.number(column), 1e-8, field);
        };
        near("survival", "surv");
        if row.number("surv") > 0.0 {
            near("se", "greenwood_se");
            near("low", "loglog_lo");
            near("high", "loglog_hi");
        }
    }
    let wanted = figures("h01", "expected.csv");
    assert_eq!(families["6-MP"]["median"].as_f64(), Some(wanted["median_6MP"]));
    assert_eq!(families["control"]["median"].as_f64(), Some(wanted["median_control"]));
    let differ = &first_bloom["pairings_differ"];
    close(differ["chi_square"].as_f64().unwrap(), wanted["logrank_chisq"], 1e-6, "chi-square");
    assert_eq!(differ["freedom"], 1);
}

#[test]
fn curves_in_awkward_cases() {
    let garden = Garden::of(&waits(&table("h04", "data.csv"), "case"), &[]);
    let families = by_family(&garden.json(&["evening"])["first_bloom"]);
    for row in table("h04", "expected.csv") {
        let line = &families[row.text("case")];
        match row.text("time") {
            "MEDIAN" => {
                let wanted = Some(row.number("surv")).filter(|time| time.is_finite());
                assert_eq!(line["median"].as_f64(), wanted, "{}", row.text("case"));
            }
            "" => assert_eq!(line["steps"], json!([])),
            _ => {
                let step = step(line, row.number("time"));
                assert_eq!(step["at_risk"], json!(row.count("n_risk")));
                close(step["survival"].as_f64().unwrap(), row.number("surv"), 1e-10, "survival");
                match row.some("greenwood_se") {
                    Some(se) => close(step["se"].as_f64().unwrap(), se, 1e-10, "error"),
                    None => assert!(step.get("se").is_none()),
                }
            }
        }
    }
}

#[test]
fn blooms_known_only_between_two_visits() {
    let mut csv =
        "seedling,seed_parent,pollen_parent,planted,last_seen_unbloomed,first_bloom\n".to_owned();
    for row in table("h05", "data.csv") {
        let seen = day(row.number("last_seen_without_bloom"));
        let bloom = row.some("first_seen_in_bloom").map(day).unwrap_or_default();
        writeln!(csv, "25-{:0>3},A,B,{},{seen},{bloom}", row.text("plant"), day(0.0)).unwrap();
    }
    let evening = Garden::of(&csv, &[]).json(&["evening"]);
    let between = evening["first_bloom"]["programme"]["between"].as_array().unwrap().clone();
    for row in table("h05", "expected_npmle.csv") {
        let (after, by) = (row.number("interval_left"), row.number("interval_right"));
        let inside = between.iter().filter(|fall| {
            let end = fall["by"].as_f64().unwrap_or(f64::INFINITY);
            fall["after"].as_f64().unwrap() >= after && end <= by
        });
        let mass: f64 = inside.map(|fall| fall["share"].as_f64().unwrap()).sum();
        close(mass, row.number("mass"), 1e-4, &format!("({after}, {by}]"));
    }
}

#[test]
fn a_plant_in_bud_has_a_chance_before_the_frost_and_afterwards_one_if_held_over() {
    let mut csv =
        "seedling,seed_parent,pollen_parent,season,planted,first_bloom,last_seen_unbloomed,position\n"
            .to_owned();
    for n in 0..8 {
        writeln!(csv, "25-{n},A,B,2024,2025-05-01,2025-09-{:02},,A/1/{}", n + 10, n + 1).unwrap();
    }
    csv.push_str("25-8,A,B,2024,2025-05-01,,2025-11-20,A/1/9\n");
    csv.push_str("26-1,A,B,2025,2026-05-01,,2026-09-01,A/1/1\n");
    let garden = Garden::of(&csv, &[]);
    let outlook = |today: &str| {
        let bed = garden.json(&["bed", "--season", "2026", "--today", today]);
        let rows = bed.as_array().unwrap();
        rows.iter().find(|row| row["plant"] == "26-1").unwrap().clone()
    };
    // Of nine that were watched, eight opened after the 124th day, and one never.
    let in_bud = outlook("2026-09-02");
    close(in_bud["opens"]["p"].as_f64().unwrap(), 8.0 / 9.0, 1e-12, "in bud");
    assert!(in_bud["opens"]["low"].as_f64().unwrap() < 0.8);
    let over = outlook("2026-12-01");
    assert!(over.get("opens").is_none());
    close(over["held_over"]["p"].as_f64().unwrap(), 0.05, 1e-12, "as usual");
    let evening = garden.json(&["evening", "--today", "2026-09-02"]);
    let waiting = evening["waiting"].as_array().unwrap();
    let row = waiting.iter().find(|row| row["plant"] == "26-1").unwrap();
    assert_eq!(row["opens"], in_bud["opens"]);
}
