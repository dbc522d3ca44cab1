//! All that a fit rests on: records, descent, pairings.

use std::collections::{BTreeMap, BTreeSet};

use crate::book::{Book, PlantId, Season};
use crate::kinship::{Descent, Kinship};
use crate::lineage::Pedigree;
use crate::stats::mixed::reduced::{Descended, Model, Record, With};

use super::{
    Counted, enough,
    families::Pairs,
    records::{Effect, Records},
};

/// All that a fit rests on.
pub(super) struct Gathered {
    pub(super) records: Records,
    pub(super) descent: Descent,
    pub(super) counted: Counted,
    pub(super) pairs: Pairs,
    /// The first season of the records, where older ones were left out.
    pub(super) since: Option<Season>,
}

impl Gathered {
    pub(super) fn of(book: &Book, pedigree: &Pedigree, kinship: &Kinship, name: &str) -> Self {
        Self::around(book, pedigree, kinship, Records::of(book, name), pedigree.used())
    }

    fn around(
        book: &Book,
        pedigree: &Pedigree,
        kinship: &Kinship,
        records: Records,
        others: &[PlantId],
    ) -> Self {
        let measured = records.by_plant().filter_map(|seen| Some(seen.first()?.plant));
        let descent = kinship.descent(measured.chain(others.iter().copied()));
        let counted = counted(book, &records, &descent);
        let pairs = Pairs::of(pedigree, &descent, &records);
        Self { records, descent, counted, pairs, since: None }
    }

    /// The same with the records of the newer half of the seasons, and the plants that they speak
    /// of. None where there is but one season.
    pub(super) fn newer_half(
        &self,
        book: &Book,
        pedigree: &Pedigree,
        kinship: &Kinship,
    ) -> Option<Self> {
        let records = self.records.newer_half()?;
        let mut half = Self::around(book, pedigree, kinship, records, &[]);
        half.counted = self.counted;
        half.since = half.records.first_season();
        Some(half)
    }

    /// Which effects the records can tell.
    pub(super) fn told(&self) -> With {
        let again = self.records.by_plant().filter(|seen| seen.len() > 1).count();
        With { groups: self.pairs.can_be_told(), lasting: again >= enough::LEAST_LOOKED_AT_AGAIN }
    }

    pub(super) fn model(&self, with: With) -> Model {
        let seen = self.records.seen.iter().filter_map(|seen| {
            let level = self.descent.place(seen.plant)?;
            Some(Record { level, row: seen.row, y: seen.y })
        });
        let seen: Vec<Record> = seen.collect();
        let descended = Descended {
            parents: self.descent.parents(),
            own: self.descent.sampling(),
            groups: self.pairs.group_of_level(),
        };
        let (n, rows) = (self.records.effects.len(), &self.records.rows);
        Model::of(descended, (n, rows), &seen, with)
    }

    /// The levels of plants with offspring among the levels.
    pub(super) fn parents(&self) -> Vec<usize> {
        let parents = self.descent.parents().iter().flatten();
        let all: BTreeSet<usize> = parents.map(|&(parent, _)| parent).collect();
        all.into_iter().filter(|&level| self.descent.plants()[level].is_some()).collect()
    }

    /// The fixed effects of an average record of a plant raised from seed, so that what is passed
    /// on is said of seedlings. Of any record, where no seedling was measured.
    pub(super) fn average_season(&self) -> Vec<(usize, f64)> {
        let records = &self.records;
        let is_usual =
            |effect: usize| matches!(records.effects[effect], Effect::Season(_) | Effect::Bed(_));
        let plain = records.rows.iter().map(|row| row.iter().all(|&effect| is_usual(effect)));
        let plain: Vec<bool> = plain.collect();
        let any = records.seen.iter().any(|seen| plain[seen.row]);
        let mut n = 0.0;
        let mut sums = vec![0.0; records.effects.len()];
        for seen in records.seen.iter().filter(|seen| !any || plain[seen.row]) {
            n += 1.0;
            for &effect in &records.rows[seen.row] {
                sums[effect] += 1.0;
            }
        }
        let shares = sums.into_iter().enumerate().filter(|(_, sum)| *sum > 0.0);
        shares.map(|(effect, sum)| (effect, sum / n)).collect()
    }
}

fn counted(book: &Book, records: &Records, descent: &Descent) -> Counted {
    let mut counted = Counted { bloomed: records.bloomed, ..Counted::default() };
    let mut parentages: BTreeMap<Vec<(usize, u64)>, u32> = BTreeMap::new();
    for seen in records.by_plant() {
        counted.plants += 1;
        counted.records += u32::try_from(seen.len()).unwrap_or(u32::MAX);
        counted.seedlings += u32::from(book.cross_of(seen[0].plant).is_some());
        let Some(level) = descent.place(seen[0].plant) else { continue };
        let parents = &descent.parents()[level];
        if !parents.is_empty() {
            let parentage = parents.iter().map(|&(p, share)| (p, share.to_bits())).collect();
            *parentages.entry(parentage).or_default() += 1;
        }
    }
    let families = parentages.values().filter(|&&n| n > 1).count();
    counted.families = u32::try_from(families).unwrap_or(u32::MAX);
    counted
}
