//! Varieties, seedlings and looks: what each column becomes.

use super::*;

#[test]
fn a_variety_has_all_that_its_row_says() {
    let import = taken(&[(
        "v.csv",
        "variety,seed_parent,pollen_parent,raiser,year,group,bloom_mm,height_cm,colours,gives_seed,\
         gives_pollen,note\n\
         Ferry Lantern,Tide Pool,?,Ada Quill,2014,waterlily,110.5,120,Apricot;yellow,yes,NO,bought\n\
         Tide Pool,,,,,,,,,,,\n",
    )]);
    assert_eq!(
        tale(&import.book),
        "ferry-lantern \"Ferry Lantern\" of tide-pool × ?, Ada Quill, WL, bought, 2014, 110.5, 120, \
         apricot|yellow, true, false\n\
         tide-pool \"Tide Pool\"\n"
    );
    assert_eq!(
        import.report.lines(),
        [
            "v.csv: varieties, 2 rows, 2 added",
            "The crop file has no such colour word; kept as written (1 row, in v.csv, line 2)",
        ]
    );
}

#[test]
fn a_seedling_has_its_diary_in_order() {
    let import = taken(&[(
        "s.csv",
        "seedling,seed_parent,pollen_parent,cross,season,by,father,sown,position,planted,first_bloom,\
         last_seen_unbloomed,verdict,verdict_on,why,lost_on,lost_why,name,look_on,who,bloom_mm,\
         height_cm,colours,faults,note,score:Form,score:scent\n\
         26-104,Ferry Lantern,Saltmarsh,25X07,2025,hand,one,2026-03-12,A/3/12,2026-05-29,2026-09-14,\
         2026-09-10,keep,2026-10-25,firm,2027-02,rotted,Gull Lamp,2026-09-20,Nora,112,120,apricot,\
         Open Centre|weak neck,late,7,2.5\n",
    )]);
    assert_eq!(
        tale(&import.book),
        "ferry-lantern \"Ferry Lantern\"\n\
         saltmarsh \"Saltmarsh\"\n\
         25X07: ferry-lantern × saltmarsh, 2025, hand\n  \
         lot 25X07-a sown 2026-03-12\n  \
         26-104, lot 25X07-a; 2026-05-29 planted A/3/12; 2026-09-10 unbloomed; 2026-09-14 bloomed; \
         2026-09-20 look 112 mm 120 cm (late) (Nora) form 7 scent 2.5 [apricot] [open centre] \
         [weak neck]; 2026-10-25 keep (firm) (Nora); 2026 named Gull Lamp; 2027-02 lost: rotted\n"
    );
}

#[test]
fn dates_that_are_missing_are_years_and_never_days() {
    let tale_of = |header: &str, row: &str| {
        let import = taken(&[("s.csv", &format!("seedling,{header}\nx,{row}\n"))]);
        let last = tale(&import.book).lines().last().unwrap().to_owned();
        last.split_once("; ").map_or(last.clone(), |(_, diary)| diary.to_owned())
    };
    for (header, row, diary) in [
        (
            "verdict,look_on,bloom_mm",
            "hold,2026-09-20,90",
            "2026-09-20 look 90 mm; 2026-09-20 hold",
        ),
        ("verdict,first_bloom", "keep,2026-09-14", "2026-09-14 bloomed; 2026 keep"),
        ("verdict,planted", "discard,2026-05-29", "2026-05-29 planted; 2026 discard"),
        ("verdict,season", "keep,2024", "2025 keep"),
        ("bloom_mm,first_bloom", "90,2026-09", "2026-09 bloomed; 2026 look 90 mm"),
        ("position,sown", "A/1/2,2026-03-01", "2026 planted A/1/2"),
        ("lost_why,planted", "eaten,2026-05-29", "2026-05-29 planted; 2026 lost: eaten"),
        ("lost_on", "2027-03-02", "2027-03-02 lost: no reason given"),
        ("name,verdict,verdict_on", "Gull Lamp,keep,2027-10", "2027-10 keep; 2027 named Gull Lamp"),
        ("note,season", "\"tall, thin\",2025", "2026 note: tall, thin"),
        ("note,look_on", "tall,2026-09-01", "2026-09-01 look (tall)"),
        (
            "first_bloom,look_on,height_cm",
            "2026-09-14,2026-07-01,50",
            "2026-07-01 look 50 cm; 2026-09-14 bloomed",
        ),
    ] {
        assert_eq!(tale_of(header, row), diary, "{header}: {row}");
    }
    assert_eq!(
        refused(&[("s.csv", "seedling,verdict,name\nx,keep,\ny,,Gull Lamp\n")]),
        [
            "s.csv:2:3: Nothing in this row says when this was.",
            "s.csv:3:4: Nothing in this row says when this was.",
        ]
    );
}

