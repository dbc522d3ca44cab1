//! Forecasts of pairs: what they must do on any book, however poor.

use std::{collections::BTreeMap, sync::Arc};

use trug::{
    book::{
        About, Book, By, Candidate, Counts, Cross, Entry, Father, Lot, Parent, PlantDeed, PlantId,
        Pollen, Season, Seedling, Totals, Variety, Verdict, When,
    },
    kinship::{Inheritance, Kinship},
    lineage::Pedigree,
    merit::liability::{Forecasts, NotEnough, Options, Outcome, Question},
};

/// A family of which only totals are known.
pub(crate) fn family(seed: &str, pollen: &str, season: i16, kept: u32, judged: u32) -> Cross {
    let parent = |key: &str| match key {
        "?" => Parent::Unknown,
        list if list.contains('|') => Parent::OneOf(
            list.split('|').map(|key| Candidate { key: key.into(), weight: 0.4 }).collect(),
        ),
        key => Parent::Known(key.into()),
    };
    let totals = Totals { judged: Some(judged), kept: Some(kept), ..Totals::default() };
    Cross {
        code: format!("{season}-{seed}-{pollen}").into(),
        season: Some(Season(season)),
        seed: parent(seed),
        pollen: if seed == pollen { Pollen::Selfed } else { Pollen::From(parent(pollen)) },
        totals: Some(totals),
        ..Cross::default()
    }
}

pub(crate) fn seedling(number: &str, verdicts: &[(&str, Verdict)]) -> Seedling {
    let word = |&(on, is): &(&str, Verdict)| Entry {
        on: When::parse(on).unwrap(),
        did: PlantDeed::Verdict { is, why: None, who: None },
    };
    let bloom = verdicts.first().map_or("2024-08-20", |(on, _)| on);
    let bloom = Entry { on: When::parse(bloom).unwrap(), did: PlantDeed::FirstBloom };
    let diary = std::iter::once(bloom).chain(verdicts.iter().map(word)).collect();
    Seedling { number: number.into(), diary, ..Seedling::default() }
}

pub(crate) fn book(crosses: Vec<Cross>) -> Book {
    let crop = trug::shelf::crop_file::builtin("dahlia").unwrap();
    let varieties = ["a", "b", "c", "d", "e"].map(|id| Variety {
        id: id.into(),
        name: id.into(),
        ..Variety::default()
    });
    Book::new(About::default(), Arc::new(crop), varieties.to_vec(), crosses)
}

fn fit_outcome(book: &Book, outcome: Outcome) -> Result<Forecasts, NotEnough> {
    let pedigree = Pedigree::of(book);
    let kinship = Kinship::of(book, &pedigree, Inheritance::of(book).unwrap());
    Forecasts::fit(book, &pedigree, Arc::new(kinship), outcome, Options::default())
}

fn fit(book: &Book) -> Result<Forecasts, NotEnough> {
    fit_outcome(book, Outcome::Kept)
}

fn plant(book: &Book, key: &str) -> PlantId {
    book.by_key(key).unwrap()
}

/// The forecast of a pair, looked over.
#[track_caller]
fn pair(book: &Book, forecasts: &Forecasts, a: &str, b: &str) -> f64 {
    let seen = forecasts.pair(plant(book, a), plant(book, b), 0.9);
    assert!(seen.low > 0.0 && seen.high < 1.0, "{a} × {b}: {seen:?}");
    assert!(seen.low < seen.p && seen.p < seen.high, "{a} × {b}: {seen:?}");
    seen.p
}

