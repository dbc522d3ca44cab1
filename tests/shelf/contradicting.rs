//! Records that contradict each other, the calendar or the crop: what is said and where.

use super::garden::{BOOK, CROSS, OLDER, UNDATED, VARIETY, odd};

#[test]
fn a_number_or_code_borne_twice() {
    odd(
        CROSS,
        r#"number: "26-104""#,
        r#"number: "25-9""#,
        r#"
        crosses/2025/25X07.ron:27:9: error: There is another plant called "25-9" already, a seedling of the cross "24X01".
            If they are two plants, give this one an id of its own, such as id: "25-9 of 25X07".
        "#,
    );
    odd(
        CROSS,
        r#"id: "26-105 b""#,
        r#"id: "saltmarsh""#,
        r#"
        crosses/2025/25X07.ron:33:9: error: There is another plant called "saltmarsh" already, a variety.
            If they are two plants, give this one an id of its own, such as id: "saltmarsh of 25X07".
        "#,
    );
    odd(
        CROSS,
        r#"code: "25X07-a""#,
        r#"code: "24X01-a""#,
        r#"
        crosses/2025/25X07.ron:21:9: error: There is another packet with the code "24X01-a" already, of the cross "24X01".
            Give one of the two another code.
        crosses/2025/25X07.ron:27:33: error: This cross has no packet "25X07-a" of which 26-104 came.
            Did you mean "24X01-a"? Add the packet to the cross, or take the field out.
        "#,
    );
    odd(
        CROSS,
        "did: TagLost",
        r#"did: Named("ferry lantern")"#,
        r#"
        crosses/2025/25X07.ron:33:9: warning: Both this plant and "ferry-lantern" are named ferry lantern here.
            A seedling that was named needs no variety beside it: one plant, one record.
        "#,
    );
}

#[test]
fn a_parent_nobody_knows() {
    odd(
        CROSS,
        r#"seed: Known("ferry-lantern")"#,
        r#"seed: Known("fery-lantern")"#,
        r#"
        crosses/2025/25X07.ron:5:11: error: The seed parent "fery-lantern" is nobody in this book.
            Did you mean "ferry-lantern"? Otherwise add it as a variety, or write Unknown.
        "#,
    );
    odd(
        CROSS,
        r#"seed: Known("ferry-lantern")"#,
        r#"seed: Known("Ferry Lantern")"#,
        r#"
        crosses/2025/25X07.ron:5:11: error: The seed parent "Ferry Lantern" is nobody in this book.
            Write "ferry-lantern", by which others refer to it.
        "#,
    );
    odd(
        CROSS,
        r#"Known("25-10")"#,
        r#"Known("Quillet Straw")"#,
        r#"
        crosses/2025/25X07.ron:6:13: error: The pollen parent "Quillet Straw" is nobody in this book.
            Write "25-10", by which others refer to it.
        "#,
    );
    odd(
        CROSS,
        r#"Known("25-10")"#,
        r#"Known("26-105")"#,
        r#"
        crosses/2025/25X07.ron:6:13: error: The pollen parent "26-105" is nobody in this book.
            Write "26-105 b", by which others refer to it.
        "#,
    );
    odd(
        CROSS,
        r#"Known("25-10")"#,
        r#"Known("xyzzy")"#,
        r#"
        crosses/2025/25X07.ron:6:13: error: The pollen parent "xyzzy" is nobody in this book.
            Look how it is written, add it as a variety, or write Unknown.
        "#,
    );
    odd(
        OLDER,
        r#"("saltmarsh", 0.5)"#,
        r#"("salt", 0.5)"#,
        r#"
        crosses/2024/24X01.ron:6:20: error: The pollen parent "salt" is nobody in this book.
            Did you mean Saltmarsh? Then write "saltmarsh".
        "#,
    );
    odd(
        VARIETY,
        r#"seed: Known("saltmarsh")"#,
        r#"seed: Known("saltmarch")"#,
        r#"
        varieties/ferry-lantern.ron:5:11: error: The seed parent "saltmarch" is nobody in this book.
            Did you mean Saltmarsh? Then write "saltmarsh".
        "#,
    );
}