#[test]
fn what_was_assumed_is_said() {
    let import = taken(&[(
        "s.csv",
        "seedling,seed_parent,pollen_parent,planted,verdict,score:scent,position,look_on\n\
         1,A,B,2026-05-01,keep,,,\n\
         2,A,?,2026-05-02,,3,,\n\
         3,A,B,,,,,\n\
         4,A,B,,,,A/1/1,2026-08-08\n",
    )]);
    assert_eq!(
        import.report.lines(),
        [
            "s.csv: seedlings, 4 rows, 4 added",
            "2 parents added as varieties: A, B",
            "3 crosses made: 25X01, 25X02, X01",
            "The season of the cross is taken as the year before planting (2 rows, the first in \
             s.csv, line 2)",
            "A verdict on a plant of which no bloom is noted; it does not count as judged (1 row, in \
             s.csv, line 2)",
            "A verdict without a date; only the season is noted (1 row, in s.csv, line 2)",
            "The pollen parent is not known for certain and nothing says how it was pollinated; taken \
             as by bees (1 row, in s.csv, line 3)",
            "A look without a date; only the season is noted (1 row, in s.csv, line 3)",
            "The crop file has no trait scent; its scores are kept (1 row, in s.csv, line 3)",
            "The season of the cross is not known (1 row, in s.csv, line 4)",
            "The season of the cross is taken as the year before the look (1 row, in s.csv, line 5)",
            "A position without a planting date; only the season is noted (1 row, in s.csv, line 5)",
            "A look with nothing seen; left out (1 row, in s.csv, line 5)",
        ]
    );
}

#[test]
fn looks_go_to_varieties_and_seedlings_of_any_file() {
    let import = taken(&[
        (
            "l.csv",
            "plant,on,who,verdict,why,bloom_mm\n\
             ferry LANTERN,2026-08,,,,101\n\
             26-1,2027-08-01,Nora,keep,again,95\n\
             26-1,2026-10-01,,hold,,\n",
        ),
        ("s.csv", "seedling,planted\n26-1,2026-05-01\n"),
        ("v.csv", "variety\nFerry Lantern\n"),
    ]);
    assert_eq!(
        tale(&import.book),
        "ferry-lantern \"Ferry Lantern\"; 2026-08 look 101 mm\n\
         25X01: ? × ?, 2025, bees\n  \
         26-1; 2026-05-01 planted; 2026-10-01 hold; 2027-08-01 look 95 mm (Nora); 2027-08-01 keep \
         (again) (Nora)\n"
    );
    assert_eq!(import.report.files[0].added, 3);
}

#[test]
fn a_variety_that_is_a_seedling_is_one_plant() {
    let import = taken(&[
        (
            "v.csv",
            "variety,seed_parent,raiser,note,bloom_mm\n\
             24-031,Tide Pool,Ada,healthy,90\n\
             Gull Lamp,,,,\n",
        ),
        (
            "s.csv",
            "seedling,seed_parent,pollen_parent,first_bloom,name\n\
             24-031,,Ferry Lantern,2024-08-01,\n\
             25-002,Gull Lamp,24-031,2025-08-01,\n\
             23-007,,,2023-08-01,gull lamp\n",
        ),
    ]);
    assert_eq!(
        tale(&import.book),
        "ferry-lantern \"Ferry Lantern\"\n\
         tide-pool \"Tide Pool\"\n\
         22X01: ? × ?, 2022, bees\n  \
         23-007; 2023-08-01 bloomed; 2023 named gull lamp\n\
         23X01: tide-pool × ferry-lantern, 2023, hand\n  \
         24-031; 2024-08-01 bloomed; 2024 look 90 mm (healthy)\n\
         24X01: 23-007 × 24-031, 2024, hand\n  \
         25-002; 2025-08-01 bloomed\n"
    );
    assert!(import.report.lines().iter().any(|line| line.starts_with("The raiser of a plant")));
}

#[test]
fn a_variety_of_the_book_that_is_a_seedling_is_one_plant_too() {
    let first = taken(&[
        (
            "s.csv",
            "seedling,seed_parent,pollen_parent,season\n25-1,24-031,Saltmarsh=0.5|24-031=0.2,2024\n",
        ),
        ("l.csv", "plant,on,height_cm\n24-031,2024-08,100\n"),
    ]);
    assert_eq!(first.report.parents_added, ["24-031", "Saltmarsh"]);
    let text = "seedling,seed_parent,pollen_parent,season,name\n\
                24-31b,Tide Pool,Saltmarsh,2023,Dusk\n24-031,Tide Pool,Saltmarsh,2023,\n";
    let import = taken_into(&first.book, &[("s.csv", text)], Options::default());
    assert_eq!(
        tale(&import.book),
        "saltmarsh \"Saltmarsh\"\n\
         tide-pool \"Tide Pool\"\n\
         23X01: tide-pool × saltmarsh, 2023, hand\n  \
         24-031; 2024-08 look 100 cm\n  \
         24-31b; 2024 named Dusk\n\
         24X01: 24-031 × saltmarsh=0.500|24-031=0.200, 2024, bees\n  \
         25-1\n"
    );
    assert_eq!(import.changed.varieties_gone, set(["24-031"]));
    assert_eq!(import.report.one_plant, [("24-031".to_owned(), "24-031".to_owned())]);
    let named = taken_into(
        &first.book,
        &[("s.csv", "seedling,season,name\n23-9,2022,24-031\n")],
        Options::default(),
    );
    assert_eq!(
        tale(&named.book),
        "saltmarsh \"Saltmarsh\"\n\
         22X01: ? × ?, 2022, bees\n  \
         23-9; 2023 named 24-031; 2024-08 look 100 cm\n\
         24X01: 23-9 × saltmarsh=0.500|23-9=0.200, 2024, bees\n  \
         25-1\n"
    );
    assert_eq!(named.changed.crosses, set(["24X01", "22X01"]));
}

