//! A seedling's diary, from planting to wherever it got to.

use chrono::NaiveDate;

use super::{Scribe, seen::Seen, visit, voice, weekend};

use crate::sim::{
    Dice, Fate, PlantYear, Year,
    dice::whole,
    garden::{after, date},
};

use crate::book::{Entry, Look, PlantDeed, Verdict};

/// One plant's diary while it is written.
struct Page {
    seen: Seen,
    dice: Dice,
    partner: &'static str,
    says_why: f64,
    entries: Vec<(NaiveDate, PlantDeed)>,
}

impl Scribe<'_> {
    pub(super) fn plant(&self, i: usize) -> Vec<Entry<PlantDeed>> {
        let plant = &self.garden.plants[i];
        let mut dice = Dice::new(self.seed, 2_000_000 + i as u64);
        let seen = Seen::of(plant, &mut dice);
        let mut page = Page {
            seen,
            dice,
            partner: self.hand.partner,
            says_why: self.hand.says_why,
            entries: Vec::new(),
        };
        for (nth, now) in plant.years.iter().enumerate() {
            if let Some(year) = self.year(now.season) {
                page.season(now, year, nth);
            }
        }
        self.finish(page.entries)
    }
}

impl Page {
    fn put(&mut self, on: NaiveDate, did: PlantDeed) {
        self.entries.push((on, did));
    }

    /// The latest day written so far.
    fn latest(&self) -> Option<NaiveDate> {
        self.entries.iter().map(|e| e.0).max()
    }

    fn season(&mut self, now: &PlantYear, year: &Year, nth: usize) {
        if let Fate::Died(on) = now.fate
            && nth == 0
            && on < date(year.season, 6, 22)
            && self.dice.chance(0.6)
        {
            self.die_in_the_pot(now);
            return;
        }
        if nth > 0 && self.dice.chance(0.2) {
            let day = self.dice.from_to(4, 20);
            self.put(date(year.season, 4, day), PlantDeed::Woken);
        }
        self.put(now.planted, PlantDeed::Planted(Some(now.position.clone())));
        let opened = visit(now.opens);
        match now.fate {
            Fate::Died(on) if !now.opened => {
                self.not_yet(now, on);
                let young = on < date(year.season, 7, 10);
                let list = if young { voice::LOST_YOUNG } else { voice::LOST_GROWN };
                let why = self.dice.word(list);
                self.put(visit(on), PlantDeed::Lost(why.into()));
            }
            Fate::Died(on) => {
                self.bloom(now, opened, nth);
                let why = self.dice.word(voice::LOST_GROWN);
                let on = visit(on).max(self.latest().unwrap_or(on));
                self.put(on, PlantDeed::Lost(why.into()));
            }
            Fate::Thrown | Fate::HeldOver => self.unbloomed(now, year),
            Fate::Kept | Fate::Held | Fate::Discarded => {
                self.not_yet(now, opened);
                self.bloom(now, opened, nth);
                self.judge(now, year, opened, nth);
            }
        }
        self.remarks(now);
        if matches!(now.fate, Fate::Kept | Fate::Held | Fate::HeldOver) {
            self.lift(now, year);
        }
    }

    /// A plant that was numbered and never got as far as the bed.
    fn die_in_the_pot(&mut self, now: &PlantYear) {
        let day = self.dice.from_to(4, 14);
        let on = weekend(date(now.season, 5, day));
        self.put(on, PlantDeed::Numbered);
        let why = self.dice.word(voice::LOST_IN_POT);
        self.put(visit(after(on, 4.0)).min(now.planted), PlantDeed::Lost(why.into()));
    }

    /// A word in passing, now and then.
    fn remarks(&mut self, now: &PlantYear) {
        let on = visit(after(date(now.season, 7, 1), self.dice.between(0.0, 60.0)));
        let ended = matches!(now.fate, Fate::Died(_) | Fate::Discarded | Fate::Thrown);
        if ended && self.latest().is_some_and(|last| on >= last) {
            return;
        }
        if self.dice.chance(0.05) {
            let remark = self.dice.word(voice::REMARKS);
            self.put(on, PlantDeed::Note(remark.into()));
        } else if self.dice.chance(0.012) {
            self.put(on, PlantDeed::TagLost);
            let remark = self.dice.word(voice::TAG_REMARKS);
            self.put(on, PlantDeed::Note(remark.into()));
        }
    }