#[test]
fn candidates_named_twice_or_none() {
    odd(
        OLDER,
        r#"("saltmarsh", 0.5)"#,
        r#"("ferry-lantern", 0.5)"#,
        r#"
        crosses/2024/24X01.ron:6:44: warning: The candidate "ferry-lantern" is named twice.
            Take one of the two out, and give the other both weights.
        "#,
    );
    odd(
        OLDER,
        r#"[("saltmarsh", 0.5), ("ferry-lantern", 0.25)]"#,
        "[]",
        r#"
        crosses/2024/24X01.ron:6:13: warning: This list of candidates is empty.
            Write Unknown if nobody knows the parent.
        "#,
    );
}

#[test]
fn a_plant_pollinated_with_itself() {
    odd(
        CROSS,
        r#"Known("25-10")"#,
        r#"Known("ferry-lantern")"#,
        r#"
        crosses/2025/25X07.ron:6:13: warning: The seed parent and the pollen parent are both "ferry-lantern".
            If it was pollinated with itself, write Selfed as its pollen; if not, one is wrong.
        "#,
    );
}

#[test]
fn a_parent_that_cannot_have_been_there() {
    odd(
        OLDER,
        r#"seed: Known("ferry-lantern")"#,
        r#"seed: Known("26-104")"#,
        r#"
        crosses/2024/24X01.ron:5:11: error: The seed parent "26-104" comes of the cross "25X07", which was made later than this one.
            Look whether the season of one of the two is wrong, or the parent.
        "#,
    );
    odd(
        VARIETY,
        r#"did: Planted(bed: "by the wall", row: 1, place: 3)"#,
        r#"did: Lost("frost")"#,
        r#"
        crosses/2024/24X01.ron:5:11: warning: The seed parent "ferry-lantern" was lost on 2021-05-30, before this cross was made in 2024.
            Look whether the season, the parent or the loss is wrong.
        crosses/2025/25X07.ron:5:11: warning: The seed parent "ferry-lantern" was lost on 2021-05-30, before this cross was made in 2025.
            Look whether the season, the parent or the loss is wrong.
        "#,
    );
}

#[test]
fn a_date_in_the_future() {
    odd(
        CROSS,
        r#""2026-08""#,
        r#""2062-08""#,
        r#"
        crosses/2025/25X07.ron:35:13: error: 2062-08 has not come yet; today is 2026-11-20.
            Look whether the date is right.
        "#,
    );
    odd(
        CROSS,
        "season: 2025",
        "season: 2052",
        r#"
        crosses/2025/25X07.ron:4:13: error: The season 2052 has not come yet; today is 2026-11-20.
            Look whether the year is right.
        "#,
    );
    odd(
        BOOK,
        r#"last: "2026-04-27""#,
        r#"last: "2026-04-27", first: "2026-12-01""#,
        r#"
        book.ron:15:9: error: The frost of 2026-12-01 has not come yet; today is 2026-11-20.
            Look whether the date is right.
        "#,
    );
}

#[test]
fn bloom_before_planting() {
    odd(
        CROSS,
        r#"(on: "2026-09-14", did: FirstBloom)"#,
        r#"(on: "2026-05-14", did: FirstBloom)"#,
        r#"
        crosses/2025/25X07.ron:29:13: error: 26-104 was in bloom on 2026-05-14, before it was planted on 2026-05-29.
            Look whether one of the two dates is wrong.
        "#,
    );
}

