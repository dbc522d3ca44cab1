//! The real binary: `trug note` and its kin, killed at any time, and beside plain git.

use std::{
    process::{Command as Process, Stdio},
    time::Duration,
};

use assert_cmd::Command;
use serde_json::Value;
use trug::shelf::open;

use super::{Garden, letters};

const FILE: &str = "crosses/2025/25X01.ron";

fn trug(garden: &Garden, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_trug"));
    command.env_clear().env("HOME", garden.root()).env("USER", "Ida").env("COLUMNS", "100");
    command.arg("--book").arg(garden.root()).args(words);
    command
}

#[track_caller]
fn out(garden: &Garden, words: &[&str]) -> String {
    let done = trug(garden, words).assert().success();
    String::from_utf8(done.get_output().stdout.clone()).unwrap()
}

fn json(garden: &Garden, words: &[&str]) -> Value {
    let words: Vec<&str> = words.iter().copied().chain(["--json"]).collect();
    serde_json::from_str(&out(garden, &words)).unwrap()
}

#[track_caller]
fn refused(garden: &Garden, words: &[&str]) -> (i32, String) {
    let done = trug(garden, words).assert().failure();
    let output = done.get_output();
    (output.status.code().unwrap(), String::from_utf8(output.stderr.clone()).unwrap())
}

#[test]
fn every_deed_is_written_down_and_read_back() {
    let garden = Garden::new();
    for (words, entry) in [
        (
            &["26-012", "keep", "--why", "holds its colour"][..],
            "Verdict(is: Keep, why: \"holds its colour\")",
        ),
        (
            &["26-012", "look", "--bloom", "99.5", "--score", "form=7", "--by", "Tom"],
            "Look(who: \"Tom\", bloom_mm: 99.5, scores: {\"form\": 7})",
        ),
        (&["26-012", "note", "two", "words"], "Note(\"two words\")"),
        (&["26-012", "checked", "2"], "Checked(sound: 2)"),
        (&["26-012", "treated", "sulphur"], "Treated(\"sulphur\")"),
        (&["26-012", "ailing", "curled leaf"], "Ailing(\"curled leaf\")"),
        (&["26-012", "given", "1", "--to", "Tom"], "Given(tubers: 1, to: \"Tom\")"),
        (&["26-012", "disposed", "--where", "the tip"], "Disposed(\"the tip\")"),
        (&["26-012", "named", "Fen Ember"], "Named(\"Fen Ember\")"),
        (&["25X01", "--head", "1", "note", "split"], "Note(\"split\")"),
        (&["25X01-a", "note", "dry"], "Note(\"dry\")"),
    ] {
        let words: Vec<&str> = ["note"].iter().chain(words).copied().collect();
        out(&garden, &words);
        assert!(
            garden.read(FILE).contains(&format!("(on: \"2026-11-03\", did: {entry})")),
            "{entry}"
        );
    }
    assert_eq!(open(garden.root(), None).unwrap().problems, []);
}

#[test]
fn a_cross_and_all_that_comes_of_it_is_written_down_from_the_shell() {
    let garden = Garden::new();
    for words in [
        &["garden", "variety", "Harbour Light", "--colour", "apricot", "--colour", "tipped"][..],
        &["garden", "cross", "Harbour Light", "--pollen", "24-031", "--code", "26X40"],
        &["26X40", "head", "--tag", "sky 1, sky 2", "--on", "2026-09-02"],
        &["26X40", "--head", "sky 1", "--head", "2", "cut"],
        &["26X40", "--head", "1", "threshed", "9"],
        &["26X40", "packet", "9"],
        &["26X40-a", "sown"],
        &["26X40-a", "up", "5"],
        &["26X40-a", "number", "2", "--first", "27-001", "--at", "C/8/1"],
        &["garden", "fed", "leaf", "mould"],
        &["garden", "first-frost", "--on", "2026-10-24"],
    ] {
        let words: Vec<&str> = ["note"].iter().chain(words).copied().collect();
        out(&garden, &words);
    }
    let opened = open(garden.root(), None).unwrap();
    assert_eq!(opened.problems, []);
    let cross = opened.book.cross_with("26X40").unwrap();
    assert_eq!(cross.seed.known(), Some("harbour-light"));
    let counts = cross.counts();
    assert_eq!([counts.heads, counts.seeds, counts.up, counts.planted], [2, 9, 5, 2]);
    let about = opened.book.about();
    assert_eq!(about.frosts.last().unwrap().first.unwrap().to_string(), "2026-10-24");
    assert_eq!(about.diary.len(), 1);
    let said = json(&garden, &["note", "26-012", "look", "--bloom", "460"]);
    assert!(said["doubts"][0]["message"].as_str().unwrap().contains("larger than any known"));
    let said = json(&garden, &["note", "26-012", "treated", "soap"]);
    assert!(said["cautions"][0].as_str().unwrap().contains("label"));
    assert_eq!(refused(&garden, &["note", "26-012", "keep", "--bloom", "9"]).0, 2);
}

