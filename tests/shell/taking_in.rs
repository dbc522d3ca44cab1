//! Spreadsheets in, through the shell.

use std::{fmt::Write as _, fs};

use super::Home;

const PLANTS: &str = "\
seedling,seed_parent,pollen_parent,season,sown,planted,first_bloom,verdict,verdict_on
26-01,Ferry Lantern,Tide Pool,2025,2026-03-12,2026-05-29,2026-08-14,keep,2026-10-21
26-02,Ferry Lantern,Tide Pool,2025,2026-03-12,2026-05-29,2026-08-20,discard,2026-10-21
";

fn home_with(csv: &str) -> Home {
    let home = Home::new();
    home.out(&["new", "book"]);
    fs::write(home.path("plants.csv"), csv).unwrap();
    home
}

fn seedlings(home: &Home) -> u64 {
    let check: serde_json::Value = serde_json::from_str(&home.out(&["check", "--json"])).unwrap();
    check["records"]["seedlings"].as_u64().unwrap()
}

const TODAY: [&str; 2] = ["--today", "2026-11-03"];

#[test]
fn what_is_brought_in_is_told_and_then_stands_in_the_book() {
    let home = home_with(PLANTS);
    let said = home.out(&["import", "plants.csv", TODAY[0], TODAY[1]]);
    assert!(
        said.starts_with("What was brought into the book\nplants.csv: seedlings, 2 rows"),
        "{said}"
    );
    assert_eq!(seedlings(&home), 2);
    let pairings = home.out(&["pairings", TODAY[0], TODAY[1]]);
    assert!(pairings.contains("Ferry Lantern × Tide Pool"), "{pairings}");
    assert!(pairings.contains("1 of 2"), "{pairings}");
    let again = home.out(&["import", "plants.csv", TODAY[0], TODAY[1]]);
    assert!(again.starts_with("Nothing new in these files"), "{again}");
}

#[test]
fn a_dry_run_reports_and_writes_nothing() {
    let home = home_with(PLANTS);
    let said = home.out(&["import", "plants.csv", "--dry-run", TODAY[0], TODAY[1]]);
    assert!(said.contains("nothing was written"), "{said}");
    assert_eq!(seedlings(&home), 0);
}

#[test]
fn one_bad_row_refuses_all_unless_it_is_skipped() {
    let home = home_with(&PLANTS.replace("2026-08-20", "2026-02-30"));
    let (status, said) = home.fails(&["import", "plants.csv", TODAY[0], TODAY[1]]);
    assert_eq!(status, 1);
    assert!(said.starts_with("plants.csv:3:"), "{said}");
    assert_eq!(seedlings(&home), 0);

    fs::write(home.path("plants.rest.csv"), "mine").unwrap();
    let told = home.out(&["import", "plants.csv", "--skip-bad", "--json", TODAY[0], TODAY[1]]);
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    assert_eq!(told["set_aside_in"], serde_json::json!(["plants.rest-2.csv"]));
    assert_eq!(seedlings(&home), 1);
    assert_eq!(fs::read_to_string(home.path("plants.rest.csv")).unwrap(), "mine");
    let rest = fs::read_to_string(home.path("plants.rest-2.csv")).unwrap();
    assert!(rest.contains("26-02") && !rest.contains("26-01"), "{rest}");
}

#[test]
fn skipping_is_offered_only_where_some_row_could_be_taken() {
    let said = |csv: &str| {
        let home = home_with(csv);
        let words = ["import", "plants.csv", TODAY[0], TODAY[1]];
        let done = home.trug().args(words).assert().code(1);
        String::from_utf8(done.get_output().stdout.clone()).unwrap()
    };
    let one_bad = PLANTS.replace("2026-08-20", "2026-02-30");
    assert_eq!(said(&one_bad), "Nothing was taken in. --skip-bad takes the good rows.\n");
    let all_bad = one_bad.replace("2026-08-14", "2026-02-30");
    assert_eq!(said(&all_bad), "Nothing was taken in.\n");
}

#[test]
fn of_ten_thousand_faults_the_first_fifty_are_shown_and_all_are_counted() {
    let mut csv = "seedling,planted\n".to_owned();
    for n in 0..10_000 {
        writeln!(csv, "26-{n:05},2026-02-30").unwrap();
    }
    let home = home_with(&csv);
    let (status, said) = home.fails(&["import", "plants.csv"]);
    assert_eq!(status, 1);
    assert_eq!(said.lines().filter(|line| line.starts_with("plants.csv:")).count(), 50);
    assert!(said.contains("9950 more, 10000 in all"), "{}", said.lines().last().unwrap());
}

#[test]
fn a_file_that_is_not_there_is_a_wrong_word() {
    let home = home_with(PLANTS);
    let (status, said) = home.fails(&["import", "plantz.csv"]);
    assert_eq!(status, 2);
    assert!(said.contains("plantz.csv"), "{said}");
}

#[test]
fn nothing_is_taken_into_a_book_of_which_a_part_cannot_be_read() {
    let home = home_with(PLANTS);
    home.out(&["import", "plants.csv", TODAY[0], TODAY[1]]);
    let cross =
        fs::read_dir(home.path("book/crosses/2025")).unwrap().next().unwrap().unwrap().path();
    let text = fs::read_to_string(&cross).unwrap();
    fs::write(&cross, &text[..text.len() / 2]).unwrap();
    let (status, said) = home.fails(&["import", "plants.csv", TODAY[0], TODAY[1]]);
    assert_eq!(status, 1);
    assert!(said.starts_with("crosses/2025/"), "{said}");
    assert_eq!(fs::read_to_string(&cross).unwrap(), text[..text.len() / 2]);
}
