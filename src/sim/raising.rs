//! Spring: packets are sown, older plants go back into the ground, seedlings are planted out.

use chrono::{Days, NaiveDate};

use super::{
    Family, Fate, Garden, Plan, PlantYear, Sowing, Way, Year,
    dice::{index, whole},
    garden::{after, date},
};

use crate::book::{By, Position, Season, Totals};

impl Garden {
    /// Seed bought for this spring.
    pub(super) fn buy_seed(&mut self, plans: &[Plan]) {
        for plan in plans {
            if let Way::Bought(from, seeds) = plan.way {
                self.families.push(Family {
                    code: plan.code.to_owned(),
                    season: plan.season,
                    seed: None,
                    pollen: Vec::new(),
                    by: By::Bees,
                    from: Some(from),
                    heads: Vec::new(),
                    seeds,
                    sowings: Vec::new(),
                    plants: Vec::new(),
                    totals: None,
                });
            }
        }
    }

    /// Every place of the beds, first bed first.
    fn places(&self) -> Vec<Position> {
        let mut places = Vec::new();
        for bed in &self.ways.beds {
            for row in 1..=bed.rows {
                let along =
                    (1..=bed.places).map(|place| Position { bed: bed.name.clone(), row, place });
                places.extend(along);
            }
        }
        places
    }

    /// Older plants, from the last place back, so that a year's seedlings stand together.
    pub(super) fn replant(&mut self, year: &Year) {
        let mut places = self.places();
        let in_last =
            self.ways.beds.last().map_or(0, |b| index(f64::from(b.rows) * f64::from(b.places)));
        let front = places.len() - in_last;
        places.drain(front..front + index(f64::from(year.for_varieties)).min(in_last));
        let mut alive: Vec<usize> = (0..self.plants.len())
            .filter(|&i| !self.plants[i].years.is_empty() && self.plants[i].lives())
            .collect();
        // The oldest get the end of the last bed, where they can stay.
        alive.sort_by_key(|&i| (self.plants[i].years[0].season, i));
        for i in alive {
            let Some(position) = places.pop() else { break };
            let planted = after(date(year.season, 5, 14), f64::from(self.luck.from_to(0, 9)));
            let planted = planted.max(after(year.last_frost, 2.0));
            self.plants[i].years.push(new_year(year.season, position, planted));
        }
    }

    /// Sows until the beds can be filled, and plants what the beds take.
    pub(super) fn sow_and_plant(&mut self, year: &Year) {
        let first_sown = after(date(year.season, 3, 8), f64::from(self.luck.from_to(0, 12)));
        let mut sown: Vec<(usize, usize)> = Vec::new();
        for again in 0..2_u32 {
            let up: u32 = sown.iter().map(|&(f, s)| self.families[f].sowings[s].up).sum();
            let short = f64::from(year.wanted) * 1.12 - f64::from(up);
            if short <= 0.0 {
                break;
            }
            let on = after(first_sown, 19.0 * f64::from(again));
            self.sow(year, on, short * self.ways.habits.oversow, &mut sown);
        }
        self.plant_out(year, &sown);
    }

    fn sow(&mut self, year: &Year, on: NaiveDate, want: f64, sown: &mut Vec<(usize, usize)>) {
        let left: Vec<u32> = self.families.iter().map(|f| self.seed_to_sow(f, year)).collect();
        let share = |n: u32| f64::from(n).powf(0.8);
        let all: f64 = left.iter().map(|&n| share(n)).sum();
        for (f, &n) in left.iter().enumerate().filter(|(_, n)| **n > 0) {
            let seeds = n.min(whole(want * share(n) / all).max(6));
            let years_old = f64::from(year.season - self.families[f].season);
            let keeps = self.ways.luck.comes_up * 0.8_f64.powf((years_old - 1.0).max(0.0));
            let keeps = (keeps * (0.12 * self.luck.normal()).exp()).min(0.95);
            let up = self.luck.of(seeds, keeps);
            // A week's difference between trays is usual.
            let on = after(on, f64::from(self.luck.from_to(0, 6)));
            self.families[f].sowings.push(Sowing { on, seeds, up, planted: 0 });
            sown.push((f, self.families[f].sowings.len() - 1));
        }
    }

