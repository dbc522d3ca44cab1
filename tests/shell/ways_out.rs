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

/// A book in which every file can be read and three things between them cannot be: a plant in
/// its own ring, a parent whom nobody knows, and a bloom before planting.
fn contradicting(home: &Home) {
    home.out(&["new", "mine"]);
    fs::create_dir_all(home.path("mine/varieties")).unwrap();
    fs::create_dir_all(home.path("mine/crosses/2024")).unwrap();
    for (one, other) in [("tern", "plover"), ("plover", "tern")] {
        let record = format!(
            "(\n    format: 1,\n    id: \"{one}\",\n    name: \"{one}\",\n    \
             pollen: Known(\"{other}\"),\n)\n"
        );
        fs::write(home.path(&format!("mine/varieties/{one}.ron")), record).unwrap();
    }
    fs::write(
        home.path("mine/crosses/2024/24X01.ron"),
        r#"(format: 1, code: "24X01", season: 2024, seed: Known("avocet"), seedlings: [
            (number: "25-01", diary: [
                (on: "2025-04-29", did: FirstBloom),
                (on: "2025-05-29", did: Planted()),
            ]),
        ])"#,
    )
    .unwrap();
}

#[test]
fn faults_between_records_are_told_by_every_word_once_and_shortly() {
    let home = Home::new();
    contradicting(&home);
    for words in [
        &["evening"][..],
        &["crosses"],
        &["seed"],
        &["bed"],
        &["pairings"],
        &["parents"],
        &["trace", "25-01"],
        &["sibs", "24X01"],
    ] {
        for json in [&[][..], &["--json"]] {
            let done = home.trug().args(words).args(json).assert().success();
            let output = done.get_output();
            assert!(!output.stdout.is_empty(), "{words:?} answers nonetheless");
            assert_eq!(
                String::from_utf8_lossy(&output.stderr),
                "trug: There are 3 faults in this book; what could be read is counted. `trug \
                 check` lists them.\n",
                "{words:?}"
            );
        }
    }
    let (status, said) = home.fails(&["check"]);
    assert_eq!((status, said.matches(".ron:").count()), (1, 3), "{said}");
    assert!(said.contains("varieties/tern.ron:5:"), "the parent that closes the ring: {said}");
}

#[test]
fn a_control_character_in_an_id_is_one_fault_and_not_one_for_each_cross() {
    let home = Home::new();
    home.out(&["new", "mine"]);
    fs::create_dir_all(home.path("mine/varieties")).unwrap();
    fs::create_dir_all(home.path("mine/crosses/2024")).unwrap();
    let record = |id: &str| format!("(format: 1, id: \"{id}\", name: \"{}\")", id.len());
    fs::write(home.path("mine/varieties/tern.ron"), record("te\u{7}rn")).unwrap();
    fs::write(home.path("mine/varieties/sea-pea.ron"), record("sea\u{1b}pea")).unwrap();
    for (n, seed) in ["tern", "tern", "sea-pea"].into_iter().enumerate() {
        let record = format!(
            "(format: 1, code: \"24X{n}\", season: 2024, seed: Known(\"{seed}\"), seedlings: \
             [(number: \"25\u{7}-{n}\")])"
        );
        fs::write(home.path(&format!("mine/crosses/2024/24X{n}.ron")), record).unwrap();
    }
    fs::write(
        home.path("mine/crosses/2024/24X9.ron"),
        "(format: 1, code: \"24X9\", season: 2024, seed: Known(\"25-1\"))",
    )
    .unwrap();
    let (status, said) = home.fails(&["check"]);
    assert_eq!(status, 1);
    assert_eq!(said.matches("There is a control character").count(), 5, "{said}");
    assert_eq!(said.matches(".ron:").count(), 5, "{said}");
    assert!(!said.contains(char::REPLACEMENT_CHARACTER), "no bad id is to be copied: {said}");
}

#[test]
fn a_part_of_a_name_suggests_the_name() {
    let (status, said) =
        Home::new().fails(&["--book", &garden().display().to_string(), "trace", "lantern"]);
    assert_eq!(status, 2);
    assert!(said.contains("Did you mean Ferry Lantern?"), "{said}");
}

#[test]
fn without_a_book_and_without_a_terminal_the_ways_to_come_by_a_book_are_said() {
    let (status, said) = Home::new().fails(&[]);
    assert_eq!(status, 2);
    for way in ["trug demo", "trug new", "trug import", "--book"] {
        assert!(said.contains(way), "{way}: {said}");
    }
}

#[test]
fn as_much_double_reduction_as_there_can_be_is_taken_and_much_is_said_to_be_much() {
    let home = Home::new();
    let new = |dir: &str, ploidy: &str, rate: &str| {
        let words = ["new", dir, "--ploidy", ploidy, "--double-reduction", rate];
        let output = home.trug().args(words).output().unwrap();
        (output.status.code().unwrap(), String::from_utf8(output.stderr).unwrap())
    };
    let (status, said) = new("a", "8", "0.1");
    assert!(status == 0 && said.contains("is much at ploidy 8"), "{said}");
    let (status, said) = new("b", "8", "0.07");
    assert!(status == 0 && !said.contains("much"), "{said}");
    assert_eq!(new("c", "8", "0.17").0, 2);
    assert_eq!(new("d", "2", "0.01").0, 2);
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
