//! What the book has already: the same is passed over, more is added, different is refused.

use super::*;

const FIRST: &str = "seedling,seed_parent,pollen_parent,season,planted,first_bloom,verdict,verdict_on\n\
                     26-1,A,B,2025,2026-05-29,2026-09,hold,2026-10-25\n\
                     26-2,A,B,2025,,,,\n";

fn first() -> Book {
    taken(&[("s.csv", FIRST)]).book
}

fn diary_of(book: &Book, number: &str) -> String {
    let tale = tale(book);
    tale.lines().find(|line| line.trim_start().starts_with(number)).unwrap().trim().to_owned()
}

#[test]
fn the_same_file_again_adds_nothing() {
    let again = taken_into(&first(), &[("s.csv", FIRST)], Options::default());
    assert!(again.report.changes_nothing());
    assert_eq!(again.report.files[0].same, 2);
    assert_eq!(tale(&again.book), tale(&first()));
    assert_eq!(again.changed, trug::exchange::import::Changed::default());
}

#[test]
fn more_about_a_plant_is_added_and_the_rest_left() {
    let more = "seedling,cross,sown,position,first_bloom,verdict,verdict_on,bloom_mm,look_on\n\
                26-1,25X01,2026-03-12,A/1/1,2026-09-14,keep,2027-10-01,95,2026-09-20\n\
                26-2,,2026-03-12,,,,,,\n";
    let import = taken_into(&first(), &[("s.csv", more)], Options::default());
    assert_eq!(
        diary_of(&import.book, "26-1"),
        "26-1, lot 25X01-a; 2026-05-29 planted A/1/1; 2026-09-14 bloomed; 2026-09-20 look 95 mm; \
         2026-10-25 hold; 2027-10-01 keep"
    );
    assert_eq!(import.report.files[0].more, 2);
    assert_eq!(import.changed.crosses, set(["25X01"]));
    let again = taken_into(&import.book, &[("s.csv", more)], Options::default());
    assert!(again.report.changes_nothing(), "{:?}", again.report);
}

#[test]
fn what_contradicts_the_book_is_refused_with_both_values() {
    let other = "seedling,seed_parent,pollen_parent,season,by,cross,planted,first_bloom,verdict,\
                 verdict_on\n\
                 26-1,A,C,2024,bees,25X02,2026-06-01,2026-08-14,keep,2026-10-25\n";
    assert_eq!(
        refused_by(&first(), &[("s.csv", other)], Options::default()),
        [
            "s.csv:2:8: Cross 25X01 has pollen_parent B in the book, and this row says C.",
            "s.csv:2:10: Cross 25X01 has season 2025 in the book, and this row says 2024.",
            "s.csv:2:15: Cross 25X01 has by hand in the book, and this row says bees.",
            "s.csv:2:20: This plant is of cross 25X01 in the book, and this row says 25X02.",
            "s.csv:2:26: 26-1 has planted 2026-05-29 already, and this row says 2026-06-01.",
            "s.csv:2:37: 26-1 has first_bloom 2026-09 already, and this row says 2026-08-14.",
            "s.csv:2:48: 26-1 has verdict hold on 2026-10-25 already, and this row says keep on \
             2026-10-25.",
        ]
    );
}

#[test]
fn a_packet_of_the_book_is_held_against_the_row() {
    let book =
        taken(&[("s.csv", "seedling,season,sown,father,by\n1,2025,2026-03,one,bees\n")]).book;
    let text = "seedling,sown,father\n1,2026-04-01,\n1,2026-04-01,\n";
    assert_eq!(
        refused_by(&book, &[("s.csv", text)], Options::default()),
        ["s.csv:2:3: 1 has sown 2026-03 already, and this row says 2026-04-01."]
    );
    let text = "seedling,sown,father\n1,2026-03-08,each\n";
    assert_eq!(
        refused_by(&book, &[("s.csv", text)], Options::default()),
        ["s.csv:2:14: 1 has father one already, and this row says each."]
    );
    let text = "seedling,sown,father\n1,2026-03-08,one\n";
    assert!(taken_into(&book, &[("s.csv", text)], Options::default()).report.changes_nothing());
}

