//! Files that cannot be read: what is said, where, and that all the rest opens.

use super::garden::{BOOK, CROSS, VARIETY, lost};

#[test]
fn a_field_or_word_that_does_not_belong() {
    lost(
        CROSS,
        "by: Hand",
        "bi: Hand",
        r#"
        crosses/2025/25X07.ron:7:5: error: There is no field "bi" in such a record.
            The fields are format, code, season, seed, pollen, by, from, note, heads, lots, seedlings and totals.
        "#,
    );
    lost(
        CROSS,
        r#"note: "late""#,
        r#"nots: "late""#,
        r#"
        crosses/2025/25X07.ron:30:94: error: There is no field "nots" in such a record.
            Perhaps note is meant.
        "#,
    );
    lost(
        CROSS,
        "by: Hand",
        "by: Wind",
        r#"
        crosses/2025/25X07.ron:7:9: error: "Wind" is not a word that can stand here.
            The words are Hand and Bees.
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        "TagLst",
        r#"
        crosses/2025/25X07.ron:35:34: error: "TagLst" is not a word that can stand here.
            Perhaps TagLost is meant.
        "#,
    );
    lost(
        CROSS,
        "by: Hand",
        r#"by: "Hand""#,
        r#"
        crosses/2025/25X07.ron:7:9: error: A name or a word should stand here, not a text.
            Write it without quotation marks; a parent is written Known("24-031").
        "#,
    );
    lost(
        BOOK,
        r#"crop: "dahlia""#,
        r#"corp: "dahlia""#,
        r#"
        book.ron:5:5: error: There is no field "corp" in such a record.
            Perhaps crop is meant.
        "#,
    );
}

#[test]
fn a_field_twice() {
    lost(
        CROSS,
        "by: Hand",
        "by: Hand,\n    by: Bees",
        r#"
        crosses/2025/25X07.ron:8:5: error: The field "by" stands here a second time.
            Take one of the two out.
        "#,
    );
    lost(
        CROSS,
        r#"faults: ["open centre"]"#,
        "bloom_mm: 3",
        r#"
        crosses/2025/25X07.ron:30:69: error: The field "bloom_mm" stands here a second time.
            Take one of the two out.
        "#,
    );
    lost(
        CROSS,
        r#"(on: "2026-08", did"#,
        r#"(on: "2026-08", on: "2026-09", did"#,
        r#"
        crosses/2025/25X07.ron:35:29: error: The field "on" stands here a second time.
            Take one of the two out.
        "#,
    );
}

#[test]
fn a_field_that_is_missing() {
    lost(
        CROSS,
        "    code: \"25X07\",\n",
        "",
        r#"
        crosses/2025/25X07.ron:1:1: error: The field "code" is missing in this record.
            Add code: and its value.
        "#,
    );
    lost(
        CROSS,
        "    format: 1,\n",
        "",
        r#"
        crosses/2025/25X07.ron:1:1: error: The field "format" is missing in this record.
            Write format: 1 as its first field.
        "#,
    );
    lost(
        CROSS,
        r#"(on: "2026-08", did: TagLost)"#,
        "(did: TagLost)",
        r#"
        crosses/2025/25X07.ron:35:13: error: The field "on" is missing in this record.
            Add on: and its value.
        "#,
    );
    lost(
        CROSS,
        r#"number: "26-104", "#,
        "",
        r#"
        crosses/2025/25X07.ron:27:9: error: The field "number" is missing in this record.
            Add number: and its value.
        "#,
    );
    lost(
        VARIETY,
        "    id: \"ferry-lantern\",\n",
        "",
        r#"
        varieties/ferry-lantern.ron:1:1: error: The field "id" is missing in this record.
            Add id: and its value.
        "#,
    );
}

#[test]
fn a_file_of_another_format() {
    lost(
        CROSS,
        "format: 1",
        "format: 2",
        r#"
        crosses/2025/25X07.ron:2:13: error: The file is of format 2; this trug reads format 1 and older.
            Open it with a newer trug. Nothing in it was changed.
        "#,
    );
    lost(
        CROSS,
        "format: 1",
        r#"format: 7, moon: "waning""#,
        r#"
        crosses/2025/25X07.ron:2:13: error: The file is of format 7; this trug reads format 1 and older.
            Open it with a newer trug. Nothing in it was changed.
        "#,
    );
    lost(
        CROSS,
        "format: 1",
        "format: 0",
        r#"
        crosses/2025/25X07.ron:2:13: error: There never was a format 0.
            Write format: 1, or bring back an earlier copy of the file.
        "#,
    );
    lost(
        BOOK,
        "format: 1",
        "format: 2",
        r#"
        book.ron:2:13: error: The file is of format 2; this trug reads format 1 and older.
            Open it with a newer trug. Nothing in it was changed.
        "#,
    );
}