#[test]
fn what_cannot_be_is_refused_in_the_shell_too() {
    let garden = Garden::new();
    let first = garden.files();
    assert_eq!(
        refused(&garden, &["note", "26-012", "bloomed", "--on", "2026-05-01"]),
        (
            1,
            "trug: 26-012 was in bloom on 2026-05-01, before it was planted on 2026-05-24.\n  \
             Look whether one of the two dates is wrong.\n"
                .to_owned()
        )
    );
    assert_eq!(refused(&garden, &["note", "26-012", "sown"]).0, 2);
    assert_eq!(refused(&garden, &["note", "26-012", "keep", "--on", "soon"]).0, 2);
    assert_eq!(refused(&garden, &["note", "nobody", "keep"]).0, 2);
    assert_eq!(refused(&garden, &["note", "26-012", "checked", "two"]).0, 2);
    assert_eq!(refused(&garden, &["undo"]).0, 1);
    assert_eq!(garden.files(), first);
}

#[test]
fn history_undo_and_earlier_versions_are_to_be_had_from_the_shell() {
    let garden = Garden::new();
    let first = garden.files();
    assert_eq!(out(&garden, &["note", "26-012", "note", "one"]), "26-012: one, 3 Nov 2026\n");
    out(&garden, &["note", "26-012", "discard"]);
    assert_eq!(out(&garden, &["undo"]), "Undone: 26-012: discard, 3 Nov 2026\n");
    let history = json(&garden, &["history"]);
    let told: Vec<(u64, bool)> = history
        .as_array()
        .unwrap()
        .iter()
        .map(|row| (row["change"].as_u64().unwrap(), row["undone"].as_bool().unwrap()))
        .collect();
    assert_eq!(told, [(2, true), (1, false)]);
    assert_eq!(history[0]["who"], "Ida");
    out(&garden, &["redo"]);
    let versions = json(&garden, &["earlier", "26-012"]);
    let numbers: Vec<&str> =
        versions.as_array().unwrap().iter().map(|row| row["version"].as_str().unwrap()).collect();
    assert_eq!(numbers, ["4", "3", "2", "1"]);
    assert_eq!(versions[3]["before"], "26-012: one, 3 Nov 2026");
    let last = garden.files();
    out(&garden, &["bring-back", FILE, "1"]);
    assert_eq!(garden.files(), first);
    out(&garden, &["undo"]);
    assert_eq!(garden.files(), last, "bringing back is a change like any other");
    assert_eq!(refused(&garden, &["bring-back", FILE, "77"]).0, 2);
}

#[test]
fn a_broken_file_is_replaced_by_an_earlier_version() {
    let garden = Garden::new();
    out(&garden, &["note", "26-012", "note", "one"]);
    let first = garden.read(FILE);
    out(&garden, &["note", "26-012", "note", "two"]);
    garden.edit(FILE, "    code:", "<<<<<<< mine\n    code:");
    let (status, said) = refused(&garden, &["note", "25X01", "--head", "1", "cut"]);
    assert_eq!(status, 2, "{said}");
    out(&garden, &["bring-back", FILE, "2"]);
    assert_eq!(garden.read(FILE), first);
    let kept = json(&garden, &["earlier", FILE]);
    let aside = kept.as_array().unwrap().iter().find(|row| row["version"] == "~1").unwrap();
    assert!(garden.read(aside["copy"].as_str().unwrap()).contains("<<<<<<<"));
}

