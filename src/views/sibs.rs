//! Sibs side by side, with the means of the family and of the whole programme.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::book::{Counts, CrossId, PlantDeed, PlantId, PlantRecord, State, Verdict, When};
use crate::lineage;

use super::{Desk, Interval, Levels, Party};

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

/// A plant among its sibs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Member {
    /// How it belongs here.
    pub kin: Kin,
    /// The plant.
    pub plant: PlantId,
    /// Whether the parents in common are known for certain.
    pub certain: bool,
}

/// How a plant belongs to those beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kin {
    /// It is the one that was asked about.
    Itself,
    /// Both parents in common; the plants of one cross are called full sibs whatever is known of
    /// their fathers.
    Full,
    /// This parent in common.
    Half(PlantId),
}

pub use crate::merit::traits::{BLOOM_MM, HEIGHT_CM};

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
    /// Who it is, and how it belongs here.
    pub member: Member,
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
    pub rate: Option<Interval>,
    /// The plants: the one asked about, then full sibs, then half sibs.
    pub plants: Vec<Member>,
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
    let plants = members(desk, of, &crosses);
    let family = plants.iter().filter(|m| !matches!(m.kin, Kin::Half(_)));
    let means = means(desk, family.map(|member| member.plant));
    let rate = levels.rate(counts.kept, counts.judged);
    Sibs { seed, pollen, crosses, counts, rate, plants, means }
}

fn members(desk: &Desk, of: Of, crosses: &[CrossId]) -> Vec<Member> {
    let Of::Plant(plant) = of else {
        let plants = crosses.iter().flat_map(|&cross| desk.book().family(cross));
        return plants.map(|plant| Member { kin: Kin::Full, plant, certain: true }).collect();
    };
    let itself = Member { kin: Kin::Itself, plant, certain: true };
    let sibs = desk.pedigree().sibs(desk.book(), plant).into_iter().map(|sib| Member {
        kin: match sib.kin {
            lineage::Kin::Full => Kin::Full,
            lineage::Kin::Half(parent) => Kin::Half(parent),
        },
        plant: sib.plant,
        certain: sib.certain,
    });
    std::iter::once(itself).chain(sibs).collect()
}

/// The row of one plant.
pub fn row(desk: &Desk, member: Member) -> Row {
    let brief = desk.brief(member.plant);
    Row {
        member,
        state: brief.state,
        verdict: brief.verdict,
        first_bloom: brief.first_bloom,
        measures: Measures::of(desk, member.plant),
    }
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
