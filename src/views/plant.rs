//! The page of a plant: what it is, its diary, its kin, and what it gave as a parent.

use std::collections::BTreeMap;

use crate::book::{
    CrossId, Life, PlantDeed, PlantId, PlantRecord, Position, SizeClass, Stage, State, Verdict,
    When,
};
use crate::merit::traits::Passed;

use super::{
    Brief, Desk, Levels, Party,
    first_bloom::{self, Outlook},
    given, parents, sibs, traits, words,
};

/// One line of a diary in plain words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// When.
    pub on: When,
    /// What happened.
    pub text: String,
}

/// Facts about one plant.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// How it stands.
    pub state: State,
    /// How far it has come as a keeper.
    pub stage: Option<Stage>,
    /// The latest verdict, when it was given and why.
    pub verdict: Option<(Verdict, When, Option<Box<str>>)>,
    /// First planted out.
    pub planted: Option<When>,
    /// First known to be in bloom.
    pub first_bloom: Option<When>,
    /// Where it was put last.
    pub position: Option<Position>,
    /// Colour words as last seen.
    pub colours: Vec<Box<str>>,
    /// Flower group as last seen.
    pub group: Option<Box<str>>,
    /// The class of its bloom in the size table of the book.
    pub size: Option<Box<str>>,
    /// What was measured.
    pub measures: sibs::Measures,
    /// Who raised it, and in which year it came out, if it is a variety.
    pub raiser: Option<Box<str>>,
    /// The year of introduction or registration.
    pub year: Option<i16>,
    /// Whether it sets seed.
    pub gives_seed: Option<bool>,
    /// Whether it gives pollen.
    pub gives_pollen: Option<bool>,
    /// A remark.
    pub note: Option<Box<str>>,
}

/// The offspring of one cross.
#[derive(Debug, Clone, PartialEq)]
pub struct Offspring {
    /// The cross.
    pub cross: CrossId,
    /// The other parent; itself after a selfing.
    pub with: Party,
    /// Whether this plant bore the seed.
    pub bore_seed: bool,
    /// Whether it is only one of several that may have been the parent.
    pub perhaps: bool,
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// The plant.
    pub plant: PlantId,
    /// Facts about it.
    pub facts: Facts,
    /// Its diary, oldest first.
    pub diary: Vec<Line>,
    /// The cross it was raised from.
    pub cross: Option<CrossId>,
    /// Its seed parent.
    pub seed: Party,
    /// Its pollen parent.
    pub pollen: Party,
    /// Its sibs.
    pub sibs: sibs::Sibs,
    /// The crosses it was used in.
    pub offspring: Vec<Offspring>,
    /// What it gave as a parent.
    pub as_parent: Option<parents::Row>,
    /// Its partners, the best first.
    pub partners: Vec<given::Partner>,
    /// What its offspring went on to do.
    pub went_on: given::WentOn,
    /// What it passes on, trait by trait, if it ever was a parent.
    pub passed_on: BTreeMap<Box<str>, Passed>,
    /// F of the plant.
    pub inbreeding: f64,
    /// What it has before it, if it was planted and has not bloomed.
    pub outlook: Option<Outlook>,
}

/// Puts the page together.
pub fn page(desk: &Desk, plant: PlantId, levels: Levels) -> Page {
    let (seed, pollen) = desk.parents(plant);
    let as_parent = parents::row(desk, plant, levels);
    let passes_on = as_parent.is_some();
    Page {
        plant,
        facts: facts(desk, plant),
        diary: diary(desk, plant),
        cross: desk.book().cross_of(plant),
        seed,
        pollen,
        sibs: sibs::sibs(desk, sibs::Of::Plant(plant), levels),
        offspring: offspring(desk, plant),
        as_parent,
        partners: given::partners(desk, plant, levels),
        went_on: given::went_on(desk, plant),
        passed_on: if passes_on { traits::passed_on(desk, plant, levels) } else { BTreeMap::new() },
        inbreeding: desk.kinship().inbreeding(plant),
        outlook: first_bloom::outlook(desk, plant, levels),
    }
}

