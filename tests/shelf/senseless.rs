//! Values that make no sense in files that can be read: what is said, where, and that all else
//! of the file is there.

use super::garden::{BOOK, CROSS, VARIETY, altered};

#[test]
fn a_date_that_does_not_exist() {
    altered(
        CROSS,
        r#""2026-08""#,
        r#""2026-02-30""#,
        r#"
        crosses/2025/25X07.ron:35:18: error: There is no 2026-02-30 in the calendar.
            Write the day it was; YYYY-MM or YYYY will do where the day is not known.
        "#,
    );
    altered(
        CROSS,
        r#""2026-08""#,
        r#""2026-13""#,
        r#"
        crosses/2025/25X07.ron:35:18: error: There is no 2026-13 in the calendar.
            Write the day it was; YYYY-MM or YYYY will do where the day is not known.
        "#,
    );
    altered(
        CROSS,
        r#""2026-08""#,
        r#""soon""#,
        r#"
        crosses/2025/25X07.ron:35:18: error: "soon" is not a date.
            Write dates as YYYY-MM-DD, or YYYY-MM or YYYY where no more is known.
        "#,
    );
    altered(
        BOOK,
        r#"today: "2026-11-20""#,
        r#"today: "2026-11""#,
        r#"
        book.ron:8:12: error: 2026-11 is not a day.
            This date needs its day: YYYY-MM-DD.
        "#,
    );
    altered(
        BOOK,
        "season: 2025",
        "season: -3",
        r#"
        book.ron:14:18: error: -3 is not a year.
            Write the year with four digits, or take the field out if it is not known.
        "#,
    );
    altered(
        CROSS,
        "season: 2025",
        "season: 20255",
        r#"
        crosses/2025/25X07.ron:4:13: error: 20255 is not a year.
            Write the year with four digits, or take the field out if it is not known.
        "#,
    );
}

#[test]
fn a_number_that_is_none() {
    altered(
        CROSS,
        "TagLost",
        "Look(bloom_mm: NaN, height_cm: inf)",
        r#"
        crosses/2025/25X07.ron:35:49: error: NaN is not a number that can be used.
            Write an ordinary number, or take the field out if it is not known.
        crosses/2025/25X07.ron:35:65: error: inf is not a number that can be used.
            Write an ordinary number, or take the field out if it is not known.
        "#,
    );
    altered(
        CROSS,
        "TagLost",
        "Look(bloom_mm: 1e999)",
        r#"
        crosses/2025/25X07.ron:35:49: error: inf is not a number that can be used.
            Write an ordinary number, or take the field out if it is not known.
        "#,
    );
    altered(
        CROSS,
        "TagLost",
        r#"Look(scores: {"form": NaN})"#,
        r#"
        crosses/2025/25X07.ron:35:48: error: NaN is not a number that can be used.
            Write an ordinary number, or take the field out if it is not known.
        "#,
    );
    altered(
        BOOK,
        "Between(90, 120)",
        "Between(90, NaN)",
        r#"
        book.ron:18:44: error: NaN is not a number that can be used.
            Write an ordinary number, or take the field out if it is not known.
        "#,
    );
    altered(
        VARIETY,
        "bloom_mm: 105",
        "bloom_mm: -inf",
        r#"
        varieties/ferry-lantern.ron:8:15: error: -inf is not a number that can be used.
            Write an ordinary number, or take the field out if it is not known.
        "#,
    );
}

#[test]
fn a_control_character_in_a_text() {
    altered(
        CROSS,
        "TagLost",
        "Lost(\"a\u{1b}[31mb\")",
        r#"
        crosses/2025/25X07.ron:35:39: error: There is a control character, U+001B, in this text.
            Write the text again without it; line breaks and tabs belong in notes only.
        "#,
    );
    altered(
        CROSS,
        "TagLost",
        r#"Lost("a\u{9b}b")"#,
        r#"
        crosses/2025/25X07.ron:35:39: error: There is a control character, U+009B, in this text.
            Write the text again without it; line breaks and tabs belong in notes only.
        "#,
    );
    altered(
        CROSS,
        "TagLost",
        "Lost(\"a\nb\")",
        r#"
        crosses/2025/25X07.ron:35:39: error: There is a control character, U+000A, in this text.
            Write the text again without it; line breaks and tabs belong in notes only.
        "#,
    );
    altered(
        CROSS,
        "TagLost",
        r#"Note("a\u{202e}b")"#,
        r#"
        crosses/2025/25X07.ron:35:39: error: There is a control character, U+202E, in this text.
            Write the note again without it.
        "#,
    );
    altered(
        VARIETY,
        r#""Ferry Lantern""#,
        r#""Ferry\u{7}Lantern""#,
        r#"
        varieties/ferry-lantern.ron:4:11: error: There is a control character, U+0007, in this text.
            Write the text again without it; line breaks and tabs belong in notes only.
        "#,
    );
    altered(
        CROSS,
        r#"code: "25X07""#,
        r#"code: "25\tX07""#,
        r#"
        crosses/2025/25X07.ron:3:11: error: There is a control character, U+0009, in this text.
            Write the text again without it; line breaks and tabs belong in notes only.
        "#,
    );
}

#[test]
fn a_trait_scored_twice() {
    altered(
        CROSS,
        "TagLost",
        r#"Look(scores: {"form": 3, "stem": 1, "form": 4})"#,
        r#"
        crosses/2025/25X07.ron:35:70: error: "form" is scored twice in one look.
            Take one of the two out; the first is used until then.
        "#,
    );
}

#[test]
fn weights_that_are_no_probabilities() {
    altered(
        CROSS,
        r#"Known("25-10")"#,
        r#"OneOf([("25-10", 1.5)])"#,
        r#"
        crosses/2025/25X07.ron:6:30: error: The weight 1.5 of "25-10" is not between 0 and 1.
            Write the chance that it was this plant, such as 0.5.
        "#,
    );
    altered(
        CROSS,
        r#"Known("25-10")"#,
        r#"OneOf([("25-10", 0.5), ("saltmarsh", 0.75)])"#,
        r#"
        crosses/2025/25X07.ron:6:13: error: The weights of these candidates add up to 1.25, which is more than 1.
            Make them add up to 1, or to less where it may have been another plant.
        "#,
    );
    altered(
        CROSS,
        r#"Known("25-10")"#,
        r#"OneOf([("25-10", 0.5), ("saltmarsh", NaN)])"#,
        r#"
        crosses/2025/25X07.ron:6:50: error: The weight NaN of "saltmarsh" is not between 0 and 1.
            Write the chance that it was this plant, such as 0.5.
        "#,
    );
}

#[test]
fn a_position_that_is_none() {
    altered(
        CROSS,
        "TagLost",
        r#"Planted(bed: "A", row: 7)"#,
        r#"
        crosses/2025/25X07.ron:35:34: error: A position is a bed, a row and a place, the last two counted from 1.
            Write all three, such as Planted(bed: "A", row: 3, place: 12), or Planted() where the position is not known.
        "#,
    );
    altered(
        CROSS,
        "TagLost",
        r#"Planted(bed: "A", row: 0, place: 3)"#,
        r#"
        crosses/2025/25X07.ron:35:34: error: A position is a bed, a row and a place, the last two counted from 1.
            Write all three, such as Planted(bed: "A", row: 3, place: 12), or Planted() where the position is not known.
        "#,
    );
}