#[test]
fn a_sign_that_is_missing_or_wrong() {
    lost(
        CROSS,
        "by: Hand,",
        "by: Hand",
        r#"
        crosses/2025/25X07.ron:8:5: error: Something does not belong here; perhaps a comma is missing before it.
            Put a comma between two fields, and nothing after a word that takes no bracket; look too whether a quotation mark is missing further up.
        "#,
    );
    lost(
        CROSS,
        "by: Hand",
        "by Hand",
        r#"
        crosses/2025/25X07.ron:7:8: error: A colon is missing here.
            Write name: value.
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        "TagLost()",
        r#"
        crosses/2025/25X07.ron:35:41: error: Something does not belong here; perhaps a comma is missing before it.
            Put a comma between two fields, and nothing after a word that takes no bracket; look too whether a quotation mark is missing further up.
        "#,
    );
    lost(
        CROSS,
        "Planted()",
        "Planted",
        r#"
        crosses/2025/25X07.ron:34:44: error: A round bracket is missing here.
            This word takes a bracket even if nothing stands in it, such as Planted().
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        r#"Note("a\q")"#,
        r#"
        crosses/2025/25X07.ron:35:40: error: There is a backslash in this text with a sign after it that means nothing.
            Write \\ for a backslash and \" for a quotation mark.
        "#,
    );
    lost(
        CROSS,
        r#""2026-08""#,
        "“2026-08”",
        r#"
        crosses/2025/25X07.ron:35:18: error: A text should stand here.
            Put it in straight quotation marks, such as "24-031".
        "#,
    );
    lost(
        CROSS,
        r#"number: "26-105""#,
        r#"number: "26-105"#,
        r#"
        crosses/2025/25X07.ron:33:32: error: Something does not belong here; perhaps a comma is missing before it.
            Put a comma between two fields, and nothing after a word that takes no bracket; look too whether a quotation mark is missing further up.
        "#,
    );
}

#[test]
fn a_bracket_that_is_missing_or_wrong() {
    lost(
        CROSS,
        "did: TagLost),",
        "did: TagLost],",
        r#"
        crosses/2025/25X07.ron:35:41: error: The ( of line 35 is closed by a ] here.
            Write ) in its place, or look for a bracket that is missing before it.
        "#,
    );
    lost(
        CROSS,
        "did: TagLost),",
        "did: TagLost)),",
        r#"
        crosses/2025/25X07.ron:35:42: error: The [ of line 33 is closed by a ) here.
            Write ] in its place, or look for a bracket that is missing before it.
        "#,
    );
    lost(
        CROSS,
        "did: TagLost),",
        "did: TagLost,",
        r#"
        crosses/2025/25X07.ron:36:13: error: A name should stand here.
            Write name: value, or close the bracket before it if that is still open.
        "#,
    );
    lost(
        CROSS,
        "    ],\n)\n",
        "    ],\n)\n)\n",
        r#"
        crosses/2025/25X07.ron:40:1: error: This ) closes nothing.
            Take it out, or look for a bracket that is missing before it.
        "#,
    );
    lost(
        CROSS,
        "    ],\n)\n",
        "    ],\n)\nmore\n",
        r#"
        crosses/2025/25X07.ron:40:1: error: Something stands after the end of the record.
            A file holds one record; take the rest out.
        "#,
    );
}

