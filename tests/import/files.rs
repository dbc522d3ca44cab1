//! How a file may be written.

use trug::exchange::import::{Kind, TEMPLATES};

use super::*;

const PLAIN: &str = "ferry-lantern \"Ferry Lantern\", Ada Quill, two, good\n";

#[test]
fn byte_order_mark_line_ends_of_windows_and_comments_are_accepted() {
    for text in [
        "variety,raiser,note\nFerry Lantern,Ada Quill,\"two, good\"\n",
        "\u{feff}variety,raiser,note\r\nFerry Lantern,Ada Quill,\"two, good\"\r\n",
        "# a \"list\" of ours\n#\n\nvariety,raiser,note\nFerry Lantern,Ada Quill,\"two, good\"",
        "\"# a list, of ours\",,\nvariety,raiser,note\n,,\nFerry Lantern , Ada Quill,\"two, good\"\n\n",
        "VARIETY,Raiser,Note\n\"Ferry Lantern\",\"Ada Quill\",\"two, good\"",
        "note,raiser,variety\n\"two, good\",Ada Quill,Ferry Lantern\n",
    ] {
        let tale = tale(&taken(&[("v.csv", text)]).book);
        assert_eq!(tale, PLAIN, "{text:?}");
    }
}

#[test]
fn quotes_inside_quotes_are_kept() {
    let text = "variety,note\nSaltmarsh,\"the \"\"pale\"\" one\"\nTide Pool,5\" across\n";
    let import = taken(&[("v.csv", text)]);
    assert_eq!(
        tale(&import.book),
        "saltmarsh \"Saltmarsh\", the \"pale\" one\ntide-pool \"Tide Pool\", 5\" across\n"
    );
}

