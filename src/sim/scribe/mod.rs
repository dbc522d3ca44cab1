//! The diary writer: turns what happened in a garden into dated entries, as a raiser with a
//! muddy thumb would have put them.

mod heads;
mod plants;
mod seen;
mod voice;

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate, Weekday};

use super::{Dice, Family, Garden, Year};

use crate::book::{Candidate, Cross, Entry, Grain, Parent, Pollen, Season, Seedling, When};

/// How a particular raiser writes.
#[derive(Debug, Clone)]
pub struct Hand {
    /// The day up to which the book is written.
    pub today: NaiveDate,
    /// The seasons lived through.
    pub years: Vec<Year>,
    /// Who gives second opinions.
    pub partner: &'static str,
    /// Seasons up to this one are remembered by the month.
    pub blurred_until: i16,
    /// The share of verdicts that say why.
    pub says_why: f64,
}

/// Writes down the crosses of a garden.
#[derive(Debug)]
pub struct Scribe<'a> {
    garden: &'a Garden,
    hand: &'a Hand,
    seed: u64,
    /// The number and, where needed, the id of each seedling, by its place in the garden.
    labels: &'a BTreeMap<usize, (String, Option<String>)>,
}

impl<'a> Scribe<'a> {
    /// A scribe for a garden. `labels` gives plants another number than their key.
    pub fn new(
        garden: &'a Garden,
        hand: &'a Hand,
        seed: u64,
        labels: &'a BTreeMap<usize, (String, Option<String>)>,
    ) -> Self {
        Self { garden, hand, seed, labels }
    }

    /// The key under which the book knows a plant.
    pub fn key(&self, plant: usize) -> Box<str> {
        match self.labels.get(&plant) {
            Some((_, Some(id))) => id.as_str().into(),
            Some((number, None)) => number.as_str().into(),
            None => self.garden.plants[plant].key.as_str().into(),
        }
    }

    /// Every cross.
    pub fn crosses(&self) -> Vec<Cross> {
        (0..self.garden.families.len()).map(|f| self.cross(f)).collect()
    }

    fn cross(&self, f: usize) -> Cross {
        let family = &self.garden.families[f];
        let mut dice = Dice::new(self.seed, 1_000_000 + f as u64);
        let lots = self.lots(family, &mut dice);
        let seedlings = family
            .plants
            .iter()
            .map(|&i| {
                let plant = &self.garden.plants[i];
                let (number, id) =
                    self.labels.get(&i).cloned().unwrap_or_else(|| (plant.key.clone(), None));
                Seedling {
                    number: number.into(),
                    id: id.map(Into::into),
                    lot: lots.first().map(|l| l.code.clone()),
                    diary: self.plant(i),
                }
            })
            .collect();
        let (seed, pollen) = self.parents(family);
        Cross {
            code: family.code.as_str().into(),
            season: Some(Season(family.season - i16::from(family.from.is_some()))),
            seed,
            pollen,
            by: family.by,
            from: family.from.map(Into::into),
            note: None,
            heads: self.heads(family, &mut dice),
            lots,
            seedlings,
            totals: family.totals,
        }
    }

    fn parents(&self, family: &Family) -> (Parent, Pollen) {
        let Some(seed) = family.seed else {
            return (Parent::Unknown, Pollen::From(Parent::Unknown));
        };
        let pollen = match &family.pollen[..] {
            [(pollen, _)] if *pollen == seed => Pollen::Selfed,
            [(pollen, 1.0)] => Pollen::From(Parent::Known(self.key(*pollen))),
            [] => Pollen::From(Parent::Unknown),
            several => {
                let likely = several
                    .iter()
                    .map(|&(i, weight)| Candidate { key: self.key(i), weight })
                    .collect();
                Pollen::From(Parent::OneOf(likely))
            }
        };
        (Parent::Known(self.key(seed)), pollen)
    }

    fn year(&self, season: i16) -> Option<&Year> {
        self.hand.years.iter().find(|y| y.season == season)
    }

    /// Puts entries in order, drops what is still to come, and blurs what was written down from
    /// memory.
    fn finish<D>(&self, mut diary: Vec<(NaiveDate, D)>) -> Vec<Entry<D>> {
        diary.retain(|(on, _)| *on <= self.hand.today);
        diary.sort_by_key(|(on, _)| *on);
        diary.into_iter().map(|(on, did)| Entry { on: self.when(on), did }).collect()
    }

    fn when(&self, on: NaiveDate) -> When {
        let season = i16::try_from(on.year()).unwrap_or(i16::MAX);
        let when = When::day(on);
        if season <= self.hand.blurred_until { when.blurred(Grain::Month) } else { when }
    }
}

/// The next day on which somebody walks the beds.
fn visit(on: NaiveDate) -> NaiveDate {
    let walks = [Weekday::Wed, Weekday::Sat, Weekday::Sun];
    on.iter_days().take(7).find(|d| walks.contains(&d.weekday())).unwrap_or(on)
}

/// The next Saturday or Sunday.
fn weekend(on: NaiveDate) -> NaiveDate {
    let free = [Weekday::Sat, Weekday::Sun];
    on.iter_days().take(7).find(|d| free.contains(&d.weekday())).unwrap_or(on)
}
