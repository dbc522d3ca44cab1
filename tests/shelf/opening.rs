//! Opening: whatever is there, as much as possible of it.

use std::fs;

use tempfile::{TempDir, tempdir};
use trug::shelf::{OpenError, open};

use super::garden::{BOOK, CROSS, Garden, OLDER, UNDATED, VARIETY, shown, sound};

#[test]
fn a_byte_order_mark_and_windows_line_ends_are_accepted() {
    let garden = Garden::new();
    for file in [BOOK, VARIETY, CROSS, OLDER, UNDATED] {
        let content = garden.read(file).replace("three tubers.\\n", "three tubers.\n");
        garden.put(file, format!("\u{feff}{}", content.replace('\n', "\r\n")));
    }
    assert_eq!(garden.problems(), "");
    let (mut opened, known) = (garden.open(), open(&sound(), None).unwrap());
    assert_eq!(opened.book.about(), known.book.about());
    assert_eq!(opened.book.varieties(), known.book.varieties());
    assert_eq!(opened.book.crosses(), known.book.crosses());
    assert!(opened.shelf.save(&opened.book).unwrap().written.is_empty());
}

#[test]
fn problems_behind_a_byte_order_mark_are_where_an_editor_shows_them() {
    let garden = Garden::new();
    garden.put(CROSS, "\u{feff}(format: 1, code: \"ä\", sesaon: 2025)\r\n").check_lost(
        CROSS,
        r#"
        crosses/2025/25X07.ron:1:24: error: There is no field "sesaon" in such a record.
            Perhaps season is meant.
        "#,
    );
}

#[test]
fn files_that_hold_no_text_or_none_of_ours() {
    let cut_in_a_letter = [&b"\xef\xbb\xbf(format: 1,\n  note: \"\xc3\xa4"[..], b"\xc3"].concat();
    let deep = format!("(format: 1, seed: {}", "OneOf([(".repeat(100_000));
    for (content, expected) in [
        (
            &b""[..],
            r#"
        crosses/2025/25X07.ron:1:1: error: The file is empty.
            Bring back an earlier copy of it, or take the file away.
        "#,
        ),
        (
            b"\r\n \n",
            r#"
        crosses/2025/25X07.ron:1:1: error: The file is empty.
            Bring back an earlier copy of it, or take the file away.
        "#,
        ),
        (
            b"\xff\xfe(\0",
            r#"
        crosses/2025/25X07.ron:1:1: error: From here on the file is not in UTF-8.
            Save it as UTF-8 in your editor.
        "#,
        ),
        (
            &cut_in_a_letter,
            r#"
        crosses/2025/25X07.ron:2:11: error: From here on the file is not in UTF-8.
            Save it as UTF-8 in your editor.
        "#,
        ),
        (
            b"{\"code\": \"25X07\"}",
            r#"
        crosses/2025/25X07.ron:1:1: error: A record in round brackets should stand here.
            Begin with ( and write its fields, such as (format: 1, …).
        "#,
        ),
        (
            deep.as_bytes(),
            r#"
        crosses/2025/25X07.ron:1:27: error: A text should stand here.
            Put it in straight quotation marks, such as "24-031".
        "#,
        ),
    ] {
        let garden = Garden::new();
        garden.put(CROSS, content).check_lost(CROSS, expected);
    }
}

#[test]
fn the_parents_in_a_file_that_cannot_be_read_are_not_nobody() {
    let garden = Garden::new();
    garden.edit(OLDER, "by: Bees", "by: Wasps");
    garden.edit(VARIETY, "name:", "nmae:");
    assert_eq!(
        garden.problems(),
        "crosses/2024/24X01.ron:7:9: error: \"Wasps\" is not a word that can stand here.\n    \
         The words are Hand and Bees.\n\
         varieties/ferry-lantern.ron:4:5: error: There is no field \"nmae\" in such a record.\n    \
         Perhaps name is meant.\n"
    );
}

#[test]
fn a_copy_of_a_file_is_told_from_the_file() {
    let garden = Garden::new();
    garden.put("crosses/2024/24X01 copy.ron", garden.read(OLDER));
    garden.put("varieties/a.ron", garden.read(VARIETY));
    assert_eq!(
        garden.problems(),
        "crosses/2024/24X01 copy.ron:3:11: error: The code \"24X01\" is already used in \
         crosses/2024/24X01.ron of this book.\n    \
         Give one of the two another, or take this file away if it is a copy.\n\
         varieties/a.ron:3:9: error: The id \"ferry-lantern\" is already used in \
         varieties/ferry-lantern.ron of this book.\n    \
         Give one of the two another, or take this file away if it is a copy.\n"
    );
    let opened = garden.open();
    let sealed: Vec<&str> = opened.shelf.sealed().collect();
    assert_eq!(sealed, ["crosses/2024/24X01 copy.ron", "varieties/a.ron"]);
    assert!(!opened.shelf.is_cross_sealed("24X01"));
    assert_eq!((opened.book.varieties().len(), opened.book.crosses().len()), (2, 3));
}

#[test]
fn a_fault_is_pointed_at_in_whatever_order_the_plants_stand() {
    let garden = Garden::new();
    garden.put(
        CROSS,
        r#"(format: 1, code: "25X07", season: 2025, seed: Unknown, seedlings: [
            (number: "26-10", diary: [
                (on: "2026-02-30", did: TagLost),
                (on: "2031-01-01", did: Woken),
            ]),
            (diary: [(on: "2026-01", did: Numbered), (on: "2030", did: Woken)], number: "26-9"),
            (number: "26-\u{31}1", diary: [(on: "2032", did: Woken)]),
        ])"#,
    );
    let problems = garden.problems();
    let lines: Vec<&str> = problems.lines().step_by(2).collect();
    assert_eq!(
        lines,
        [
            "crosses/2025/25X07.ron:3:22: error: There is no 2026-02-30 in the calendar.",
            "crosses/2025/25X07.ron:4:17: error: 2031-01-01 has not come yet; today is 2026-11-20.",
            "crosses/2025/25X07.ron:6:54: error: 2030 has not come yet; today is 2026-11-20.",
            "crosses/2025/25X07.ron:7:44: error: 2032 has not come yet; today is 2026-11-20.",
        ]
    );
}