    /// Looks in vain before a late bloom.
    fn not_yet(&mut self, now: &PlantYear, before: NaiveDate) {
        let round = visit(date(now.season, 8, 22));
        if before > after(round, 7.0) && self.dice.chance(0.45) {
            self.put(round, PlantDeed::SeenUnbloomed);
        }
    }

    fn unbloomed(&mut self, now: &PlantYear, year: &Year) {
        let day = self.dice.from_to(2, 20);
        self.put(visit(date(now.season, 9, day)), PlantDeed::SeenUnbloomed);
        let last = visit(date(now.season, 10, 6)).min(year.first_frost);
        if self.dice.chance(0.6) {
            self.put(last, PlantDeed::SeenUnbloomed);
        }
        let budded = now.opens < after(year.first_frost, 25.0);
        if budded && self.dice.chance(0.5) {
            self.put(last, PlantDeed::Note("in bud".into()));
        }
        let from = year.first_frost.min(year.lifts);
        let on = weekend(after(from, self.dice.between(1.0, 8.0)));
        if now.fate == Fate::Thrown {
            let why = self.dice.word(voice::NEVER);
            self.verdict(on, Verdict::Discard, why);
        } else {
            let why = self.dice.word(voice::UNBLOOMED_HOLD);
            self.verdict(on, Verdict::Hold, why);
        }
    }

    /// The first bloom of the season and what was seen of it. Only plants that please are
    /// measured.
    fn bloom(&mut self, now: &PlantYear, opened: NaiveDate, nth: usize) {
        let quick = now.liking < -0.6 && self.dice.chance(0.55);
        if nth == 0 && !quick {
            self.put(opened, PlantDeed::FirstBloom);
        }
        if quick {
            let colours = self.seen.colours.iter().map(|&c| c.into()).collect();
            let faults = self.seen.faults(&mut self.dice);
            self.look(opened, Look { colours, faults, ..Look::default() });
            return;
        }
        let n_looks = match now.liking {
            x if x > 0.9 => 2,
            x if x > -0.2 => 1,
            _ => u32::from(self.dice.chance(0.35)),
        };
        for n in 0..n_looks {
            let on = visit(after(opened, self.dice.between(3.0, 9.0) + 16.0 * f64::from(n)));
            let look = self.close_look(now.liking, n == 0);
            self.look(on, look);
        }
    }

    fn look(&mut self, on: NaiveDate, look: Look) {
        self.put(on, PlantDeed::Look(Box::new(look)));
    }

    fn close_look(&mut self, liking: f64, first: bool) -> Look {
        let dice = &mut self.dice;
        let measured = first && dice.chance(0.3 + 0.25 * (liking + 0.5).clamp(0.0, 2.0));
        let rule = |x: f64, dice: &mut Dice| f64::from(whole(x * (1.0 + 0.025 * dice.normal())));
        let seen = &self.seen;
        let bloom_mm = measured.then(|| rule(seen.bloom_mm, dice));
        let height_cm =
            (measured && dice.chance(0.6)).then(|| 5.0 * f64::from(whole(seen.height_cm / 5.0)));
        let mut scores = vec![("form".into(), Seen::score(seen.form, liking, dice))];
        if dice.chance(0.7) {
            scores.push(("stem".into(), Seen::score(seen.stem, 0.3 * liking, dice)));
        }
        let more = ["colour", "vigour", "freedom"];
        if first && liking > 0.0 && dice.chance(0.3) {
            let of = dice.word(&more);
            scores.push((of.into(), Seen::score(0.3, liking, dice)));
        }
        let colours = if first { seen.colours.iter().map(|&c| c.into()).collect() } else { vec![] };
        let group = (first && liking > 0.2 && dice.chance(0.3)).then(|| seen.group.into());
        let note = (!first && dice.chance(0.2)).then(|| dice.word(voice::REMARKS).into());
        Look { bloom_mm, height_cm, group, colours, scores, note, ..Look::default() }
    }

