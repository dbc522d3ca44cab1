//! Families of which only totals are known.

use trug::exchange::import::Overlap;

use super::*;

const ONE: &str = "seed_parent,pollen_parent,season,planted,bloomed,judged,kept,judged_season\n\
                   A,B,2020,30,25,24,6,2021\n\
                   A,B=0.5|C,2020,,,10,1,2022\n";
const TWO_PLANTS: &str = "seedling,seed_parent,pollen_parent,season,first_bloom,verdict,verdict_on\n\
                          21-1,A,B,2020,2021-08-01,keep,2021-10-01\n\
                          21-2,A,B,2020,2021-08-02,discard,2021-10-01\n";

fn with(overlap: Overlap) -> Options {
    Options { overlap, ..Options::default() }
}

fn crosses(import: &Import) -> String {
    tale::crosses(&import.book)
}

#[test]
fn totals_make_a_cross_with_a_code() {
    assert_eq!(
        crosses(&taken(&[("c.csv", ONE)])),
        "20X01: a × b, 2020, hand\n  totals 30 planted, 25 bloomed, 24 judged, 6 kept\n\
         20X02: a × b=0.500|c=0.500, 2020, bees\n  totals 10 judged, 1 kept, judged in 2022\n"
    );
}

#[test]
fn more_than_there_were_before_cannot_be() {
    let text = "seed_parent,pollen_parent,season,seeds,sown,up,planted,bloomed,judged,kept,\
                judged_season\n\
                A,B,2020,9,10,,,,,,\n\
                A,C,2020,,,,,5,,6,\n\
                A,D,2020,10,10,9,9,9,9,9,2019\n\
                A,E,2020,x,-1,1.5,4294967296,12.0,1e3,7,\n";
    assert_eq!(
        refused(&[("c.csv", text)]),
        [
            "c.csv:2:12: 10 sown of 9 seeds cannot be.",
            "c.csv:3:17: 6 kept of 5 bloomed cannot be.",
            "c.csv:4:26: The plants were judged in 2019, before the cross was made in 2020.",
            "c.csv:5:10: \"x\" is not a count.",
            "c.csv:5:12: \"-1\" is not a count.",
            "c.csv:5:15: \"1.5\" is not a count.",
            "c.csv:5:19: \"4294967296\" is not a count.",
            "c.csv:5:35: \"1e3\" is not a count.",
        ]
    );
}

#[test]
fn the_same_family_counted_twice_must_be_counted_alike() {
    let head = "seed_parent,pollen_parent,season,kept\n";
    let import = taken(&[("c.csv", &format!("{head}A,B,2020,3\nA,B,2020,3\n"))]);
    assert_eq!((import.report.files[0].added, import.report.files[0].same), (1, 1));
    assert_eq!(
        refused(&[("c.csv", &format!("{head}A,B,2020,3\nA,C,2020,3\na,b,2020,4\n"))]),
        ["c.csv:4:1: The same parents and season are counted on line 2 too, and differently."]
    );
}

#[test]
fn numbered_plants_and_totals_of_one_cross_are_refused() {
    assert_eq!(
        refused(&[("c.csv", ONE), ("s.csv", TWO_PLANTS)]),
        ["c.csv:2:1: Cross 20X01 has numbered plants, and this row counts them in total."]
    );
    let counted = taken(&[("c.csv", ONE)]).book;
    assert_eq!(
        refused_by(&counted, &[("s.csv", TWO_PLANTS)], Options::default()),
        ["s.csv:2:1: Cross 20X01 has totals, and here come numbered plants."]
    );
    let numbered = taken(&[("s.csv", TWO_PLANTS)]).book;
    assert_eq!(
        refused_by(&numbered, &[("c.csv", ONE)], Options::default()),
        ["c.csv:2:1: Cross 20X01 has numbered plants, and this row counts them in total."]
    );
}

#[test]
fn where_counts_win_the_whole_family_is_as_counted() {
    let both = taken_into(
        &empty_book(),
        &[("c.csv", ONE), ("s.csv", TWO_PLANTS)],
        with(Overlap::CountsWin),
    );
    assert!(crosses(&both).contains(
        "20X01: a × b, 2020, hand\n  \
         21-1; 2021-08-01 bloomed; 2021-10-01 keep\n  21-2; 2021-08-02 bloomed; 2021-10-01 discard\n  \
         totals 28 planted, 23 bloomed, 22 judged, 5 kept\n"
    ));
    let counts = both.book.crosses()[0].counts();
    assert_eq!((counts.planted, counts.bloomed, counts.judged, counts.kept), (30, 25, 24, 6));
    // The same in two calls, and nothing new in a third.
    let counted = taken(&[("c.csv", ONE)]).book;
    let then = taken_into(&counted, &[("s.csv", TWO_PLANTS)], with(Overlap::CountsWin));
    assert_eq!(tale(&then.book), tale(&both.book));
    let again =
        taken_into(&both.book, &[("c.csv", ONE), ("s.csv", TWO_PLANTS)], Options::default());
    assert!(again.report.changes_nothing(), "{:?}", again.report);
    assert_eq!(tale(&again.book), tale(&both.book));
    let few = "seed_parent,pollen_parent,season,judged,kept\nA,B,2020,1,1\n";
    assert_eq!(
        refused_by(
            &empty_book(),
            &[("c.csv", few), ("s.csv", TWO_PLANTS)],
            with(Overlap::CountsWin)
        ),
        [
            "c.csv:2:1: Cross 20X01 has 2 numbered plants under judged, more than the 1 in its totals."
        ]
    );
}

#[test]
fn where_plants_win_the_totals_are_left_out() {
    let both = taken_into(
        &empty_book(),
        &[("c.csv", ONE), ("s.csv", TWO_PLANTS)],
        with(Overlap::PlantsWin),
    );
    assert_eq!((both.report.files[0].added, both.report.files[0].outdone), (1, 1));
    assert_eq!(both.book.crosses()[0].totals, None);
    assert!(both.book.crosses()[1].totals.is_some());
    let counted = taken(&[("c.csv", ONE)]).book;
    let then = taken_into(&counted, &[("s.csv", TWO_PLANTS)], with(Overlap::PlantsWin));
    assert_eq!(tale(&then.book), tale(&both.book));
}

#[test]
fn totals_of_the_book_are_compared() {
    let book = taken(&[("c.csv", ONE)]).book;
    let head = "seed_parent,pollen_parent,season";
    let more = taken_into(
        &book,
        &[("c.csv", &format!("{head},sown,kept\nA,B,2020,40,6\n"))],
        Options::default(),
    );
    assert_eq!(more.report.files[0].more, 1);
    assert!(crosses(&more).contains("totals 40 sown, 30 planted"));
    assert_eq!(
        refused_by(
            &book,
            &[(
                "c.csv",
                &format!("{head},kept,judged_season\nA,B,2020,7,\nA,C|B=0.5,2020,,2021\n")
            )],
            Options::default()
        ),
        [
            "c.csv:2:10: Cross 20X01 has kept 6 already, and this row says 7.",
            "c.csv:3:17: Cross 20X02 has judged_season 2022 already, and this row says 2021.",
        ]
    );
}
