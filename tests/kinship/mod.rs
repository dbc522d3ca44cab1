//! The laws of kinship, on invented gardens; and alleles dropped down pedigrees one by one, which
//! knows no formula.

mod drop;
mod laws;

use std::sync::Arc;

use proptest::prelude::*;
use trug::{
    book::{About, Book, Candidate, Crop, Cross, Father, Lot, Parent, Pollen, Seedling, Variety},
    kinship::{Inheritance, Kinship},
    lineage::Pedigree,
};

/// A parent as an invented garden names it: plants by their place among all that came before.
#[derive(Debug, Clone)]
enum Source {
    Unknown,
    Known(u8),
    OneOf(Vec<(u8, u8)>),
}

/// One cross of an invented garden.
#[derive(Debug, Clone)]
struct Plan {
    seed: Source,
    pollen: Source,
    selfed: bool,
    /// The lots: whose seeds share a father, and how many plants.
    lots: Vec<(Option<Father>, u8)>,
}

fn source() -> impl Strategy<Value = Source> {
    prop_oneof![
        1 => Just(Source::Unknown),
        6 => any::<u8>().prop_map(Source::Known),
        2 => proptest::collection::vec((any::<u8>(), 1_u8..4), 1..4).prop_map(Source::OneOf),
    ]
}

fn plan() -> impl Strategy<Value = Plan> {
    let father = prop_oneof![Just(None), Just(Some(Father::One)), Just(Some(Father::Each))];
    let lots = proptest::collection::vec((father, 1_u8..3), 1..3);
    (source(), source(), prop::bool::weighted(0.15), lots)
        .prop_map(|(seed, pollen, selfed, lots)| Plan { seed, pollen, selfed, lots })
}

/// A few founders and up to seven crosses, each of plants that were there before.
fn plans() -> impl Strategy<Value = Vec<Plan>> {
    proptest::collection::vec(plan(), 1..8)
}

const FOUNDERS: usize = 3;

fn lay_out(plans: &[Plan]) -> (Vec<Variety>, Vec<Cross>) {
    let mut keys: Vec<String> = (0..FOUNDERS).map(|i| format!("V{i}")).collect();
    let varieties =
        keys.iter().map(|id| Variety { id: (&**id).into(), ..Variety::default() }).collect();
    let mut crosses = Vec::new();
    for (n, plan) in plans.iter().enumerate() {
        let key = |at: u8| Box::<str>::from(&*keys[usize::from(at) % keys.len()]);
        let parent = |source: &Source| match source {
            Source::Unknown => Parent::Unknown,
            Source::Known(at) => Parent::Known(key(*at)),
            // Fourteenths: what is left over is an unknown plant.
            Source::OneOf(list) => Parent::OneOf(
                list.iter()
                    .map(|&(at, w)| Candidate { key: key(at), weight: f64::from(w) / 14.0 })
                    .collect(),
            ),
        };
        let pollen = if plan.selfed { Pollen::Selfed } else { Pollen::From(parent(&plan.pollen)) };
        let mut cross = Cross {
            code: format!("X{n}").into(),
            seed: parent(&plan.seed),
            pollen,
            ..Cross::default()
        };
        for (l, &(father, plants)) in plan.lots.iter().enumerate() {
            let code: Box<str> = format!("X{n}-{l}").into();
            for i in 0..plants {
                cross.seedlings.push(Seedling {
                    number: format!("{n}-{l}{i}").into(),
                    lot: Some(code.clone()),
                    ..Seedling::default()
                });
            }
            cross.lots.push(Lot { code, father, seeds: None, diary: Vec::new() });
        }
        keys.extend(cross.seedlings.iter().map(|s| s.number.to_string()));
        crosses.push(cross);
    }
    (varieties, crosses)
}

fn book(varieties: Vec<Variety>, crosses: Vec<Cross>) -> Book {
    Book::new(About::default(), Arc::new(Crop::default()), varieties, crosses)
}

fn kinship(book: &Book, ploidy: u8, double_reduction: f64) -> Kinship {
    let rules = Inheritance::new(ploidy, double_reduction).unwrap();
    Kinship::of(book, &Pedigree::of(book), rules)
}
