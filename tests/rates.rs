//! Shares, their differences and their steadying, against published figures and against laws.

use std::{collections::BTreeMap, fs, path::Path};

use proptest::prelude::*;
use trug::{
    book::{Counts, Usual},
    merit::{Prior, rate},
    stats::{Beta, Interval, Spread, chance_greater, difference, jeffreys, spread, wilson},
};

/// One row of a table, by column.
type Row = BTreeMap<String, String>;

/// A table of `tests/data/rates`; where it is from stands at its head.
fn table(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/rates").join(name);
    let text = fs::read_to_string(&path).expect("the table is there");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let names: Vec<String> =
        reader.headers().expect("a header").iter().map(str::to_owned).collect();
    let rows: Vec<Row> = reader
        .records()
        .map(|r| names.iter().cloned().zip(r.expect("a row").iter().map(str::to_owned)).collect())
        .collect();
    assert!(rows.len() > 5, "{name} holds {} rows", rows.len());
    rows
}

fn number(row: &Row, column: &str) -> f64 {
    row[column].parse().expect("a number")
}

fn count(row: &Row, column: &str) -> u32 {
    row[column].parse().expect("a count")
}

#[track_caller]
fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected}");
}

fn family(kept: u32, judged: u32) -> Counts {
    Counts { kept, judged, ..Counts::default() }
}

fn usual(value: f64, worth: f64) -> Usual {
    Usual { value, worth, source: "made up".into() }
}

#[test]
fn intervals_of_a_share_are_the_published_ones() {
    for row in table("proportions.csv") {
        let (k, n) = (count(&row, "x"), count(&row, "n"));
        let score = wilson(k, n, 0.95).unwrap();
        close(score.low, number(&row, "wilson_lo"), 1e-8, "Wilson, low");
        close(score.high, number(&row, "wilson_hi"), 1e-8, "Wilson, high");
        let belief = jeffreys(k, n, 0.95);
        close(belief.low, number(&row, "jeffreys_lo"), 1e-8, "Jeffreys, low");
        close(belief.high, number(&row, "jeffreys_hi"), 1e-8, "Jeffreys, high");
    }
}

#[test]
fn intervals_of_a_difference_are_the_published_ones() {
    for row in table("differences.csv") {
        let of = |k, n| (count(&row, k), count(&row, n));
        let d = difference(of("x1", "n1"), of("x2", "n2"), 0.95).unwrap();
        close(d.p, number(&row, "difference"), 1e-8, "difference");
        close(d.low, number(&row, "lower"), 1e-8, "lower end");
        close(d.high, number(&row, "upper"), 1e-8, "upper end");
        close(d.low, number(&row, "published_lower"), 5e-5, "lower end, as printed");
        close(d.high, number(&row, "published_upper"), 5e-5, "upper end, as printed");
    }
}

#[test]
fn the_chance_that_one_share_exceeds_another_is_right() {
    for row in table("chance_greater.csv") {
        let beta = |a, b| Beta::new(number(&row, a), number(&row, b));
        let (first, second) = (beta("a1", "b1"), beta("a2", "b2"));
        let expected = number(&row, "P_X2_greater_than_X1");
        close(chance_greater(&second, &first), expected, 1e-8, "second greater");
        close(chance_greater(&first, &second), 1.0 - expected, 1e-8, "first greater");
    }
}

#[test]
fn the_spread_of_rat_tumours_is_the_published_one() {
    let rows = table("rat_tumours.csv");
    let groups: Vec<(u32, u32)> = rows.iter().map(|r| (count(r, "y"), count(r, "n"))).collect();
    let shapes = |groups: &[(u32, u32)]| match spread(groups.iter().copied()) {
        Spread::Beta { alpha, beta, .. } => (alpha, beta),
        other => panic!("{other:?}"),
    };
    // The 70 earlier groups alone, as in Tarone's data.
    let (alpha, beta) = shapes(&groups[..70]);
    close(alpha, 2.304_782_9, 1e-4, "alpha of 70");
    close(beta, 14.079_806_4, 1e-4, "beta of 70");
    let (alpha, beta) = shapes(&groups);
    close(alpha, 2.341_614_6, 1e-4, "alpha of 71");
    close(beta, 14.114_804_6, 1e-4, "beta of 71");
    let prior = Prior::of(groups.iter().map(|&(k, n)| family(k, n)), &usual(0.5, 1.0));
    for (row, (k, n)) in rows.iter().zip(groups) {
        let shrunk = prior.shrunk(&family(k, n), 0.9);
        close(shrunk.p, number(row, "mean"), 1e-6, "steadied share");
    }
}

