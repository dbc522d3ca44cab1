//! A whole book in memory, and the roll of its plants.
//!
//! Crosses are shared between copies of a book, so that a copy in which one family differs costs
//! that family.
//!
//! A [`PlantId`] is a plant's place on the roll: varieties first, then the seedlings cross by
//! cross. It is a handle for one book as it stands, never stored; records name each other by
//! key.

use std::{hash::BuildHasher, ops::Range, sync::Arc};

use foldhash::fast::FixedState;
use hashbrown::HashTable;

use super::{About, Cross, Entry, Parent, PlantDeed, Pollen, Seedling, Variety, crop::Crop};

/// A plant's place on the roll of one book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlantId(pub u32);

/// A cross's place in one book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CrossId(pub u32);

/// What the book holds of one plant.
#[derive(Debug, Clone, Copy)]
pub enum PlantRecord<'a> {
    /// A variety.
    Variety(&'a Variety),
    /// A seedling, with the cross it is of.
    Seedling(&'a Cross, &'a Seedling),
}

/// One raiser's whole record.
#[derive(Debug, Clone)]
pub struct Book {
    about: About,
    crop: Arc<Crop>,
    varieties: Vec<Variety>,
    crosses: Vec<Arc<Cross>>,
    /// The first plant of each cross, and one past the last of all.
    starts: Vec<u32>,
    by_key: HashTable<u32>,
    by_code: HashTable<u32>,
}

impl PlantId {
    /// The id as an index into a table with one row a plant.
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

impl CrossId {
    /// The id as an index into [`Book::crosses`].
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// Turns a place in memory into a place on the roll. A book of more plants than `u32` can count
/// would not fit in memory; the overflow would only mislabel plants past it.
fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

fn hash(key: &str) -> u64 {
    FixedState::default().hash_one(key)
}

impl Book {
    /// Puts records together to a book, and in order: varieties by id, crosses by season and
    /// code, seedlings by number. Where a key is borne twice, the first bearer answers to it.
    pub fn new(
        about: About,
        crop: Arc<Crop>,
        mut varieties: Vec<Variety>,
        mut crosses: Vec<Cross>,
    ) -> Self {
        varieties.sort_by(|a, b| a.id.cmp(&b.id));
        for cross in &mut crosses {
            cross.seedlings.sort_by(Seedling::order);
        }
        crosses.sort_by(Cross::order);
        let mut book = Self {
            about,
            crop,
            varieties,
            crosses: crosses.into_iter().map(Arc::new).collect(),
            starts: Vec::new(),
            by_key: HashTable::new(),
            by_code: HashTable::new(),
        };
        book.call_the_roll();
        book
    }

    /// Finds every cross by its code from then on.
    pub(super) fn index_crosses(&mut self) {
        self.by_code.clear();
        for (n, cross) in self.crosses.iter().enumerate() {
            let code = |other: &u32| &*self.crosses[*other as usize].code;
            self.by_code
                .entry(
                    hash(&cross.code),
                    |other| *code(other) == *cross.code,
                    |other| hash(code(other)),
                )
                .or_insert(small(n));
        }
    }

    /// Gives every plant its place on the roll, and finds it by its key from then on.
    pub(super) fn call_the_roll(&mut self) {
        self.index_crosses();
        self.starts.clear();
        let mut next = small(self.varieties.len());
        for cross in &self.crosses {
            self.starts.push(next);
            next = next.saturating_add(small(cross.seedlings.len()));
        }
        self.starts.push(next);
        let mut by_key = std::mem::take(&mut self.by_key);
        by_key.clear();
        by_key.reserve(next as usize, |&id| hash(self.plant(PlantId(id)).key()));
        for id in self.plants() {
            let key = self.plant(id).key();
            by_key
                .entry(
                    hash(key),
                    |&other| self.plant(PlantId(other)).key() == key,
                    |&other| hash(self.plant(PlantId(other)).key()),
                )
                .or_insert(id.0);
        }
        self.by_key = by_key;
    }

    /// What this book is.
    pub fn about(&self) -> &About {
        &self.about
    }

    /// The crop it is about.
    pub fn crop(&self) -> &Crop {
        &self.crop
    }

    /// The crop, to share.
    pub fn share_crop(&self) -> Arc<Crop> {
        Arc::clone(&self.crop)
    }

    /// The varieties, in order of id.
    pub fn varieties(&self) -> &[Variety] {
        &self.varieties
    }

    /// The variety with an id, letter for letter.
    pub fn variety(&self, id: &str) -> Option<&Variety> {
        let n = self.varieties.binary_search_by(|v| (*v.id).cmp(id)).ok()?;
        self.varieties.get(n)
    }

    /// The crosses, in order of season and code.
    pub fn crosses(&self) -> &[Arc<Cross>] {
        &self.crosses
    }

