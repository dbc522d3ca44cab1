//! What parents pass on: the truth of invented gardens, laws, and books of which little can be
//! told.

use std::sync::Arc;

use proptest::prelude::*;
use trug::{
    book::{
        About, Book, Crop, Cross, Entry, Look, Parent, PlantDeed, PlantId, Pollen, Season,
        Seedling, Variety, When,
    },
    kinship::{Inheritance, Kinship},
    lineage::Pedigree,
    merit::traits::{BLOOM_MM, Trait, TraitFit},
};

/// A linear congruential generator, so that a garden is the same every time.
struct Chance(u64);

impl Chance {
    fn unit(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 40) as f64 / (1_u64 << 24) as f64
    }

    /// Nearly normal: twelve even deviates added up.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }
}

/// One family: whom by whom, and the figures of its seedlings with the seasons of the looks.
#[derive(Debug, Clone)]
struct Family {
    seed: Parent,
    pollen: Pollen,
    figures: Vec<(i16, f64)>,
}

fn known(parent: usize) -> Parent {
    Parent::Known(format!("p{parent:02}").into())
}

fn family(seed: usize, pollen: usize, figures: Vec<(i16, f64)>) -> Family {
    Family { seed: known(seed), pollen: Pollen::From(known(pollen)), figures }
}

fn look(season: i16, bloom_mm: f64) -> Entry<PlantDeed> {
    let look = Look { bloom_mm: Some(bloom_mm), ..Look::default() };
    let on = When::parse(&format!("{season}-08-20")).unwrap();
    Entry { on, did: PlantDeed::Look(Box::new(look)) }
}

fn book(n_parents: usize, families: &[Family]) -> Book {
    let variety = |n: usize| Variety {
        id: format!("p{n:02}").into(),
        name: format!("p{n:02}").into(),
        ..Variety::default()
    };
    let crosses = families.iter().enumerate().map(|(nth, family)| Cross {
        code: format!("X{nth}").into(),
        season: Some(Season(2019)),
        seed: family.seed.clone(),
        pollen: family.pollen.clone(),
        seedlings: (family.figures.iter().enumerate())
            .map(|(n, &(season, figure))| Seedling {
                number: format!("{nth}-{n}").into(),
                id: None,
                lot: None,
                diary: vec![look(season, figure)],
            })
            .collect(),
        ..Cross::default()
    });
    let varieties = (0..n_parents).map(variety).collect();
    Book::new(About::default(), Arc::new(Crop::default()), varieties, crosses.collect())
}

fn found(book: &Book, ploidy: u8) -> Trait {
    let pedigree = Pedigree::of(book);
    let kinship = Kinship::of(book, &pedigree, Inheritance::new(ploidy, 0.0).unwrap());
    Trait::of(book, &pedigree, &kinship, BLOOM_MM)
}

fn fitted(book: &Book, ploidy: u8) -> TraitFit {
    found(book, ploidy).fitted.unwrap()
}

const N_PARENTS: usize = 12;

/// Parents with their true breeding values, in families of a garden with a heritability of 0.4.
fn garden(seed: u64, per_family: usize) -> (Vec<f64>, Vec<Family>) {
    let mut chance = Chance(seed);
    let truth: Vec<f64> = (0..N_PARENTS).map(|_| 10.0 * chance.normal()).collect();
    let families = (0..30).map(|nth| {
        let (a, b) = (nth % 6, 6 + (nth + nth / 6) % 6);
        let figures = (0..per_family).map(|n| {
            // Of unrelated parents half of the additive variance is among sibs.
            let own = f64::midpoint(truth[a], truth[b]) + 10.0 * 0.5_f64.sqrt() * chance.normal();
            let season = 2020 + i16::try_from((nth + n) % 3).unwrap();
            let weather = 5.0 * f64::from(season - 2020);
            (season, 120.0 + weather + own + 150.0_f64.sqrt() * chance.normal())
        });
        family(a, b, figures.collect())
    });
    let families = families.collect();
    (truth, families)
}

fn correlation(x: &[f64], y: &[f64]) -> f64 {
    let n = x.len() as f64;
    let mean = |x: &[f64]| x.iter().sum::<f64>() / n;
    let (mx, my) = (mean(x), mean(y));
    let sum = |a: &[f64], ma: f64, b: &[f64], mb: f64| -> f64 {
        a.iter().zip(b).map(|(a, b)| (a - ma) * (b - mb)).sum()
    };
    sum(x, mx, y, my) / (sum(x, mx, x, mx) * sum(y, my, y, my)).sqrt()
}

