//! Sibs side by side, with the means of the family and of the whole programme.

use std::collections::BTreeMap;

use crate::book::{Counts, CrossId, PlantDeed, PlantId, PlantRecord, State, Verdict, When};
use chrono::Datelike;

use super::{Desk, Levels, Party, Rate};

/// Whose sibs are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// The full and half sibs of a plant, and the plant itself.
    Plant(PlantId),
    /// All seedlings of a cross.
    Cross(CrossId),
    /// All seedlings of two plants, whichever bore the seed.
    Pair(PlantId, PlantId),
}

/// How a plant belongs to those beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kin {
    /// It is the one that was asked about.
    Itself,
    /// Both parents in common.
    Full,
    /// One parent in common.
    Half,
}

/// Names of what is measured rather than scored.
pub const BLOOM_MM: &str = "bloom_mm";
/// Height in cm.
pub const HEIGHT_CM: &str = "height_cm";
/// Day of the year of the first bloom, 1 January being 1.
pub const FIRST_BLOOM_DAY: &str = "first_bloom_day";

/// What was measured of one plant: means over its looks.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Measures {
    /// By name: `bloom_mm`, `height_cm`, `first_bloom_day`, and the traits that were scored.
    pub values: BTreeMap<Box<str>, f64>,
}

/// One plant.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The plant.
    pub plant: PlantId,
    /// How it belongs here.
    pub kin: Kin,
    /// How it stands.
    pub state: State,
    /// The latest verdict.
    pub verdict: Option<Verdict>,
    /// First known to be in bloom.
    pub first_bloom: Option<When>,
    /// What was measured.
    pub measures: Measures,
}

/// Means of one thing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mean {
    /// Over the family.
    pub family: Option<f64>,
    /// Over all seedlings of the book.
    pub programme: Option<f64>,
    /// Plants of the family that were measured.
    pub n: u32,
}

/// A family side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Sibs {
    /// The seed parent.
    pub seed: Party,
    /// The pollen parent.
    pub pollen: Party,
    /// The crosses that the counts and the means of the family are over.
    pub crosses: Vec<CrossId>,
    /// Counts of the family.
    pub counts: Counts,
    /// Kept of judged.
    pub rate: Option<Rate>,
    /// The plants: the one asked about, then full sibs, then half sibs.
    pub plants: Vec<(PlantId, Kin)>,
    /// By name.
    pub means: BTreeMap<Box<str>, Mean>,
}

impl Measures {
    /// Reads a plant's diary.
    pub fn of(desk: &Desk, plant: PlantId) -> Self {
        let mut sums: BTreeMap<Box<str>, (f64, f64)> = BTreeMap::new();
        let mut take = |name: &str, value: f64| {
            let sum = sums.entry(name.into()).or_default();
            sum.0 += value;
            sum.1 += 1.0;
        };
        let record = desk.book().plant(plant);
        for entry in record.diary() {
            let PlantDeed::Look(look) = &entry.did else { continue };
            for (name, value) in [(BLOOM_MM, look.bloom_mm), (HEIGHT_CM, look.height_cm)] {
                if let Some(value) = value {
                    take(name, value);
                }
            }
            for (name, score) in &look.scores {
                take(name, *score);
            }
        }
        if let Some(day) = desk.brief(plant).first_bloom.and_then(When::exact) {
            take(FIRST_BLOOM_DAY, f64::from(day.ordinal()));
        }
        let mut values: BTreeMap<Box<str>, f64> =
            sums.into_iter().map(|(name, (sum, n))| (name, sum / n)).collect();
        if let PlantRecord::Variety(v) = record {
            for (name, value) in [(BLOOM_MM, v.bloom_mm), (HEIGHT_CM, v.height_cm)] {
                if let Some(value) = value {
                    values.entry(name.into()).or_insert(value);
                }
            }
        }
        Self { values }
    }

    /// One of them.
    pub fn get(&self, name: &str) -> Option<f64> {
        self.values.get(name).copied()
    }
}

