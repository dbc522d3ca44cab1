//! What follows from the diaries of heads and lots, and the counts of a cross.

use super::{
    Counts, Cross, Entry, Figure, Figures, Head, HeadDeed, Life, Lot, LotDeed, Outcome, Verdict,
    When,
};

/// How a head stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeadState {
    /// On the plant, or cut and drying.
    Hanging,
    /// Rotted.
    Rotted,
    /// Gone for another reason.
    Lost,
    /// Threshed, with seed.
    Ripe(u32),
    /// Threshed, and nothing in it.
    Empty,
}

impl Head {
    /// How it stands.
    pub fn state(&self) -> HeadState {
        self.diary
            .iter()
            .rev()
            .find_map(|e| match e.did {
                HeadDeed::Rotted => Some(HeadState::Rotted),
                HeadDeed::Lost(_) => Some(HeadState::Lost),
                HeadDeed::Threshed { seeds: 0 } => Some(HeadState::Empty),
                HeadDeed::Threshed { seeds } => Some(HeadState::Ripe(seeds)),
                _ => None,
            })
            .unwrap_or(HeadState::Hanging)
    }

    /// When it was pollinated.
    pub fn pollinated(&self) -> Option<When> {
        on(&self.diary, |did| matches!(did, HeadDeed::Pollinated))
    }

    /// When it was cut.
    pub fn cut(&self) -> Option<When> {
        on(&self.diary, |did| matches!(did, HeadDeed::Cut))
    }
}

fn on<D>(diary: &[Entry<D>], is: impl Fn(&D) -> bool) -> Option<When> {
    diary.iter().find(|e| is(&e.did)).map(|e| e.on)
}

impl Lot {
    /// Seeds sown so far, of those that were counted.
    pub fn sown(&self) -> u32 {
        self.sum(|did| match did {
            LotDeed::Sown { seeds } => seeds.unwrap_or_default(),
            _ => 0,
        })
    }

    /// Seedlings that came up so far.
    pub fn up(&self) -> u32 {
        self.sum(|did| match did {
            LotDeed::Up(n) => *n,
            _ => 0,
        })
    }

    /// Seeds left in the packet: `None` where it, or what was sown of it, was never counted.
    pub fn left(&self) -> Option<u32> {
        if self.diary.iter().any(|e| matches!(e.did, LotDeed::Gone(_))) {
            return Some(0);
        }
        if self.diary.iter().any(|e| matches!(e.did, LotDeed::Sown { seeds: None })) {
            return None;
        }
        let out = self.sum(|did| match did {
            LotDeed::Sown { seeds } => seeds.unwrap_or_default(),
            LotDeed::Given { seeds, .. } => *seeds,
            _ => 0,
        });
        self.seeds.map(|seeds| seeds.saturating_sub(out))
    }

    /// When seed of it was first sown.
    pub fn first_sown(&self) -> Option<When> {
        on(&self.diary, |did| matches!(did, LotDeed::Sown { .. }))
    }

    fn sum(&self, of: impl Fn(&LotDeed) -> u32) -> u32 {
        self.diary.iter().map(|e| of(&e.did)).fold(0, u32::saturating_add)
    }
}

impl Cross {
    /// The counts over all its seasons.
    pub fn counts(&self) -> Counts {
        self.counts_with(self.seedlings.iter().map(|s| Life::of(&s.diary).outcome(&s.diary)))
    }

