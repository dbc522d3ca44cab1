//! The records of a trait, read out of the diaries.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::{Book, Life, Look, PlantDeed, PlantId, PlantRecord, Season};

/// The name of the diameter of the bloom, in mm.
pub const BLOOM_MM: &str = "bloom_mm";
/// The name of the height of the plant, in cm.
pub const HEIGHT_CM: &str = "height_cm";

/// What a trait rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counted {
    /// Plants measured, varieties among them.
    pub plants: u32,
    /// Their records.
    pub records: u32,
    /// Seedlings measured.
    pub seedlings: u32,
    /// Seedlings that bloomed: those that were liked tend to be the ones measured.
    pub bloomed: u32,
    /// Different parentages with two measured plants or more.
    pub families: u32,
}

/// The circumstances of a record, one level of each.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Effect {
    Season(Season),
    /// No bed where it is not known in which it stood.
    Bed(Option<Box<str>>),
    /// Seen in a later season than that of its first bloom, or no seedling at all: grown from a
    /// tuber, not from seed.
    FromTuber,
    /// What is said of a variety, not measured here.
    Listed,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Seen {
    pub(super) plant: PlantId,
    /// Which of the rows.
    pub(super) row: usize,
    pub(super) y: f64,
}

/// All records of a trait, in roll order.
#[derive(Debug, Clone, Default)]
pub(super) struct Records {
    pub(super) seen: Vec<Seen>,
    /// The effects, sorted.
    pub(super) effects: Vec<Effect>,
    /// The different sets of effects, each by their places.
    pub(super) rows: Vec<Vec<usize>>,
    pub(super) bloomed: u32,
}

/// The names of what has been measured in a book: bloom, height, then the scores in the order of
/// the crop, then any others by name.
pub fn measured(book: &Book) -> Vec<Box<str>> {
    let mut found: BTreeSet<&str> = BTreeSet::new();
    for plant in book.plants() {
        let record = book.plant(plant);
        if let PlantRecord::Variety(v) = record {
            let said = [(BLOOM_MM, v.bloom_mm), (HEIGHT_CM, v.height_cm)];
            found.extend(said.iter().filter(|(_, x)| x.is_some()).map(|(name, _)| *name));
        }
        for entry in record.diary() {
            let PlantDeed::Look(look) = &entry.did else { continue };
            let said = [(BLOOM_MM, look.bloom_mm), (HEIGHT_CM, look.height_cm)];
            found.extend(said.iter().filter(|(_, x)| x.is_some()).map(|(name, _)| *name));
            found.extend(look.scores.iter().map(|(name, _)| &**name));
        }
    }
    let crop = book.crop().traits.iter().map(|known| &*known.name);
    let mut names: Vec<&str> = [BLOOM_MM, HEIGHT_CM].into_iter().chain(crop).collect();
    names.retain(|name| found.remove(name));
    names.into_iter().chain(found).map(Into::into).collect()
}

/// What a look says of a trait.
fn value(look: &Look, name: &str) -> Option<f64> {
    let value = match name {
        BLOOM_MM => look.bloom_mm,
        HEIGHT_CM => look.height_cm,
        _ => look.scores.iter().find(|(scored, _)| &**scored == name).map(|(_, score)| *score),
    };
    value.filter(|value| value.is_finite())
}

impl Records {
    pub(super) fn of(book: &Book, name: &str) -> Self {
        let mut gathered: Vec<(PlantId, Vec<Effect>, f64)> = Vec::new();
        let mut bloomed = 0;
        for plant in book.plants() {
            let record = book.plant(plant);
            let before = gathered.len();
            looks(plant, record, name, &mut gathered);
            match record {
                PlantRecord::Variety(v) if gathered.len() == before => {
                    let said = match name {
                        BLOOM_MM => v.bloom_mm,
                        HEIGHT_CM => v.height_cm,
                        _ => None,
                    };
                    let said = said.filter(|said| said.is_finite());
                    gathered.extend(said.map(|y| (plant, vec![Effect::Listed], y)));
                }
                PlantRecord::Variety(_) => {}
                PlantRecord::Seedling(..) => {
                    let first = Life::of(record.diary()).first_bloom;
                    bloomed += u32::from(first.is_some());
                }
            }
        }
        Self::numbered(&gathered, bloomed)
    }

