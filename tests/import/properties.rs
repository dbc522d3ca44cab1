//! What holds of any files: no panic, no dependence on the order of rows, nothing new the second
//! time.

use chrono::NaiveDate;
use proptest::{collection::vec, prelude::*, sample::select};
use trug::{
    book::{Severity, faults},
    exchange::import::Overlap,
};

use super::*;

/// Columns of each kind of file, with cells that are right, wrong, or clash with each other.
const COLUMNS: [&[(&str, &[&str])]; 4] = [
    &[
        ("variety", &["A", "B", "b", "C", "1", "Dusk"]),
        ("seed_parent", &["", "?", "A", "B", "1", "D"]),
        ("pollen_parent", &["", "?", "A", "C", "2", "selfed", "A|B"]),
        ("year", &["", "", "2010", "2011", "soon"]),
        ("bloom_mm", &["", "", "90", "95"]),
        ("note", &["", "", "tall, thin", "a\nb"]),
    ],
    &[
        ("seedling", &["1", "2", "3", "4", "5", "6", "7", "A"]),
        ("seed_parent", &["", "?", "A", "a", "B", "1", "Dusk"]),
        ("pollen_parent", &["", "?", "B", "C|?", "A=0.5|C", "selfed", "2"]),
        ("cross", &["", "", "", "K", "L"]),
        ("season", &["", "2020", "2020", "2021"]),
        ("by", &["", "", "hand", "bees"]),
        ("father", &["", "", "one", "each"]),
        ("sown", &["", "", "2021-03-01", "2021"]),
        ("planted", &["", "", "2021-05-01", "2021-05", "2022-05-01"]),
        ("first_bloom", &["", "", "2021-08-01", "2021-08", "2022"]),
        ("verdict", &["", "", "keep", "hold"]),
        ("verdict_on", &["", "", "2021-10-01", "2022"]),
        ("name", &["", "", "", "", "Dusk"]),
        ("bloom_mm", &["", "", "90", "95"]),
        ("look_on", &["", "", "2021-09-01", "2021-09"]),
        ("lost_on", &["", "", "", "2023-03-01"]),
        ("note", &["", "", "tall"]),
    ],
    &[
        ("plant", &["1", "2", "A", "a", "B", "Dusk"]),
        ("on", &["2021-09-01", "2021-09", "2022"]),
        ("who", &["", "Nora"]),
        ("bloom_mm", &["", "90", "95"]),
        ("score:form", &["", "5", "6"]),
        ("verdict", &["", "", "keep"]),
    ],
    &[
        ("seed_parent", &["A", "B", "?"]),
        ("pollen_parent", &["B", "C", "", "A|B"]),
        ("season", &["2020", "2021", ""]),
        ("judged", &["", "10", "12"]),
        ("kept", &["", "2", "3"]),
    ],
];

type Rows = Vec<Vec<&'static str>>;

fn rows(kind: usize, most: usize) -> impl Strategy<Value = Rows> {
    let cells: Vec<_> = COLUMNS[kind].iter().map(|(_, cells)| select(*cells)).collect();
    vec(cells, 0..most)
}

/// A set of files, each a kind and its rows.
fn tables() -> impl Strategy<Value = Vec<(usize, Rows)>> {
    let each = |kind, most| rows(kind, most).prop_map(move |rows| (kind, rows));
    (each(0, 3), each(1, 6), each(1, 3), each(2, 3), each(3, 3))
        .prop_map(|(v, s, t, l, c)| vec![v, s, t, l, c])
}

fn name(n: usize) -> String {
    format!("{n}.csv")
}

fn file(n: usize, (kind, rows): &(usize, Rows)) -> (String, Vec<u8>) {
    let header: Vec<&str> = COLUMNS[*kind].iter().map(|(name, _)| *name).collect();
    let mut text = header.join(",") + "\n";
    for row in rows {
        text += &row.iter().map(|cell| format!("\"{cell}\"")).collect::<Vec<_>>().join(",");
        text.push('\n');
    }
    (name(n), text.into_bytes())
}

fn files(tables: &[(usize, Rows)]) -> Vec<(String, Vec<u8>)> {
    tables.iter().enumerate().map(|(n, table)| file(n, table)).collect()
}

/// A row as it begins where it was set aside.
fn as_set_aside(row: &[&str]) -> String {
    let quoted = |cell: &&str| {
        let quote = if cell.contains([',', '\n']) { "\"" } else { "" };
        format!("{quote}{cell}{quote},")
    };
    "\n".to_owned() + &row.iter().map(quoted).collect::<Vec<_>>().concat()
}

