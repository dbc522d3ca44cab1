//! Who is who: every plant of the book and of the files, by key, number and name.

use std::collections::{HashMap, HashSet};

use foldhash::fast::FixedState;

use crate::book::{Book, PlantId, PlantRecord, fold, slug};

/// A plant of the book as it was or of the files. The plants of the book come first, in the
/// order of its roll.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Who(pub(super) usize);

/// What sort of plant it is, and whether the book had it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    OldVariety,
    OldSeedling,
    /// Told of in a varieties file.
    NewVariety,
    /// Known only as somebody's parent.
    NewParent,
    NewSeedling,
}

/// One plant.
#[derive(Debug)]
struct Plant {
    sort: Sort,
    /// What other records refer to it by. A new variety has none before [`Names::give_keys`].
    key: Box<str>,
    /// What people call it.
    label: Box<str>,
    /// The seedling that this variety was found to be.
    same_as: Option<Who>,
}

/// Who answers to a word.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Looked {
    One(Who),
    Several(Vec<Who>),
    Nobody,
    /// Nobody, and a key was asked for, so that no newcomer can be meant.
    NoSuchKey,
}

/// Every plant and every word for it.
pub(super) struct Names<'b> {
    book: &'b Book,
    plants: Vec<Plant>,
    /// Folded words. Nearly every word means one plant.
    words: HashMap<Box<str>, (Who, Vec<Who>), FixedState>,
}

impl<'b> Names<'b> {
    /// The plants of the book.
    pub(super) fn of(book: &'b Book) -> Self {
        let mut names = Self { book, plants: Vec::new(), words: HashMap::default() };
        names.words.reserve(2 * book.n_plants());
        for id in book.plants() {
            let record = book.plant(id);
            let (sort, name) = match record {
                PlantRecord::Variety(v) => (Sort::OldVariety, Some(&*v.name)),
                PlantRecord::Seedling(_, s) => (Sort::OldSeedling, s.name()),
            };
            let who = names.push(sort, record.key(), record.label());
            for word in [Some(record.key()), record.number(), name].into_iter().flatten() {
                names.answer(who, word);
            }
        }
        names
    }

    fn push(&mut self, sort: Sort, key: &str, label: &str) -> Who {
        self.plants.push(Plant { sort, key: key.into(), label: label.into(), same_as: None });
        Who(self.plants.len() - 1)
    }

    /// Adds a seedling that the book does not have.
    pub(super) fn add_seedling(&mut self, number: &str) -> Who {
        let who = self.push(Sort::NewSeedling, number, number);
        self.answer(who, number);
        who
    }

    /// Adds a variety that the book does not have.
    pub(super) fn add_variety(&mut self, name: &str) -> Who {
        self.add_named(Sort::NewVariety, name)
    }

    /// Adds a parent that nobody knew, as a variety.
    pub(super) fn add_parent(&mut self, name: &str) -> Who {
        self.add_named(Sort::NewParent, name)
    }

    fn add_named(&mut self, sort: Sort, name: &str) -> Who {
        let who = self.push(sort, "", name);
        self.answer(who, name);
        who
    }

    /// Lets a plant answer to one more word.
    pub(super) fn answer(&mut self, who: Who, word: &str) {
        let (first, others) =
            self.words.entry(fold(word).into_boxed_str()).or_insert_with(|| (who, Vec::new()));
        if *first != who && !others.contains(&who) {
            others.push(who);
        }
    }

    /// Spells the name of an added parent so that it does not depend on which row came first.
    pub(super) fn spell(&mut self, who: Who, name: &str) {
        let plant = &mut self.plants[who.0];
        if plant.sort == Sort::NewParent && *name < *plant.label {
            plant.label = name.into();
        }
    }

    /// Makes a variety and a seedling one plant.
    pub(super) fn merge(&mut self, variety: Who, seedling: Who) {
        self.plants[variety.0].same_as = Some(seedling);
    }

    /// The seedling that a variety was found to be, or the plant itself.
    pub(super) fn really(&self, who: Who) -> Who {
        self.plants[who.0].same_as.unwrap_or(who)
    }

