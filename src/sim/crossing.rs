//! Late summer: who is crossed with whom, and what becomes of the heads.

use chrono::NaiveDate;

use super::{
    Family, Fate, Garden, HeadEnd, HeadFacts, Plan, Trait, Way, Who, Year,
    garden::{after, date},
};

use crate::book::By;

/// The parents of a cross: the seed parent, and who may have given the pollen.
struct Partners {
    seed: usize,
    pollen: Vec<(usize, f64)>,
    by: By,
}

/// Which part a parent plays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Role {
    Seed,
    Pollen,
}

impl Garden {
    /// Makes a cross, if its parents can be had.
    pub(super) fn make(&mut self, plan: &Plan, year: &Year) {
        let Some(Partners { seed, pollen, by }) = self.partners(plan.way, year) else { return };
        if let (Some(adds), [(only, _)]) = (plan.adds, &pollen[..]) {
            self.set_pairing(seed, *only, adds);
        }
        self.plants[seed].is_parent = true;
        for (i, _) in &pollen {
            self.plants[*i].is_parent = true;
        }
        let heads = self.heads(plan, year, seed, &pollen, by);
        let seeds = heads
            .iter()
            .map(|h| if let HeadEnd::Threshed(_, seeds) = h.end { seeds } else { 0 })
            .sum();
        self.families.push(Family {
            code: plan.code.to_owned(),
            season: plan.season,
            seed: Some(seed),
            pollen,
            by,
            from: None,
            heads,
            seeds,
            sowings: Vec::new(),
            plants: Vec::new(),
            totals: None,
        });
        if plan.away > 0 {
            // Raised next season, whose weather there nobody here knows.
            self.raise_away(self.families.len() - 1, year, plan.away, 0.0);
        }
    }

    /// The seed parent, and who may give the pollen.
    fn partners(&mut self, way: Way, year: &Year) -> Option<Partners> {
        let by_hand = |seed, pollen| Partners { seed, pollen: vec![(pollen, 1.0)], by: By::Hand };
        match way {
            Way::Bought(..) => None,
            Way::Hand(Who::Free, Who::Free) => {
                let (seed, pollen) = self.free_pair(year)?;
                Some(by_hand(seed, pollen))
            }
            Way::Hand(seed, pollen) => {
                let seed = self.choose(seed, Role::Seed, year, None)?;
                let pollen = self.choose(pollen, Role::Pollen, year, Some(seed))?;
                Some(by_hand(seed, pollen))
            }
            Way::Selfed(who) => {
                let seed = self.choose(who, Role::Seed, year, None)?;
                Some(by_hand(seed, seed))
            }
            Way::Again(code) => {
                let before = self.families.iter().find(|f| f.code == code)?;
                let (seed, pollen) = (before.seed?, before.pollen.first()?.0);
                let both = [seed, pollen].into_iter().all(|i| self.in_flower(i, year).is_some());
                let pair = if both { Some((seed, pollen)) } else { self.free_pair(year) };
                pair.map(|(seed, pollen)| by_hand(seed, pollen))
            }
            Way::Mixed(seed, likely) | Way::Bees(seed, likely) => {
                let seed = self.choose(seed, Role::Seed, year, None)?;
                let mut pollen: Vec<(usize, f64)> = Vec::new();
                for &(who, weight) in likely {
                    let found = self.choose(who, Role::Pollen, year, Some(seed));
                    let new = found.filter(|i| pollen.iter().all(|(other, _)| other != i));
                    pollen.extend(new.map(|i| (i, weight)));
                }
                let by = if matches!(way, Way::Mixed(..)) { By::Hand } else { By::Bees };
                Some(Partners { seed, pollen, by })
            }
        }
    }

    fn choose(&mut self, who: Who, role: Role, year: &Year, not: Option<usize>) -> Option<usize> {
        match who {
            Who::Variety(id) => self.find(id),
            Who::Keeper(code, rank) => {
                let mut liked: Vec<usize> = self
                    .families
                    .iter()
                    .find(|f| f.code == code)
                    .map(|f| f.plants.clone())
                    .unwrap_or_default();
                liked.retain(|&i| Some(i) != not && self.in_flower(i, year).is_some());
                liked.retain(|&i| {
                    let years = &self.plants[i].years;
                    years.len() > 1 || years.last().is_some_and(|y| y.liking > 0.8)
                });
                liked.sort_by(|&a, &b| self.plants[b].esteem().total_cmp(&self.plants[a].esteem()));
                let last = liked.len().checked_sub(1);
                match last {
                    Some(last) => Some(liked[rank.min(last)]),
                    None => self.free(role, year, not),
                }
            }
            Who::Free => self.free(role, year, not),
        }
    }

    /// When a plant was in flower early enough to be crossed, if it was.
    fn in_flower(&self, i: usize, year: &Year) -> Option<NaiveDate> {
        let plant = &self.plants[i];
        if plant.family.is_none() {
            return plant.stood_in(year.season).then(|| date(year.season, 7, 20));
        }
        let now = plant.year(year.season)?;
        let lived = !matches!(now.fate, Fate::Died(_));
        (now.opened && lived && now.opens <= date(year.season, 8, 28)).then_some(now.opens)
    }

