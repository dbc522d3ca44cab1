//! How long plants wait for their first bloom: the curves, and the outlook of a plant in bud.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::book::{Book, CrossId, PlantDeed, PlantId, Season, State};
use crate::merit::{
    Curve, Frosts, HeldOver, LogRank, Looks, Waited, any_between, held_over, log_rank, waits,
};

use super::{Desk, Interval, Levels};

/// What the book tells of first blooms; worked out once.
#[derive(Debug, Clone, Default)]
pub struct Record {
    waits: Vec<Waited>,
    curve: Curve,
    frosts: Frosts,
    held_over: HeldOver,
}

/// What a plant that has not bloomed has before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outlook {
    /// It may open before the frost.
    Opens {
        /// With this chance.
        chance: Interval,
        /// Plants that were watched, on which this rests.
        watched: u32,
    },
    /// Nobody watched a plant for as long, or no frost is known.
    NotKnown,
    /// The season is over: it can only be held over, and may be kept in the end.
    HeldOver {
        /// With this chance.
        chance: Interval,
        /// The record of this book: kept, of those held over.
        record: HeldOver,
    },
}

/// Whose waits a curve is of.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// All seedlings of the book.
    Programme,
    /// The seedlings of a pairing, by its place in [`Desk::pairings`].
    Pairing(usize),
    /// The seedlings of a parent, on whichever side.
    Parent(PlantId),
    /// The seedlings planted in a bed.
    Bed(Box<str>),
    /// The seedlings of a cross.
    Cross(CrossId),
}

/// One step of a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Days from planting.
    pub day: f64,
    /// Plants watched until then or longer.
    pub at_risk: u32,
    /// Of those, plants seen in bloom first on that day.
    pub bloomed: u32,
    /// The share not in bloom yet, just after.
    pub survival: f64,
    /// Its standard error; absent where no plant is left.
    pub se: Option<f64>,
    /// The range of the share.
    pub range: Option<(f64, f64)>,
}

/// Between two looks, how many came into bloom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// After this day from planting.
    pub after: f64,
    /// And by this one; absent for those that never did.
    pub by: Option<f64>,
    /// The share of all.
    pub share: f64,
}

/// The waits of one group of plants.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Whose.
    pub of: Of,
    /// Plants watched.
    pub watched: u32,
    /// Of those, plants that came into bloom in their first season.
    pub bloomed: u32,
    /// Days until half of them were in bloom; absent where it never came to that.
    pub half: Option<f64>,
    /// The range of that, an end absent where it is not known.
    pub half_range: (Option<f64>, Option<f64>),
    /// The curve, every bloom counted on the day it was first seen.
    pub steps: Vec<Step>,
    /// What can be told where blooms are known only to lie between two looks; empty where all
    /// days are known.
    pub between: Vec<Between>,
    /// The longest that any of them was watched, in days.
    pub last: Option<f64>,
    /// The day of the year on which the middle one of them was planted.
    pub planted: Option<u16>,
}

/// All curves of a book.
#[derive(Debug, Clone, PartialEq)]
pub struct Curves {
    /// Of all seedlings.
    pub programme: Line,
    /// Of each pairing, in the order first made.
    pub pairings: Vec<Line>,
    /// Of each parent, in the order of the roll.
    pub parents: Vec<Line>,
    /// Of each bed, by name.
    pub beds: Vec<Line>,
    /// Whether the pairings differ, by the days on which blooms were first seen.
    pub pairings_differ: Option<LogRank>,
    /// Whether the beds do.
    pub beds_differ: Option<LogRank>,
}

impl Record {
    pub(super) fn of(desk: &Desk) -> Self {
        let waits = waits(desk.book(), desk.today());
        Self {
            curve: Curve::of(waits.iter().map(Waited::as_seen)),
            waits,
            frosts: Frosts::of(desk.book()),
            held_over: held_over(desk.book(), desk.today()),
        }
    }

    /// What came of plants that were held over.
    pub fn held_over(&self) -> HeldOver {
        self.held_over
    }

    /// The frosts that are reckoned with.
    pub fn frosts(&self) -> &Frosts {
        &self.frosts
    }

    /// Whether nothing can open any more in a season.
    pub fn is_over(&self, desk: &Desk, season: Season) -> bool {
        season < desk.season()
            || (season == desk.season() && self.frosts.end_of(desk.book(), season) <= desk.today())
    }
}

/// What a plant has before it that was planted and has not bloomed; none for any other.
pub fn outlook(desk: &Desk, plant: PlantId, levels: Levels) -> Option<Outlook> {
    let brief = desk.brief(plant);
    if brief.state != State::Unbloomed || desk.book().cross_of(plant).is_none() {
        return None;
    }
    let planted = brief.planted?;
    let record = desk.first_bloom();
    if record.is_over(desk, planted.season()) {
        let usual = &desk.book().crop().rates.held_over_kept;
        let chance = record.held_over.chance(usual, levels.shrunk);
        return Some(Outlook::HeldOver { chance, record: record.held_over });
    }
    let chance = planted.exact().and_then(|planted| {
        record.frosts.chance_before(&record.curve, planted, desk.today(), levels.shrunk)
    });
    let watched = record.curve.watched();
    Some(chance.map_or(Outlook::NotKnown, |chance| Outlook::Opens { chance, watched }))
}

