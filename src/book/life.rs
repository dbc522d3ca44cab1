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
            // Lost, and got again.
            PlantDeed::Acquired { .. } => self.lost = None,
            PlantDeed::TagLost
            | PlantDeed::Woken
            | PlantDeed::Ailing(_)
            | PlantDeed::Treated(_)
            | PlantDeed::Given { .. }
            | PlantDeed::Disposed(_)
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

    /// How far it has come, if it is a keeper. A keeper that was lost keeps the stage it had
    /// reached.
    pub fn stage(&self) -> Option<Stage> {
        let kept = self.verdict.is_some_and(|word| word.is == Verdict::Keep);
        match self.seasons_kept {
            _ if self.name.is_some() && (kept || self.is_alive()) => Some(Stage::Named),
            _ if !kept => None,
            0 | 1 => Some(Stage::FirstYear),
            _ => Some(Stage::SecondSeason),
        }
    }

    /// The season of the first bloom or, failing that, of planting.
    pub fn season(&self) -> Option<Season> {
        self.first_bloom.or(self.planted).map(When::season)
    }

    /// What of it goes into the counts of its cross. `diary` is the one that the life was read
    /// from.
    pub fn outcome(&self, diary: &[Entry<PlantDeed>]) -> Outcome {
        let sorting = self.first_bloom.map(When::season).and_then(|season| {
            diary.iter().rev().find_map(|e| match e.did {
                PlantDeed::Verdict { is, .. } if e.on.season() <= season => Some(is),
                _ => None,
            })
        });
        let has_bloomed = self.first_bloom.is_some();
        Outcome { was_planted: self.was_planted(), has_bloomed, sorting }
    }
}

/// What of a plant goes into the counts of its cross.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outcome {
    /// Whether it was ever planted out.
    pub was_planted: bool,
    /// Whether it is known to have bloomed.
    pub has_bloomed: bool,
    /// The verdict that stood on 31 December of the season of first bloom: `None` where the
    /// plant never bloomed, or no word had been given by then.
    pub sorting: Option<Verdict>,
}