/// The mean over the invented seasons, which come up nearly equally often.
const AVERAGE: f64 = 125.0;

#[test]
fn true_breeding_values_are_found_again_and_ranges_hold_them() {
    let (mut n, mut held, mut of_h2) = (0, 0, Vec::new());
    let mut found_again = 0.0;
    for seed in 1..=12 {
        let (truth, families) = garden(seed, 10);
        let fit = fitted(&book(N_PARENTS, &families), 2);
        let average = truth.iter().sum::<f64>() / truth.len() as f64;
        let mut values = Vec::new();
        for (parent, truth) in (0..).map(PlantId).zip(&truth) {
            let passed = fit.passed_on(parent, 0.9).unwrap();
            values.push(passed.breeding_value);
            let truth = AVERAGE + 0.5 * (truth + average);
            n += 1;
            held += u32::from((passed.low..passed.high).contains(&truth));
        }
        // Nobody was paired within a half, so that the halves cannot be told from each other.
        for half in [0..6, 6..12] {
            found_again += correlation(&truth[half.clone()], &values[half]) / 24.0;
        }
        of_h2.push(fit.heritability());
    }
    assert!(found_again > 0.85, "mean correlation with the truth: {found_again}");
    let share = f64::from(held) / f64::from(n);
    assert!((0.82..0.97).contains(&share), "{held} of {n} ranges hold the truth");
    let mean = of_h2.iter().map(|h2| h2.value).sum::<f64>() / of_h2.len() as f64;
    assert!((mean - 0.4).abs() < 0.1, "heritability {mean}");
    // An estimate near nothing has too small an error, as the likelihood curves more there; so
    // errors are held to how far estimates scatter, over all gardens, and no single one to its own.
    let scatter = (of_h2.iter().map(|h2| (h2.value - 0.4).powi(2)).sum::<f64>() / 12.0).sqrt();
    let errors: Vec<f64> = of_h2.iter().map(|h2| h2.se.unwrap()).collect();
    let error = (errors.iter().map(|se| se * se).sum::<f64>() / 12.0).sqrt();
    // With twelve gardens the scatter itself is known to a fifth.
    assert!((0.6..1.6).contains(&(scatter / error)), "scatter {scatter}, error {error}");
}

#[test]
fn half_a_breeding_value_against_the_others_is_a_general_ability() {
    let (_, families) = garden(5, 10);
    let fit = fitted(&book(N_PARENTS, &families), 8);
    let all: Vec<PlantId> = (0..12).map(PlantId).collect();
    let sum: f64 = all.iter().map(|&p| fit.general_ability(p).unwrap().value).sum();
    assert!(sum.abs() < 1e-8, "general abilities sum to nothing: {sum}");
    for &parent in &all {
        let passed = fit.passed_on(parent, 0.9).unwrap();
        let general = fit.general_ability(parent).unwrap().value;
        assert!((passed.value - fit.average().value - general).abs() < 1e-8);
    }
    assert!(fit.told().groups, "thirty pairings of twelve parents tell what a pairing adds");
    let family = fit.families()[0];
    let [a, b] = family.parents;
    assert_eq!(fit.specific_ability(b, a), family.specific);
    assert_eq!(family.n, 10);
}