#[test]
fn a_file_cut_short() {
    lost(
        CROSS,
        "    ],\n)\n",
        "    ],\n",
        r#"
        crosses/2025/25X07.ron:38:7: error: The file ends in the middle: the ( of line 1 is never closed.
            Close the bracket, or bring back an earlier copy if the end of the file is lost.
        "#,
    );
    lost(
        CROSS,
        "why: \"the leaf is dark\")),\n        ]),\n    ],\n)\n",
        r#"why: "the le"#,
        r#"
        crosses/2025/25X07.ron:36:68: error: The text that begins here never ends.
            Put a quotation mark where it ends, or bring back an earlier copy if the end of the file is lost.
        "#,
    );
    lost(
        CROSS,
        "did: TagLost),\n            (on: \"2026-08-30\", did: MovedFrom(cross: \"24X01\", why: \"the leaf is dark\")),\n        ]),\n    ],\n)\n",
        "did: Ta",
        r#"
        crosses/2025/25X07.ron:35:36: error: The file ends in the middle: the ( of line 35 is never closed.
            Close the bracket, or bring back an earlier copy if the end of the file is lost.
        "#,
    );
    lost(
        CROSS,
        r#"code: "25X07","#,
        r#"code: "25X07", /* not yet"#,
        r#"
        crosses/2025/25X07.ron:3:20: error: The comment that begins here never ends.
            Put */ where it ends.
        "#,
    );
}

#[test]
fn a_number_of_another_kind() {
    lost(
        CROSS,
        "season: 2025",
        r#"season: "2025""#,
        r#"
        crosses/2025/25X07.ron:4:13: error: A whole number should stand here.
            Write it in digits, without quotation marks.
        "#,
    );
    lost(
        CROSS,
        "season: 2025",
        "season: 99999",
        r#"
        crosses/2025/25X07.ron:4:13: error: This number is too large or too small to stand here.
            Look whether a digit or a sign slipped in.
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        r#"Planted(bed: "A", row: -7, place: 1)"#,
        r#"
        crosses/2025/25X07.ron:35:57: error: This number is too large or too small to stand here.
            Look whether a digit or a sign slipped in.
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        r#"Look(bloom_mm: "12")"#,
        r#"
        crosses/2025/25X07.ron:35:49: error: A number should stand here.
            Write it in digits with a point, without quotation marks.
        "#,
    );
}

#[test]
fn a_value_of_another_kind() {
    lost(
        CROSS,
        r#""2026-08""#,
        "2026",
        r#"
        crosses/2025/25X07.ron:35:18: error: A text should stand here.
            Put it in straight quotation marks, such as "24-031".
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        r#"Look(scores: ["form"])"#,
        r#"
        crosses/2025/25X07.ron:35:47: error: Scores by trait should stand here.
            Write them in braces, such as {"form": 7}.
        "#,
    );
    lost(
        CROSS,
        "TagLost",
        r#"Look(colours: "red")"#,
        r#"
        crosses/2025/25X07.ron:35:48: error: A list should stand here.
            Write it in square brackets, such as ["apricot"].
        "#,
    );
    lost(
        VARIETY,
        "gives_seed: true",
        "gives_seed: yes",
        r#"
        varieties/ferry-lantern.ron:10:17: error: Either true or false should stand here.
            Write one of the two, without quotation marks.
        "#,
    );
    lost(
        CROSS,
        r#"Known("25-10")"#,
        r#""25-10""#,
        r#"
        crosses/2025/25X07.ron:6:13: error: A name or a word should stand here, not a text.
            Write it without quotation marks; a parent is written Known("24-031").
        "#,
    );
    lost(
        CROSS,
        r#"Known("25-10")"#,
        r#"OneOf(["25-10"])"#,
        r#"
        crosses/2025/25X07.ron:6:20: error: A round bracket is missing here.
            A candidate is written ("24-031", 0.5).
        "#,
    );
    lost(
        CROSS,
        r#"Known("25-10")"#,
        r#"OneOf([("25-10", 1, 2)])"#,
        r#"
        crosses/2025/25X07.ron:6:33: error: There is more in this bracket than belongs there.
            Close it before this; a candidate is written ("24-031", 0.5).
        "#,
    );
    lost(
        BOOK,
        "Between(90, 120)",
        "Between(90)",
        r#"
        book.ron:18:42: error: There are too many or too few values in this bracket.
            A candidate is written ("24-031", 0.5), and a range Between(90, 130).
        "#,
    );
}

#[test]
fn a_merge_left_half_done() {
    lost(
        CROSS,
        "    by: Hand,\n",
        "<<<<<<< ours\n    by: Bees,\n=======\n    by: Hand,\n>>>>>>> theirs\n",
        r#"
        crosses/2025/25X07.ron:7:1: error: A merge was left half done here.
            Choose between the two sides, and take out the lines of <, = and > signs.
        "#,
    );
}