/// The diary of a plant in plain words, oldest first.
pub fn diary(desk: &Desk, plant: PlantId) -> Vec<Line> {
    let entries = desk.book().plant(plant).diary().iter();
    entries.map(|e| Line { on: e.on, text: words::plant_deed(&e.did) }).collect()
}

/// Facts about a plant.
pub fn facts(desk: &Desk, plant: PlantId) -> Facts {
    let record = desk.book().plant(plant);
    let life = Life::of(record.diary());
    let Brief { state, stage, .. } = *desk.brief(plant);
    let variety = match record {
        PlantRecord::Variety(v) => Some(v),
        PlantRecord::Seedling(..) => None,
    };
    let measures = sibs::Measures::of(desk, plant);
    let group = group(desk, plant);
    let size = measures
        .get(sibs::BLOOM_MM)
        .and_then(|mm| size(desk, mm, group))
        .map(|class| class.name.clone());
    Facts {
        state,
        stage,
        verdict: life.verdict.map(|word| (word.is, word.on, word.why.map(Into::into))),
        planted: life.planted,
        first_bloom: life.first_bloom,
        position: life.position.cloned(),
        colours: colours(desk, plant).to_vec(),
        group: group.map(Into::into),
        size,
        measures,
        raiser: variety.and_then(|v| v.raiser.clone()),
        year: variety.and_then(|v| v.year),
        gives_seed: variety.and_then(|v| v.gives_seed),
        gives_pollen: variety.and_then(|v| v.gives_pollen),
        note: variety.and_then(|v| v.note.clone()),
    }
}

/// Colour words as last seen, the main one first.
pub fn colours(desk: &Desk, plant: PlantId) -> &[Box<str>] {
    let record = desk.book().plant(plant);
    let seen = looks(record).rev().map(|look| &look.colours[..]).find(|list| !list.is_empty());
    match (seen, record) {
        (Some(colours), _) => colours,
        (None, PlantRecord::Variety(v)) => &v.colours,
        (None, PlantRecord::Seedling(..)) => &[],
    }
}

fn group(desk: &Desk, plant: PlantId) -> Option<&str> {
    let record = desk.book().plant(plant);
    let seen = looks(record).rev().find_map(|look| look.group.as_deref());
    match (seen, record) {
        (None, PlantRecord::Variety(v)) => v.group.as_deref(),
        _ => seen,
    }
}

fn size<'a>(desk: &'a Desk, bloom_mm: f64, group: Option<&str>) -> Option<&'a SizeClass> {
    let table = desk.book().about().sizes.as_deref();
    desk.book().crop().size_table(table)?.class(bloom_mm, group)
}

fn looks(record: PlantRecord<'_>) -> impl DoubleEndedIterator<Item = &crate::book::Look> {
    record.diary().iter().filter_map(|e| match &e.did {
        PlantDeed::Look(look) => Some(&**look),
        _ => None,
    })
}

/// What was seen when it was looked at last.
pub fn last_look(desk: &Desk, plant: PlantId) -> Option<Line> {
    let diary = desk.book().plant(plant).diary().iter();
    diary.rev().find_map(|e| match &e.did {
        PlantDeed::Look(look) => Some(Line { on: e.on, text: words::look(look) }),
        _ => None,
    })
}

/// When and how it was lost.
pub fn lost(desk: &Desk, plant: PlantId) -> Option<(When, &str)> {
    Life::of(desk.book().plant(plant).diary()).lost
}

/// The crosses a plant was used in, in the order of the book.
pub fn offspring(desk: &Desk, plant: PlantId) -> Vec<Offspring> {
    let used = desk.pedigree().offspring(plant).iter();
    used.filter_map(|of| {
        let cross = desk.pedigree().cross_of(of.family)?;
        let (seed, pollen) = desk.parties(cross);
        let with = if of.as_seed { pollen } else { seed }.clone();
        Some(Offspring { cross, with, bore_seed: of.as_seed, perhaps: !of.certain })
    })
    .collect()
}