    fn numbered(gathered: &[(PlantId, Vec<Effect>, f64)], bloomed: u32) -> Self {
        let sets: BTreeSet<&Vec<Effect>> = gathered.iter().map(|(_, effects, _)| effects).collect();
        let effects: BTreeSet<&Effect> = sets.iter().flat_map(|set| set.iter()).collect();
        let effects: Vec<Effect> = effects.into_iter().cloned().collect();
        let place = |effect: &Effect| effects.binary_search(effect).ok();
        let rows: Vec<Vec<usize>> =
            sets.iter().map(|set| set.iter().filter_map(place).collect()).collect();
        let row: BTreeMap<&Vec<Effect>, usize> =
            sets.iter().enumerate().map(|(row, set)| (*set, row)).collect();
        let seen = gathered
            .iter()
            .map(|(plant, effects, y)| Seen { plant: *plant, row: row[effects], y: *y })
            .collect();
        Self { seen, effects, rows, bloomed }
    }

    /// The records of the newer half of the seasons. None where there is but one season.
    pub(super) fn newer_half(&self) -> Option<Self> {
        let is_season = |effect: &&Effect| matches!(effect, Effect::Season(_));
        // Seasons sort before all other effects, oldest first.
        let seasons = self.effects.iter().take_while(is_season).count();
        let from = seasons / 2;
        if from == 0 {
            return None;
        }
        let is_new = |seen: &&Seen| self.rows[seen.row].iter().all(|&effect| effect >= from);
        let kept = self.seen.iter().filter(is_new).map(|seen| {
            let effects = self.rows[seen.row].iter().map(|&effect| self.effects[effect].clone());
            (seen.plant, effects.collect(), seen.y)
        });
        Some(Self::numbered(&kept.collect::<Vec<_>>(), self.bloomed))
    }

    /// The oldest season in which anything was seen.
    pub(super) fn first_season(&self) -> Option<Season> {
        self.effects.iter().find_map(|effect| match effect {
            Effect::Season(season) => Some(*season),
            _ => None,
        })
    }

    /// The records of each plant in turn.
    pub(super) fn by_plant(&self) -> impl Iterator<Item = &[Seen]> {
        self.seen.chunk_by(|a, b| a.plant == b.plant)
    }
}

/// The looks of one plant that say something of the trait, with where and when they were taken.
fn looks(
    plant: PlantId,
    record: PlantRecord<'_>,
    name: &str,
    into: &mut Vec<(PlantId, Vec<Effect>, f64)>,
) {
    let is_seedling = matches!(record, PlantRecord::Seedling(..));
    let mut bed: Option<&str> = None;
    let mut first = None;
    for entry in record.diary() {
        match &entry.did {
            PlantDeed::Planted(position) => bed = position.as_ref().map(|at| &*at.bed).or(bed),
            PlantDeed::FirstBloom => first = first.or(Some(entry.on.season())),
            PlantDeed::Look(look) => {
                let season = entry.on.season();
                let Some(y) = value(look, name) else { continue };
                let mut effects = vec![Effect::Season(season), Effect::Bed(bed.map(Into::into))];
                // Height may be taken of a plant that has not bloomed; it was raised from seed
                // until it has stood through a winter.
                if !is_seedling || first.or(first_planted(record)).is_some_and(|f| f < season) {
                    effects.push(Effect::FromTuber);
                }
                into.push((plant, effects, y));
            }
            _ => {}
        }
    }
}

fn first_planted(record: PlantRecord<'_>) -> Option<Season> {
    Life::of(record.diary()).season()
}
