//! The reduced equations must say what the full ones say.

use proptest::prelude::*;

use super::{
    super::{self as mixed, Likelihood, Term, Unknown, Variances},
    *,
};

/// Levels with their parents, records in rows of two factors, groups.
#[derive(Debug, Clone)]
struct Case {
    parents: Vec<Vec<(usize, f64)>>,
    own: Vec<f64>,
    groups: Vec<Option<usize>>,
    rows: Vec<Vec<usize>>,
    records: Vec<Record>,
}

const SEASONS: usize = 3;
const BEDS: usize = 2;

fn some_case() -> impl Strategy<Value = Case> {
    (4_usize..8, 6_usize..30).prop_flat_map(|(founders, others)| {
        let n = founders + others;
        let parents = proptest::collection::vec((0..n, 0..n, 0_u8..6), others);
        let records = proptest::collection::vec((0..n, 0..SEASONS, 0..BEDS, -20..20_i32), n..2 * n);
        (parents, records).prop_map(move |(parents, records)| case(founders, &parents, &records))
    })
}

fn case(
    founders: usize,
    parents: &[(usize, usize, u8)],
    records: &[(usize, usize, usize, i32)],
) -> Case {
    let mut all = Case {
        parents: vec![Vec::new(); founders],
        own: vec![1.0; founders],
        groups: vec![None; founders],
        rows: (0..SEASONS * BEDS).map(|row| vec![row % SEASONS, SEASONS + row / SEASONS]).collect(),
        records: Vec::new(),
    };
    for (nth, &(a, b, how)) in parents.iter().enumerate() {
        // Few parents, so that many levels are like each other.
        let (a, b) = (a % (founders + nth / 4), b % (founders + nth / 4));
        let (shares, own) = match how {
            0 => (Vec::new(), 1.0),
            1 => (vec![(a, 0.5)], 0.75),
            2 if a != b => (vec![(a, 0.3), (b, 0.6)], 0.6),
            _ if a == b => (vec![(a, 1.0)], 0.4),
            _ => (vec![(a, 0.5), (b, 0.5)], 0.5),
        };
        all.groups.push((shares.len() == 2).then_some((a + b) % 5));
        all.parents.push(shares);
        all.own.push(own);
    }
    let record = |&(level, season, bed, y): &(usize, usize, usize, i32)| Record {
        level,
        row: season + SEASONS * bed,
        y: 100.0 + f64::from(y) + 5.0 * season as f64,
    };
    all.records = records.iter().map(record).collect();
    all
}

impl Case {
    fn reduced(&self, with: With) -> Model {
        let descended = Descended { parents: &self.parents, own: &self.own, groups: &self.groups };
        Model::of(descended, (SEASONS + BEDS, &self.rows), &self.records, with)
    }

    /// The same by the full equations: terms for descent, groups, and what lasts.
    fn full(&self) -> mixed::Model {
        let n = self.parents.len();
        let of = |what: &dyn Fn(&Record) -> usize| self.records.iter().map(what).collect();
        let level: Vec<usize> = of(&|record| record.level);
        let fixed = self
            .records
            .iter()
            .map(|record| self.rows[record.row].iter().map(|&effect| (effect, 1.0)).collect());
        let groups = self.records.iter().map(|record| {
            self.groups[record.level].map(|group| (group, 1.0)).into_iter().collect()
        });
        let mut inverse = Vec::new();
        for (level, (parents, own)) in self.parents.iter().zip(&self.own).enumerate() {
            let row: Vec<(usize, f64)> =
                [(level, 1.0)].into_iter().chain(parents.iter().map(|&(p, q)| (p, -q))).collect();
            for (i, &(r, x)) in row.iter().enumerate() {
                inverse.extend(row[..=i].iter().map(|&(c, y)| (r, c, x * y / own)));
            }
        }
        let ln_det = self.own.iter().map(|own| own.ln()).sum();
        mixed::Model::of(self.records.iter().map(|record| record.y).collect())
            .fixed(SEASONS + BEDS, fixed.collect())
            .random(Term::of_levels(n, &level).related(inverse, ln_det))
            .random(Term::of_shares(5, groups.collect()))
            .random(Term::of_levels(n, &level))
    }
}

fn variances(shares: &Shares) -> Variances {
    let terms = [shares.descent, shares.group, shares.lasting];
    Variances { residual: shares.residual, terms: terms.map(|x| vec![x]).to_vec() }
}

const BOTH: With = With { groups: true, lasting: true };