fn options() -> impl Strategy<Value = Options> {
    let overlap = select(vec![Overlap::Refuse, Overlap::CountsWin, Overlap::PlantsWin]);
    (any::<bool>(), overlap).prop_map(|(skip_bad, overlap)| Options {
        skip_bad,
        overlap,
        today: None,
    })
}

/// The same tables with files and rows in another order.
fn shuffled(tables: Vec<(usize, Rows)>) -> impl Strategy<Value = Vec<(usize, Rows)>> {
    let each: Vec<_> = tables
        .into_iter()
        .map(|(kind, rows)| Just(rows).prop_shuffle().prop_map(move |rows| (kind, rows)))
        .collect();
    each.prop_flat_map(|tables| Just(tables).prop_shuffle())
}

proptest! {
    #[test]
    fn no_bytes_make_it_panic(bytes in vec(any::<u8>(), 0..200), skip_bad: bool) {
        let options = Options { skip_bad, ..Options::default() };
        drop(plan(&empty_book(), &[("x.csv".to_owned(), bytes)], options));
    }

    #[test]
    fn no_text_after_a_good_header_makes_it_panic(
        kind in 0_usize..4,
        text in "([A-Z12|?=.;#é\u{7}\r\n\t \",-]|keep|2026-0|[0-9]{1,3})*",
        options in options(),
    ) {
        let (name, mut bytes) = file(0, &(kind, Vec::new()));
        bytes.extend(text.bytes());
        if let Outcome::Ready(import) = plan(&empty_book(), &[(name, bytes)], options) {
            let file = &import.report.files[0];
            let all = file.added + file.more + file.same + file.set_aside + file.outdone;
            prop_assert_eq!(all, file.rows, "every row is accounted for");
        }
    }

    #[test]
    fn the_order_of_rows_and_files_does_not_matter(
        (one, other) in tables().prop_flat_map(|t| (Just(t.clone()), shuffled(t))),
        options in options(),
    ) {
        let plan = |tables| plan(&empty_book(), &files(tables), options);
        match (plan(&one), plan(&other)) {
            (Outcome::Ready(one), Outcome::Ready(other)) => {
                prop_assert_eq!(tale(&one.book), tale(&other.book));
                prop_assert_eq!(one.changed, other.changed);
                prop_assert_eq!(one.report.parents_added, other.report.parents_added);
                prop_assert_eq!(one.set_aside.len(), other.set_aside.len());
            }
            (Outcome::Refused(_), Outcome::Refused(_)) => {}
            (one, other) => prop_assert!(false, "{one:?}\n{other:?}"),
        }
    }

    #[test]
    fn the_same_rows_again_add_nothing(tables in tables(), options in options()) {
        let options = Options { skip_bad: true, ..options };
        let Outcome::Ready(first) = plan(&empty_book(), &files(&tables), options) else {
            return Err(TestCaseError::fail("bad rows are set aside"));
        };
        let mut good = tables;
        for (n, (_, rows)) in good.iter_mut().enumerate() {
            if let Some(aside) = first.set_aside.iter().find(|aside| aside.name == name(n)) {
                rows.retain(|row| !aside.csv.contains(&as_set_aside(row)));
            }
        }
        match plan(&first.book, &files(&good), options) {
            Outcome::Ready(second) => {
                prop_assert_eq!(tale(&second.book), tale(&first.book));
                prop_assert!(second.report.changes_nothing(), "{:?}", second.report);
                prop_assert!(second.problems.is_empty(), "{:?}", second.problems);
            }
            Outcome::Refused(problems) => prop_assert!(false, "{problems:?}"),
        }
    }

    #[test]
    fn with_bad_rows_set_aside_the_rest_is_taken(tables in tables(), options in options()) {
        let skip = Options { skip_bad: true, ..options };
        let Outcome::Ready(import) = plan(&empty_book(), &files(&tables), skip) else {
            return Err(TestCaseError::fail("bad rows are set aside"));
        };
        for (file, (_, rows)) in import.report.files.iter().zip(&tables) {
            let all = file.added + file.more + file.same + file.set_aside + file.outdone;
            prop_assert_eq!(all, rows.len());
        }
        // What was taken in passes the check of the records.
        let wrong = faults(&import.book, NaiveDate::MAX, |_| false);
        let errors: Vec<_> = wrong.iter().filter(|f| f.severity == Severity::Error).collect();
        prop_assert!(errors.is_empty(), "{errors:?}\n{}", tale(&import.book));
        prop_assert_eq!(import.set_aside.is_empty(), import.problems.is_empty());
        let whole = plan(&empty_book(), &files(&tables), Options { skip_bad: false, ..options });
        prop_assert_eq!(matches!(whole, Outcome::Ready(_)), import.problems.is_empty());
    }
}
