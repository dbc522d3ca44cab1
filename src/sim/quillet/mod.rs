//! Quillet Garden: the demo, a place and people of our own invention.
//!
//! Hester Vane and her brother-in-law Tom Arkell raise dahlias behind an old rope walk. What
//! they set out to do is in the script; what came of it is left to the model and the dice; a few
//! mishaps of every real book are put in by hand at the end.

mod mess;
mod script;
mod varieties;

use std::{collections::BTreeMap, sync::Arc};

use super::{
    Garden, Habits, Inheritance, Liking, Luck, Ways,
    garden::date,
    scribe::{Hand, Scribe},
};

use crate::book::{About, Aim, Bed, Book, Crop, Frost, Season, Want};

/// The seed of the demo that is laid out.
pub const SEED: u64 = 143;

/// What was truly so in an invented garden, and stands nowhere in its book.
#[derive(Debug, Clone, PartialEq)]
pub struct Truth {
    /// What each plant's genes make of it in an average season, by key.
    pub worth: BTreeMap<String, f64>,
    /// Who truly gave the pollen, by key.
    pub fathers: BTreeMap<String, String>,
    /// What each season added.
    pub seasons: BTreeMap<i16, f64>,
    /// The true share kept of each hand-made pairing, seed parent first.
    pub pairings: BTreeMap<(String, String), f64>,
}

fn ways() -> Ways {
    let bed = |name: &str, rows, places| Bed { name: name.into(), rows, places };
    Ways {
        inheritance: Inheritance { ploidy: 8, double_reduction: 0.0, n_loci: 36 },
        liking: Liking {
            mean: -1.1,
            parents: 0.73,
            pairings: 0.25,
            seasons: 0.25,
            inbreeding: -0.35,
            lasting: 0.5,
        },
        luck: Luck {
            empty: 0.16,
            heads_lost: 0.06,
            seeds_by_hand: 13.0,
            seeds_by_bees: 24.0,
            comes_up: 0.66,
            dies_first: 0.06,
            dies_later: 0.02,
        },
        habits: Habits {
            from_keepers: 0.5,
            again: 0.2,
            eye: 1.2,
            doubt: 0.14,
            second_bar: 0.45,
            held_over: 0.35,
            oversow: 1.6,
        },
        beds: vec![bed("A", 8, 15), bed("B", 8, 15), bed("C", 8, 14)],
    }
}

/// The demo garden's book, and what was truly so.
pub fn quillet(crop: Arc<Crop>, seed: u64) -> (Book, Truth) {
    let mut garden = Garden::new(ways(), seed);
    let sorts = varieties::sorts();
    for sort in &sorts {
        let parents = sort.parents.clone().map(|p| p.and_then(|id| garden.find(&id)));
        let i = garden.add_variety(&sort.variety.id, parents, &sort.targets);
        garden.plants[i].since = sort.since;
    }
    mess::before(&mut garden);
    let years = script::years();
    for year in &years {
        let plans: Vec<_> =
            script::PLANS.iter().filter(|p| p.season == year.season).copied().collect();
        garden.live(year, &plans);
    }
    let hand = Hand {
        today: date(2026, 11, 3),
        years: years.clone(),
        partner: "Tom",
        blurred_until: 2018,
        says_why: 0.8,
    };
    let labels = mess::labels(&garden);
    let scribe = Scribe::new(&garden, &hand, seed, &labels);
    let mut crosses = scribe.crosses();
    let mut varieties: Vec<_> = sorts.into_iter().map(|s| s.variety).collect();
    mess::after(&garden, &scribe, &mut varieties, &mut crosses);
    let about = about(&years, &hand);
    let truth = truth(&mut garden.clone(), &scribe);
    varieties.sort_by(|a, b| a.id.cmp(&b.id));
    (Book::new(about, crop, varieties, crosses), truth)
}

fn about(years: &[super::Year], hand: &Hand) -> About {
    let aim = |of: &str, want, weight| Aim { of: of.into(), want, weight };
    About {
        garden: "Quillet Garden".into(),
        raiser: Some("Hester Vane and Tom Arkell".into()),
        crop: "dahlia".into(),
        today: Some(hand.today),
        beds: ways().beds,
        frosts: years
            .iter()
            .map(|y| Frost {
                season: Season(y.season),
                last: Some(y.last_frost),
                first: Some(y.first_frost).filter(|&f| f <= hand.today),
            })
            .collect(),
        aims: vec![
            aim("form", Want::More, 2.0),
            aim("stem", Want::More, 1.5),
            aim("bloom_mm", Want::Between(90.0, 140.0), 1.0),
        ],
        ..About::default()
    }
}

fn truth(garden: &mut Garden, scribe: &Scribe<'_>) -> Truth {
    let key = |i| String::from(scribe.key(i));
    let plants = garden.plants.iter().enumerate();
    let worth = plants.clone().map(|(i, p)| (key(i), p.worth)).collect();
    let fathers = plants.filter_map(|(i, p)| Some((key(i), key(p.father?)))).collect();
    let made: Vec<(usize, usize)> = garden
        .families
        .iter()
        .filter_map(|f| match (f.seed, &f.pollen[..]) {
            (Some(seed), [(pollen, 1.0)]) => Some((seed, *pollen)),
            _ => None,
        })
        .collect();
    let pairings =
        made.into_iter().map(|(a, b)| ((key(a), key(b)), garden.keep_rate(a, b))).collect();
    Truth { worth, fathers, seasons: garden.seasons.clone(), pairings }
}