fn small_change(by: impl Fn(f64) -> f64) -> (TraitFit, TraitFit) {
    let (_, families) = garden(3, 4);
    let changed: Vec<Family> = families
        .iter()
        .map(|family| {
            let figures = family.figures.iter().map(|&(season, x)| (season, by(x))).collect();
            Family { figures, ..family.clone() }
        })
        .collect();
    (fitted(&book(N_PARENTS, &families), 4), fitted(&book(N_PARENTS, &changed), 4))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    #[test]
    fn another_ruler_gives_the_same_answer_on_its_own_scale(
        factor in 0.05..20.0_f64,
        offset in -200.0..200.0_f64,
    ) {
        let (plain, changed) = small_change(|x| factor * x + offset);
        let h2 = [&plain, &changed].map(|fit| fit.heritability().value);
        prop_assert!((h2[0] - h2[1]).abs() < 1e-4, "{h2:?}");
        for parent in (0..12).map(PlantId) {
            let [a, b] = [&plain, &changed].map(|fit| fit.passed_on(parent, 0.9).unwrap());
            prop_assert!((factor * a.value + offset - b.value).abs() < 1e-3 * factor * 10.0);
            prop_assert!((a.reliability - b.reliability).abs() < 1e-3);
        }
    }

    #[test]
    fn the_order_of_the_crosses_changes_nothing(order in Just((0..30).collect::<Vec<usize>>()).prop_shuffle()) {
        let (_, families) = garden(4, 4);
        let turned: Vec<Family> = order.iter().map(|&nth| families[nth].clone()).collect();
        let [a, b] = [&families, &turned].map(|list| fitted(&book(N_PARENTS, list), 8));
        for parent in (0..12).map(PlantId) {
            let [a, b] = [&a, &b].map(|fit| fit.passed_on(parent, 0.9).unwrap());
            prop_assert!((a.value - b.value).abs() < 1e-3);
            prop_assert!((a.low - b.low).abs() < 1e-3 && (a.high - b.high).abs() < 1e-3);
        }
    }
}

/// Either a sentence on what is missing, or figures that are figures.
fn has_sense(book: &Book, what: &str) -> bool {
    let found = found(book, 8);
    let fit = match found.fitted {
        Err(why) => {
            assert!(why.to_string().ends_with('.'), "{what}: {why}");
            return false;
        }
        Ok(fit) => fit,
    };
    let h2 = fit.heritability();
    assert!((0.0..=1.0).contains(&h2.value), "{what}: {h2:?}");
    assert!(h2.se.is_none_or(f64::is_finite), "{what}: {h2:?}");
    for plant in book.plants() {
        let Some(passed) = fit.passed_on(plant, 0.9) else { continue };
        assert!(passed.low <= passed.value && passed.value <= passed.high, "{what}: {passed:?}");
        assert!(passed.low.is_finite() && passed.high.is_finite(), "{what}: {passed:?}");
        assert!((0.0..=1.0).contains(&passed.reliability), "{what}: {passed:?}");
    }
    for family in fit.families() {
        assert!(family.mean.is_finite() && family.promised.is_finite(), "{what}: {family:?}");
    }
    true
}

fn figures(chance: &mut Chance, n: usize) -> Vec<(i16, f64)> {
    (0..n).map(|_| (2020, 120.0 + 10.0 * chance.normal())).collect()
}

#[test]
fn books_of_which_little_can_be_told_give_sense() {
    let mut chance = Chance(9);
    let mut some = |n| figures(&mut chance, n);
    assert!(!has_sense(&book(0, &[]), "an empty book"));
    assert!(!has_sense(&book(3, &[]), "varieties alone"));
    assert!(!has_sense(&book(2, &[family(0, 1, some(40))]), "one cross"));
    assert!(!has_sense(&book(2, &[family(0, 1, some(1))]), "a family of one"));
    assert!(!has_sense(&book(2, &[family(0, 1, some(10_000))]), "ten thousand in one family"));
    let ones: Vec<Family> = (0..40).map(|n| family(n % 5, 5 + n % 8, some(1))).collect();
    has_sense(&book(13, &ones), "families of one");
    let in_all: Vec<Family> = (1..9).map(|n| family(0, n, some(8))).collect();
    has_sense(&book(9, &in_all), "one parent in everything");
    let selfed: Vec<Family> = (0..8)
        .map(|n| Family { seed: known(n), pollen: Pollen::Selfed, figures: some(8) })
        .collect();
    has_sense(&book(8, &selfed), "parents that are their own mates");
    let unknown: Vec<Family> = (0..8)
        .map(|n| Family { seed: known(n), pollen: Pollen::From(Parent::Unknown), figures: some(8) })
        .collect();
    has_sense(&book(8, &unknown), "every pollen parent unknown");
    let alike: Vec<Family> =
        (0..8).map(|n| family(n, (n + 1) % 8, vec![(2020, 120.0); 8])).collect();
    assert!(!has_sense(&book(8, &alike), "all alike"));
    let apart: Vec<Family> =
        (0..8).map(|n| family(n, (n + 1) % 8, vec![(2020, 100.0 + 9.0 * n as f64); 8])).collect();
    has_sense(&book(8, &apart), "families alike within and unlike between");
}
