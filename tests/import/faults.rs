//! What cannot be is refused, each fault with its place.

use super::*;

#[test]
fn cells_that_hold_something_else_are_refused_where_they_stand() {
    let text = "seedling,season,by,father,sown,position,verdict,bloom_mm,height_cm,score:form\n\
                1,25,wind,both,01/03/2026,A-3,maybe,11 cm,inf,ten\n\
                2,2025,,,2026-02-30,A/0/1,,0,-5,10\n\
                é4,,,,2026-13,,,\"11,5\",1e2,NaN\n";
    assert_eq!(
        refused(&[("s.csv", text)]),
        [
            "s.csv:2:3: \"25\" is not a year.",
            "s.csv:2:6: \"wind\" means nothing here.",
            "s.csv:2:11: \"both\" means nothing here.",
            "s.csv:2:16: \"01/03/2026\" is not a date.",
            "s.csv:2:27: \"A-3\" is not a position.",
            "s.csv:2:31: \"maybe\" means nothing here.",
            "s.csv:2:37: \"11 cm\" is not a number.",
            "s.csv:2:43: \"inf\" is not a number.",
            "s.csv:2:47: \"ten\" is not a number.",
            "s.csv:3:10: There is no 2026-02-30 in the calendar.",
            "s.csv:3:21: \"A/0/1\" is not a position.",
            "s.csv:3:28: 0 is no length.",
            "s.csv:3:30: -5 is no length.",
            "s.csv:4:7: There is no 2026-13 in the calendar.",
            "s.csv:4:17: \"11,5\" is not a number.",
            "s.csv:4:24: \"1e2\" is not a number.",
            "s.csv:4:28: \"NaN\" is not a number.",
        ]
    );
}

#[test]
fn control_characters_are_refused_and_never_shown() {
    let text = "variety,note\nA\u{1b}[31m,\nB,\"x\u{7}\ny\"\nC\u{202e}D,\n\"E\nF\",\n\u{0}G,\n";
    let faults = refused(&[("v.csv", text)]);
    assert_eq!(
        faults,
        [
            "v.csv:2:1: \"A�[31m\" holds the control character U+001B.",
            "v.csv:3:3: \"x��y\" holds the control character U+0007.",
            "v.csv:5:1: \"C�D\" holds the control character U+202E.",
            "v.csv:6:1: \"E�F\" runs over more than one line.",
            "v.csv:8:1: \"�G\" holds the control character U+0000.",
        ]
    );
    assert!(faults.iter().all(|fault| !fault.contains(char::is_control)));
}

#[test]
fn rows_must_say_who_they_are_about() {
    assert_eq!(
        refused(&[
            ("v.csv", "variety,note\n,lost label\n?,x\nA|B,x\n"),
            ("s.csv", "seedling,note\n,x\n"),
            ("l.csv", "plant,on,note\n,2026-01-01,x\nA,,x\n"),
        ]),
        [
            "v.csv:2:1: This row has no name.",
            "v.csv:3:1: \"?\" cannot be the name of one plant.",
            "v.csv:4:1: \"A|B\" cannot be the name of one plant.",
            "s.csv:2:1: This row has no number.",
            "l.csv:2:1: This row has no plant.",
            "l.csv:3:1: This row does not say when the plant was looked at.",
        ]
    );
}

#[test]
fn what_came_before_its_cause_is_refused() {
    let text = "seedling,season,sown,planted,last_seen_unbloomed,first_bloom,look_on,bloom_mm,verdict,\
                verdict_on,lost_on\n\
                1,,2026-03-01,2026-02-01,,,,,,,\n\
                2,,,2026-05-29,,2026-05-01,,,,,\n\
                3,,,2026-05-29,,,,,keep,2025,\n\
                4,,,,2026-09-01,2026-08-31,,,,,\n\
                5,,,,,2026-09-01,2026-08-31,90,,,\n\
                6,,,,,2026-09-01,,,,,2026-08\n\
                7,2026,2025-12-01,,,,,,,,\n\
                8,,2026-03-01,,,2025-09-01,,,,,\n\
                9,2025,2026-03,2026-03-20,2026-09-01,2026-09-01,2026-09-01,90,keep,2026,2026\n\
                10,,,2026-05-29,,,2026-05-01,,hold,,\n";
    assert_eq!(
        refused(&[("s.csv", text)]),
        [
            "s.csv:2:15: The plant was planted on 2026-02-01, before it was sown on 2026-03-01.",
            "s.csv:3:17: The plant was in first bloom on 2026-05-01, before it was planted on \
             2026-05-29.",
            "s.csv:4:25: The plant was given a verdict in 2025, before it was planted on 2026-05-29.",
            "s.csv:5:17: The plant was in first bloom on 2026-08-31, before it was last seen \
             unbloomed on 2026-09-01.",
            "s.csv:6:18: The plant was looked at on 2026-08-31, before it was in first bloom on \
             2026-09-01.",
            "s.csv:7:22: The plant was lost in 2026-08, before it was in first bloom on 2026-09-01.",
            "s.csv:8:8: The plant was sown on 2025-12-01, before its cross was made in 2026.",
            "s.csv:9:17: The plant was in first bloom on 2025-09-01, before it was sown on \
             2026-03-01.",
            "s.csv:11:19: The plant was looked at on 2026-05-01, before it was planted on 2026-05-29.",
        ]
    );
}