#[test]
fn strawberry_crosses_are_steadied_as_computed_elsewhere() {
    let rows = table("strawberry_crosses.csv");
    let families: Vec<Counts> =
        rows.iter().map(|r| family(count(r, "kept"), count(r, "n"))).collect();
    let prior = Prior::of(families.iter().copied(), &usual(0.5, 1.0));
    let Prior::FromBook { alpha, beta, n_families } = prior else { panic!("{prior:?}") };
    close(alpha / 5.319_251, 1.0, 1e-4, "alpha");
    close(beta / 16.418_59, 1.0, 1e-4, "beta");
    assert_eq!(n_families, 12);
    for (row, counts) in rows.iter().zip(&families) {
        let shrunk = prior.shrunk(counts, 0.95);
        close(shrunk.p, number(row, "EB_mean"), 1e-4, "mean");
        close(shrunk.low, number(row, "EB_lo95"), 1e-4, "low");
        close(shrunk.high, number(row, "EB_hi95"), 1e-4, "high");
    }
}

#[test]
fn dahlia_seed_parents_have_their_published_rates() {
    for row in table("dahlia_seed_parents.csv") {
        let found = rate(&family(count(&row, "true"), count(&row, "flowered")), 0.95).unwrap();
        close(found.p, number(&row, "rate"), 1e-6, "rate");
        close(found.low, number(&row, "low95"), 1e-6, "low");
        close(found.high, number(&row, "high95"), 1e-6, "high");
    }
}

#[test]
fn too_few_families_leave_the_usual_share() {
    let usual = usual(0.4, 10.0);
    let of = |families: &[(u32, u32)]| {
        Prior::of(families.iter().map(|&(kept, judged)| family(kept, judged)), &usual)
    };
    let expected = Prior::Usual { alpha: 4.0, beta: 6.0 };
    assert_eq!(of(&[]), expected, "an empty book");
    assert_eq!(of(&[(0, 0), (0, 0), (0, 0), (0, 0)]), expected, "all held or unbloomed");
    assert_eq!(of(&[(3, 20), (9, 20)]), expected, "two families");
    assert_eq!(of(&[(0, 1), (1, 1), (0, 1), (0, 1)]), expected, "never two plants of a family");
    let shrunk = expected.shrunk(&family(3, 20), 0.9);
    close(shrunk.p, 7.0 / 30.0, 1e-12, "(4 + 3) of (10 + 20)");
    close(expected.shrunk(&family(0, 0), 0.9).p, 0.4, 1e-12, "never tried");
}

#[test]
fn families_that_do_not_differ_share_one_rate() {
    let families = [(4, 20), (5, 20), (4, 20), (5, 20)].map(|(k, n)| family(k, n));
    let prior = Prior::of(families, &usual(0.4, 10.0));
    assert_eq!(prior, Prior::NoDifference { kept: 18, judged: 80, n_families: 4 });
    assert_eq!(prior.shrunk(&families[0], 0.9), jeffreys(18, 80, 0.9));
    for (kept, what) in [(0, "none kept"), (20, "all kept")] {
        let prior = Prior::of([family(kept, 20); 3], &usual(0.4, 10.0));
        let shrunk = prior.shrunk(&family(kept, 20), 0.9);
        assert!(matches!(prior, Prior::NoDifference { .. }), "{what}: {prior:?}");
        assert!(shrunk.p > 0.0 && shrunk.p < 1.0, "{what}: certain of {}", shrunk.p);
        assert!(shrunk.low < shrunk.high, "{what}");
    }
}

#[test]
fn families_all_or_nothing_keep_a_range() {
    let families = [(9, 9), (0, 12), (0, 7), (5, 5)].map(|(k, n)| family(k, n));
    let prior = Prior::of(families, &usual(0.4, 10.0));
    let Prior::FromBook { alpha, beta, n_families: 4 } = prior else { panic!("{prior:?}") };
    close(alpha + beta, 1.0, 1e-12, "worth one plant");
    let shrunk = prior.shrunk(&families[1], 0.9);
    assert!(shrunk.p > 0.0 && shrunk.high > 0.02, "{shrunk:?}");
}

#[test]
fn counts_past_all_bounds_give_figures() {
    let families = [(u32::MAX, u32::MAX), (u32::MAX / 2, u32::MAX), (0, u32::MAX), (7, 3)];
    let families = families.map(|(k, n)| family(k, n));
    let prior = Prior::of(families, &usual(0.4, 10.0));
    for counts in &families {
        let shrunk = prior.shrunk(counts, 0.9);
        assert!(shrunk.low <= shrunk.p && shrunk.p <= shrunk.high, "{shrunk:?}");
        let own = rate(counts, 0.9).unwrap();
        assert!(own.low <= own.p && own.p <= own.high && own.high <= 1.0, "{own:?}");
    }
}

