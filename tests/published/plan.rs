//! Dealing places out among pairs, and contributions of parents.

use std::collections::BTreeMap;

use trug::plan::{
    choose::{Choice, Limits, Question, USUAL_EFFORT, broken, choose},
    contributions::{Asked, Contributions, best, least_kin},
};

use super::{Row, close, figures, table};

/// The parents in order, with their merits and coancestries.
struct Parents {
    names: Vec<String>,
    merits: Vec<f64>,
    coancestry: Vec<f64>,
    groups: Vec<usize>,
}

impl Parents {
    fn of(check: &str) -> Self {
        let rows = table(check, "data.csv");
        let names: Vec<String> = rows.iter().map(|row| row.text("candidate").to_owned()).collect();
        let at = |name: &str| names.iter().position(|n| n == name).unwrap();
        let mut coancestry = vec![0.0; names.len() * names.len()];
        for row in table(check, "expected_coancestry.csv") {
            let (a, b) = (at(row.text("row")), at(row.text("col")));
            coancestry[a * names.len() + b] = row.number("coancestry");
            coancestry[b * names.len() + a] = row.number("coancestry");
        }
        let merits = rows.iter().map(|row| row.number("merit")).collect();
        let groups = rows.iter().map(|row| usize::from(row.text("sex") == "M")).collect();
        Self { names, merits, coancestry, groups }
    }

    fn asked(&self, most: f64) -> Asked<'_> {
        Asked { merits: &self.merits, coancestry: &self.coancestry, groups: &self.groups, most }
    }
}

fn contributions_agree(check: &str, most: f64) {
    let parents = Parents::of(check);
    let asked = parents.asked(most);
    let agree = |problem: &str, got: &Contributions| {
        let mut n = 0;
        for row in table(check, "expected_contributions.csv") {
            if row.text("problem") == problem {
                let at = parents.names.iter().position(|name| name == row.text("candidate"));
                close(got.shares[at.unwrap()], row.number("contribution"), 1e-3, problem);
                n += 1;
            }
        }
        assert_eq!(n, parents.names.len(), "{problem}");
    };
    for (quantity, value) in figures(check, "expected.csv") {
        if quantity == "min_group_coancestry" {
            let least = least_kin(&asked).unwrap();
            close(least.kinship, value, 1e-8, check);
            agree("min_coancestry", &least);
        } else {
            let limit: f64 = quantity.strip_prefix("max_gain_at_K=").unwrap().parse().unwrap();
            let got = best(&asked, limit).unwrap();
            assert!(got.kinship <= limit + 1e-8, "{quantity}: {}", got.kinship);
            close(got.merit, value, 1e-5 * value, &quantity);
            agree(quantity.strip_prefix("max_gain_at_").unwrap(), &got);
        }
    }
    let least = least_kin(&asked).unwrap();
    assert!(best(&asked, 0.99 * least.kinship).is_none(), "less kin than there can be");
}

#[test]
fn contributions_of_parents_under_a_limit_on_kinship() {
    contributions_agree("l01", 1.0);
}

#[test]
fn contributions_of_seed_and_pollen_parents_each_at_most_so_much() {
    contributions_agree("l02", 0.3);
}

fn pairs_of(rows: &[Row]) -> (Vec<[usize; 2]>, usize) {
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    let pairs = rows
        .iter()
        .map(|row| {
            ["p1", "p2"].map(|column| {
                let n = names.len();
                *names.entry(row.text(column).to_owned()).or_insert(n)
            })
        })
        .collect();
    (pairs, names.len())
}

#[test]
fn a_crossing_plan_of_fifteen_pairs() {
    let limits: BTreeMap<String, u32> = table("l04", "data_limits.csv")
        .into_iter()
        .filter(|row| row.text("limit") != "penalty_per_unit_coancestry")
        .map(|row| (row.text("limit").to_owned(), row.count("value")))
        .collect();
    let scored = table("l04", "expected_pairs.csv");
    let (pairs, n_parents) = pairs_of(&scored);
    let choice = |(parents, row): (&[usize; 2], &Row)| Choice {
        parents: *parents,
        worth: row.number("score"),
        least: limits["min_seedlings_per_pair"],
        most: limits["max_seedlings_per_pair"],
        must: false,
    };
    let question = Question {
        choices: pairs.iter().zip(&scored).map(choice).collect(),
        n_parents,
        limits: Limits {
            places: limits["bed_places"],
            pairs: limits["max_pairs"],
            per_parent: limits["max_pairs_per_parent"],
        },
        kin: None,
    };
    let plan = choose(&question, USUAL_EFFORT).unwrap();
    let optimum = table("l04", "expected.csv");
    let optimum = optimum.iter().find(|row| row.text("quantity") == "optimum").unwrap();
    close(plan.dealt.worth, optimum.number("value"), 1e-6, "worth");
    close(plan.bound, optimum.number("value"), 1e-6, "bound");
    assert!(plan.is_optimal && broken(&question, &plan.dealt.places).is_empty());
}

#[test]
fn an_assignment_of_seven_to_seven() {
    let rows = table("l06", "data.csv");
    let totals = figures("l06", "expected.csv");
    for (quantity, sign) in [("max_total", 1.0), ("min_total", -1.0)] {
        // Worth at least 1 more than nothing, so that everybody is given somebody.
        let worth = |row: &Row, m: usize| 20.0 + sign * row.number(&format!("m{m}"));
        let choices = rows.iter().enumerate().flat_map(|(f, row)| {
            (0..7).map(move |m| Choice {
                parents: [f, 7 + m],
                worth: worth(row, m),
                least: 1,
                most: 1,
                must: false,
            })
        });
        let question = Question {
            choices: choices.collect(),
            n_parents: 14,
            limits: Limits { places: 7, pairs: 7, per_parent: 1 },
            kin: None,
        };
        let plan = choose(&question, USUAL_EFFORT).unwrap();
        assert!(plan.is_optimal);
        close(sign * (plan.dealt.worth - 140.0), totals[quantity], 1e-9, quantity);
    }
}

#[test]
fn families_into_a_hundred_places() {
    let rows = table("l07", "data.csv");
    let choice = |(at, row): (usize, &Row)| {
        let places = row.count("places");
        Choice {
            parents: [at, at],
            worth: row.number("value") / f64::from(places),
            least: places,
            most: places,
            must: false,
        }
    };
    let question = Question {
        choices: rows.iter().enumerate().map(choice).collect(),
        n_parents: rows.len(),
        limits: Limits { places: 100, pairs: 100, per_parent: 1 },
        kin: None,
    };
    let plan = choose(&question, USUAL_EFFORT).unwrap();
    let expected = table("l07", "expected.csv");
    let value = expected.iter().find(|row| row.text("quantity") == "max_value").unwrap();
    close(plan.dealt.worth, value.number("value"), 1e-9, "value");
    let chosen: Vec<&str> = rows
        .iter()
        .zip(&plan.dealt.places)
        .filter(|(_, places)| **places > 0)
        .map(|(row, _)| row.text("family"))
        .collect();
    let families = expected.iter().find(|row| row.text("quantity") == "families").unwrap();
    assert_eq!(chosen.join(" "), families.text("value"));
}
