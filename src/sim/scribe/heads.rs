//! Heads and packets as written down.

use super::{Scribe, voice, weekend};

use crate::sim::{
    Dice, Family, HeadEnd, HeadFacts,
    garden::{after, date},
};

use crate::book::{By, Father, Head, HeadDeed, Lot, LotDeed};

/// Wool tied below a pollinated bloom, a colour a cross.
const WOOL: [&str; 10] =
    ["red", "white", "blue", "green", "yellow", "black", "pink", "grey", "orange", "brown"];

const LOT_REMARKS: &[&str] = &[
    "fat seed",
    "thin stuff, mostly chaff",
    "up in four days",
    "slow, bottom heat failed",
    "damped off, a third of them",
    "mouse in the tray",
    "late tray",
    "sown on the kitchen sill",
];

const FRIENDS: &[&str] = &["Ines", "the allotments", "M. Dace", "Brill Lane plant sale"];

impl Scribe<'_> {
    pub(super) fn heads(&self, family: &Family, dice: &mut Dice) -> Vec<Head> {
        let nth = family.code.bytes().last().map_or(0, usize::from) % WOOL.len();
        let tagged = family.season > self.hand.blurred_until;
        let mut heads: Vec<&HeadFacts> = family.heads.iter().collect();
        heads.sort_by_key(|h| h.pollinated);
        heads
            .iter()
            .filter(|h| h.pollinated <= self.hand.today)
            .enumerate()
            .map(|(n, head)| Head {
                tag: tagged.then(|| format!("{} {}", WOOL[nth], n + 1).into()),
                diary: self.finish(head_diary(head, family.by, dice)),
            })
            .collect()
    }

    pub(super) fn lots(&self, family: &Family, dice: &mut Dice) -> Vec<Lot> {
        let threshed: u32 = family
            .heads
            .iter()
            .map(|h| match h.end {
                HeadEnd::Threshed(on, seeds) if on <= self.hand.today => seeds,
                _ => 0,
            })
            .sum();
        let bought = family.from.is_some();
        let seeds = if bought { family.seeds } else { threshed };
        if seeds == 0 {
            return Vec::new();
        }
        let mut diary = Vec::new();
        let mut left = seeds;
        for sowing in family.sowings.iter().filter(|s| s.on <= self.hand.today) {
            left = left.saturating_sub(sowing.seeds);
            diary.push((sowing.on, LotDeed::Sown { seeds: Some(sowing.seeds) }));
            let up = after(sowing.on, f64::from(dice.from_to(9, 18)));
            diary.push((up, LotDeed::Up(sowing.up)));
            if dice.chance(0.12) {
                diary.push((up, LotDeed::Note(dice.word(LOT_REMARKS).into())));
            }
            if dice.chance(0.5) {
                let n = sowing.planted + (sowing.up - sowing.planted) / 2;
                let on = weekend(after(up, f64::from(dice.from_to(12, 20))));
                diary.push((on, LotDeed::PrickedOut(n)));
            }
        }
        let father = (family.by == By::Hand && family.pollen.len() > 1).then_some(Father::Each);
        let sown = seeds - left;
        let apart = sown > 0 && left >= 25 && dice.chance(0.4);
        let mut lots = Vec::new();
        let lot = |nth: &str, seeds, diary| Lot {
            code: format!("{}-{nth}", family.code).into(),
            father,
            seeds: Some(seeds),
            diary: self.finish(diary),
        };
        if apart {
            // The late heads went into a packet of their own.
            lots.push(lot("a", sown, diary));
            diary = Vec::new();
        }
        leftovers(family, left, &mut diary, dice);
        lots.push(if apart { lot("b", left, diary) } else { lot("a", seeds, diary) });
        lots
    }
}

/// Seed that was not sown: some given away, old packets thrown out.
fn leftovers(
    family: &Family,
    left: u32,
    diary: &mut Vec<(chrono::NaiveDate, LotDeed)>,
    dice: &mut Dice,
) {
    let sown_last = family.sowings.last().map(|s| s.on);
    let mut left = left;
    if left >= 12 && dice.chance(0.25) && family.totals.is_none() {
        let seeds = dice.from_to(5, left / 2);
        left -= seeds;
        let to = Some(dice.word(FRIENDS).into());
        let on = after(sown_last.unwrap_or(date(family.season + 1, 2, 1)), 5.0);
        diary.push((on, LotDeed::Given { seeds, to }));
    }
    let years = if dice.chance(0.85) { 3 } else { 5 };
    let thrown = date(family.season + years, 2, dice.from_to(3, 25));
    if left > 0 {
        let why = if dice.chance(0.2) { "mice in the tin" } else { "old, thrown out" };
        diary.push((thrown, LotDeed::Gone(why.into())));
    }
}

fn head_diary(head: &HeadFacts, by: By, dice: &mut Dice) -> Vec<(chrono::NaiveDate, HeadDeed)> {
    let mut diary = vec![(head.pollinated, HeadDeed::Pollinated)];
    if by == By::Hand && dice.chance(0.06) {
        let said = ["second day of pollen", "wet morning", "rays stripped", "bag on"];
        diary.push((head.pollinated, HeadDeed::Note(dice.word(&said).into())));
    }
    if let Some(cut) = head.cut {
        diary.push((cut, HeadDeed::Cut));
        if dice.chance(0.15) {
            diary.push((cut, HeadDeed::InWater));
        } else if dice.chance(0.3) {
            diary.push((after(cut, 1.0), HeadDeed::Hung));
        }
    }
    diary.push(match head.end {
        HeadEnd::Rotted(on) => (on, HeadDeed::Rotted),
        HeadEnd::Lost(on) => (on, HeadDeed::Lost(dice.word(voice::HEAD_LOST).into())),
        HeadEnd::Threshed(on, seeds) => (on, HeadDeed::Threshed { seeds }),
    });
    diary
}