    fn free(&mut self, role: Role, year: &Year, not: Option<usize>) -> Option<usize> {
        let able = |g: &Self, i: usize| {
            let plant = &g.plants[i];
            let fit = if role == Role::Seed { plant.gives_seed } else { plant.gives_pollen };
            fit && Some(i) != not
        };
        let n_varieties = self.fondness.len();
        let keepers: Vec<usize> = (n_varieties..self.plants.len())
            .filter(|&i| {
                able(self, i) && self.plants[i].years.len() > 1 && self.in_flower(i, year).is_some()
            })
            .collect();
        if !keepers.is_empty() && self.raiser.chance(self.ways.habits.from_keepers) {
            let eye = self.ways.habits.eye;
            let weights: Vec<f64> =
                keepers.iter().map(|&i| (eye * self.plants[i].esteem()).exp()).collect();
            return Some(keepers[self.raiser.weighted(&weights)]);
        }
        let varieties: Vec<usize> = (0..n_varieties)
            .filter(|&i| able(self, i) && self.plants[i].stood_in(year.season))
            .collect();
        let weights: Vec<f64> = varieties.iter().map(|&i| self.fondness[i]).collect();
        varieties.get(self.raiser.weighted(&weights)).copied()
    }

    /// A pair out of the raiser's own head: one made before that pleased, or a new one.
    fn free_pair(&mut self, year: &Year) -> Option<(usize, usize)> {
        let this_season = |g: &Self, a, b| {
            g.families.iter().any(|f| {
                f.season == year.season
                    && f.seed == Some(a)
                    && f.pollen.len() == 1
                    && f.pollen[0].0 == b
            })
        };
        if self.raiser.chance(self.ways.habits.again) {
            let before: Vec<(usize, usize, f64)> = self
                .families
                .iter()
                .filter(|f| f.by == By::Hand && f.season < year.season)
                .filter_map(|f| Some((f.seed?, f.pollen.first()?.0, self.pleased(f))))
                .filter(|&(a, b, _)| {
                    a != b
                        && !this_season(self, a, b)
                        && self.in_flower(a, year).is_some()
                        && self.in_flower(b, year).is_some()
                })
                .collect();
            let weights: Vec<f64> = before.iter().map(|x| x.2).collect();
            if let Some(&(a, b, _)) = before.get(self.raiser.weighted(&weights)) {
                return Some((a, b));
            }
        }
        for _ in 0..20 {
            let seed = self.free(Role::Seed, year, None)?;
            let pollen = self.free(Role::Pollen, year, Some(seed))?;
            if !this_season(self, seed, pollen) {
                return Some((seed, pollen));
            }
        }
        None
    }

    /// The share of a family's plants that was kept at first, as it looks to its raiser.
    fn pleased(&self, family: &Family) -> f64 {
        let first = |fate| {
            let years = family.plants.iter().filter_map(|&i| self.plants[i].years.first());
            years.filter(|y| y.fate == fate).count() as f64
        };
        let (kept, not) = (first(Fate::Kept), first(Fate::Discarded));
        (kept + 0.2) / (kept + not + 1.0)
    }

    fn heads(
        &mut self,
        plan: &Plan,
        year: &Year,
        seed: usize,
        pollen: &[(usize, f64)],
        by: By,
    ) -> Vec<HeadFacts> {
        let open = |g: &Self, i| g.in_flower(i, year).unwrap_or(date(year.season, 7, 25));
        let mut from = open(self, seed).max(date(year.season, 7, 24));
        if by == By::Hand {
            from = pollen.iter().map(|p| open(self, p.0)).fold(from, NaiveDate::max);
        }
        let from = after(from, 5.0).min(date(year.season, 9, 8));
        let selfed = pollen.first().is_some_and(|p| p.0 == seed);
        let set = (0.4 * self.plants[seed].values[Trait::Seed.index()]).exp();
        (0..plan.n_heads)
            .map(|_| {
                let span = (date(year.season, 9, 14) - from).num_days().max(3) as f64;
                let late = self.luck.unit().powf(1.5);
                let pollinated = after(from, span * late);
                self.one_head(year, pollinated, set, by, selfed)
            })
            .collect()
    }

    fn one_head(
        &mut self,
        year: &Year,
        pollinated: NaiveDate,
        set: f64,
        by: By,
        selfed: bool,
    ) -> HeadFacts {
        let (luck, dice) = (self.ways.luck, &mut self.luck);
        if dice.chance(luck.heads_lost) {
            let end = HeadEnd::Lost(after(pollinated, dice.between(8.0, 40.0)));
            return HeadFacts { pollinated, cut: None, end };
        }
        let cut = after(pollinated, 45.0 + 6.0 * dice.normal());
        // A head is cut before a hard frost, ripe or not.
        let cut = cut.min(after(year.first_frost, 1.0)).max(after(pollinated, 24.0));
        if dice.chance(year.heads_rot) {
            let on_the_plant = dice.chance(0.4);
            let end = if on_the_plant {
                HeadEnd::Rotted(after(pollinated, dice.between(20.0, 40.0)))
            } else {
                HeadEnd::Rotted(after(cut, dice.between(4.0, 16.0)))
            };
            return HeadFacts { pollinated, cut: (!on_the_plant).then_some(cut), end };
        }
        let empty = if selfed { 0.72 } else { (luck.empty / set).min(0.9) };
        let mean = match by {
            _ if selfed => 2.2,
            By::Hand => luck.seeds_by_hand * set,
            By::Bees => luck.seeds_by_bees * set,
        };
        let seeds = if dice.chance(empty) { 0 } else { dice.count(mean, 0.5).clamp(1, 70) };
        let threshed = after(cut, dice.between(9.0, 24.0));
        HeadFacts { pollinated, cut: Some(cut), end: HeadEnd::Threshed(threshed, seeds) }
    }
}