    /// The same, where it is known already what became of each of its seedlings.
    pub fn counts_with(&self, outcomes: impl Iterator<Item = Outcome>) -> Counts {
        let threshed: u32 = self
            .heads
            .iter()
            .map(|h| if let HeadState::Ripe(seeds) = h.state() { seeds } else { 0 })
            .fold(0, u32::saturating_add);
        let packed = self.lots.iter().filter_map(|l| l.seeds).fold(0, u32::saturating_add);
        let mut counts = Counts {
            heads: u32::try_from(self.heads.len()).unwrap_or(u32::MAX),
            seeds: threshed.max(packed),
            sown: self.lots.iter().map(Lot::sown).fold(0, u32::saturating_add),
            up: self.lots.iter().map(Lot::up).fold(0, u32::saturating_add),
            counted: self.counted(),
            ..Counts::default()
        };
        for outcome in outcomes.filter(|outcome| outcome.was_planted) {
            counts.planted += 1;
            counts.bloomed += u32::from(outcome.has_bloomed);
            match outcome.sorting {
                Some(Verdict::Keep) => {
                    counts.judged += 1;
                    counts.kept += 1;
                }
                Some(Verdict::Discard) => counts.judged += 1,
                Some(Verdict::Hold) | None => {}
            }
        }
        if let Some(totals) = &self.totals {
            counts += totals.counts();
        }
        counts
    }