/// Everything that can be asked of a poor book has a sensible answer.
#[track_caller]
fn look_over(book: &Book) -> Forecasts {
    let forecasts = fit(book).unwrap();
    let all: Vec<PlantId> = book.plants().collect();
    let mut pairs = Vec::new();
    for &a in &all {
        let merit = forecasts.parent(a, 0.9);
        assert!(0.0 < merit.low && merit.low < merit.p, "{merit:?}");
        assert!(merit.p < merit.high && merit.high < 1.0, "{merit:?}");
        for &b in &all {
            pair(book, &forecasts, book.plant(a).key(), book.plant(b).key());
            pairs.push(Question::Pair(a, b));
        }
    }
    pairs.extend(book.cross_ids().map(|cross| Question::Crosses(vec![cross])));
    for answer in forecasts.answers(&pairs, 0.9) {
        assert!(answer.low < answer.p && answer.p < answer.high, "{answer:?}");
    }
    let best = forecasts.chance_best(&pairs);
    assert!((best.iter().sum::<f64>() - 1.0).abs() < 1e-9 || pairs.is_empty());
    for &season in forecasts.seasons() {
        let seen = forecasts.season(season, 0.9);
        assert!(seen.low < seen.p && seen.p < seen.high, "{season}: {seen:?}");
    }
    let sources = forecasts.sources(all[0], all[1], 0.9);
    let sum = sources.book + sources.inbreeding + sources.kin + sources.parents + sources.own;
    assert!((sum - sources.whole.p).abs() < 1e-9, "{sources:?}");
    forecasts
}

#[test]
fn a_book_without_a_judged_plant_has_no_forecasts() {
    assert_eq!(fit(&book(Vec::new())).err(), Some(NotEnough::NothingJudged));
    let held = Cross {
        seedlings: vec![seedling("1", &[("2025-09-01", Verdict::Hold)])],
        totals: None,
        ..family("a", "b", 2024, 0, 0)
    };
    assert_eq!(fit(&book(vec![held])).err(), Some(NotEnough::NothingJudged));
}

#[test]
fn poor_books_have_sensible_forecasts() {
    for crosses in [
        vec![family("a", "b", 2020, 3, 10)],
        vec![family("a", "b", 2020, 1, 1)],
        vec![family("a", "b", 2020, 10, 10), family("c", "d", 2021, 25, 25)],
        vec![family("a", "b", 2020, 0, 10), family("c", "d", 2021, 0, 25)],
        vec![
            family("a", "b", 2020, 2, 10),
            family("a", "c", 2020, 4, 9),
            family("d", "a", 2021, 0, 9),
        ],
        vec![family("a", "a", 2020, 2, 10), family("a", "b", 2020, 4, 9)],
        vec![family("a", "b", 2020, 4_000, 10_000), family("a", "c", 2021, 1, 4)],
        vec![family("a", "?", 2020, 4, 10), family("b", "?", 2021, 1, 12)],
        vec![family("?", "?", 2020, 4, 10), family("?", "?", 2020, 1, 12)],
        vec![family("a", "b|c", 2020, 4, 10), family("d", "b|c|e", 2021, 1, 12)],
        vec![Cross { by: By::Bees, ..family("a", "b|c", 2020, 4, 10) }],
        vec![Cross { season: None, ..family("a", "b", 2020, 4, 10) }],
    ] {
        look_over(&book(crosses));
    }
}

#[test]
fn a_plant_that_is_its_own_ancestor_does_no_harm() {
    let own = Cross {
        seedlings: vec![seedling("x", &[("2025-09-01", Verdict::Keep)])],
        ..family("a", "x", 2024, 2, 9)
    };
    look_over(&book(vec![own, family("x", "b", 2025, 1, 8)]));
}

#[test]
fn what_is_tried_moves_towards_its_own_record_and_drags_its_kin_along() {
    let crosses = |kept| {
        let others = [("a", "c", 4), ("b", "d", 4), ("c", "e", 4), ("d", "e", 4)];
        let mut crosses: Vec<Cross> =
            others.iter().map(|(s, p, k)| family(s, p, 2020, *k, 20)).collect();
        crosses.push(family("a", "b", 2021, kept, 20));
        book(crosses)
    };
    let (poor, rich) = (crosses(0), crosses(12));
    let [low, high] = [&poor, &rich].map(|book| fit(book).unwrap());
    let of = |a, b| (pair(&poor, &low, a, b), pair(&rich, &high, a, b));
    let own = of("a", "b");
    assert!(own.0 < 0.2 && own.0 > 0.0 && own.1 > 0.3 && own.1 < 0.6, "{own:?}");
    let partner = of("a", "e");
    assert!(partner.0 + 0.03 < partner.1, "a partner never tried: {partner:?}");
    let mean = |of: &Forecasts, book: &Book| of.parent(plant(book, "a"), 0.9).p;
    assert!(mean(&low, &poor) < mean(&high, &rich));
}