    fn judge(&mut self, now: &PlantYear, year: &Year, opened: NaiveDate, nth: usize) {
        let settled = match now.fate {
            Fate::Discarded if now.liking < -1.0 => after(opened, self.dice.between(0.0, 12.0)),
            Fate::Discarded => after(opened, self.dice.between(5.0, 38.0)),
            _ => after(opened, self.dice.between(18.0, 60.0)).max(date(year.season, 9, 5)),
        };
        if nth == 0 && now.liking.abs() < 0.5 && self.dice.chance(0.18) {
            self.second_opinion(now, visit(after(opened, 10.0)));
        }
        let on = weekend(settled).min(weekend(year.lifts)).max(opened);
        // A verdict comes after the looks it rests on.
        let on = self.latest().map_or(on, |last| on.max(last));
        let (is, why) = match (now.fate, nth) {
            (Fate::Kept, 0) => (Verdict::Keep, self.seen.keep(&mut self.dice)),
            (Fate::Kept, _) => (Verdict::Keep, self.dice.word(voice::AGAIN)),
            (Fate::Held, _) if opened > date(year.season, 9, 25) => {
                (Verdict::Hold, self.dice.word(voice::HOLD_LATE))
            }
            (Fate::Held, _) => (Verdict::Hold, self.dice.word(voice::HOLD)),
            (_, 0) => (Verdict::Discard, self.seen.discard(&mut self.dice)),
            _ => (Verdict::Discard, self.dice.word(voice::NO_MORE)),
        };
        if is != Verdict::Hold && now.liking.abs() < 0.6 && self.dice.chance(0.12) {
            self.change_of_mind(is, visit(after(opened, 4.0)).min(on));
        }
        let why = if self.dice.chance(self.says_why) { why } else { "" };
        self.verdict(on, is, why);
    }

    /// The other of the two looks too, and sees it differently.
    fn second_opinion(&mut self, now: &PlantYear, on: NaiveDate) {
        let kinder = now.liking + if now.liking < 0.0 { 0.8 } else { -0.6 };
        let mut look = self.close_look(kinder, false);
        look.who = Some(self.partner.into());
        self.look(on, look);
    }

    /// A first word that was taken back before the season was out.
    fn change_of_mind(&mut self, last: Verdict, on: NaiveDate) {
        let (before, said) = match last {
            Verdict::Keep => (Verdict::Discard, voice::BEFORE_KEEP),
            Verdict::Discard | Verdict::Hold => (Verdict::Hold, voice::HOLD),
        };
        let who = self.dice.chance(0.4).then(|| self.partner.into());
        let why = Some(self.dice.word(said).into());
        self.put(on, PlantDeed::Verdict { is: before, why, who });
    }

    fn verdict(&mut self, on: NaiveDate, is: Verdict, why: &str) {
        let why = (!why.is_empty()).then(|| why.into());
        self.put(on, PlantDeed::Verdict { is, why, who: None });
    }

    fn lift(&mut self, now: &PlantYear, year: &Year) {
        let judged = self.latest().unwrap_or(year.lifts);
        let on = weekend(after(year.lifts, self.dice.between(0.0, 9.0))).max(judged);
        let tubers = u16::try_from(now.tubers).ok();
        let store = format!("box {}", 1 + self.dice.below(6)).into();
        self.put(on, PlantDeed::Lifted { tubers, store: (now.tubers > 0).then_some(store) });
        if now.tubers == 0 {
            self.put(on, PlantDeed::Lost("no tubers".into()));
            return;
        }
        let winter = after(date(year.season, 12, 30), self.dice.between(8.0, 60.0));
        if now.sound == 0 {
            let frost = year.winter > 0.3 && self.dice.chance(0.85);
            let list = if frost { voice::LOST_FROST } else { voice::LOST_STORE };
            let why = self.dice.word(list);
            self.put(winter, PlantDeed::Lost(why.into()));
        } else if self.dice.chance(0.5) {
            let sound = u16::try_from(now.sound).unwrap_or(u16::MAX);
            self.put(winter, PlantDeed::Checked { sound });
        }
    }
}