    /// Who answers to a word, as in the rest of the house: a key after `id:` means its bearer; a
    /// word that is somebody's key, all who bear it letter for letter; any other, all who bear
    /// it when folded.
    pub(super) fn look_up(&self, text: &str) -> Looked {
        let by_key = |key: &str| self.book.by_key(key).map(|PlantId(id)| Who(id as usize));
        if let Some(key) = text.strip_prefix("id:") {
            return by_key(key).map_or(Looked::NoSuchKey, |who| Looked::One(self.really(who)));
        }
        let mut all = self.bearers(text);
        if by_key(text).is_some() {
            all.retain(|&who| self.bears(who, text));
        }
        for who in &mut all {
            *who = self.really(*who);
        }
        all.sort_unstable();
        all.dedup();
        match all[..] {
            [] => Looked::Nobody,
            [only] => Looked::One(only),
            _ => Looked::Several(all),
        }
    }

    /// Whether a plant bears a word letter for letter.
    fn bears(&self, who: Who, text: &str) -> bool {
        let Plant { key, label, .. } = &self.plants[who.0];
        let id = u32::try_from(who.0).ok().filter(|&id| (id as usize) < self.book.n_plants());
        let number = id.and_then(|id| self.book.plant(PlantId(id)).number());
        **key == *text || **label == *text || number == Some(text)
    }

    /// The seedlings and varieties that answer to a name or number, merged or not.
    pub(super) fn bearers(&self, text: &str) -> Vec<Who> {
        match self.words.get(&*fold(text)) {
            Some((first, others)) => std::iter::once(first).chain(others).copied().collect(),
            None => Vec::new(),
        }
    }

    pub(super) fn sort(&self, who: Who) -> Sort {
        self.plants[who.0].sort
    }

    pub(super) fn key(&self, who: Who) -> &str {
        &self.plants[who.0].key
    }

    pub(super) fn label(&self, who: Who) -> &str {
        &self.plants[who.0].label
    }

    /// What can be written to mean this plant and no other.
    pub(super) fn unmistakable(&self, who: Who) -> String {
        let Plant { key, label, .. } = &self.plants[who.0];
        if key.is_empty() { label.to_string() } else { format!("id:{key}") }
    }

    pub(super) fn all(&self) -> impl ExactSizeIterator<Item = Who> + use<> {
        (0..self.plants.len()).map(Who)
    }

    /// Gives every new plant the key by which records will refer to it. A seedling's is its
    /// number wherever nobody else bears that; a variety's is made from its name. Both depend on
    /// the names alone, not on the order of the rows.
    pub(super) fn give_keys(&mut self) {
        let mut keys = Keys::default();
        keys.taken.extend(self.plants.iter().map(|p| p.key.clone()).filter(|k| !k.is_empty()));
        let mut new: Vec<usize> = (0..self.plants.len())
            .filter(|&n| {
                let Plant { sort, same_as, .. } = &self.plants[n];
                !matches!(sort, Sort::OldVariety | Sort::OldSeedling) && same_as.is_none()
            })
            .collect();
        new.sort_by(|&a, &b| self.plants[a].label.cmp(&self.plants[b].label));
        for n in new {
            let Plant { sort, label, .. } = &self.plants[n];
            let key = if *sort == Sort::NewSeedling {
                // Its own number is taken by itself, and perhaps by another.
                let bearer = self.book.by_key(label).map(|PlantId(id)| Who(id as usize));
                if bearer.is_none_or(|who| self.really(who) == Who(n)) {
                    continue;
                }
                keys.unique(label)
            } else {
                keys.unique(&slug(label))
            };
            self.plants[n].key = key;
        }
    }
}

/// Keys in use.
#[derive(Default)]
struct Keys {
    taken: HashSet<Box<str>, FixedState>,
    /// How often a word was wanted again.
    again: HashMap<Box<str>, u64, FixedState>,
}

impl Keys {
    /// Takes a word that is free: this one, or this one with a number.
    fn unique(&mut self, word: &str) -> Box<str> {
        let mut key: Box<str> = word.into();
        while !self.taken.insert(key.clone()) {
            let n = self.again.entry(word.into()).or_insert(1);
            *n += 1;
            key = format!("{word}-{n}").into();
        }
        key
    }
}
