//! How long plants wait for their first bloom, whether one in bud will open before the frost, and
//! what holding one over is worth.
//!
//! A plant is watched from the day it was planted, in its first season only. A plant that was
//! lost, or thrown out unbloomed, was watched until then; one that is still waiting, until it was
//! last looked at or, where nobody wrote that down, until the frost or today. That a raiser throws
//! out the plants that look least like opening makes the curve fall a little too fast: those left
//! are the likelier ones.

use chrono::{Datelike, Days, NaiveDate};

use crate::book::{Book, Entry, PlantDeed, PlantId, PlantRecord, Season, Usual, Verdict, When};
use crate::stats::{
    Beta, Interval,
    survival::{Curve, Watched},
    turnbull, wilson,
};

/// One plant's wait in its first season, in days from planting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waited {
    /// The plant.
    pub plant: PlantId,
    /// The day it was planted.
    pub planted: NaiveDate,
    /// Known not to have bloomed by then.
    pub after: f64,
    /// Known to have bloomed by then; absent where it did not bloom while anybody looked.
    pub by: Option<f64>,
    /// Whether the day of the bloom is known only to lie between two looks.
    pub between: bool,
}

/// The first frosts of autumn by which plants must have bloomed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Frosts {
    /// Days of the year, 1 January being 1, each as likely as the others.
    days: Vec<u16>,
    /// Whether they are this garden's own.
    pub own: bool,
}

/// Plants held over to a second season because they had not bloomed in the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct HeldOver {
    /// Those of which it is known what came of them.
    pub n: u32,
    /// Of those, keepers.
    pub kept: u32,
}

/// A plant without a bloom in its first season, and what came of it later.
enum Fate {
    Kept,
    Gone,
    Open,
}

/// Every plant's wait, in the order of the roll. Plants whose day of planting is not known are
/// left out.
pub fn waits(book: &Book, today: NaiveDate) -> Vec<Waited> {
    let first = book.varieties().len();
    let frosts = Frosts::of(book);
    let plants = book.plants().skip(first);
    plants.filter_map(|plant| wait(book, plant, today, &frosts)).collect()
}

fn wait(book: &Book, plant: PlantId, today: NaiveDate, frosts: &Frosts) -> Option<Waited> {
    let diary = book.plant(plant).diary();
    let planted = planted(diary)?.exact().filter(|&day| day <= today)?;
    let season = When::day(planted).season();
    let days = |day: NaiveDate| (day - planted).num_days() as f64;
    let mut seen = None;
    let mut bloomed = None;
    let mut stopped = None;
    for Entry { on, did } in diary.iter().filter(|entry| entry.on.season() == season) {
        let Some(day) = on.exact().filter(|&day| planted <= day && day <= today) else {
            if matches!(did, PlantDeed::FirstBloom) {
                // That it bloomed in this season, and no more, is known of it.
                return None;
            }
            continue;
        };
        match did {
            PlantDeed::FirstBloom => bloomed = Some(earlier(bloomed, day)),
            PlantDeed::Look(look) if look.shows_bloom() => bloomed = Some(earlier(bloomed, day)),
            PlantDeed::SeenUnbloomed => seen = seen.max(Some(day)),
            PlantDeed::Lost(_) | PlantDeed::Verdict { is: Verdict::Discard, .. } => {
                stopped = Some(earlier(stopped, day));
            }
            _ => {}
        }
    }
    if let Some(bloomed) = bloomed {
        let last = seen.filter(|&seen| seen < bloomed);
        let after = days(last.unwrap_or(bloomed));
        return Some(Waited {
            plant,
            planted,
            after,
            by: Some(days(bloomed)),
            between: last.is_some(),
        });
    }
    let end = frosts.end_of(book, season).min(today);
    let until = stopped.or(seen).unwrap_or(end).max(planted);
    Some(Waited { plant, planted, after: days(until), by: None, between: false })
}

fn earlier(known: Option<NaiveDate>, day: NaiveDate) -> NaiveDate {
    known.map_or(day, |known| known.min(day))
}

fn planted(diary: &[Entry<PlantDeed>]) -> Option<When> {
    diary.iter().find(|entry| matches!(entry.did, PlantDeed::Planted(_))).map(|entry| entry.on)
}

impl Waited {
    /// The wait with a bloom counted on the day it was first seen, however long nobody had looked.
    pub fn as_seen(&self) -> Watched {
        self.by.map_or_else(|| Watched::not_by(self.after), Watched::event)
    }

    /// The wait as it is known between two looks.
    pub fn between_looks(&self) -> turnbull::Between {
        match self.by {
            None => turnbull::Between::not_by(self.after),
            Some(by) if self.between => turnbull::Between::looks(self.after, by),
            Some(by) => turnbull::Between::at(by),
        }
    }
}