#[test]
fn what_is_no_page_of_the_book_is_left_alone() {
    let garden = Garden::new();
    for file in ["crosses/2025/.25X08.ron.swp", "crosses/.25X08.ron", "crosses/2025/notes.txt"] {
        garden.put(file, "no record");
    }
    fs::create_dir_all(garden.path("crosses/2025/old/25X09.ron")).unwrap();
    garden.put("crosses/2025/old/25X10.ron", "no record");
    fs::create_dir_all(garden.path("photos")).unwrap();
    garden.put("photos/26-104.ron", "no record");
    assert_eq!(garden.problems(), "");
}

#[test]
fn a_first_page_that_cannot_be_read_costs_only_itself() {
    let garden = Garden::new();
    garden.edit(BOOK, "by the wall", "by the\u{1b} wall").edit(BOOK, "rows: 1", "row: 1");
    garden.check_lost(
        BOOK,
        r#"
        book.ron:11:32: error: There is no field "row" in such a record.
            Perhaps rows is meant.
        "#,
    );
    let book = garden.open().book;
    let folder = garden.path("").file_name().unwrap().to_string_lossy().into_owned();
    assert_eq!((&*book.about().garden, &*book.about().crop), (&*folder, "dahlia"));
    assert_eq!(&*book.crop().name, "dahlia");
}

#[test]
fn the_crop_of_the_book_stands_above_the_raisers_and_that_above_the_built_in() {
    let crops = tempdir().unwrap();
    let garden = Garden::new();
    let plural = || {
        let opened = open(garden.folder.path(), Some(crops.path())).unwrap();
        (opened.book.crop().plural.to_string(), shown(&opened.problems))
    };
    let other = |name: &str| {
        let path = "tests/data/crops/sweet_pea.ron";
        let text = fs::read_to_string(path).unwrap();
        text.replace("plural: \"sweet peas\"", &format!("plural: \"{name}\""))
    };
    assert_eq!(plural(), ("dahlias".into(), String::new()));
    fs::write(crops.path().join("dahlia.ron"), other("theirs")).unwrap();
    assert_eq!(plural(), ("theirs".into(), String::new()));
    garden.put("crop.ron", other("own"));
    assert_eq!(plural(), ("own".into(), String::new()));
    garden.put("crop.ron", other("own").replace("format: 1", "format: 9"));
    let (fallen_back_to, problems) = plural();
    assert_eq!(fallen_back_to, "theirs");
    assert!(problems.starts_with("crop.ron:"), "{problems}");
}