    /// The figures that follow from its records. Without totals that is all of them: what has no
    /// record was not there. Beside totals, what has none may be in them.
    fn counted(&self) -> Figures {
        if self.totals.is_none() {
            return Figures::ALL;
        }
        let is_threshed =
            |head: &Head| matches!(head.state(), HeadState::Ripe(_) | HeadState::Empty);
        let has_seeds =
            self.heads.iter().any(is_threshed) || self.lots.iter().any(|lot| lot.seeds.is_some());
        let has_plants = !self.seedlings.is_empty();
        Figures::of([
            (Figure::Heads, !self.heads.is_empty()),
            (Figure::Seeds, has_seeds),
            (Figure::Sown, self.lots.iter().any(|lot| lot.first_sown().is_some())),
            (Figure::Up, self.lots.iter().any(|lot| lot.up() > 0)),
            (Figure::Planted, has_plants),
            (Figure::Bloomed, has_plants),
            (Figure::Judged, has_plants),
            (Figure::Kept, has_plants),
        ])
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::book::{PlantDeed, Seedling, Totals};

    fn entry<D>(on: &str, did: D) -> Entry<D> {
        Entry { on: When::parse(on).unwrap(), did }
    }

    fn head(deeds: Vec<HeadDeed>) -> Head {
        Head { tag: None, diary: deeds.into_iter().map(|did| entry("2025-10-02", did)).collect() }
    }

    fn lot(seeds: Option<u32>, deeds: Vec<LotDeed>) -> Lot {
        let diary = deeds.into_iter().map(|did| entry("2026-03-12", did)).collect();
        Lot { code: "25X07-a".into(), father: None, seeds, diary }
    }

    fn seedling(number: &str, deeds: Vec<(&str, PlantDeed)>) -> Seedling {
        let diary = deeds.into_iter().map(|(on, did)| entry(on, did)).collect();
        Seedling { number: number.into(), diary, ..Seedling::default() }
    }

    fn word(is: Verdict) -> (&'static str, PlantDeed) {
        ("2026-09-20", PlantDeed::Verdict { is, why: None, who: None })
    }

    #[test]
    fn a_head_stands_as_its_last_deed_left_it() {
        use HeadDeed::{Cut, Hung, Lost, Note, Pollinated, Rotted, Threshed};
        for (deeds, state) in [
            (vec![], HeadState::Hanging),
            (vec![Pollinated, Cut, Hung], HeadState::Hanging),
            (vec![Pollinated, Cut, Rotted, Note("grey mould".into())], HeadState::Rotted),
            (vec![Pollinated, Lost("snapped".into())], HeadState::Lost),
            (vec![Cut, Threshed { seeds: 23 }], HeadState::Ripe(23)),
            (vec![Cut, Threshed { seeds: 0 }], HeadState::Empty),
            (vec![Rotted, Threshed { seeds: 4 }], HeadState::Ripe(4)),
        ] {
            assert_eq!(head(deeds.clone()).state(), state, "{deeds:?}");
        }
    }

    #[test]
    fn a_packet_holds_what_was_not_sown_given_or_spoilt() {
        let sown = |seeds| LotDeed::Sown { seeds };
        let given = LotDeed::Given { seeds: 5, to: None };
        assert_eq!(lot(Some(23), vec![sown(Some(10)), given.clone()]).left(), Some(8));
        assert_eq!(lot(Some(23), vec![sown(Some(10)), sown(Some(12))]).left(), Some(1));
        assert_eq!(lot(Some(3), vec![sown(Some(10))]).left(), Some(0), "more sown than counted");
        assert_eq!(lot(None, vec![sown(Some(10))]).left(), None, "never counted");
        assert_eq!(lot(Some(9), vec![given, LotDeed::Gone("mice".into())]).left(), Some(0));
        let two_years = lot(Some(23), vec![sown(Some(10)), LotDeed::Up(7), LotDeed::Up(1)]);
        assert_eq!((two_years.sown(), two_years.up()), (10, 8));
    }

    #[test]
    fn a_family_is_counted_from_heads_to_keepers() {
        use PlantDeed::{FirstBloom, Lost, Numbered, Planted};
        let bloom = ("2026-08-20", FirstBloom);
        let bed = || ("2026-05-29", Planted(None));
        let cross = Cross {
            heads: vec![
                head(vec![HeadDeed::Threshed { seeds: 23 }]),
                head(vec![HeadDeed::Rotted]),
                head(vec![HeadDeed::Threshed { seeds: 0 }]),
            ],
            lots: vec![lot(Some(23), vec![LotDeed::Sown { seeds: Some(20) }, LotDeed::Up(14)])],
            seedlings: vec![
                seedling("1", vec![bed(), bloom.clone(), word(Verdict::Keep)]),
                seedling("2", vec![bed(), bloom.clone(), word(Verdict::Discard)]),
                seedling("3", vec![bed(), bloom.clone(), word(Verdict::Hold)]),
                seedling("4", vec![bed(), bloom]),
                seedling("5", vec![bed(), word(Verdict::Discard)]),
                seedling("6", vec![bed(), ("2026-06-10", Lost("slugs".into()))]),
                seedling("7", vec![("2026-04-10", Numbered)]),
            ],
            ..Cross::default()
        };
        let expected = Counts {
            heads: 3,
            seeds: 23,
            sown: 20,
            up: 14,
            planted: 6,
            bloomed: 4,
            judged: 2,
            kept: 1,
            counted: Figures::ALL,
            missing: Figures::default(),
        };
        assert_eq!(cross.counts(), expected);
        let totals = Totals { judged: Some(30), kept: Some(4), ..Totals::default() };
        let missing = totals.counts().missing;
        let both = Cross { totals: Some(totals), ..cross };
        assert_eq!(both.counts(), Counts { judged: 32, kept: 5, missing, ..expected });
    }

    #[test]
    fn what_nobody_counted_is_not_known_until_another_family_knows_it() {
        let totals = Totals { judged: Some(30), kept: Some(0), ..Totals::default() };
        let by_totals = Cross { totals: Some(totals), ..Cross::default() }.counts();
        assert_eq!(by_totals.known(Figure::Kept), Some(0), "none were kept");
        assert_eq!(by_totals.known(Figure::Sown), None, "nobody counted");
        let mut sum = Counts::default();
        assert_eq!(sum.known(Figure::Sown), Some(0), "of no family");
        sum += by_totals;
        assert_eq!(sum.known(Figure::Sown), None);
        let lots = vec![lot(Some(23), vec![LotDeed::Sown { seeds: Some(20) }])];
        sum += Cross { lots, ..Cross::default() }.counts();
        assert_eq!(sum.known(Figure::Sown), Some(20));
    }

    #[test]
    fn seeds_are_those_of_the_heads_or_of_the_packets_whichever_were_counted() {
        let cross = |heads, lots| Cross { heads, lots, ..Cross::default() }.counts().seeds;
        let ripe = || vec![head(vec![HeadDeed::Threshed { seeds: 23 }])];
        assert_eq!(cross(ripe(), vec![]), 23);
        assert_eq!(cross(vec![], vec![lot(Some(40), vec![])]), 40, "bought seed has no heads");
        assert_eq!(cross(ripe(), vec![lot(Some(23), vec![])]), 23, "not counted twice");
    }
}