#[test]
fn a_crop_without_a_usual_share_still_gives_figures() {
    for nothing in [usual(0.0, 0.0), usual(f64::NAN, 5.0), usual(1.0, 5.0), usual(0.4, f64::NAN)] {
        let prior = Prior::of([], &nothing);
        let shrunk = prior.shrunk(&family(0, 0), 0.9);
        assert!(
            shrunk.low > 0.0
                && shrunk.low < shrunk.p
                && shrunk.p < shrunk.high
                && shrunk.high < 1.0,
            "{nothing:?}: {shrunk:?}"
        );
    }
}

#[test]
fn more_plants_of_the_same_share_make_a_rate_surer() {
    let width = |i: Interval| i.high - i.low;
    let prior = Prior::Usual { alpha: 4.0, beta: 6.0 };
    for level in [0.5, 0.9, 0.95, 0.99] {
        for times in 1..40 {
            let raw = |times: u32| rate(&family(2 * times, 5 * times), level).unwrap();
            assert!(width(raw(times + 1)) < width(raw(times)), "raw, {times} times");
            let shrunk = |times: u32| prior.shrunk(&family(2 * times, 5 * times), level);
            assert!(width(shrunk(times + 1)) < width(shrunk(times)), "shrunk, {times} times");
        }
    }
}

fn any_family() -> impl Strategy<Value = Counts> {
    (0..60_u32).prop_flat_map(|judged| (0..=judged).prop_map(move |kept| family(kept, judged)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_steadied_rate_lies_between_its_own_and_the_rest(
        families in prop::collection::vec(any_family(), 0..12),
        level in 0.01..0.999_f64,
    ) {
        let prior = Prior::of(families.iter().copied(), &usual(0.4, 10.0));
        let mean = prior.shrunk(&Counts::default(), level).p;
        for counts in &families {
            let shrunk = prior.shrunk(counts, level);
            prop_assert!(0.0 <= shrunk.low && shrunk.low <= shrunk.high && shrunk.high <= 1.0);
            prop_assert!(shrunk.p > 0.0 && shrunk.p < 1.0, "{:?}", shrunk);
            let own = rate(counts, level);
            prop_assert_eq!(own.is_none(), counts.judged == 0);
            if let Some(own) = own {
                prop_assert!(0.0 <= own.low && own.low <= own.p);
                prop_assert!(own.p <= own.high && own.high <= 1.0);
                let (least, most) = (own.p.min(mean), own.p.max(mean));
                prop_assert!(shrunk.p >= least - 1e-12 && shrunk.p <= most + 1e-12);
            }
        }
    }

    /// A fit worth more plants than were judged would claim more than was seen.
    #[test]
    fn what_is_learned_from_a_book_is_worth_no_more_than_its_plants(
        families in prop::collection::vec(any_family(), 3..12),
    ) {
        let judged: u32 = families.iter().map(|c| c.judged).sum();
        if let Prior::FromBook { alpha, beta, .. } = Prior::of(families, &usual(0.4, 10.0)) {
            let worth = alpha + beta;
            prop_assert!(worth > 1.0 - 1e-12 && worth < f64::from(judged), "{} of {}", worth, judged);
        }
    }

    #[test]
    fn the_order_of_families_does_not_matter(
        families in prop::collection::vec(any_family(), 3..12),
    ) {
        let forth = Prior::of(families.iter().copied(), &usual(0.4, 10.0));
        let back = Prior::of(families.iter().rev().copied(), &usual(0.4, 10.0));
        prop_assert_eq!(forth, back);
    }

    #[test]
    fn the_fit_is_a_summit_of_the_likelihood(
        families in prop::collection::vec(any_family(), 3..12),
    ) {
        let groups = || families.iter().map(|c| (c.kept, c.judged));
        if let Spread::Beta { alpha, beta, log_likelihood } = spread(groups()) {
            for (a, b) in [(1.01, 1.0), (0.99, 1.0), (1.0, 1.01), (1.0, 0.99), (2.0, 2.0), (0.5, 0.5)] {
                let other = likelihood(groups(), alpha * a, beta * b);
                prop_assert!(other <= log_likelihood + 1e-9, "{} over {}", other, log_likelihood);
            }
        }
    }
}

/// The beta-binomial likelihood by its products, straight from the definition.
fn likelihood(groups: impl Iterator<Item = (u32, u32)>, alpha: f64, beta: f64) -> f64 {
    let rising = |from: f64, n: u32| (0..n).map(|i| (from + f64::from(i)).ln()).sum::<f64>();
    groups.map(|(k, n)| rising(alpha, k) + rising(beta, n - k) - rising(alpha + beta, n)).sum()
}