/// A family side by side.
pub fn sibs(desk: &Desk, of: Of, levels: Levels) -> Sibs {
    let (seed, pollen, crosses) = match of {
        Of::Plant(plant) => {
            let (seed, pollen) = desk.parents(plant);
            let crosses = desk.book().cross_of(plant).map_or_else(Vec::new, |cross| {
                let pairing = desk.pairings().iter().find(|p| p.crosses.contains(&cross));
                match pairing {
                    Some(p) if p.seed.plant().is_some() && p.pollen.plant().is_some() => {
                        p.crosses.clone()
                    }
                    _ => vec![cross],
                }
            });
            (seed, pollen, crosses)
        }
        Of::Cross(cross) => {
            let (seed, pollen) = desk.parties(cross).clone();
            (seed, pollen, vec![cross])
        }
        Of::Pair(a, b) => {
            let both = [(a, b), (b, a)].map(|(s, p)| (Party::Plant(s), Party::Plant(p)));
            let crosses = desk.book().cross_ids().filter(|&c| both.contains(desk.parties(c)));
            (Party::Plant(a), Party::Plant(b), crosses.collect())
        }
    };
    let mut counts = Counts::default();
    for &cross in &crosses {
        counts += desk.counts(cross);
    }
    let mut plants: Vec<(PlantId, Kin)> = crosses
        .iter()
        .flat_map(|&cross| desk.book().family(cross))
        .map(|id| (id, if of == Of::Plant(id) { Kin::Itself } else { Kin::Full }))
        .collect();
    let means = means(desk, plants.iter().map(|&(id, _)| id));
    if let Of::Plant(plant) = of {
        if !plants.iter().any(|&(id, _)| id == plant) {
            plants.push((plant, Kin::Itself));
        }
        plants.extend(half_sibs(desk, plant, &crosses));
    }
    plants.sort_by_key(|&(id, kin)| (kin, id));
    let rate = levels.rate(counts.kept, counts.judged);
    Sibs { seed, pollen, crosses, counts, rate, plants, means }
}

/// The row of one plant.
pub fn row(desk: &Desk, (plant, kin): (PlantId, Kin)) -> Row {
    let brief = desk.brief(plant);
    Row {
        plant,
        kin,
        state: brief.state,
        verdict: brief.verdict,
        first_bloom: brief.first_bloom,
        measures: Measures::of(desk, plant),
    }
}

fn half_sibs(desk: &Desk, plant: PlantId, family: &[CrossId]) -> Vec<(PlantId, Kin)> {
    let (seed, pollen) = desk.parents(plant);
    let ours: Vec<PlantId> = [seed.plant(), pollen.plant()].into_iter().flatten().collect();
    desk.book()
        .cross_ids()
        .filter(|cross| !family.contains(cross))
        .filter(|&cross| {
            let (seed, pollen) = desk.parties(cross);
            [seed.plant(), pollen.plant()].into_iter().flatten().any(|p| ours.contains(&p))
        })
        .flat_map(|cross| desk.book().family(cross))
        .filter(|&id| id != plant)
        .map(|id| (id, Kin::Half))
        .collect()
}

fn means(desk: &Desk, family: impl Iterator<Item = PlantId>) -> BTreeMap<Box<str>, Mean> {
    let programme = desk.programme();
    let mut means: BTreeMap<Box<str>, Mean> = BTreeMap::new();
    for id in family {
        for (name, value) in Measures::of(desk, id).values {
            let mean = means.entry(name).or_default();
            mean.n += 1;
            mean.family = Some(mean.family.unwrap_or_default() + value);
        }
    }
    for (name, mean) in &mut means {
        mean.family = mean.family.map(|sum| sum / f64::from(mean.n));
        mean.programme = programme.get(name).copied();
    }
    means
}

/// The mean of each measure over all seedlings of the book.
pub(super) fn programme(desk: &Desk) -> BTreeMap<Box<str>, f64> {
    let mut sums: BTreeMap<Box<str>, (f64, f64)> = BTreeMap::new();
    for id in desk.book().cross_ids().flat_map(|cross| desk.book().family(cross)) {
        for (name, value) in Measures::of(desk, id).values {
            let sum = sums.entry(name).or_default();
            sum.0 += value;
            sum.1 += 1.0;
        }
    }
    sums.into_iter().map(|(name, (sum, n))| (name, sum / n)).collect()
}
