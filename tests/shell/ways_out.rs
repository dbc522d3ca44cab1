//! Exit statuses, and what is said when something cannot be done.

use std::fs;

use super::{Home, garden};

#[test]
fn an_unknown_plant_is_2_with_the_nearest_names() {
    let home = Home::new();
    let book = garden().display().to_string();
    let (status, said) = home.fails(&["--book", &book, "trace", "Fery Lantern"]);
    assert_eq!(status, 2);
    assert!(said.contains("Did you mean Ferry Lantern?"), "{said}");
    let (status, said) = home.fails(&["--book", &book, "sibs", "99X99"]);
    assert_eq!(status, 2);
    assert!(said.contains("no plant and no cross"), "{said}");
}

#[test]
fn a_word_that_fits_several_lists_them_by_id() {
    let home = Home::new();
    let book = garden().display().to_string();
    let (status, said) = home.fails(&["--book", &book, "trace", "25-01"]);
    assert_eq!(status, 2);
    assert!(said.contains("id:25-01 is 25-01, of cross 24X01"), "{said}");
    assert!(
        said.contains("id:25-01/self is 25-01, of cross 26X01, Ferry Lantern selfed"),
        "{said}"
    );
    home.in_garden(&["trace", "id:25-01"]);
    home.in_garden(&["trace", "25-01/self"]);
}

#[test]
fn wrong_words_are_2() {
    let home = Home::new();
    for words in [
        &["pairings", "--level", "95"][..],
        &["evening", "--today", "2026-02-30"],
        &["evening", "--today", "2026"],
        &["trace"],
        &["nonsense"],
        &["sibs", "a", "b", "c"],
        &["import"],
        &["import", "a.csv", "--counts-win", "--plants-win"],
        &["new", "x", "--ploidy", "3"],
        &["new", "x", "--ploidy", "4", "--double-reduction", "0.2"],
        &["new", "x", "--crop", "triffid"],
    ] {
        assert_eq!(home.fails(words).0, 2, "{words:?}");
    }
    assert!(!home.path("x").exists(), "nothing is laid out for wrong words");
    let set =
        home.trug().env("TRUG_TODAY", "soon").arg("--book").arg(garden()).arg("evening").assert();
    let said = String::from_utf8(set.code(2).get_output().stderr.clone()).unwrap();
    assert!(said.contains("TRUG_TODAY"), "{said}");
}

#[test]
fn a_book_that_is_not_there_is_3_with_the_way_out() {
    let home = Home::new();
    let (status, said) = home.fails(&["--book", "nowhere", "check"]);
    assert_eq!(status, 3);
    assert!(said.contains("trug new nowhere"), "{said}");
}

#[test]
fn faults_are_1_and_told_with_file_line_and_column() {
    let home = Home::new();
    home.out(&["new", "mine"]);
    fs::create_dir_all(home.path("mine/varieties")).unwrap();
    fs::write(
        home.path("mine/varieties/x.ron"),
        "(\n    format: 1,\n    id: \"x\",\n    nam: \"X\",\n)\n",
    )
    .unwrap();
    let (status, said) = home.fails(&["--book", "mine", "check"]);
    assert_eq!(status, 1);
    assert!(said.starts_with("varieties/x.ron:4:"), "{said}");
    // Everything else still answers, and says that something is amiss.
    let done = home.trug().args(["--book", "mine", "parents"]).assert().success();
    let said = String::from_utf8(done.get_output().stderr.clone()).unwrap();
    assert!(said.contains("trug check"), "{said}");
    let json = home.trug().args(["--book", "mine", "check", "--json"]).assert().code(1);
    let check: serde_json::Value = serde_json::from_slice(&json.get_output().stdout).unwrap();
    let problem = &check["problems"][0];
    assert_eq!(
        (&problem["file"], &problem["line"], &problem["severity"]),
        (&"varieties/x.ron".into(), &4.into(), &"error".into())
    );
    assert!(
        problem["message"].is_string() && problem["hint"].is_string() && problem["column"].is_u64()
    );
}

#[test]
fn the_full_screen_without_a_terminal_names_the_shell_words() {
    let home = Home::new();
    let book = garden().display().to_string();
    let (status, said) = home.fails(&["--book", &book]);
    assert_eq!(status, 2);
    assert!(said.contains("trug evening") && said.contains("trug trace"), "{said}");
}

#[test]
fn the_last_book_is_taken_where_none_is_named() {
    let home = Home::new();
    let (status, said) = home.fails(&["evening"]);
    assert_eq!(status, 2);
    assert!(said.contains("trug new"), "{said}");
    home.out(&["new", "mine"]);
    assert!(home.out(&["check"]).starts_with("mine: "));
    let other = home.trug().env("TRUG_BOOK", garden()).arg("check").assert().success();
    assert!(other.get_output().stdout.starts_with(b"Saltmarsh: "));
    assert!(home.out(&["paths"]).contains("mine"));
}

#[test]
fn a_second_book_is_not_laid_over_the_first() {
    let home = Home::new();
    home.out(&["new", "mine"]);
    let (status, said) = home.fails(&["new", "mine"]);
    assert_eq!(status, 3);
    assert!(said.contains("already"), "{said}");
}

#[test]
fn today_is_what_was_said_then_the_environment_then_the_book() {
    let home = Home::new();
    let today = |words: &[&str]| home.json(words)["today"].as_str().unwrap().to_owned();
    assert_eq!(today(&["evening"]), "2026-11-03");
    assert_eq!(today(&["evening", "--today", "2026-09-30"]), "2026-09-30");
    let set = home
        .trug()
        .env("TRUG_TODAY", "2026-12-24")
        .arg("--book")
        .arg(garden())
        .args(["evening", "--json"])
        .assert();
    let set: serde_json::Value =
        serde_json::from_slice(&set.success().get_output().stdout).unwrap();
    assert_eq!(set["today"], "2026-12-24");
}

#[test]
fn a_reader_that_has_seen_enough_is_no_failure() {
    use std::process::{Command, Stdio};
    let home = Home::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_trug"))
        .env("HOME", home.path(""))
        .arg("--book")
        .arg(garden())
        .arg("evening")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let done = child.wait_with_output().unwrap();
    assert_eq!((done.status.code(), done.stderr.as_slice()), (Some(0), &b""[..]));
}

#[test]
fn help_shows_examples_first_and_every_word_has_one() {
    let home = Home::new();
    assert!(home.out(&["--help"]).starts_with("Examples:\n  trug demo"));
    for word in [
        "demo", "new", "check", "evening", "crosses", "seed", "bed", "trace", "sibs", "parents",
        "pairings", "import", "paths",
    ] {
        assert!(home.out(&[word, "--help"]).starts_with("Examples:\n  trug "), "{word}");
        assert!(home.out(&[word, "-h"]).contains("Usage: trug "), "{word}");
    }
}