#[test]
fn names_and_keys_that_meet_stay_apart() {
    let import = taken(&[(
        "v.csv",
        "variety,pollen_parent\nHeron's Reach,Tide-Pool\nTide Pool,Ørsted\n東京,大阪\nfoo!,foo?\n",
    )]);
    assert_eq!(
        tale(&import.book),
        "foo \"foo!\" of ? × foo-2\n\
         foo-2 \"foo?\"\n\
         herons-reach \"Heron's Reach\" of ? × tide-pool-2\n\
         orsted \"Ørsted\"\n\
         tide-pool \"Tide Pool\" of ? × orsted\n\
         tide-pool-2 \"Tide-Pool\"\n\
         variety \"大阪\"\n\
         variety-2 \"東京\" of ? × variety\n"
    );
}

#[test]
fn a_variety_row_speaks_for_a_seedling_of_the_book() {
    let first = taken(&[("s.csv", "seedling,season,pollen_parent\n24-031,2023,Saltmarsh\n")]).book;
    let text = "variety,seed_parent,note\n24-031,Tide Pool,x\n";
    let import = taken_into(&first, &[("v.csv", text)], Options::default());
    assert!(
        tale(&import.book)
            .ends_with("23X01: tide-pool × saltmarsh, 2023, hand\n  24-031; 2024 note: x\n")
    );
    let text = "variety,pollen_parent\n24-031,Tide Pool\n";
    assert_eq!(
        refused_by(&first, &[("v.csv", text)], Options::default()),
        [
            "v.csv:2:8: Cross 23X01 has pollen_parent Saltmarsh in the book, and this row says Tide Pool."
        ]
    );
}

#[test]
fn what_is_odd_is_taken_and_said() {
    let import = taken(&[(
        "s.csv",
        "seedling,season,bloom_mm,height_cm,score:form,group\n1,2025,451,301,0.5,Stellar\n",
    )]);
    assert!(tale(&import.book).ends_with("1; 2026 look 451 mm 301 cm (Stellar) form 0.5\n"));
    let lines = import.report.lines();
    for what in [
        "A bloom larger than any known, in mm; look whether it is right (1 row",
        "A plant taller than any known, in cm; look whether it is right (1 row",
        "A score for form off its scale, 1 to 9; look whether it is right (1 row",
        "The crop file has no such flower group; kept as written (1 row",
    ] {
        assert!(lines.iter().any(|line| line.starts_with(what)), "{what}: {lines:#?}");
    }
}

#[test]
fn a_remark_keeps_its_lines_and_a_reason_stands_on_one() {
    let import = taken(&[(
        "s.csv",
        "seedling,season,note,verdict,why,lost_why\n1,2025,\"a\n\tb\",hold,\"c\r\nd\",\"e\n\nf\"\n",
    )]);
    assert!(
        tale(&import.book).ends_with("1; 2026 note: a\n\tb; 2026 hold (c d); 2026 lost: e f\n")
    );
}

#[test]
fn a_number_used_twice_in_the_book_is_told_apart_by_its_key() {
    let first = taken(&[("s.csv", "seedling,season,seed_parent\n1,2020,\n2,2021,\n")]).book;
    let (about, crop, varieties, mut crosses) = first.into_parts();
    crosses[1].seedlings[0].number = "1".into();
    crosses[1].seedlings[0].id = Some("1 of 21X01".into());
    let book = Book::new(about, crop, varieties, crosses);
    let looks = "plant,on,height_cm\n1,2022,90\n";
    assert_eq!(
        refused_by(&book, &[("l.csv", looks)], Options::default()),
        ["l.csv:2:1: \"1\" fits several plants."]
    );
    let looks = "plant,on,height_cm\nid:nobody,2022,90\n";
    assert_eq!(
        refused_by(&book, &[("l.csv", looks)], Options::default()),
        ["l.csv:2:1: No plant of the book has the key in \"id:nobody\" here."]
    );
    let looks = "plant,on,height_cm\nid:1,2022,90\nid:1 of 21X01,2022,95\n";
    let import = taken_into(&book, &[("l.csv", looks)], Options::default());
    assert_eq!(
        tale(&import.book),
        "20X01: ? × ?, 2020, bees\n  1; 2022 look 90 cm\n\
         21X01: ? × ?, 2021, bees\n  1, key 1 of 21X01; 2022 look 95 cm\n"
    );
}