#[test]
fn what_is_not_utf8_is_refused_with_its_place() {
    let files = [("v.csv".to_owned(), b"variety,note\nSaltmarsh,\xc3\xa9t\xe9\n".to_vec())];
    let Outcome::Refused(problems) = plan(&empty_book(), &files, Options::default()) else {
        panic!("taken");
    };
    assert_eq!((problems[0].line, problems[0].column), (2, 13));
    assert_eq!(problems[0].message, "The byte E9 here is not UTF-8.");
    let utf16: Vec<u8> = [0xff, 0xfe]
        .into_iter()
        .chain("variety".encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    let files = [("v.csv".to_owned(), utf16)];
    let Outcome::Refused(problems) = plan(&empty_book(), &files, Options::default()) else {
        panic!("taken");
    };
    assert_eq!(problems[0].message, "This file is written in UTF-16, not in UTF-8.");
}

#[test]
fn the_kind_of_a_file_is_told_by_its_header() {
    let import = taken(&[
        ("c.csv", "seed_parent,pollen_parent,season,kept\nA,B,2020,3\n"),
        ("l.csv", "plant,on,bloom_mm\n24-01,2024-08-01,90\n"),
        ("s.csv", "seedling\n24-01\n"),
        ("v.csv", "variety\nA\n"),
    ]);
    let kinds: Vec<Kind> = import.report.files.iter().map(|file| file.kind).collect();
    assert_eq!(kinds, [Kind::Counts, Kind::Looks, Kind::Seedlings, Kind::Varieties]);
}

#[test]
fn a_header_that_does_not_tell_is_refused_with_a_hint() {
    let hint = |text: &str| {
        let Outcome::Refused(problems) =
            plan(&empty_book(), &bytes(&[("x.csv", text)]), Options::default())
        else {
            panic!("taken");
        };
        assert_eq!((problems.len(), problems[0].line, problems[0].column), (1, 1, 1), "{text:?}");
        problems[0].hint.clone()
    };
    assert!(hint("varity,raiser\n").starts_with("Did you mean variety?"));
    assert!(hint("variety;raiser\nA;B\n").contains("split by commas"));
    assert!(hint("this,that\n").contains("a counts file has seed_parent"));
    assert!(hint("variety,seedling\n").contains("Split it in two"));
    assert!(hint("").contains("needs a header"));
    assert!(hint("# only a comment\n\n").contains("needs a header"));
}

#[test]
fn columns_unknown_twice_or_missing_are_refused_where_they_stand() {
    assert_eq!(
        refused(&[("s.csv", "seedling,colour,by,raiser,By,score:\n24-01,,,,,\n")]),
        [
            "s.csv:1:10: A seedlings file has no column \"colour\".",
            "s.csv:1:20: A seedlings file has no column \"raiser\".",
            "s.csv:1:27: The column by stands here for the second time.",
            "s.csv:1:30: A seedlings file has no column \"score:\".",
        ]
    );
    assert_eq!(
        refused(&[
            ("l.csv", "# looks\nplant,bloom_mm\nA,3\n"),
            ("c.csv", "seed_parent,kept\nA,3\n"),
            ("d.csv", "seed_parent,pollen_parent,season\n"),
        ]),
        [
            "l.csv:2:1: The column on is missing, and a looks file needs it.",
            "c.csv:1:1: The column pollen_parent is missing, and a counts file needs it.",
            "c.csv:1:1: The column season is missing, and a counts file needs it.",
            "d.csv:1:1: No column of this counts file has a count.",
        ]
    );
}

#[test]
fn an_unknown_column_is_answered_with_the_nearest() {
    let Outcome::Refused(problems) =
        plan(&empty_book(), &bytes(&[("s.csv", "seedling,colour\n")]), Options::default())
    else {
        panic!("taken");
    };
    assert_eq!(problems[0].hint, "Did you mean colours? Otherwise take the column out.");
}

#[test]
fn columns_without_a_name_may_be_empty_and_nothing_else() {
    let import = taken(&[("v.csv", "variety,,\nA,,\n")]);
    assert_eq!(tale(&import.book), "a \"A\"\n");
    assert_eq!(
        refused(&[("v.csv", "variety,\nA,x\n")]),
        ["v.csv:2:3: \"x\" stands in a column without a name."]
    );
}

#[test]
fn ragged_rows_and_slipped_quotes_cost_their_row_and_no_other() {
    let text = "variety,raiser,note\n\
                A,\"Ada\" Quill,x\n\
                B,Ada\n\
                C,Ada,x,y\n\
                D,Ada,\"never\n\
                é,\"Ada\",z,\n\
                F,\"a\nb\",x\n";
    assert_eq!(
        refused(&[("v.csv", text)]),
        [
            "v.csv:2:3: Text follows a closing quote.",
            "v.csv:3:3: This row has 2 cells, and the header has 3 columns.",
            "v.csv:4:9: This row has 4 cells, and the header has 3 columns.",
            "v.csv:5:7: Text follows a closing quote.",
            "v.csv:7:3: \"a�b\" runs over more than one line.",
        ]
    );
    assert_eq!(
        refused(&[("v.csv", "variety,raiser,note\nA,\"Ada,x\nB,,\nC,Ada\nD\n")]),
        [
            "v.csv:2:3: A quote is opened here and never closed.",
            "v.csv:4:3: This row has 2 cells, and the header has 3 columns.",
            "v.csv:5:1: This row has 1 cell, and the header has 3 columns.",
        ]
    );
}

#[test]
fn every_template_is_taken_as_it_stands() {
    let files: Vec<(&str, &str)> = TEMPLATES.iter().map(|t| (t.kind.word(), t.csv)).collect();
    let import = taken(&files);
    for (file, template) in import.report.files.iter().zip(TEMPLATES) {
        assert_eq!(file.kind, template.kind);
        assert_eq!(file.added, file.rows, "{file:?}");
    }
    assert_eq!(import.report.parents_added, ["24-031"]);
    for template in TEMPLATES {
        let header = template.csv.lines().next().unwrap();
        for column in header.split(',') {
            assert!(template.about.contains(column), "{column} of {:?}", template.kind);
        }
    }
}