/// The verdict that stood at the end of the season of first bloom; see [`Outcome::sorting`].
pub fn first_sorting(diary: &[Entry<PlantDeed>]) -> Option<Verdict> {
    Life::of(diary).outcome(diary).sorting
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use Verdict::{Discard, Hold, Keep};

    use super::*;
    use crate::book::Look;

    type Diary = Vec<Entry<PlantDeed>>;

    fn diary(entries: &[(&str, PlantDeed)]) -> Diary {
        entries
            .iter()
            .map(|(on, did)| Entry { on: When::parse(on).unwrap(), did: did.clone() })
            .collect()
    }

    fn word(is: Verdict) -> PlantDeed {
        PlantDeed::Verdict { is, why: None, who: None }
    }

    fn lost() -> PlantDeed {
        PlantDeed::Lost("slugs".into())
    }

    fn planted() -> PlantDeed {
        PlantDeed::Planted("A/1/1".parse().ok())
    }

    fn look(look: Look) -> PlantDeed {
        PlantDeed::Look(Box::new(look))
    }

    fn state(entries: &[(&str, PlantDeed)]) -> State {
        Life::of(&diary(entries)).state()
    }

    #[test]
    fn the_verdict_standing_at_the_end_of_the_first_bloom_season_counts() {
        use PlantDeed::FirstBloom;
        let sorted = |entries: &[(&str, PlantDeed)]| first_sorting(&diary(entries));
        let bloom = ("2026-08-20", FirstBloom);
        assert_eq!(sorted(&[bloom.clone(), ("2026-09-01", word(Keep))]), Some(Keep));
        assert_eq!(sorted(&[bloom.clone(), ("2026-09-01", word(Hold))]), Some(Hold));
        assert_eq!(sorted(std::slice::from_ref(&bloom)), None, "no word yet");
        let minds = [("2026-09-01", word(Keep)), ("2026-10-20", word(Discard))];
        let changed = [std::slice::from_ref(&bloom), &minds[..]].concat();
        assert_eq!(sorted(&changed), Some(Discard), "the later word stands");
        let next_year = [bloom.clone(), ("2026-12-31", word(Hold)), ("2027-01-01", word(Keep))];
        assert_eq!(sorted(&next_year), Some(Hold), "a later season is an outcome of its own");
        let late = [bloom, ("2027-08-01", word(Keep))];
        assert_eq!(sorted(&late), None, "no word in the first season");
    }

    #[test]
    fn a_plant_that_never_bloomed_is_not_judged() {
        let thrown = diary(&[("2026-05-29", planted()), ("2026-10-20", word(Discard))]);
        assert_eq!(first_sorting(&thrown), None);
        assert_eq!(Life::of(&thrown).state(), State::Lost, "thrown out unbloomed is a loss");
    }

    #[test]
    fn a_plant_held_over_is_judged_in_the_season_of_its_first_bloom() {
        let held_over = [
            ("2025-05-29", planted()),
            ("2025-10-20", word(Hold)),
            ("2026-05-20", planted()),
            ("2026-07-30", PlantDeed::FirstBloom),
        ];
        assert_eq!(first_sorting(&diary(&held_over)), Some(Hold), "the old word still stands");
        let kept = [&held_over[..], &[("2026-09-10", word(Keep))]].concat();
        assert_eq!(first_sorting(&diary(&kept)), Some(Keep));
        let life = diary(&kept);
        let life = Life::of(&life);
        assert_eq!(life.season(), Some(Season(2026)));
        assert_eq!(life.planted.unwrap().to_string(), "2025-05-29");
        assert_eq!(life.planted_last.unwrap().to_string(), "2026-05-20");
    }

    #[test]
    fn a_loss_is_no_verdict_and_takes_none_back() {
        let entries = [
            ("2026-08-20", PlantDeed::FirstBloom),
            ("2026-09-01", word(Keep)),
            ("2026-12-20", lost()),
        ];
        assert_eq!(first_sorting(&diary(&entries)), Some(Keep));
        assert_eq!(state(&entries), State::Lost);
    }

    #[test]
    fn dates_known_only_to_the_year_are_enough() {
        let entries = [("2019", PlantDeed::FirstBloom), ("2019", word(Keep))];
        assert_eq!(first_sorting(&diary(&entries)), Some(Keep));
        let told = diary(&entries);
        let day = |text: &str| When::parse(text).unwrap().exact().unwrap();
        assert_eq!(Life::until(&told, day("2019-12-30")).state(), State::Unbloomed);
        assert_eq!(Life::until(&told, day("2019-12-31")).state(), State::Kept);
        let month = [("2019-08", PlantDeed::FirstBloom), ("2019-08-03", look(seen()))];
        let first = Life::of(&diary(&month)).first_bloom;
        assert_eq!(first.unwrap().to_string(), "2019-08", "it may have been on the first");
    }

    fn seen() -> Look {
        Look { colours: vec!["straw".into()], ..Look::default() }
    }

    #[test]
    fn a_look_at_an_open_bloom_is_a_bloom_and_a_look_at_leaves_is_not() {
        let tall = Look { height_cm: Some(120.0), ..Look::default() };
        let leaves = diary(&[("2026-07-01", look(tall))]);
        assert_eq!(Life::of(&leaves).first_bloom, None);
        assert!(Life::of(&leaves).was_planted(), "it was looked at, so it grew");
        let open = diary(&[("2026-09-01", PlantDeed::FirstBloom), ("2026-08-30", look(seen()))]);
        let first = Life::of(&open).first_bloom.unwrap();
        assert_eq!(first.to_string(), "2026-08-30", "the earlier of the two");
    }

    #[test]
    fn a_plant_stands_as_its_diary_says() {
        let numbered = ("2026-04-10", PlantDeed::Numbered);
        let bloom = ("2026-08-20", PlantDeed::FirstBloom);
        let named = ("2028-02-01", PlantDeed::Named("Quillet Dawn".into()));
        let word = |is| ("2026-09-20", word(is));
        assert_eq!(state(std::slice::from_ref(&numbered)), State::Potted);
        assert_eq!(state(&[numbered.clone(), ("2026-05-29", planted())]), State::Unbloomed);
        assert_eq!(state(&[]), State::Unbloomed, "a bare number in a list was planted");
        assert_eq!(state(std::slice::from_ref(&bloom)), State::Open);
        assert_eq!(state(&[bloom.clone(), word(Hold)]), State::Held);
        assert_eq!(state(&[bloom.clone(), word(Discard)]), State::Discarded);
        assert_eq!(state(&[bloom.clone(), word(Keep)]), State::Kept);
        assert_eq!(state(&[bloom.clone(), word(Keep), named.clone()]), State::Named);
        assert_eq!(state(&[bloom, word(Keep), named, ("2029-01-05", lost())]), State::Lost);
        let died = diary(&[numbered, ("2026-05-01", lost())]);
        assert!(!Life::of(&died).was_planted(), "died in its pot");
    }

    #[test]
    fn a_keeper_comes_up_a_stage_with_each_season_it_is_kept() {
        let bloom = ("2026-08-20", PlantDeed::FirstBloom);
        let first = [bloom, ("2026-09-20", word(Keep)), ("2026-10-20", word(Keep))];
        let stage = |entries: &[(&str, PlantDeed)]| Life::of(&diary(entries)).stage();
        assert_eq!(stage(&first), Some(Stage::FirstYear), "twice in one season is once");
        let second = [&first[..], &[("2027-09-01", word(Keep))]].concat();
        assert_eq!(stage(&second), Some(Stage::SecondSeason));
        let held = [&second[..], &[("2028-09-01", word(Hold))]].concat();
        assert_eq!(stage(&held), None, "its latest word is not keep");
        let took_back = [&first[..], &[("2026-10-25", word(Discard))]].concat();
        assert_eq!(Life::of(&diary(&took_back)).seasons_kept, 0);
        let named = [&second[..], &[("2028-02-01", PlantDeed::Named("Old Rope".into()))]].concat();
        assert_eq!(stage(&named), Some(Stage::Named));
        let gone = [&named[..], &[("2028-12-01", lost())]].concat();
        assert_eq!(stage(&gone), Some(Stage::Named), "what it had reached");
        let dropped = [&named[..], &[("2028-12-01", word(Discard))]].concat();
        assert_eq!(stage(&dropped), None);
    }
}
