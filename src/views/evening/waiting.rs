//! Plants that wait for the raiser: for a verdict, another look, a bloom, or to be lifted.

use chrono::NaiveDate;

use crate::book::{Life, Look, PlantDeed, PlantId, Season, State, When, Word};
use crate::views::{
    Desk, Levels,
    bed::last_day,
    first_bloom::{Outlook, outlook},
};

/// By how much of the scale two looks differ before somebody should look again.
const DISAGREE: f64 = 0.3;

/// Why a plant waits, the most pressing first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Why {
    /// In bloom, and no verdict yet.
    Undecided,
    /// Two looks of the season differ widely in one score.
    Disagree,
    /// Held.
    Held,
    /// Planted this season, and not seen in bloom.
    Unopened,
    /// Kept, and still in the ground after the first frost.
    NotLifted,
}

/// A plant and why it waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Waits {
    /// Why.
    pub why: Why,
    /// The plant.
    pub plant: PlantId,
    /// The season that is reviewed: what came after it is not told.
    pub season: Season,
}

/// What there is to say of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiting<'a> {
    /// The plant.
    pub plant: PlantId,
    /// Why it waits.
    pub why: Why,
    /// Colour words as last seen.
    pub colours: &'a [Box<str>],
    /// First known to be in bloom.
    pub first_bloom: Option<When>,
    /// Last looked at and not in bloom.
    pub seen_unbloomed: Option<When>,
    /// The latest verdict.
    pub word: Option<Word<'a>>,
    /// Where two looks differ: the trait and both scores, the earlier first.
    pub disagree: Option<(&'a str, f64, f64)>,
    /// What a plant that has not bloomed has before it, as things stand today.
    pub outlook: Option<Outlook>,
}

pub(super) fn waiting(desk: &Desk, season: Season) -> Vec<Waits> {
    let day = last_day(season).min(desk.today());
    let lifting = time_to_lift(desk, season, day);
    let first = desk.book().varieties().len();
    let mut found: Vec<Waits> = desk
        .book()
        .plants()
        .skip(first)
        .filter(|&plant| desk.brief(plant).last.is_some_and(|last| last >= season.before()))
        .filter_map(|plant| {
            Some(Waits { why: why(desk, plant, season, day, lifting)?, plant, season })
        })
        .collect();
    found.sort_unstable();
    found
}

fn why(desk: &Desk, plant: PlantId, season: Season, day: NaiveDate, lifting: bool) -> Option<Why> {
    let diary = desk.book().plant(plant).diary();
    let life = Life::until(diary, day);
    let state = life.state();
    if !diary.iter().any(|e| e.on.season() == season) {
        // Nothing was heard of it this season. A word that was owed last season still is.
        let owed = diary.iter().any(|e| e.on.season() == season.before());
        return match state {
            State::Open if owed => Some(Why::Undecided),
            State::Held if owed => Some(Why::Held),
            _ => None,
        };
    }
    if life.is_alive() && disagree(desk, plant, season).is_some() {
        return Some(Why::Disagree);
    }
    match state {
        State::Open => Some(Why::Undecided),
        State::Held => Some(Why::Held),
        State::Unbloomed => Some(Why::Unopened),
        State::Kept | State::Named if lifting => {
            let lifted = life.lifted.is_some_and(|(on, ..)| on.season() >= season);
            let planted = life.planted_last.is_some_and(|on| on.season() == season);
            (planted && !lifted).then_some(Why::NotLifted)
        }
        State::Kept | State::Named | State::Potted | State::Discarded | State::Lost => None,
    }
}

/// Whether keepers should be out of the ground: after the first frost of the season or, where
/// none was written down, from the first day of November.
fn time_to_lift(desk: &Desk, season: Season, day: NaiveDate) -> bool {
    let frost = desk.book().about().frosts.iter().find(|f| f.season == season);
    let from = frost
        .and_then(|frost| frost.first)
        .or_else(|| NaiveDate::from_ymd_opt(i32::from(season.0), 11, 1));
    from.is_some_and(|from| day >= from)
}

/// The first trait in which two looks of the season differ widely, unless a verdict was given
/// after them.
fn disagree(desk: &Desk, plant: PlantId, season: Season) -> Option<(&str, f64, f64)> {
    let mut seen: Vec<&Look> = Vec::new();
    for entry in desk.book().plant(plant).diary().iter().filter(|e| e.on.season() == season) {
        match &entry.did {
            PlantDeed::Look(look) => seen.push(look),
            PlantDeed::Verdict { .. } => seen.clear(),
            _ => {}
        }
    }
    seen.iter()
        .enumerate()
        .find_map(|(i, early)| seen[i + 1..].iter().find_map(|late| differ(desk, early, late)))
}

fn differ<'a>(desk: &Desk, early: &'a Look, late: &Look) -> Option<(&'a str, f64, f64)> {
    early.scores.iter().find_map(|(of, a)| {
        let (_, b) = late.scores.iter().find(|(other, _)| other == of)?;
        let scale = desk.book().crop().scored(of).map_or(10.0, |t| t.high - t.low);
        ((a - b).abs() >= DISAGREE * scale).then_some((&**of, *a, *b))
    })
}

pub(super) fn row(desk: &Desk, waits: Waits) -> Waiting<'_> {
    let Waits { plant, why, season } = waits;
    let day = last_day(season).min(desk.today());
    let life = Life::until(desk.book().plant(plant).diary(), day);
    Waiting {
        plant,
        why,
        colours: crate::views::plant::colours(desk, plant),
        first_bloom: life.first_bloom,
        seen_unbloomed: life.seen_unbloomed,
        word: life.verdict,
        disagree: disagree(desk, plant, season),
        outlook: (why == Why::Unopened).then(|| outlook(desk, plant, Levels::default())).flatten(),
    }
}
