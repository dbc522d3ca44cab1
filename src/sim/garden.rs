//! A garden lived through season by season: what happens, not how it is written down.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use super::{
    Dice, Family, Fate, Genome, Nature, Plan, Plant, Trait, Values, Ways, Year, dice::index,
};

/// A garden as it grows.
#[derive(Debug, Clone)]
pub struct Garden {
    /// Its ways.
    pub ways: Ways,
    /// Its plants, varieties first.
    pub plants: Vec<Plant>,
    /// Its crosses, in the order in which they were made.
    pub families: Vec<Family>,
    /// What each season truly added to the liking of every plant.
    pub seasons: BTreeMap<i16, f64>,
    /// How much the raiser is in the habit of using each variety.
    pub(super) fondness: Vec<f64>,
    pub(super) nature: Nature,
    pub(super) genes: Dice,
    pub(super) luck: Dice,
    pub(super) raiser: Dice,
}

/// A day so many days after another.
pub(super) fn after(day: NaiveDate, days: f64) -> NaiveDate {
    day.checked_add_days(Days::new(u64::try_from(index(days)).unwrap_or_default())).unwrap_or(day)
}

/// A day of the calendar. Days that do not exist do not come up: callers name them.
pub(super) fn date(season: i16, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(i32::from(season), month, day).unwrap_or(NaiveDate::MIN)
}

/// Share of plants open, against days after 30 June: near constant between 10 % and 80 %, the
/// first in mid-July (shape as in Kitchener's bed of 750 collerette seedlings, of which 82 %
/// opened).
const OPEN: [(f64, f64); 6] =
    [(0.0, 8.0), (0.1, 21.0), (0.78, 91.0), (0.8, 106.0), (0.86, 128.0), (1.0, 170.0)];

impl Garden {
    /// A garden with nothing in it.
    pub fn new(ways: Ways, seed: u64) -> Self {
        Self {
            nature: Nature::new(ways.inheritance, ways.liking),
            ways,
            plants: Vec::new(),
            families: Vec::new(),
            seasons: BTreeMap::new(),
            fondness: Vec::new(),
            genes: Dice::new(seed, 1),
            luck: Dice::new(seed, 2),
            raiser: Dice::new(seed, 3),
        }
    }

    /// Adds a variety of unknown origin, or of known parents among the varieties so far; for an
    /// unknown parent beside a known one a stranger stands in.
    pub fn add_variety(
        &mut self,
        id: &str,
        parents: [Option<usize>; 2],
        targets: &[(Trait, f64)],
    ) -> usize {
        let genome = if parents == [None, None] {
            self.nature.pool_mut().founder(&mut self.genes, targets)
        } else {
            let [seed, pollen] = parents.map(|p| self.genome_or_stranger(p));
            self.nature.pool().child(&mut self.genes, &seed, &pollen)
        };
        let plant = self.newborn(id.to_owned(), genome, 0.0);
        self.plants.push(plant);
        self.fondness.push((0.7 * self.raiser.normal()).exp());
        self.plants.len() - 1
    }

    pub(super) fn genome_or_stranger(&mut self, plant: Option<usize>) -> Genome {
        match plant {
            Some(i) => self.plants[i].genome.clone(),
            None => self.nature.pool_mut().founder(&mut self.genes, &[]),
        }
    }

    pub(super) fn newborn(&mut self, key: String, genome: Genome, pairing: f64) -> Plant {
        let values: Values = self.nature.pool().values(&genome);
        Plant {
            key,
            family: None,
            worth: self.nature.worth(&genome, pairing),
            genome,
            values,
            lasting: self.genes.normal(),
            father: None,
            gives_seed: true,
            gives_pollen: true,
            is_parent: false,
            since: i16::MIN,
            without: Vec::new(),
            years: Vec::new(),
        }
    }

    /// Fixes what a pairing adds beyond its parents.
    pub fn set_pairing(&mut self, a: usize, b: usize, adds: f64) {
        self.nature.set_pairing(a, b, adds);
    }

    /// The plant of this key.
    pub fn find(&self, key: &str) -> Option<usize> {
        self.plants.iter().position(|p| p.key == key)
    }