#[test]
fn events_before_what_must_come_first() {
    odd(
        CROSS,
        r#"(on: "2026-05-29", did: Planted())"#,
        r#"(on: "2024-05-29", did: Planted())"#,
        r#"
        crosses/2025/25X07.ron:34:13: error: 2024-05-29 is before this cross was made in 2025.
            Look whether the date or the season of the cross is wrong.
        "#,
    );
    odd(
        CROSS,
        r#"(on: "2026-05-29", did: Planted(bed: "A", row: 3, place: 12))"#,
        r#"(on: "2026-02-11", did: Planted(bed: "A", row: 3, place: 12))"#,
        r#"
        crosses/2025/25X07.ron:28:13: error: It was planted on 2026-02-11, before its seed was sown on 2026-03-12.
            Look whether the year of one of the two is wrong.
        "#,
    );
    odd(
        CROSS,
        r#"(on: "2025-08-14", did: Pollinated)"#,
        r#"(on: "2025-10-14", did: Pollinated)"#,
        r#"
        crosses/2025/25X07.ron:11:13: error: 2025-10-02 is before the head was pollinated on 2025-10-14.
            Look whether one of the two dates is wrong.
        "#,
    );
    odd(
        CROSS,
        r#"(on: "2025-08-14", did: Pollinated)"#,
        r#"(on: "2026-08-14", did: Pollinated)"#,
        r#"
        crosses/2025/25X07.ron:10:13: warning: This head was pollinated on 2026-08-14, and the cross is of 2025.
            Pollinations of another season are a cross of their own.
        crosses/2025/25X07.ron:11:13: error: 2025-10-02 is before the head was pollinated on 2026-08-14.
            Look whether one of the two dates is wrong.
        "#,
    );
    odd(
        CROSS,
        r#"(on: "2026-08-30", did: Moved"#,
        r#"(on: "2026-07-30", did: Moved"#,
        r#"
        crosses/2025/25X07.ron:36:13: warning: This entry of 2026-07-30 stands after one of 2026-08.
            Look whether a date is wrong; a diary has its oldest entry first.
        "#,
    );
    odd(
        CROSS,
        r#"(on: "2026-03-12", did: Sown"#,
        r#"(on: "2024-03-12", did: Sown"#,
        r#"
        crosses/2025/25X07.ron:22:13: error: 2024-03-12 is before this cross was made in 2025.
            Look whether the date or the season of the cross is wrong.
        "#,
    );
}

#[test]
fn life_after_a_loss() {
    odd(
        OLDER,
        r#"(on: "2025-12-01", did: Lost("rotted in store")),"#,
        "(on: \"2025-12-01\", did: Lost(\"rotted in store\")),\n            (on: \"2026-01-01\", did: Verdict(is: Keep)),",
        r#"
        crosses/2024/24X01.ron:21:13: warning: 25-9 has a verdict of 2026-01-01, but was lost on 2025-12-01.
            Take the loss out if it was found again.
        "#,
    );
    odd(
        OLDER,
        "did: Verdict(is: Keep",
        "did: Lost(\"eaten\")),\n            (on: \"2025-10-10\", did: Verdict(is: Keep",
        r#"
        crosses/2024/24X01.ron:28:13: warning: 25-10 was alive on 2025-11-05, but was lost on 2025-10-10.
            Take the loss out if it was found again.
        "#,
    );
}

#[test]
fn a_first_bloom_twice() {
    odd(
        OLDER,
        r#"(on: "2026-03-15", did: Woken)"#,
        r#"(on: "2026-07-15", did: FirstBloom)"#,
        r#"
        crosses/2024/24X01.ron:29:13: warning: 25-10 has a first bloom already.
            Take one of the two out; blooms of later seasons are looks.
        "#,
    );
}

#[test]
fn packets_and_sowings_that_do_not_add_up() {
    odd(
        OLDER,
        "Given(seeds: 10",
        "Given(seeds: 11",
        r#"
        crosses/2024/24X01.ron:9:9: warning: 41 seeds were sown or given from this packet, and it held 40.
            Look whether one of the counts is wrong.
        "#,
    );
    odd(
        CROSS,
        "Up(14)",
        "Up(41)",
        r#"
        crosses/2025/25X07.ron:21:9: warning: 41 seedlings came up of 20 seeds sown.
            Look whether one of the counts is wrong; Up takes only those that are new.
        "#,
    );
    odd(
        CROSS,
        r#"lot: "25X07-a""#,
        r#"lot: "25X07-b""#,
        r#"
        crosses/2025/25X07.ron:27:33: error: This cross has no packet "25X07-b" of which 26-104 came.
            Did you mean "25X07-a"? Add the packet to the cross, or take the field out.
        "#,
    );
    odd(
        CROSS,
        r#"lot: "25X07-a""#,
        r#"lot: "24X01-a""#,
        r#"
        crosses/2025/25X07.ron:27:33: error: This cross has no packet "24X01-a" of which 26-104 came.
            That packet is of the cross "24X01": move the seedling there, or write a packet of this cross.
        "#,
    );
}