/// The curve of one cross.
pub fn of_cross(desk: &Desk, cross: CrossId, levels: Levels) -> Line {
    let all = desk.first_bloom().waits.iter();
    let waits = all.filter(|wait| desk.book().cross_of(wait.plant) == Some(cross)).copied();
    line(Of::Cross(cross), &waits.collect::<Vec<_>>(), levels)
}

/// The curves of a book.
pub fn curves(desk: &Desk, levels: Levels) -> Curves {
    let waits = &desk.first_bloom().waits;
    let mut of_pairing = vec![0; desk.book().crosses().len()];
    for (at, pairing) in desk.pairings().iter().enumerate() {
        for cross in &pairing.crosses {
            of_pairing[cross.index()] = at;
        }
    }
    let mut pairings: BTreeMap<Of, Vec<Waited>> = BTreeMap::new();
    let mut parents: BTreeMap<Of, Vec<Waited>> = BTreeMap::new();
    let mut beds: BTreeMap<Of, Vec<Waited>> = BTreeMap::new();
    for &wait in waits {
        if let Some(cross) = desk.book().cross_of(wait.plant) {
            let (seed, pollen) = desk.parties(cross);
            let mut known: Vec<PlantId> =
                [seed, pollen].into_iter().filter_map(super::Party::plant).collect();
            known.dedup();
            for parent in known {
                parents.entry(Of::Parent(parent)).or_default().push(wait);
            }
            pairings.entry(Of::Pairing(of_pairing[cross.index()])).or_default().push(wait);
        }
        if let Some(bed) = bed(desk.book(), wait.plant) {
            beds.entry(Of::Bed(bed)).or_default().push(wait);
        }
    }
    let differ = |groups: &BTreeMap<Of, Vec<Waited>>| {
        let groups: Vec<Vec<_>> =
            groups.values().map(|group| group.iter().map(Waited::as_seen).collect()).collect();
        log_rank(&groups.iter().map(Vec::as_slice).collect::<Vec<_>>())
    };
    let lines = |groups: BTreeMap<Of, Vec<Waited>>| -> Vec<Line> {
        groups.into_iter().map(|(of, waits)| line(of, &waits, levels)).collect()
    };
    Curves {
        programme: line(Of::Programme, waits, levels),
        pairings_differ: differ(&pairings),
        beds_differ: differ(&beds),
        pairings: lines(pairings),
        parents: lines(parents),
        beds: lines(beds),
    }
}

/// The bed in which a plant was put first.
fn bed(book: &Book, plant: PlantId) -> Option<Box<str>> {
    book.plant(plant).diary().iter().find_map(|entry| match &entry.did {
        PlantDeed::Planted(Some(position)) => Some(position.bed.clone()),
        _ => None,
    })
}

/// The day of the year on which the middle one of them was planted.
fn middle_planting(waits: &[Waited]) -> Option<u16> {
    let days = waits.iter().map(|wait| wait.planted.ordinal());
    let mut days: Vec<u16> = days.filter_map(|day| u16::try_from(day).ok()).collect();
    days.sort_unstable();
    days.get(days.len() / 2).copied()
}

fn line(of: Of, waits: &[Waited], levels: Levels) -> Line {
    let curve = Curve::of(waits.iter().map(Waited::as_seen));
    let steps: Vec<Step> = curve
        .steps()
        .iter()
        .map(|step| Step {
            day: step.time,
            at_risk: step.at_risk,
            bloomed: step.events,
            survival: step.share,
            se: step.se,
            range: step.interval(levels.rate),
        })
        .collect();
    // The days on which the range of the curve crosses one half (R. Brookmeyer & J. Crowley 1982,
    // Biometrics 38:29–41).
    let half_by = |end: &dyn Fn((f64, f64)) -> f64| {
        let below = |step: &&Step| match step.range {
            Some(range) => end(range) <= 0.5,
            None => step.survival <= 0.5,
        };
        steps.iter().find(below).map(|step| step.day)
    };
    let between = if any_between(waits) {
        let looks = Looks::of(waits.iter().map(Waited::between_looks));
        let falls = looks.falls().iter().filter(|fall| fall.mass > 0.0);
        let by = |by: f64| Some(by).filter(|by| by.is_finite());
        falls.map(|fall| Between { after: fall.after, by: by(fall.by), share: fall.mass }).collect()
    } else {
        Vec::new()
    };
    Line {
        of,
        watched: curve.watched(),
        bloomed: curve.events(),
        half: curve.median(),
        half_range: (half_by(&|(low, _)| low), half_by(&|(_, high)| high)),
        steps,
        between,
        last: curve.last(),
        planted: middle_planting(waits),
    }
}