#[test]
fn the_better_season_is_seen_and_not_taken_for_a_better_pair() {
    let crosses = [("a", "b"), ("c", "d"), ("a", "d"), ("b", "c")]
        .map(|(s, p)| [family(s, p, 2020, 4, 30), family(s, p, 2021, 14, 30)]);
    let mut crosses: Vec<Cross> = crosses.into_iter().flatten().collect();
    crosses.push(family("e", "a", 2021, 14, 30));
    let book = book(crosses);
    let forecasts = look_over(&book);
    let of = |season| forecasts.season(Season(season), 0.9).p;
    assert!(of(2022) > of(2021) + 0.1, "judged the year after: {} {}", of(2021), of(2022));
    let (with_e, without) = (pair(&book, &forecasts, "e", "a"), pair(&book, &forecasts, "a", "b"));
    assert!(with_e - without < 0.08, "the season explains it: {with_e} {without}");
}

/// 2 of 20 and 10 of 20 from pairs of the same two kinds of parent.
fn with_a_seedling_as_parent(verdict: Verdict) -> Book {
    let seedlings = vec![seedling("26-1", &[("2025-09-01", verdict)])];
    let raised = Cross { seedlings, ..family("a", "b", 2024, 4, 20) };
    let others = [family("c", "d", 2024, 2, 20), family("c", "e", 2024, 8, 20)];
    let used = family("26-1", "c", 2026, 0, 0);
    book([vec![raised, used], others.to_vec()].concat())
}

#[test]
fn the_word_on_a_parent_counts_for_it_once() {
    let [kept, discarded] = [Verdict::Keep, Verdict::Discard].map(with_a_seedling_as_parent);
    let [high, low] = [&kept, &discarded].map(|book| fit(book).unwrap());
    let (up, down) = (pair(&kept, &high, "26-1", "c"), pair(&discarded, &low, "26-1", "c"));
    assert!(up > down + 0.02, "{up} {down}");
    // The same family with no word on the parent: its sibs alone hardly change the pair they are of.
    let (sibs_up, sibs_down) = (pair(&kept, &high, "a", "b"), pair(&discarded, &low, "a", "b"));
    assert!((sibs_up - sibs_down).abs() < up - down, "{sibs_up} {sibs_down}");
}

#[test]
fn a_keeper_that_was_never_crossed_has_a_forecast_of_its_own() {
    let seedlings = vec![
        seedling("26-1", &[("2025-09-01", Verdict::Keep)]),
        seedling("26-2", &[("2025-09-01", Verdict::Discard)]),
    ];
    let raised = Cross { seedlings, ..family("a", "b", 2024, 4, 20) };
    let book = book(vec![raised, family("c", "d", 2024, 2, 20), family("c", "e", 2024, 8, 20)]);
    let forecasts = look_over(&book);
    let (kept, not) = (pair(&book, &forecasts, "26-1", "c"), pair(&book, &forecasts, "26-2", "c"));
    assert!(kept > not, "{kept} {not}");
}

#[test]
fn candidates_lie_between_what_each_of_them_would_say() {
    let bees = |pollen| {
        let known = [family("b", "d", 2020, 1, 20), family("c", "d", 2020, 9, 20)];
        let lot =
            Lot { code: "x".into(), father: Some(Father::Each), seeds: None, diary: Vec::new() };
        let open = Cross { by: By::Bees, lots: vec![lot], ..family("a", pollen, 2021, 6, 20) };
        book([known.to_vec(), vec![open]].concat())
    };
    let merit = |pollen| {
        let book = bees(pollen);
        fit(&book).unwrap().parent(plant(&book, "a"), 0.9).p
    };
    let (poor, rich, open) = (merit("b"), merit("c"), merit("b|c"));
    assert!(poor > rich, "with a poor father the mother must be good: {poor} {rich}");
    assert!(open < poor && open > rich - 0.02, "{rich} {open} {poor}");
}