/// Killed at any time, a note is there whole or not at all, and is there if it was confirmed.
#[test]
fn killed_at_any_moment_nothing_confirmed_is_missing_and_nothing_is_by_half() {
    let garden = Garden::new();
    let mut confirmed = 0;
    for n in 0..super::more(12) {
        let text = format!("remark {n}");
        let mut note = Process::new(env!("CARGO_BIN_EXE_trug"))
            .env_clear()
            .arg("--book")
            .arg(garden.root())
            .args(["note", "26-012", "note", &text])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Anywhere between its first step and some time after its last.
        std::thread::sleep(Duration::from_millis(7 * n % 90));
        note.kill().ok();
        let said = note.wait_with_output().unwrap().stdout;
        let before = letters(&open(garden.root(), None).unwrap().book);
        let (opened, keeper) = garden.open();
        assert_eq!(opened.problems, []);
        assert!(keeper.read_only().is_none(), "the lock of a dead program is free");
        assert_eq!(letters(&opened.book), before);
        let is_there = garden.read(FILE).contains(&format!("Note(\"{text}\")"));
        if said.ends_with(b"\n") {
            assert!(is_there, "{text} was confirmed");
            confirmed += 1;
        }
        let made =
            keeper.history().unwrap().entries().filter(|made| made.what.contains(&text)).count();
        assert_eq!(made, usize::from(is_there), "{text}");
    }
    assert!(confirmed > 0 || super::more(0) == 0);
}

fn git(folder: &std::path::Path, words: &[&str]) -> bool {
    Process::new("git")
        .current_dir(folder)
        .env("HOME", folder)
        .args([
            "-c",
            "user.name=Ida",
            "-c",
            "user.email=ida@example.org",
            "-c",
            "commit.gpgsign=false",
        ])
        .args(words)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .unwrap()
        .success()
}

/// Two copies of a book under git, each with something recorded in it, brought together.
fn together(here: &[&[&str]], there: &[&[&str]]) -> (Garden, bool) {
    let mine = Garden::new();
    assert!(git(mine.root(), &["init", "-q", "-b", "main"]));
    assert!(git(mine.root(), &["add", "-A"]) && git(mine.root(), &["commit", "-qm", "the book"]));
    let theirs = Garden(tempfile::tempdir().unwrap());
    let from = mine.root().to_str().unwrap();
    assert!(git(theirs.root(), &["clone", "-q", from, "."]));
    for (garden, notes) in [(&mine, here), (&theirs, there)] {
        for words in notes {
            let words: Vec<&str> = ["note"].iter().chain(*words).copied().collect();
            out(garden, &words);
        }
        assert!(
            git(garden.root(), &["add", "-A"]) && git(garden.root(), &["commit", "-qm", "notes"])
        );
    }
    let from = theirs.root().to_str().unwrap();
    assert!(git(mine.root(), &["fetch", "-q", from]));
    let is_clean = git(mine.root(), &["merge", "-q", "FETCH_HEAD"]);
    (mine, is_clean)
}

#[test]
fn two_machines_that_record_of_different_plants_merge_by_plain_git() {
    let first = Garden::new();
    let faults = refused_or_out(&first);
    let (garden, is_clean) = together(
        &[&["26-012", "note", "mine"], &["26-001", "note", "mine"]],
        &[&["26-015", "note", "theirs"], &["ferry-lantern", "note", "theirs"]],
    );
    assert!(is_clean);
    assert!(garden.read(FILE).contains("mine") && garden.read(FILE).contains("theirs"));
    assert_eq!(refused_or_out(&garden), faults, "check has nothing new to say");
    assert!(!git(garden.root(), &["ls-files", "--error-unmatch", ".trug/journal.ron"]));
}

/// What `trug check` says of a garden, but for the counts.
fn refused_or_out(garden: &Garden) -> Value {
    let done = trug(garden, &["check", "--json"]).assert();
    serde_json::from_slice::<Value>(&done.get_output().stdout).unwrap()["problems"].clone()
}

#[test]
fn two_machines_that_write_at_the_very_same_spot_are_told_so_and_how_to_go_on() {
    let (garden, is_clean) =
        together(&[&["26-012", "note", "mine"]], &[&["26-012", "note", "theirs"]]);
    assert!(!is_clean);
    let problems = refused_or_out(&garden);
    let problem = problems.as_array().unwrap().iter().find(|p| p["file"] == FILE).unwrap();
    assert_eq!(problem["message"], "A merge was left half done here.");
    assert!(!problem["hint"].as_str().unwrap().is_empty());
    let (status, _) = refused(&garden, &["note", "26-012", "keep"]);
    assert_ne!(status, 0, "a file left half merged is not written over");
}