    /// The true share kept of a pairing's seedlings in an average season.
    pub fn keep_rate(&mut self, seed: usize, pollen: usize) -> f64 {
        let adds = self.nature.pairing(&mut self.genes, seed, pollen);
        self.nature.keep_rate(&self.plants[seed].genome, &self.plants[pollen].genome, adds)
    }

    /// Lives through one season: spring, summer, the crosses planned, and the winter after.
    pub fn live(&mut self, year: &Year, plans: &[Plan]) {
        let adds = year.adds.unwrap_or_else(|| self.nature.season(&mut self.genes));
        self.seasons.insert(year.season, adds);
        self.buy_seed(plans);
        self.replant(year);
        self.sow_and_plant(year);
        self.summer(year, adds);
        for plan in plans {
            self.make(plan, year);
        }
        self.winter(year);
    }

    fn summer(&mut self, year: &Year, adds: f64) {
        let (luck, habits) = (self.ways.luck, self.ways.habits);
        let lasting = self.ways.liking.lasting;
        for plant in &mut self.plants {
            let n_before = plant.years.len().saturating_sub(1);
            let Some(now) = plant.years.last_mut().filter(|y| y.season == year.season) else {
                continue;
            };
            let dice = &mut self.luck;
            let late = plant.values[Trait::Late.index()];
            let z = (0.6 * late + dice.normal()) / 1.36_f64.sqrt();
            let days = if n_before == 0 { days_to_open(z) } else { 26.0 + 13.0 * z };
            now.opens = after(date(year.season, 6, 30), (days + year.late).max(4.0));
            now.liking = plant.worth
                + adds
                + lasting.sqrt() * plant.lasting
                + (1.0 - lasting).sqrt() * dice.normal();
            let dies_first = dice.chance(if n_before == 0 { luck.dies_first } else { 0.015 });
            let dies_later = dice.chance(luck.dies_later);
            now.opened = !dies_first && now.opens < year.first_frost;
            let end = if now.opened { year.first_frost } else { now.opens.min(year.first_frost) };
            let start = if now.opened { now.opens } else { now.planted };
            let death =
                after(start, (end - start).num_days().max(6) as f64 * dice.between(0.1, 0.9));
            let bar = match n_before {
                0 => 0.0,
                _ if plant.is_parent => habits.second_bar - 0.7,
                _ => habits.second_bar,
            };
            now.fate = match now.opened {
                _ if dies_first => Fate::Died(death),
                true if dies_later => Fate::Died(death),
                false if dice.chance(habits.held_over) && n_before == 0 => Fate::HeldOver,
                false => Fate::Thrown,
                true if (now.liking - bar).abs() < habits.doubt
                    && dice.chance(if n_before == 0 { 0.85 } else { 0.4 }) =>
                {
                    Fate::Held
                }
                true if now.liking > bar => Fate::Kept,
                true => Fate::Discarded,
            };
        }
    }

    fn winter(&mut self, year: &Year) {
        for plant in &mut self.plants {
            let tubers = plant.values[Trait::Tubers.index()];
            let Some(now) = plant.years.last_mut().filter(|y| y.season == year.season) else {
                continue;
            };
            if matches!(now.fate, Fate::Kept | Fate::Held | Fate::HeldOver) {
                now.tubers = self.luck.count((3.4 + 1.1 * tubers).clamp(0.8, 8.0), 0.1);
                // Cuttings stand in for a clump that failed.
                now.tubers = now.tubers.max(if plant.is_parent { 2 } else { 0 });
                // A clump rots or keeps as one; within a sound clump the odd tuber goes.
                let cared_for = if plant.is_parent { 0.25 } else { 1.0 };
                let rots = self.luck.chance(year.winter * cared_for);
                now.sound = if rots { 0 } else { self.luck.of(now.tubers, 0.93) };
            }
        }
    }
}

/// Days after 30 June on which a seedling opens, from where it stands among all.
fn days_to_open(z: f64) -> f64 {
    let share = super::nature::below(z);
    OPEN.windows(2).find(|w| share <= w[1].0).map_or(OPEN[5].1, |w| {
        let part = (share - w[0].0) / (w[1].0 - w[0].0);
        w[0].1 + part * (w[1].1 - w[0].1)
    })
}