#[test]
fn a_source_taken_out_of_the_book_takes_away_what_it_was_said_to_add() {
    let all = || {
        let mut crosses: Vec<Cross> = [("a", "c", 9), ("b", "d", 7), ("c", "e", 3), ("d", "e", 2)]
            .iter()
            .map(|(s, p, k)| family(s, p, 2020, *k, 20))
            .collect();
        crosses.push(family("a", "b", 2021, 12, 20));
        crosses
    };
    let whole = book(all());
    let forecasts = fit(&whole).unwrap();
    let of = forecasts.sources(plant(&whole, "a"), plant(&whole, "b"), 0.9);
    assert!(of.own > 0.02 && of.parents > 0.02, "{of:?}");
    let mut other = all();
    other.pop();
    let less = book(other);
    let without = pair(&less, &fit(&less).unwrap(), "a", "b");
    assert!((of.whole.p - of.own - without).abs() < 0.01, "{of:?} {without}");
    let least = book(all().into_iter().skip(2).take(2).collect());
    let without = pair(&least, &fit(&least).unwrap(), "a", "b");
    assert!((of.book + of.inbreeding + of.kin - without).abs() < 0.01, "{of:?} {without}");
}

#[test]
fn bloom_and_second_seasons_are_forecast_by_the_same_machinery() {
    let raised = |seed, pollen, n: usize| {
        let code = format!("{seed}{pollen}");
        let seedlings = (0..10).map(|i| {
            let second = if i < n { Verdict::Keep } else { Verdict::Discard };
            let words = [("2025-09-01", Verdict::Keep), ("2026-09-01", second)];
            seedling(&format!("{code}-{i}"), &words)
        });
        Cross { seedlings: seedlings.collect(), totals: None, ..family(seed, pollen, 2024, 0, 0) }
    };
    let book = book(vec![raised("a", "b", 8), raised("c", "d", 1)]);
    let again = fit_outcome(&book, Outcome::KeptAgain).unwrap();
    assert!(pair(&book, &again, "a", "b") > pair(&book, &again, "c", "d") + 0.1);
    let bloomed = fit_outcome(&book, Outcome::Bloomed).unwrap();
    assert!(pair(&book, &bloomed, "a", "b") > 0.8, "all bloomed");
    let counts: BTreeMap<_, Counts> =
        book.crosses().iter().map(|c| (c.code.clone(), c.counts())).collect();
    assert!(counts.values().all(|c| c.bloomed == 10));
}

#[test]
fn chances_of_being_best_go_with_the_forecasts() {
    let book = book(vec![
        family("a", "b", 2020, 16, 20),
        family("c", "d", 2020, 2, 20),
        family("a", "e", 2021, 9, 20),
    ]);
    let forecasts = fit(&book).unwrap();
    let of = |a, b| Question::Pair(plant(&book, a), plant(&book, b));
    let pairs = [of("a", "b"), of("c", "d"), of("c", "e")];
    let best = forecasts.chance_best(&pairs);
    assert!(best[0] > 0.6 && best[1] < 0.1, "{best:?}");
    assert_eq!(best, forecasts.chance_best(&pairs), "the same call, the same answer");
    assert_eq!(forecasts.chance_best(&[]), Vec::<f64>::new());
}

#[test]
fn more_of_an_unknown_parentage_is_forecast_by_its_own_record() {
    let book = book(vec![
        family("?", "?", 2020, 2, 40),
        family("a", "?", 2020, 20, 40),
        family("b", "c", 2020, 8, 40),
    ]);
    let forecasts = look_over(&book);
    let of = |nth: u32| Question::Crosses(vec![trug::book::CrossId(nth)]);
    let answers = forecasts.answers(&[of(0), of(1)], 0.9);
    let codes = [0, 1].map(|nth: usize| book.crosses()[nth].code.to_string());
    assert_eq!(codes, ["2020-?-?", "2020-a-?"]);
    assert!(answers[0].p < 0.15 && answers[1].p > 0.35, "{answers:?}");
}