#[test]
fn where_there_is_no_book_the_way_out_is_said() {
    let folder = tempdir().unwrap();
    let path = folder.path();
    let refused = |path: &std::path::Path| {
        let error = open(path, None).unwrap_err();
        let hint = error.hint();
        assert!(hint.contains("trug new") && hint.contains("trug demo"), "{hint}");
        assert!(hint.contains("--book"), "{hint}");
        (error.to_string().replace(&*folder.path().to_string_lossy(), "PATH"), error)
    };
    let (said, error) = refused(&path.join("gone"));
    assert_eq!(said, "There is no folder PATH/gone here.");
    assert!(matches!(error, OpenError::NoFolder(_)));
    assert_eq!(refused(path).0, "The folder PATH is empty.");
    fs::write(path.join("notes.txt"), "").unwrap();
    assert_eq!(refused(path).0, "The folder PATH holds no book: there is no book.ron in it.");
    assert_eq!(
        refused(&path.join("notes.txt")).0,
        "A book is a folder, and PATH/notes.txt is none."
    );
}

/// The program as somebody who is not the superuser, to whom nothing is forbidden.
#[cfg(unix)]
fn as_somebody(garden: &Garden, room: &TempDir, words: &[&str]) -> std::process::Output {
    use std::os::unix::{
        fs::{MetadataExt, PermissionsExt},
        process::CommandExt,
    };
    const NOBODY: u32 = 65534;
    let program = env!("CARGO_BIN_EXE_trug");
    let is_superuser = fs::metadata(room.path()).unwrap().uid() == 0;
    let mut command = if is_superuser {
        // What was built may lie where only the superuser may go.
        let copy = room.path().join("trug");
        fs::copy(program, &copy).unwrap();
        fs::set_permissions(room.path(), fs::Permissions::from_mode(0o755)).unwrap();
        let mut command = std::process::Command::new(copy);
        command.uid(NOBODY).gid(NOBODY);
        command
    } else {
        std::process::Command::new(program)
    };
    command.env_clear().current_dir("/").arg("--book").arg(garden.path("")).args(words);
    command.output().unwrap()
}

#[cfg(unix)]
#[test]
fn what_may_not_be_read_is_said_and_costs_only_itself() {
    use std::os::unix::fs::PermissionsExt;
    let (garden, room) = (Garden::new(), tempdir().unwrap());
    let allow = |file: &str, mode| {
        fs::set_permissions(garden.path(file), fs::Permissions::from_mode(mode)).unwrap();
    };
    allow("", 0o755);
    allow(CROSS, 0o000);
    allow("crosses/2024", 0o000);
    let checked = as_somebody(&garden, &room, &["check", "--json"]);
    allow("", 0o000);
    let refused = as_somebody(&garden, &room, &["check"]);
    allow("", 0o755);
    allow("crosses/2024", 0o755);

    let found: serde_json::Value = serde_json::from_slice(&checked.stdout).unwrap();
    assert_eq!((checked.status.code(), &found["records"]["crosses"]), (Some(1), &1.into()));
    let problems = found["problems"].as_array().unwrap();
    let of =
        |problem: &serde_json::Value| problem["message"] == "You have no permission to read this.";
    let files: Vec<&str> =
        problems.iter().filter(|p| of(p)).map(|p| p["file"].as_str().unwrap()).collect();
    assert_eq!((files, problems.len()), (vec!["crosses/2024", CROSS], 2));
    let said = String::from_utf8(refused.stderr).unwrap();
    assert_eq!(refused.status.code(), Some(3));
    assert!(said.starts_with("trug: You have no permission to look into "), "{said}");
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_nowhere_is_a_problem_and_a_pipe_is_not_waited_for() {
    let garden = Garden::new();
    std::os::unix::fs::symlink("nowhere", garden.path("varieties/gone.ron")).unwrap();
    let pipe = garden.path("varieties/pipe.ron");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let problems = garden.problems();
    assert!(problems.starts_with("varieties/gone.ron:0:0: error: "), "{problems}");
    assert_eq!(problems.lines().count(), 2, "{problems}");
}
