//! The steps of laying that add to the diaries of plants laid before: varieties that turned out
//! to be seedlings, and looks.

use std::collections::BTreeSet;

use super::{
    column::Column,
    compare::Came,
    course::Course,
    deeds::{self, Known},
    enrol::Enrolled,
    faults::At,
    gather::Gathered,
    kin::nobody_certain,
    lay::{Bench, CameOf, Home, note},
    lay_plants::shows_bloom,
    names::{Looked, Names, Sort, Who},
    row::Told,
    value::shown,
    variety,
};
use crate::book::{Entry, Life, PlantDeed, fold, near_words};

/// Suggestions are looked for only for the first few plants that nobody knows: each search
/// goes through all names.
const MOST_SUGGESTED: usize = 50;

impl Bench<'_, '_, '_> {
    /// Lays what is told of varieties that are seedlings, and what the book had of them.
    pub(super) fn lay_merged<'r, 's>(
        &mut self,
        gathered: &Gathered<'r, 's>,
        enrolled: &Enrolled,
        came: &mut CameOf<'r, 's>,
    ) {
        for (told, who) in gathered.seedlings.iter().zip(&enrolled.seedlings) {
            let Some(who) = *who else { continue };
            for old in self.merged_into(who, told) {
                let Some((diary, known)) = self.diary_of(who) else { continue };
                let mut diary = diary.clone();
                let variety = self.varieties[old].clone();
                let deeds = variety::into_deeds(&variety, known, told.at, &mut self.remarks);
                if self.enter_all(told, &variety.name, &mut diary, &deeds).is_some() {
                    self.set_diary(who, diary);
                }
            }
        }
        for (told, who) in gathered.varieties.iter().zip(&enrolled.varieties) {
            let Some(who) = who.map(|who| self.names.really(who)) else { continue };
            let Some((diary, known)) = self.diary_of(who) else { continue };
            if !matches!(self.homes[who.0], Some(Home::Seedling(..))) {
                continue;
            }
            let mut diary = diary.clone();
            let deeds =
                deeds::of_variety(told, known, &self.setting, &mut self.remarks, self.faults);
            variety::remark_unkept(told, &mut self.remarks);
            let label = self.names.label(who).to_owned();
            if let Some(met) = self.enter_all(told, &label, &mut diary, &deeds) {
                if met == Came::More {
                    self.set_diary(who, diary);
                }
                note(came, told, met);
            }
        }
    }

    /// The varieties of the book that bear the number or name of a seedling and are merged with
    /// it, as places among the varieties.
    fn merged_into(&self, who: Who, told: &Told<'_, '_>) -> Vec<usize> {
        let words = [told.text(Column::Seedling), told.text(Column::Name)];
        let bearers = words.into_iter().flatten().flat_map(|word| self.names.bearers(word));
        let merged: BTreeSet<usize> = bearers
            .filter(|&other| {
                self.names.sort(other) == Sort::OldVariety && self.names.really(other) == who
            })
            .map(|other| other.0)
            .collect();
        merged.into_iter().collect()
    }

    fn diary_of(&self, who: Who) -> Option<(&Vec<Entry<PlantDeed>>, Known)> {
        let (diary, crossed) = match self.homes.get(who.0).copied().flatten()? {
            Home::Variety(n) => (&self.varieties.get(n)?.diary, None),
            Home::Seedling(n, m) => {
                let cross = self.crosses.get(n)?;
                (&cross.seedlings.get(m)?.diary, cross.season)
            }
        };
        Some((diary, Known { season: Life::of(diary).season(), crossed }))
    }

    fn set_diary(&mut self, who: Who, diary: Vec<Entry<PlantDeed>>) {
        match self.homes[who.0] {
            Some(Home::Variety(n)) => {
                self.varieties[n].diary = diary;
                self.changed_varieties.insert(n);
            }
            Some(Home::Seedling(n, m)) => {
                self.crosses[n].seedlings[m].diary = diary;
                self.changed_crosses.insert(n);
            }
            None => {}
        }
    }

    /// A look at a plant whose own row has a fault: that fault is enough where all is refused,
    /// and otherwise the look is set aside with it.
    fn goes_with_its_plant(&mut self, at: At) {
        if self.options.skip_bad {
            self.faults.add(
                at,
                "The row of this plant is set aside.",
                "Mend that row and take both in again.",
            );
        }
    }

    pub(super) fn lay_looks<'r, 's>(
        &mut self,
        gathered: &Gathered<'r, 's>,
        came: &mut CameOf<'r, 's>,
    ) {
        let mut suggested = 0;
        for told in &gathered.looks {
            let text = told.text(Column::Plant).unwrap_or_default();
            let at = told.at(Column::Plant);
            let who = match self.names.look_up(text) {
                Looked::One(who) => who,
                Looked::Nobody => {
                    let folded = fold(text);
                    if self.ghosts.contains(&folded) || gathered.disputed.contains(&folded) {
                        self.goes_with_its_plant(at);
                    } else if !self.incomplete {
                        suggested += 1;
                        let hint = hint(text, &self.names, suggested <= MOST_SUGGESTED);
                        let message = format!("Nobody is called \"{}\" here.", shown(text));
                        self.faults.add(at, message, hint);
                    }
                    continue;
                }
                other => {
                    nobody_certain(text, &other, at, &self.names, self.faults);
                    continue;
                }
            };
            let Some((diary, known)) = self.diary_of(who) else { continue };
            let mut diary = diary.clone();
            let deeds = deeds::of_look(told, &self.setting, &mut self.remarks);
            let shows_bloom = deeds.iter().any(shows_bloom);
            Course::of(told, &diary, known.crossed, shows_bloom).check(self.faults);
            let label = self.names.label(who).to_owned();
            if let Some(met) = self.enter_all(told, &label, &mut diary, &deeds) {
                if met == Came::More {
                    self.set_diary(who, diary);
                }
                note(came, told, if met == Came::More { Came::Added } else { met });
            }
        }
    }
}

fn hint(text: &str, names: &Names<'_>, suggest: bool) -> String {
    const OTHERWISE: &str = "A look is at a plant of the book or of a file taken in with it.";
    let all = names.all().flat_map(|who| [names.label(who), names.key(who)]);
    let near = if suggest { near_words(text, all) } else { Vec::new() };
    match near.first() {
        Some(near) => format!("Did you mean {near}? {OTHERWISE}"),
        None => OTHERWISE.to_owned(),
    }
}