impl Frosts {
    /// The frosts of a book or, where it has none, the crop's usual ones: the beginning, the
    /// middle and the end of the usual time, each as likely.
    pub fn of(book: &Book) -> Self {
        let own = book.about().frosts.iter().filter_map(|frost| frost.first);
        let days: Vec<u16> = own.filter_map(|day| u16::try_from(day.ordinal()).ok()).collect();
        if !days.is_empty() {
            return Self { days, own: true };
        }
        let usual = &book.crop().days.first_frost;
        if usual.to == 0 {
            return Self::default();
        }
        let middle = u16::midpoint(usual.from, usual.to);
        Self { days: vec![usual.from, middle, usual.to], own: false }
    }

    /// The day of the year by which half of them have come; none where none is known.
    pub fn middle(&self) -> Option<u16> {
        let mut days = self.days.clone();
        days.sort_unstable();
        days.get(days.len().saturating_sub(1) / 2).copied()
    }

    /// How many they are.
    pub fn len(&self) -> usize {
        self.days.len()
    }

    /// Whether nothing is known of any.
    pub fn is_empty(&self) -> bool {
        self.days.is_empty()
    }

    /// The day after which nothing opens in a season: its first frost or, while that has not been
    /// written down, the latest of them.
    pub fn end_of(&self, book: &Book, season: Season) -> NaiveDate {
        let written = book.about().frosts.iter().find(|frost| frost.season == season);
        let latest = || self.in_season(season).max();
        let year_end = || When::year(season).last();
        written.and_then(|frost| frost.first).or_else(latest).unwrap_or_else(year_end)
    }

    fn in_season(&self, season: Season) -> impl Iterator<Item = NaiveDate> {
        let first = When::year(season).first();
        self.days.iter().map(move |&day| first + Days::new(u64::from(day.saturating_sub(1))))
    }

    /// The chance that a plant which has not bloomed yet opens before the frost, with its range:
    /// 1 − E[S(frost)]/S(today) over the frosts. Absent where the curve does not reach so far, or
    /// nobody ever waited as long as this plant.
    pub fn chance_before(
        &self,
        curve: &Curve,
        planted: NaiveDate,
        today: NaiveDate,
        level: f64,
    ) -> Option<Interval> {
        let days = |day: NaiveDate| (day - planted).num_days() as f64;
        let ends: Vec<f64> = self.in_season(When::day(planted).season()).map(days).collect();
        curve.chance_before_with(days(today), &ends, level)
    }
}

/// Whether plants wait that have been looked at between planting and their bloom, so that only
/// [`turnbull::Curve`] tells what is known.
pub fn any_between(waits: &[Waited]) -> bool {
    waits.iter().any(|wait| wait.between)
}

/// What came of the plants that were held over unbloomed.
pub fn held_over(book: &Book, today: NaiveDate) -> HeldOver {
    let mut sum = HeldOver::default();
    for plant in book.plants() {
        let PlantRecord::Seedling(_, seedling) = book.plant(plant) else { continue };
        match fate(&seedling.diary, today) {
            Some(Fate::Kept) => {
                sum.n += 1;
                sum.kept += 1;
            }
            Some(Fate::Gone) => sum.n += 1,
            Some(Fate::Open) | None => {}
        }
    }
    sum
}

fn fate(diary: &[Entry<PlantDeed>], today: NaiveDate) -> Option<Fate> {
    use crate::book::{Life, State};
    let life = Life::until(diary, today);
    let first = life.planted?.season();
    let bloomed_at_once = life.first_bloom.is_some_and(|on| on.season() <= first);
    let lived_on = diary.iter().any(|entry| entry.on.season() > first && entry.on.last() <= today);
    if bloomed_at_once || !lived_on {
        return None;
    }
    // Thrown out or lost in its first season, and written about later.
    if life.lost.is_some_and(|(on, _)| on.season() <= first) {
        return None;
    }
    Some(match life.state() {
        State::Kept | State::Named => Fate::Kept,
        State::Discarded | State::Lost => Fate::Gone,
        State::Potted | State::Unbloomed | State::Open | State::Held => Fate::Open,
    })
}

impl HeldOver {
    /// The chance that holding over one more ends in a keeper: the book's own record, drawn
    /// towards what is usual.
    pub fn chance(self, usual: &Usual, level: f64) -> Interval {
        let (value, worth) = (usual.value.clamp(0.0, 1.0), usual.worth.max(0.0));
        let kept = f64::from(self.kept) + value * worth;
        let gone = f64::from(self.n - self.kept) + (1.0 - value) * worth;
        Beta::new(kept, gone).interval(level)
    }