#[test]
fn varieties_are_compared_too() {
    let book = taken(&[("v.csv", "variety,seed_parent,year,gives_seed\nA,B,2014,yes\n")]).book;
    let more = "variety,seed_parent,pollen_parent,colours\na,b,C,white\n";
    let import = taken_into(&book, &[("v.csv", more)], Options::default());
    assert_eq!(tale(&import.book), "a \"A\" of b × c, 2014, white, true\nb \"B\"\nc \"C\"\n");
    assert_eq!(import.changed.varieties, set(["a", "c"]));
    let other = "variety,seed_parent,year,gives_seed\nA,C,,\nB,,,\n";
    assert_eq!(
        refused_by(&book, &[("v.csv", other)], Options::default()),
        ["v.csv:2:3: A has seed_parent B already, and this row says C."]
    );
    assert_eq!(
        refused_by(&book, &[("v.csv", "variety,year\nA,2015\n")], Options::default()),
        ["v.csv:2:3: A has year 2014 already, and this row says 2015."]
    );
    assert_eq!(
        refused_by(&book, &[("v.csv", "variety,gives_seed\nA,no\n")], Options::default()),
        ["v.csv:2:3: A has gives_seed yes already, and this row says no."]
    );
}

#[test]
fn a_second_look_of_the_same_day_fills_the_first_or_is_refused() {
    let book = taken(&[
        ("s.csv", FIRST),
        ("l.csv", "plant,on,bloom_mm,score:form\n26-1,2026-09-20,95,7\n"),
    ])
    .book;
    let more = "plant,on,who,bloom_mm,height_cm\n\
                26-1,2026-09-20,,95,120\n\
                26-1,2026-09-20,Nora,99,\n";
    let import = taken_into(&book, &[("l.csv", more)], Options::default());
    assert!(diary_of(&import.book, "26-1").contains(
        "2026-09-20 look 95 mm 120 cm form 7; 2026-09-20 look 99 mm (Nora); 2026-10-25 hold"
    ));
    let other = "plant,on,bloom_mm,score:form\n26-1,2026-09-20,96,8\n26-1,2026-09-20,,8\n";
    assert_eq!(
        refused_by(&book, &[("l.csv", other)], Options::default()),
        [
            "l.csv:2:17: 26-1 has bloom_mm 95 already, and this row says 96.",
            "l.csv:3:18: 26-1 has score:form 7 already, and this row says 8.",
        ]
    );
}

#[test]
fn the_same_number_twice_must_be_the_same_row() {
    let head = "seedling,seed_parent,first_bloom\n";
    let import = taken(&[("s.csv", &format!("{head}1,A,2026-08-01\n1, a ,2026-08-01\n"))]);
    assert_eq!((import.report.files[0].added, import.report.files[0].same), (1, 1));
    let text = format!("{head}1,A,2026-08-01\n1,A,2026-08-02\n2,A,\n2,,\n");
    assert_eq!(
        refused(&[("s.csv", &text)]),
        [
            "s.csv:3:5: 1 stands on line 2 too, with first_bloom 2026-08-01 there and 2026-08-02 here.",
            "s.csv:5:1: 2 stands on line 4 too, with seed_parent A there and nothing here.",
        ]
    );
}

#[test]
fn two_files_may_each_say_a_part_of_the_same_plant() {
    let import = taken(&[
        ("who.csv", "seedling,seed_parent,pollen_parent,season\n1,A,B,2025\n"),
        ("bloom.csv", "seedling,first_bloom\n1,2026-08-01\n"),
    ]);
    assert_eq!(diary_of(&import.book, "1;"), "1; 2026-08-01 bloomed");
    assert_eq!((import.report.files[0].added, import.report.files[1].more), (1, 1));
    assert_eq!(
        refused(&[("a.csv", "seedling,season\n1,2025\n"), ("b.csv", "seedling,season\n1,2024\n"),]),
        ["b.csv:2:3: 1 stands on line 2 of a.csv too, with season 2025 there and 2024 here."]
    );
}
