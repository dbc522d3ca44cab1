//! What follows from the diaries of heads and lots, and the counts of a cross.

use super::{
    Counts, Cross, Entry, Head, HeadDeed, Life, Lot, LotDeed, Season, Verdict, When, first_sorting,
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
        self.counts_of(|_| true)
    }

    /// The counts with only those plants whose first bloom (or, failing that, planting) was in
    /// `season`; heads, seeds and sowings belong to the cross as a whole and stand at 0.
    pub fn counts_in(&self, season: Season) -> Counts {
        let whole = self.counts_of(|life| life.season() == Some(season));
        Counts { heads: 0, seeds: 0, sown: 0, up: 0, ..whole }
    }

    fn counts_of(&self, takes: impl Fn(&Life<'_>) -> bool) -> Counts {
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
            ..Counts::default()
        };
        for seedling in &self.seedlings {
            let life = Life::of(&seedling.diary);
            if !takes(&life) || !life.was_planted() {
                continue;
            }
            counts.planted += 1;
            counts.bloomed += u32::from(life.first_bloom.is_some());
            match first_sorting(&seedling.diary) {
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
}