proptest! {
    #[test]
    fn it_says_what_the_full_equations_say(
        case in some_case(),
        descent in 0.0..3.0_f64,
        group in 0.0..2.0_f64,
        lasting in 0.0..2.0_f64,
    ) {
        let shares = Shares { descent, group, lasting, residual: 1.5 };
        let full = case.full().solve(&variances(&shares)).unwrap();
        let fit = case.reduced(BOTH).solve(&shares).unwrap();
        let values = case.reduced(BOTH).values(&shares, 1e-13).unwrap();
        prop_assert!((fit.ln_likelihood() - full.ln_likelihood()).abs() < 1e-7);
        for (level, value) in values.into_iter().enumerate() {
            let wanted = full.random(0, level);
            prop_assert!((fit.value(level) - wanted).abs() < 1e-8);
            prop_assert!((value - wanted).abs() < 1e-8);
            let error = full.error_variance(0, level);
            prop_assert!((fit.error_variance(level) - error).abs() < 1e-8);
        }
        for group in 0..5 {
            if let Some(got) = fit.group(group) {
                prop_assert!((got.value - full.random(1, group)).abs() < 1e-8);
                let error = full.error_variance(1, group).sqrt();
                prop_assert!((got.se.unwrap() - error).abs() < 1e-8);
            }
        }
    }

    #[test]
    fn a_sum_has_the_error_that_the_full_equations_give_it(
        case in some_case(),
        pick in (0_usize..100, 0_usize..100),
    ) {
        let shares = Shares { descent: 2.0, group: 0.5, lasting: 0.3, residual: 1.0 };
        let full = case.full().solve(&variances(&shares)).unwrap();
        let fit = case.reduced(BOTH).solve(&shares).unwrap();
        let n = case.parents.len();
        // The sum is over parents only, and the one beside it anybody.
        let mut is_parent = vec![false; n];
        for &(parent, _) in case.parents.iter().flatten() {
            is_parent[parent] = true;
        }
        let parents: Vec<usize> = (0..n).filter(|&level| is_parent[level]).collect();
        prop_assume!(!parents.is_empty());
        let (one, other) = (parents[pick.0 % parents.len()], pick.1 % n);
        let effect = (0..SEASONS).find(|&effect| full.fixed(effect).is_some());
        let fixed: Vec<(usize, f64)> = effect.map(|effect| (effect, 1.0)).into_iter().collect();
        let got = fit.beside(other, 0.5, &fit.sum(&[(one, 0.25)], &fixed));
        let level = |level| Unknown::Random { term: 0, effect: 0, level };
        let mut made = vec![(level(one), 0.25), (level(other), 0.5)];
        made.extend(effect.map(|effect| (Unknown::Fixed(effect), 1.0)));
        let mut variance = 0.0;
        for &(a, x) in &made {
            for &(b, y) in &made {
                variance += x * y * full.error_covariance(a, b);
            }
        }
        prop_assert!((got.se.unwrap() - variance.max(0.0).sqrt()).abs() < 1e-7);
    }
}

/// Thirty families of ten parents, with a heritability well away from both ends.
fn some_families() -> Case {
    let parents: Vec<(usize, usize, u8)> =
        (0..30).flat_map(|f| (0..8).map(move |_| (f % 5, 5 + (f * 7 + f / 5) % 5, 5))).collect();
    let mut all = case(10, &[], &[]);
    let mut state = 1_u64;
    let mut dice = || {
        // A linear congruential generator; twelve of its numbers add up to nearly normal.
        (0..12)
            .map(|_| {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                (state >> 40) as f64 / (1_u64 << 24) as f64
            })
            .sum::<f64>()
            - 6.0
    };
    let mut values: Vec<f64> = (0..10).map(|_| 3.0 * dice()).collect();
    for (nth, (a, b, _)) in parents.into_iter().enumerate() {
        all.parents.push(vec![(a, 0.5), (b, 0.5)]);
        all.own.push(0.5);
        all.groups.push(Some(a * 5 + b - 5).map(|group| group % 5));
        values.push(f64::midpoint(values[a], values[b]) + 3.0 * 0.5_f64.sqrt() * dice());
        let lasting = dice();
        for look in 0..=nth % 2 {
            let y = 100.0 + values[10 + nth] + lasting + 2.0 * dice();
            let row = (nth / 8 + look) % (SEASONS * BEDS);
            all.records.push(Record { level: 10 + nth, row, y });
        }
    }
    all
}

#[test]
fn variances_are_those_of_the_full_equations() {
    let case = some_families();
    let full = case.full().fit(Likelihood::Restricted).unwrap();
    let fit = case.reduced(BOTH).fit().unwrap();
    let shares = fit.shares();
    assert!((fit.ln_likelihood() - full.ln_likelihood()).abs() < 1e-7);
    let wanted = full.variances();
    for (got, wanted) in [
        (shares.descent, wanted.terms[0][0]),
        (shares.group, wanted.terms[1][0]),
        (shares.lasting, wanted.terms[2][0]),
        (shares.residual, wanted.residual),
    ] {
        assert!((got - wanted).abs() < 1e-4 * (1.0 + wanted), "{got} {wanted}");
    }
    let got = fit.ratio(Shares::by_descent);
    let wanted = full.ratio(&[1.0, 0.0, 0.0, 0.0], &[1.0; 4]).unwrap();
    assert!((got.value - wanted.value).abs() < 1e-4);
    assert!((got.se.unwrap() - wanted.se.unwrap()).abs() < 1e-3 * wanted.se.unwrap());
}

#[test]
fn what_cannot_be_told_is_said() {
    let mut case = some_families();
    for record in &mut case.records {
        record.y = 7.0;
    }
    assert_eq!(case.reduced(BOTH).fit().err(), Some(mixed::NotFitted::NoVariation));
    case.records.clear();
    assert_eq!(case.reduced(BOTH).fit().err(), Some(mixed::NotFitted::TooFewRecords));
    let shares = Shares { descent: -1.0, group: 0.0, lasting: 0.0, residual: 1.0 };
    assert_eq!(case.reduced(BOTH).solve(&shares).err(), Some(mixed::NotFitted::NoVariance));
}
