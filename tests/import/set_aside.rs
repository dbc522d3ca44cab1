//! Taking the good rows and setting the bad ones aside.

use trug::exchange::import::Overlap;

use super::*;

const SKIP: Options = Options { skip_bad: true, overlap: Overlap::Refuse, today: None };

#[test]
fn good_rows_are_taken_and_bad_ones_come_back_with_a_reason() {
    let seedlings = "# ours\nseedling,seed_parent,note,first_bloom\n\
                     1,A,fine,2026-08-01\n\
                     2,A,\"a, \"\"b\"\"\",2026-08-32\n\
                     3,A\n";
    let looks = "plant,on,bloom_mm\n1,2026-09-01,90\n2,2026-09-01,90\n4,2026-09-01,90\n";
    let import = taken_into(&empty_book(), &[("s.csv", seedlings), ("l.csv", looks)], SKIP);
    assert_eq!(
        tale(&import.book),
        "a \"A\"\n25X01: a × ?, 2025, bees\n  1; 2026-08-01 bloomed; 2026 note: fine; \
         2026-09-01 look 90 mm\n"
    );
    let files: Vec<&str> = import.set_aside.iter().map(|aside| &*aside.csv).collect();
    assert_eq!(
        files,
        [
            "seedling,seed_parent,note,first_bloom,fault\n\
             2,A,\"a, \"\"b\"\"\",2026-08-32,There is no 2026-08-32 in the calendar.\n\
             3,A,,,\"This row has 2 cells, and the header has 4 columns.\"\n",
            "plant,on,bloom_mm,fault\n\
             2,2026-09-01,90,The row of this plant is set aside.\n\
             4,2026-09-01,90,\"Nobody is called \"\"4\"\" here.\"\n",
        ]
    );
    let counts = |n: usize| {
        let file = &import.report.files[n];
        (file.rows, file.added, file.set_aside)
    };
    assert_eq!((counts(0), counts(1)), ((3, 1, 2), (3, 1, 2)));
    assert_eq!(import.problems.len(), 4);
}

#[test]
fn a_mended_file_comes_in_as_it_is() {
    let import = taken_into(
        &empty_book(),
        &[("s.csv", "seedling,first_bloom\n1,2026-08-01\n2,soon\n")],
        SKIP,
    );
    let mended = import.set_aside[0].csv.replace("soon", "2026-08-09");
    let then = taken_into(&import.book, &[("s.csv", &mended)], Options::default());
    assert!(tale(&then.book).contains("  1; 2026-08-01 bloomed\n  2; 2026-08-09 bloomed\n"));
    // Still wrong, it comes back with one reason and not with two.
    let still = taken_into(&import.book, &[("s.csv", &import.set_aside[0].csv)], SKIP);
    assert_eq!(still.set_aside, import.set_aside);
}

#[test]
fn rows_that_contradict_each_other_are_all_set_aside() {
    let text = "seedling,cross,seed_parent\n1,K,A\n2,K,B\n3,L,A\n4,M,\n4,N,\n";
    let import = taken_into(&empty_book(), &[("s.csv", text)], SKIP);
    assert_eq!(tale(&import.book), "a \"A\"\nL: a × ?, ?, bees\n  3\n");
    assert_eq!(import.set_aside[0].rows, 4);
}

#[test]
fn a_file_that_cannot_be_read_refuses_all_the_same() {
    let faults = refused_by(
        &empty_book(),
        &[("s.csv", "seedling,size\n1,2\n"), ("v.csv", "variety,year\nA,soon\n")],
        SKIP,
    );
    assert_eq!(
        faults,
        [
            "s.csv:1:10: A seedlings file has no column \"size\".",
            "v.csv:2:3: \"soon\" is not a year.",
        ]
    );
}

#[test]
fn nothing_is_set_aside_where_nothing_is_wrong() {
    let import = taken_into(&empty_book(), &[("v.csv", "variety\nA\n")], SKIP);
    assert!(import.set_aside.is_empty() && import.problems.is_empty());
}