#[test]
fn totals_that_cannot_be() {
    odd(
        UNDATED,
        "kept: 2",
        "kept: 20",
        r#"
        crosses/undated/12%2F01.ron:9:13: error: 20 kept of 18 judged cannot be.
            Look whether one of the two is wrong; none can be more than the one before it.
        "#,
    );
    odd(
        UNDATED,
        "totals: (",
        "seedlings: [(number: \"12-1\")],\n    totals: (",
        r#"
        crosses/undated/12%2F01.ron:10:13: warning: The totals and the records of this cross both count: planted, bloomed, judged, kept.
            Both are added up: let the totals count only what has no record of its own.
        "#,
    );
    odd(
        OLDER,
        "        ]),\n    ],\n)\n",
        "        ]),\n    ],\n    totals: (seeds: 40, up: 21, judged: 1),\n)\n",
        r#"
        crosses/2024/24X01.ron:33:13: warning: The totals and the records of this cross both count: seeds, up, judged.
            Both are added up: let the totals count only what has no record of its own.
        "#,
    );
}

#[test]
fn two_plants_at_one_place() {
    odd(
        CROSS,
        "row: 3, place: 12",
        "row: 6, place: 26",
        r#"
        crosses/2025/25X07.ron:28:13: warning: The bed "A" has 6 rows of 25 places, so there is no A/6/26 in it.
            Look whether the position is right, or make the bed larger in book.ron.
        "#,
    );
    odd(
        CROSS,
        "Planted()",
        r#"Planted(bed: "A", row: 3, place: 12)"#,
        r#"
        crosses/2025/25X07.ron:34:13: warning: 26-104 was planted at A/3/12 too in 2026.
            Look whether one of the two stands elsewhere.
        "#,
    );
    odd(
        CROSS,
        r#"bed: "A", row: 3"#,
        r#"bed: "a", row: 3"#,
        r#"
        crosses/2025/25X07.ron:28:13: warning: There is no bed "a" on the first page of the book.
            Did you mean "A"? Write it the same in both places, or add the bed.
        "#,
    );
}

#[test]
fn sizes_that_cannot_be() {
    odd(
        VARIETY,
        "bloom_mm: 105",
        "bloom_mm: 0",
        r#"
        varieties/ferry-lantern.ron:8:15: error: A bloom of 0 mm cannot be.
            Write what was measured, or take the field out.
        "#,
    );
}

#[test]
fn the_first_page() {
    odd(
        BOOK,
        r#"crop: "dahlia""#,
        r#"crop: "dhalia""#,
        r#"
        book.ron:5:11: error: There is no crop "dhalia"; that of dahlias is used instead.
            Write one that comes with trug (dahlia), or put crop.ron with your own beside this file.
        "#,
    );
    odd(
        BOOK,
        "ploidy: 8",
        "ploidy: 5",
        r#"
        book.ron:6:13: error: A ploidy of 5 cannot be reckoned with.
            Write 2, 4, 6 or 8, or take the field out to use that of the crop.
        "#,
    );
    odd(
        BOOK,
        "double_reduction: 0.05",
        "double_reduction: 5",
        r#"
        book.ron:7:23: error: A double reduction of 5 cannot be at ploidy 8.
            Write a number from 0 to 0.166, or take the field out.
        "#,
    );
    odd(
        BOOK,
        "Between(90, 120)",
        "Between(120, 90)",
        r#"
        book.ron:18:9: error: There is nothing between 120 and 90.
            Write the smaller value first.
        "#,
    );
    odd(
        BOOK,
        "weight: 0.5",
        "weight: -1",
        r#"
        book.ron:19:9: error: An aim cannot matter less than nothing, as -1 says.
            Write Less for a trait that you want little of, and a weight above 0.
        "#,
    );
    odd(
        BOOK,
        r#"last: "2025-05-02", first: "2025-10-28""#,
        r#"last: "2025-10-28", first: "2025-05-02""#,
        r#"
        book.ron:14:9: error: The first frost of autumn, 2025-05-02, is not after the last of spring, 2025-10-28.
            Look whether the two are swapped.
        "#,
    );
    odd(
        BOOK,
        r#"last: "2025-05-02""#,
        r#"last: "2024-05-02""#,
        r#"
        book.ron:14:9: error: The frost of 2024-05-02 does not lie in the season 2025.
            Write the last frost of spring and the first of autumn of the same year.
        "#,
    );
    odd(
        BOOK,
        r#"name: "by the wall""#,
        r#"name: "A""#,
        r#"
        book.ron:11:9: warning: The bed "A" stands here a second time.
            Give one of the two another name, or take it out.
        varieties/ferry-lantern.ron:15:9: warning: There is no bed "by the wall" on the first page of the book.
            Write it the same in both places, or add the bed.
        "#,
    );
}