    /// The record by itself.
    pub fn rate(self, level: f64) -> Option<Interval> {
        wilson(self.kept, self.n, level)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::book::{About, Crop, Cross, Frost, Seedling};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn book(plants: &[&[(&str, PlantDeed)]], frosts: &[&str]) -> Book {
        let seedlings = plants.iter().enumerate().map(|(n, deeds)| Seedling {
            number: format!("{n:02}").into(),
            diary: deeds
                .iter()
                .map(|(on, did)| Entry { on: When::parse(on).unwrap(), did: did.clone() })
                .collect(),
            ..Seedling::default()
        });
        let cross = Cross { seedlings: seedlings.collect(), ..Cross::default() };
        let frosts = frosts.iter().map(|first| {
            let season = When::day(day(first)).season();
            Frost { season, last: None, first: Some(day(first)) }
        });
        let about = About { frosts: frosts.collect(), ..About::default() };
        Book::new(about, Arc::new(Crop::default()), Vec::new(), vec![cross])
    }

    fn planted() -> PlantDeed {
        PlantDeed::Planted(None)
    }

    fn discard() -> PlantDeed {
        PlantDeed::Verdict { is: Verdict::Discard, why: None, who: None }
    }

    #[test]
    fn a_wait_ends_with_the_bloom_the_loss_the_last_look_or_the_frost() {
        use PlantDeed::{FirstBloom, Lost, SeenUnbloomed};
        let bed = ("2025-05-01", planted());
        let book = book(
            &[
                &[bed.clone(), ("2025-08-09", FirstBloom)],
                &[bed.clone(), ("2025-08-01", SeenUnbloomed), ("2025-08-09", FirstBloom)],
                &[bed.clone(), ("2025-06-10", Lost("slugs".into()))],
                &[bed.clone(), ("2025-09-08", discard())],
                &[bed.clone(), ("2025-08-09", SeenUnbloomed)],
                std::slice::from_ref(&bed),
                &[bed.clone(), ("2026-07-01", FirstBloom)],
                &[("2025-05", planted()), ("2025-08-09", FirstBloom)],
                &[bed.clone(), ("2025", FirstBloom)],
            ],
            &["2025-10-28"],
        );
        let waits = waits(&book, day("2026-11-01"));
        let told: Vec<(f64, Option<f64>)> = waits.iter().map(|w| (w.after, w.by)).collect();
        assert_eq!(
            told,
            [
                (100.0, Some(100.0)),
                (92.0, Some(100.0)),
                (40.0, None),
                (130.0, None),
                (100.0, None),
                (180.0, None),
                (180.0, None),
            ]
        );
        assert!(any_between(&waits) && !any_between(&waits[..1]));
        let so_far = super::waits(&book, day("2025-06-05"));
        assert!((so_far.last().unwrap().after - 35.0).abs() < 1e-9);
    }

    #[test]
    fn held_over_means_alive_without_a_bloom_into_a_later_season() {
        use PlantDeed::{FirstBloom, Lifted, Lost};
        let keep = || PlantDeed::Verdict { is: Verdict::Keep, why: None, who: None };
        let lifted = ("2026-01-05", Lifted { tubers: None, store: None });
        let bed = ("2025-05-01", planted());
        let book = book(
            &[
                &[bed.clone(), lifted.clone(), ("2026-08-01", FirstBloom), ("2026-09-01", keep())],
                &[bed.clone(), ("2026-02-01", Lost("rotted".into()))],
                &[bed.clone(), lifted.clone()],
                &[bed.clone(), ("2025-08-01", FirstBloom), ("2026-09-01", keep())],
                &[bed.clone(), ("2025-09-01", Lost("slugs".into()))],
                &[bed, lifted, ("2026-08-01", FirstBloom), ("2026-09-01", discard())],
            ],
            &[],
        );
        assert_eq!(held_over(&book, day("2026-11-01")), HeldOver { n: 3, kept: 1 });
        assert_eq!(held_over(&book, day("2025-11-01")), HeldOver::default());
    }

    #[test]
    fn a_book_without_frosts_takes_those_of_the_crop_and_without_those_none() {
        let none = book(&[], &[]);
        assert!(Frosts::of(&none).is_empty());
        let own = book(&[], &["2024-10-12", "2025-11-02"]);
        let frosts = Frosts::of(&own);
        assert!(frosts.own && frosts.len() == 2);
        assert_eq!(frosts.end_of(&own, Season(2025)), day("2025-11-02"));
        assert_eq!(frosts.end_of(&own, Season(2026)), day("2026-11-02"));
        assert_eq!(Frosts::default().end_of(&none, Season(2026)), day("2026-12-31"));
    }

    #[test]
    fn an_empty_record_leaves_the_usual_chance() {
        let usual = Usual { value: 0.05, worth: 10.0, source: "".into() };
        let chance = HeldOver::default().chance(&usual, 0.9);
        assert!((chance.p - 0.05).abs() < 1e-12);
        let after = HeldOver { n: 30, kept: 0 }.chance(&usual, 0.9);
        assert!(after.p < chance.p && after.high < chance.high);
    }
}