#[test]
fn the_book_counts_in_what_came_before() {
    let book = taken(&[("s.csv", "seedling,planted,lost_on\n1,2026-05-29,2027-03-01\n")]).book;
    assert_eq!(
        refused_by(
            &book,
            &[
                ("s.csv", "seedling,first_bloom\n1,2026-05-01\n"),
                ("l.csv", "plant,on,note\n1,2028,x\n")
            ],
            Options::default()
        ),
        [
            "s.csv:2:3: The plant was in first bloom on 2026-05-01, before it was planted on \
             2026-05-29.",
            "l.csv:2:3: The plant was lost on 2027-03-01, before it was looked at in 2028.",
        ]
    );
}

#[test]
fn a_plant_among_its_own_ancestors_is_refused() {
    let text = "variety,seed_parent,pollen_parent\nA,B,\nB,?,C\nC,A,\nD,D,\nE,A,\n";
    let faults = refused(&[("v.csv", text)]);
    assert_eq!(faults.len(), 2, "{faults:#?}");
    assert!(faults[0].starts_with("v.csv:2:3: A is its own great-grandparent"), "{faults:#?}");
    assert!(faults[1].starts_with("v.csv:5:3: D is its own parent"), "{faults:#?}");
    let faults = refused(&[("s.csv", "seedling,seed_parent\n1,2\n2,1\n")]);
    assert!(faults[0].starts_with("s.csv:3:3: 2 is its own grandparent"), "{faults:#?}");
}

#[test]
fn looks_at_nobody_are_refused_with_the_nearest_name() {
    let files =
        [("v.csv", "variety\nFerry Lantern\n"), ("l.csv", "plant,on,note\nFerry Latern,2026,x\n")];
    let Outcome::Refused(problems) = plan(&empty_book(), &bytes(&files), Options::default()) else {
        panic!("taken");
    };
    assert_eq!(problems[0].message, "Nobody is called \"Ferry Latern\" here.");
    assert!(problems[0].hint.starts_with("Did you mean Ferry Lantern?"), "{}", problems[0].hint);
}

#[test]
fn a_fault_of_one_row_is_not_told_again_of_those_that_refer_to_it() {
    assert_eq!(
        refused(&[("s.csv", "seedling,season\n1,soon\n"), ("l.csv", "plant,on,note\n1,2026,x\n"),]),
        ["s.csv:2:3: \"soon\" is not a year."]
    );
}

#[test]
fn ten_thousand_faults_are_all_told() {
    let rows: Vec<String> = (0..10_000).map(|n| format!("{n},2026-02-30\n")).collect();
    let faults = refused(&[("s.csv", &format!("seedling,planted\n{}", rows.concat()))]);
    assert_eq!(faults.len(), 10_000);
    assert!(faults[9_999].starts_with("s.csv:10001:6:"));
}

#[test]
fn a_name_that_two_seedlings_bear_is_refused() {
    assert_eq!(
        refused(&[(
            "s.csv",
            "seedling,season,name\n1,2025,Dusk\n2,2025,dusk\n3,2025,\n4,2025,3\n"
        )]),
        [
            "s.csv:3:8: dusk is the number or name of another seedling.",
            "s.csv:5:8: 3 is the number or name of another seedling.",
        ]
    );
}

#[test]
fn what_has_not_come_yet_is_refused() {
    let options = Options { today: "2026-09-14".parse().ok(), ..Options::default() };
    let text = "seedling,season,planted,first_bloom\n1,2025,2026-05-01,2026-09-15\n2,2027,2026-09,\n\
                3,,2026,2026-09-14\n";
    assert_eq!(
        refused_by(&empty_book(), &[("s.csv", text)], options),
        [
            "s.csv:2:19: 2026-09-15 has not come yet; today is 2026-09-14.",
            "s.csv:3:3: 2027 has not come yet; today is 2026-09-14.",
        ]
    );
}

#[test]
fn a_year_that_is_only_worked_out_is_not_to_come() {
    let options = Options { today: "2026-11-01".parse().ok(), ..Options::default() };
    let text = "seedling,season,note\n1,2026,in a pot\n";
    let import = taken_into(&empty_book(), &[("s.csv", text)], options);
    assert!(tale(&import.book).ends_with("  1; 2026 note: in a pot\n"));
}

#[test]
fn a_plant_that_becomes_younger_than_its_offspring_is_refused() {
    let book = taken(&[("s.csv", "seedling,season,seed_parent\n25-1,2020,24-031\n")]).book;
    assert_eq!(
        refused_by(&book, &[("s.csv", "seedling,season\n24-031,2022\n")], Options::default()),
        ["s.csv:2:8: The seed parent \"24-031\" comes of the cross \"22X01\", which was made \
             later than this one.",]
    );
}

#[test]
fn a_parent_younger_than_its_offspring_is_refused() {
    let text = "seedling,seed_parent,pollen_parent,season\n1,2,A,2020\n3,A,2,2020\n2,A,B,2021\n";
    assert_eq!(
        refused(&[("s.csv", text)]),
        [
            "s.csv:2:3: The seed parent \"2\" comes of the cross \"21X01\", which was made later \
             than this one.",
            "s.csv:3:5: The pollen parent \"2\" comes of the cross \"21X01\", which was made later \
             than this one.",
        ]
    );
}
