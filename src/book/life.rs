//! What follows from a plant's diary: whether it bloomed, what was decided, whether it lives.

use chrono::NaiveDate;

use super::{Entry, PlantDeed, Position, Season, Verdict, When};

/// How a plant stands, in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Numbered, not planted out yet.
    Potted,
    /// Planted, and not seen in bloom.
    Unbloomed,
    /// Has bloomed; no verdict.
    Open,
    /// Its latest verdict is hold.
    Held,
    /// Its latest verdict is keep.
    Kept,
    /// Kept and named.
    Named,
    /// Its latest verdict is discard.
    Discarded,
    /// Died, rotted, stolen, eaten; or thrown out before it bloomed.
    Lost,
}

/// How far a keeper has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// Kept in one season so far.
    FirstYear,
    /// Kept again in a later season.
    SecondSeason,
    /// Named.
    Named,
}

/// A verdict as it was given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Word<'a> {
    /// What was decided.
    pub is: Verdict,
    /// When.
    pub on: When,
    /// Why.
    pub why: Option<&'a str>,
}

/// A plant's life as its diary tells it, up to some day.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Life<'a> {
    /// First planted out.
    pub planted: Option<When>,
    /// Planted out last.
    pub planted_last: Option<When>,
    /// The place it was last given.
    pub position: Option<&'a Position>,
    /// First known to be in bloom.
    pub first_bloom: Option<When>,
    /// Last looked at before that, and not in bloom.
    pub seen_unbloomed: Option<When>,
    /// The latest verdict.
    pub verdict: Option<Word<'a>>,
    /// When and how it was lost.
    pub lost: Option<(When, &'a str)>,
    /// When it was last lifted, with how many tubers, and where they went.
    pub lifted: Option<(When, Option<u16>, Option<&'a str>)>,
    /// Tubers at the last winter check.
    pub sound: Option<u16>,
    /// The name it was given.
    pub name: Option<&'a str>,
    /// Seasons in which the last word was keep.
    pub seasons_kept: u16,
    numbered: bool,
    grew: bool,
}

impl<'a> Life<'a> {
    /// The whole life.
    pub fn of(diary: &'a [Entry<PlantDeed>]) -> Self {
        Self::until(diary, NaiveDate::MAX)
    }

    /// The life as it was known at the end of a day. A date known only to the month or year
    /// counts once its last day is past.
    pub fn until(diary: &'a [Entry<PlantDeed>], day: NaiveDate) -> Self {
        let mut life = Self::default();
        let mut kept_in = None;
        for Entry { on, did } in diary.iter().filter(|e| e.on.last() <= day) {
            life.take(*on, did);
            if let PlantDeed::Verdict { is, .. } = did {
                kept_in = life.count_season(kept_in, on.season(), *is);
            }
        }
        life
    }

    fn take(&mut self, on: When, did: &'a PlantDeed) {
        match did {
            PlantDeed::Numbered => self.numbered = true,
            PlantDeed::Planted(position) => {
                self.planted = self.planted.or(Some(on));
                self.planted_last = Some(on);
                self.position = position.as_ref().or(self.position);
            }
            PlantDeed::SeenUnbloomed => {
                self.grew = true;
                if self.first_bloom.is_none() {
                    self.seen_unbloomed = Some(on);
                }
            }
            PlantDeed::FirstBloom => self.bloomed(on),
            PlantDeed::Look(look) => {
                self.grew = true;
                if look.shows_bloom() {
                    self.bloomed(on);
                }
            }
            PlantDeed::Verdict { is, why, .. } => {
                self.grew = true;
                self.verdict = Some(Word { is: *is, on, why: why.as_deref() });
            }
            PlantDeed::Lost(why) => self.lost = Some((on, why)),
            PlantDeed::Lifted { tubers, store } => {
                self.lifted = Some((on, *tubers, store.as_deref()));
                self.sound = None;
            }
            PlantDeed::Checked { sound } => self.sound = Some(*sound),
            PlantDeed::Named(name) => self.name = Some(name),
            PlantDeed::Acquired { .. }
            | PlantDeed::TagLost
            | PlantDeed::Woken
            | PlantDeed::Treated(_)
            | PlantDeed::MovedFrom { .. }
            | PlantDeed::Note(_) => {}
        }
    }

    fn bloomed(&mut self, on: When) {
        self.grew = true;
        self.first_bloom = Some(self.first_bloom.map_or(on, |known| known.min(on)));
    }

    /// Counts seasons whose last word was keep; a later word in the same season replaces it.
    fn count_season(
        &mut self,
        kept_in: Option<Season>,
        season: Season,
        is: Verdict,
    ) -> Option<Season> {
        match (kept_in == Some(season), is == Verdict::Keep) {
            (true, false) => {
                self.seasons_kept -= 1;
                None
            }
            (false, true) => {
                self.seasons_kept += 1;
                Some(season)
            }
            (true, true) | (false, false) => kept_in,
        }
    }

    /// Whether it was ever planted out. A number from a list that says nothing of planting is
    /// taken for a planted seedling, unless all that is known of it is its loss.
    pub fn was_planted(&self) -> bool {
        self.planted.is_some() || self.grew || (!self.numbered && self.lost.is_none())
    }

    /// How it stands.
    pub fn state(&self) -> State {
        if self.lost.is_some() {
            return State::Lost;
        }
        match self.verdict.map(|word| word.is) {
            Some(Verdict::Discard) if self.first_bloom.is_none() => State::Lost,
            Some(Verdict::Discard) => State::Discarded,
            Some(Verdict::Keep) | None if self.name.is_some() => State::Named,
            Some(Verdict::Keep) => State::Kept,
            Some(Verdict::Hold) => State::Held,
            None if self.first_bloom.is_some() => State::Open,
            None if self.was_planted() => State::Unbloomed,
            None => State::Potted,
        }
    }

    /// Whether it is still in the garden.
    pub fn is_alive(&self) -> bool {
        !matches!(self.state(), State::Lost | State::Discarded)
    }

    /// How far it has come, if it is a keeper.
    pub fn stage(&self) -> Option<Stage> {
        let kept = self.verdict.is_some_and(|word| word.is == Verdict::Keep);
        match (self.name.is_some(), kept, self.seasons_kept) {
            (true, _, _) if self.is_alive() => Some(Stage::Named),
            (_, true, 0 | 1) => Some(Stage::FirstYear),
            (_, true, _) => Some(Stage::SecondSeason),
            _ => None,
        }
    }

    /// The season of the first bloom or, failing that, of planting.
    pub fn season(&self) -> Option<Season> {
        self.first_bloom.or(self.planted).map(When::season)
    }
}

/// The verdict that stood on 31 December of the season of first bloom: `None` where the plant
/// never bloomed, or no word had been given by then.
pub fn first_sorting(diary: &[Entry<PlantDeed>]) -> Option<Verdict> {
    let season = Life::of(diary).first_bloom?.season();
    diary.iter().rev().find_map(|e| match e.did {
        PlantDeed::Verdict { is, .. } if e.on.season() <= season => Some(is),
        _ => None,
    })
}
