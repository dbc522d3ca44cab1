//! Which rows make which crosses and lots.

use super::*;

fn crosses(rows: &str) -> String {
    tale::crosses(&taken(&[("s.csv", rows)]).book)
}

#[test]
fn rows_without_a_code_share_a_cross_for_parents_season_and_way() {
    let rows = "seedling,seed_parent,pollen_parent,season,by,planted\n\
                1,A,B,2025,,2026-05-01\n\
                2,a,b,2025,hand,\n\
                3,A,B,2025,bees,\n\
                4,B,A,2025,,\n\
                5,A,B,,,2026-05-01\n\
                6,A,B,,,2027-05-01\n\
                7,A,A,2025,,\n\
                8,A,selfed,2025,,\n\
                9,,,,,\n";
    assert_eq!(
        crosses(rows),
        "X01: ? × ?, ?, bees\n  9\n\
         25X01: a × selfed, 2025, hand\n  7\n  8\n\
         25X02: a × b, 2025, hand\n  1; 2026-05-01 planted\n  2\n  5; 2026-05-01 planted\n\
         25X03: a × b, 2025, bees\n  3\n\
         25X04: b × a, 2025, hand\n  4\n\
         26X01: a × b, 2026, hand\n  6; 2027-05-01 planted\n"
    );
}

#[test]
fn candidates_share_what_the_weights_leave() {
    let rows = "seedling,seed_parent,pollen_parent,season\n\
                1,A,B|C,2025\n\
                2,A,C | B,2025\n\
                3,A,B|C|?,2025\n\
                4,A,B=0.5|C=0.3|?,2025\n\
                5,A,C=0.3|B=0.5,2025\n\
                6,A,B=0.5|C|D,2025\n\
                7,B=0.9,C=1,2025\n\
                8,A,?,2025\n";
    assert_eq!(
        crosses(rows),
        "25X01: a × b=0.333|c=0.333, 2025, bees\n  3\n\
         25X02: a × b=0.500|c=0.300, 2025, bees\n  4\n  5\n\
         25X03: a × b=0.500|c=0.500, 2025, bees\n  1\n  2\n\
         25X04: a × b=0.500|c=0.250|d=0.250, 2025, bees\n  6\n\
         25X05: a × ?, 2025, bees\n  8\n\
         25X06: b=0.900 × c, 2025, hand\n  7\n"
    );
}

#[test]
fn a_weight_that_cannot_be_is_refused() {
    let rows = "seedling,pollen_parent\n\
                1,A=0.7|B=0.5\n2,A=2\n3,A=x|B\n4,A|A\n5,A||B\n6,A=0.5|B=0.5|C\n7,A=-1\n8,A|a\n9,A=0\n\
                10,A=NaN\n";
    assert_eq!(
        refused(&[("s.csv", rows)]),
        [
            "s.csv:2:3: The weights in \"A=0.7|B=0.5\" come to more than 1.",
            "s.csv:3:3: The weight \"2\" is not a number between 0 and 1.",
            "s.csv:4:3: The weight \"x\" is not a number between 0 and 1.",
            "s.csv:5:3: A stands twice among the candidates.",
            "s.csv:6:3: A candidate is missing between two strokes.",
            "s.csv:7:3: The weights leave nothing for C.",
            "s.csv:8:3: The weight \"-1\" is not a number between 0 and 1.",
            "s.csv:9:3: a stands twice among the candidates.",
            "s.csv:10:3: The weights leave nothing for A.",
            "s.csv:11:4: The weight \"NaN\" is not a number between 0 and 1.",
        ]
    );
}

#[test]
fn a_code_groups_rows_and_one_row_speaks_for_all() {
    let rows = "seedling,cross,seed_parent,pollen_parent,season,by,sown\n\
                1,K,A,,,,2026-03-01\n\
                2,K,,B,,bees,2027-03-01\n\
                3,,A,B,2025,bees,\n\
                4,L,A,B,2024,,\n\
                5,L,,,,,2026-03-01\n";
    assert_eq!(
        crosses(rows),
        "L: a × b, 2024, hand\n  lot L-a sown 2026-03-01\n  4\n  5, lot L-a\n\
         K: a × b, 2025, bees\n  lot K-a sown 2026-03-01\n  lot K-b sown 2027-03-01\n  \
         1, lot K-a\n  2, lot K-b\n  3\n"
    );
}

#[test]
fn rows_of_one_code_that_disagree_are_refused() {
    let rows = "seedling,cross,seed_parent,pollen_parent,season,by\n\
                1,K,A,B,2025,hand\n\
                2,K,A,C,2025,hand\n\
                3,K,D,B,2024,bees\n\
                4,K,A,B,2025,\n";
    assert_eq!(
        refused(&[("s.csv", rows)]),
        [
            "s.csv:3:7: This row gives cross K the pollen parent C, and line 2 gives it B.",
            "s.csv:4:5: This row gives cross K the seed parent D, and line 2 gives it A.",
            "s.csv:4:9: This row gives cross K the season 2024, and line 2 gives it 2025.",
            "s.csv:4:14: This row gives cross K the way of pollinating bees, and line 2 gives it hand.",
        ]
    );
}

#[test]
fn a_row_without_a_code_that_fits_two_crosses_is_refused() {
    let rows = "seedling,cross,seed_parent,pollen_parent,season\n\
                1,K,A,B,2025\n2,L,A,B,2025\n3,,A,B,2025\n";
    assert_eq!(
        refused(&[("s.csv", rows)]),
        ["s.csv:4:1: Several crosses have these parents in this season."]
    );
}

#[test]
fn one_lot_for_each_sowing_and_kind_of_father() {
    let rows = "seedling,seed_parent,pollen_parent,season,by,father,sown\n\
                1,A,B,2025,hand,,2026-03-01\n\
                2,A,B,2025,hand,one,2026-03-01\n\
                3,A,B,2025,hand,each,2026-03-01\n\
                4,A,B,2025,hand,,2026-04\n\
                5,A,B,2025,hand,each,\n\
                6,A,B,2025,hand,one,\n\
                7,A,?,2025,bees,one,\n";
    assert_eq!(
        crosses(rows),
        "25X01: a × b, 2025, hand\n  \
         lot 25X01-a each\n  lot 25X01-b sown 2026-03-01\n  lot 25X01-c each sown 2026-03-01\n  \
         lot 25X01-d sown 2026-04\n  \
         1, lot 25X01-b\n  2, lot 25X01-b\n  3, lot 25X01-c\n  4, lot 25X01-d\n  5, lot 25X01-a\n  6\n\
         25X02: a × ?, 2025, bees\n  lot 25X02-a one\n  7, lot 25X02-a\n"
    );
}

#[test]
fn codes_follow_the_pattern_and_what_the_book_has() {
    let first = taken(&[("s.csv", "seedling,cross,season,seed_parent\n1,25X09,2025,A\n")]);
    let more = "seedling,season,seed_parent\n2,2025,B\n3,2025,A\n4,1999,A\n";
    let import = taken_into(&first.book, &[("s.csv", more)], Options::default());
    assert_eq!(import.report.crosses_made, ["25X10", "99X01"]);
    assert!(tale(&import.book).contains("25X09: a × ?, 2025, bees\n  1\n  3\n25X10: b × ?"));
    assert_eq!(import.changed.crosses, set(["25X09", "25X10", "99X01"]));
}