    /// Seed that the raiser would sow this spring: last year's packets and bought-in ones, and
    /// what is left of an older packet whose first plants pleased.
    fn seed_to_sow(&self, family: &Family, year: &Year) -> u32 {
        if family.totals.is_some() {
            return 0;
        }
        let left = family.seeds - family.sowings.iter().map(|s| s.seeds).sum::<u32>();
        let age = year.season - family.season;
        let pleased = || {
            let of = |fate| {
                family
                    .plants
                    .iter()
                    .filter(|&&i| self.plants[i].years.first().is_some_and(|y| y.fate == fate))
                    .count()
            };
            let (kept, not) = (of(Fate::Kept), of(Fate::Discarded));
            left >= 8 && kept >= 4 && kept > not
        };
        let fresh = if family.from.is_some() { age == 0 } else { age == 1 };
        if fresh || (age == 2 && pleased()) { left } else { 0 }
    }

    fn plant_out(&mut self, year: &Year, sown: &[(usize, usize)]) {
        let mut potted: Vec<(usize, usize)> = Vec::new();
        for &(f, s) in sown {
            let up = self.families[f].sowings[s].up;
            potted.extend((0..up).map(|_| (f, s)));
        }
        // What the beds do not take is given away: any of the trays, not the last one.
        while potted.len() > index(f64::from(year.wanted)) {
            potted.remove(self.luck.below(potted.len()));
        }
        // A family's plants stand together, whichever sowing they are of.
        potted.sort_unstable();
        let mut places = self.places().into_iter();
        let begins = after(date(year.season, 5, 24), f64::from(self.luck.from_to(0, 5)))
            .max(after(year.last_frost, 6.0));
        for (n, (f, s)) in potted.into_iter().enumerate() {
            let Some(position) = places.next() else { break };
            // Four rows a day is what a back stands.
            let planted = after(begins, (n / 60) as f64 * 2.0);
            let i = self.be_born(f, format!("{:02}-{:03}", year.season % 100, n + 1));
            self.plants[i].years.push(new_year(year.season, position, planted));
            self.families[f].sowings[s].planted += 1;
        }
    }

    fn be_born(&mut self, f: usize, key: String) -> usize {
        let seed = self.families[f].seed;
        let father = self.draw_father(f);
        let genome = {
            let mother = self.genome_or_stranger(seed);
            let father = self.genome_or_stranger(father);
            self.nature.pool().child(&mut self.genes, &mother, &father)
        };
        let pairing = match (seed, father) {
            (Some(a), Some(b)) => self.nature.pairing(&mut self.genes, a, b),
            _ => 0.0,
        };
        let mut plant = self.newborn(key, genome, pairing);
        plant.family = Some(f);
        plant.father = father;
        self.plants.push(plant);
        self.families[f].plants.push(self.plants.len() - 1);
        self.plants.len() - 1
    }

    /// The plant that gave the pollen: as the raiser believes where it is known, and as chance
    /// has it among the likely ones and all others.
    fn draw_father(&mut self, f: usize) -> Option<usize> {
        let family = &self.families[f];
        family.seed?;
        let weights: Vec<f64> = family.pollen.iter().map(|(_, w)| *w).collect();
        let mut left = self.genes.unit();
        for (i, w) in weights.iter().enumerate() {
            left -= w;
            if left < 0.0 {
                return Some(family.pollen[i].0);
            }
        }
        let season = self.families[f].season;
        let n_varieties = self.fondness.len();
        Some(self.genes.below(n_varieties))
            .filter(|&i| self.plants[i].gives_pollen && self.plants[i].stood_in(season))
    }
}

impl Garden {
    /// A family of which so many plants were raised by somebody else, who sent back totals.
    pub(super) fn raise_away(&mut self, f: usize, year: &Year, plants: u32, adds: f64) {
        let seed = self.families[f].seed;
        let (mut bloomed, mut judged, mut kept) = (0, 0, 0);
        for _ in 0..plants {
            let father = self.draw_father(f);
            let mother = self.genome_or_stranger(seed);
            let father = self.genome_or_stranger(father);
            let child = self.nature.pool().child(&mut self.genes, &mother, &father);
            let liking = self.nature.worth(&child, 0.0) + adds + self.luck.normal();
            if self.luck.chance(0.84) {
                bloomed += 1;
                let decided = liking.abs() > self.ways.habits.doubt;
                judged += u32::from(decided);
                kept += u32::from(decided && liking > 0.0);
            }
        }
        self.families[f].totals = Some(Totals {
            planted: Some(plants),
            bloomed: Some(bloomed),
            judged: Some(judged),
            kept: Some(kept),
            judged_season: Some(Season(year.season + 1)),
            ..Totals::default()
        });
    }
}

fn new_year(season: i16, position: Position, planted: NaiveDate) -> PlantYear {
    PlantYear {
        season,
        position,
        planted,
        opens: planted.checked_add_days(Days::new(60)).unwrap_or(planted),
        opened: false,
        liking: 0.0,
        fate: Fate::Held,
        tubers: 0,
        sound: 0,
    }
}