    /// The records taken apart again, to build a changed book from.
    pub fn into_parts(self) -> (About, Arc<Crop>, Vec<Variety>, Vec<Cross>) {
        let crosses = self.crosses.into_iter().map(Arc::unwrap_or_clone).collect();
        (self.about, self.crop, self.varieties, crosses)
    }

    pub(super) fn set_about(&mut self, about: About) {
        self.about = about;
    }

    /// The records, to be changed. They must be left in order and, where plants change their
    /// places, the roll must be called anew.
    pub(super) fn records_mut(&mut self) -> (&mut Vec<Variety>, &mut Vec<Arc<Cross>>) {
        (&mut self.varieties, &mut self.crosses)
    }

    /// How many plants the book knows.
    pub fn n_plants(&self) -> usize {
        self.starts.last().copied().unwrap_or_default() as usize
    }

    /// Every plant, varieties first.
    pub fn plants(&self) -> impl ExactSizeIterator<Item = PlantId> + use<> {
        (0..self.starts.last().copied().unwrap_or_default()).map(PlantId)
    }

    /// Every cross.
    pub fn cross_ids(&self) -> impl ExactSizeIterator<Item = CrossId> + use<> {
        (0..small(self.crosses.len())).map(CrossId)
    }

    /// The record of a plant.
    pub fn plant(&self, id: PlantId) -> PlantRecord<'_> {
        match self.cross_of(id) {
            None => PlantRecord::Variety(&self.varieties[id.index()]),
            Some(cross) => {
                let first = self.starts[cross.index()];
                let cross = &self.crosses[cross.index()];
                PlantRecord::Seedling(cross, &cross.seedlings[(id.0 - first) as usize])
            }
        }
    }

    /// The cross.
    pub fn cross(&self, id: CrossId) -> &Cross {
        &self.crosses[id.index()]
    }

    /// The cross that a plant was raised from, if it is a seedling of this book.
    pub fn cross_of(&self, id: PlantId) -> Option<CrossId> {
        if id.index() < self.varieties.len() {
            return None;
        }
        let after = self.starts.partition_point(|&start| start <= id.0);
        Some(CrossId(small(after - 1)))
    }

    /// The seedlings of a cross, in order of number.
    pub fn family(&self, cross: CrossId) -> impl ExactSizeIterator<Item = PlantId> + use<> {
        let Range { start, end } = self.starts[cross.index()]..self.starts[cross.index() + 1];
        (start..end).map(PlantId)
    }

    /// The plant that answers to a key, letter for letter.
    pub fn by_key(&self, key: &str) -> Option<PlantId> {
        self.by_key
            .find(hash(key), |&id| self.plant(PlantId(id)).key() == key)
            .map(|&id| PlantId(id))
    }

    /// The cross with a code, letter for letter.
    pub fn cross_by_code(&self, code: &str) -> Option<CrossId> {
        let found = self.by_code.find(hash(code), |&n| *self.crosses[n as usize].code == *code);
        found.map(|&n| CrossId(n))
    }

    /// The record of the cross with a code.
    pub fn cross_with(&self, code: &str) -> Option<&Cross> {
        self.cross_by_code(code).map(|id| self.cross(id))
    }
}

impl<'a> PlantRecord<'a> {
    /// The key by which other records refer to it.
    pub fn key(self) -> &'a str {
        match self {
            Self::Variety(v) => &v.id,
            Self::Seedling(_, s) => s.key(),
        }
    }

    /// What people call it: its name, or its number while it has none.
    pub fn label(self) -> &'a str {
        match self {
            Self::Variety(v) => &v.name,
            Self::Seedling(_, s) => s.name().unwrap_or(&s.number),
        }
    }

    /// The number on its label, if it is a seedling.
    pub fn number(self) -> Option<&'a str> {
        match self {
            Self::Variety(_) => None,
            Self::Seedling(_, s) => Some(&s.number),
        }
    }

    /// What has happened to it.
    pub fn diary(self) -> &'a [Entry<PlantDeed>] {
        match self {
            Self::Variety(v) => &v.diary,
            Self::Seedling(_, s) => &s.diary,
        }
    }

    /// Its seed parent.
    pub fn seed_parent(self) -> &'a Parent {
        match self {
            Self::Variety(v) => &v.seed,
            Self::Seedling(cross, _) => &cross.seed,
        }
    }

    /// Its pollen parent, which after a selfing is the seed parent.
    pub fn pollen_parent(self) -> &'a Parent {
        match self {
            Self::Variety(v) => &v.pollen,
            Self::Seedling(cross, _) => cross.pollen_parent(),
        }
    }

    /// Whether it came of a selfing.
    pub fn is_selfed(self) -> bool {
        matches!(self, Self::Seedling(cross, _) if cross.pollen == Pollen::Selfed)
    }
}
