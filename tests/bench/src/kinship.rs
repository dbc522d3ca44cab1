//! F of every plant of a book of a million, against the textbook way.

use std::{error::Error, sync::Arc};

use trug::{
    book::{About, Book, By, Crop, Cross, Parent, Pollen, Season, Seedling, Variety},
    kinship::{Inheritance, Kinship},
    lineage::Pedigree,
};

use crate::{
    measure::{busy, faster},
    meuwissen,
};

const N_SEEDLINGS: usize = 1_000_000;
const N_VARIETIES: usize = 60;
const A_FAMILY: usize = 25;
const N_SEASONS: usize = 40;

/// Numbers by chance, the same in every run (G. Marsaglia 2003, J. Stat. Softw. 8(14)).
struct Chance(u64);

impl Chance {
    /// A number below `n`, rather a high one.
    fn late(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let unit = (self.0 >> 11) as f64 / (1_u64 << 53) as f64;
        n - 1 - ((unit * unit * n as f64) as usize).min(n - 1)
    }
}

/// A book of bare families, in which the first seedling of every so many becomes a parent.
fn book(families_a_parent: usize) -> Book {
    let mut chance = Chance(20_260_101);
    let varieties: Vec<Variety> = (0..N_VARIETIES)
        .map(|n| Variety { id: format!("v{n:02}").into(), ..Variety::default() })
        .collect();
    let mut parents: Vec<Box<str>> = varieties.iter().map(|v| v.id.clone()).collect();
    let n_families = N_SEEDLINGS / A_FAMILY;
    let a_season = n_families / N_SEASONS;
    let mut crosses = Vec::with_capacity(n_families);
    for season in 0..N_SEASONS {
        let mut new = Vec::new();
        for nth in 0..a_season {
            let number = |n: usize| format!("{season}-{nth}-{n}").into();
            let seedlings: Vec<Seedling> = (0..A_FAMILY)
                .map(|n| Seedling { number: number(n), ..Seedling::default() })
                .collect();
            if nth % families_a_parent == 0 {
                new.push(seedlings[0].number.clone());
            }
            let mut parent = || Parent::Known(parents[chance.late(parents.len())].clone());
            crosses.push(Cross {
                code: format!("{season}x{nth}").into(),
                season: i16::try_from(1980 + season).ok().map(Season),
                seed: parent(),
                pollen: Pollen::From(parent()),
                by: By::Hand,
                seedlings,
                ..Cross::default()
            });
        }
        parents.append(&mut new);
    }
    Book::new(About::default(), Arc::new(Crop::default()), varieties, crosses)
}

/// Works F of every plant out both ways, with few parents and with many.
pub fn measure() -> Result<(), Box<dyn Error>> {
    for (families_a_parent, least) in [(11, 1000.0), (1, 5.0)] {
        let book = book(families_a_parent);
        let pedigree = Pedigree::of(&book);
        let plants: Vec<meuwissen::Parents> = book
            .plants()
            .map(|plant| {
                let parents = pedigree.parents(plant);
                let place =
                    |parent: Option<trug::book::PlantId>| parent.map_or(0, |p| p.index() + 1);
                (place(parents.known_seed()), place(parents.known_pollen()))
            })
            .collect();
        let rules = Inheritance::new(2, 0.0)?;
        let kinship = Kinship::of(&book, &pedigree, rules);
        let ours = (0..9).map(|_| busy(|| drop(Kinship::of(&book, &pedigree, rules)))).min();
        let mut textbook = Vec::new();
        let theirs = busy(|| textbook = meuwissen::inbreeding(&plants));
        for (plant, f) in book.plants().zip(textbook) {
            let found = kinship.inbreeding(plant);
            assert!((found - f).abs() < 1e-12, "the peers must agree: {found} and {f}");
        }
        let what = format!("F of all, {} parents; Meuwissen & Luo", pedigree.used().len());
        faster(&what, N_SEEDLINGS, [ours.unwrap_or_default(), theirs], least);
    }
    Ok(())
}
