//! The last steps of laying: totals, loops, and the book put together again.

use std::collections::BTreeMap;

use super::{
    Changed, Overlap, Report,
    column::Column,
    compare::Came,
    faults::At,
    gather::Gathered,
    lay::{Bench, CameOf, Laid, note},
    names::{Names, Sort},
    row::Told,
    totals,
};
use crate::book::{Book, Counts, Cross, PlantId, Totals, fold};
use crate::lineage::{Pedigree, loop_faults};

impl Bench<'_, '_, '_> {
    pub(super) fn lay_counts<'r, 's>(
        &mut self,
        gathered: &Gathered<'r, 's>,
        places: &[Option<usize>],
        came: &mut CameOf<'r, 's>,
    ) {
        let mut told_of: BTreeMap<usize, Vec<&Told<'r, 's>>> = BTreeMap::new();
        for (told, place) in gathered.counts.iter().zip(places) {
            if let Some(place) = place {
                told_of.entry(*place).or_default().push(told);
            }
        }
        // Crosses that had totals and are given plants.
        for n in &self.changed_crosses {
            if self.book.crosses().get(*n).is_some_and(|cross| cross.totals.is_some()) {
                told_of.entry(*n).or_default();
            }
        }
        for (n, told) in told_of {
            if let Some((first, more)) = told.split_first() {
                let totals = totals::of_row(first);
                for other in more {
                    if totals::of_row(other) != totals {
                        self.counted_twice(first.at, other.at);
                    }
                }
            }
            let Some(what) = self.lay_totals(n, told.first().copied(), gathered) else { continue };
            for (nth, told) in told.into_iter().enumerate() {
                note(came, told, if nth == 0 || what == Came::Outdone { what } else { Came::Same });
            }
        }
    }

    fn counted_twice(&mut self, first: At, other: At) {
        let (first, other) = (first.min(other), first.max(other));
        let place = self.faults.place(first, other);
        self.faults.add_with(
            other,
            &[first],
            format!("The same parents and season are counted on {place} too, and differently."),
            "Add the two rows up to one, or take one of them out.",
        );
    }

    /// Lays the totals of one cross; `None` where they cannot be.
    fn lay_totals(
        &mut self,
        n: usize,
        told: Option<&Told<'_, '_>>,
        gathered: &Gathered<'_, '_>,
    ) -> Option<Came> {
        let before = self.book.crosses().get(n);
        let old = before.and_then(|cross| cross.totals);
        let numbered = |cross: &Cross| Cross { totals: None, ..cross.clone() }.counts();
        let counted_before = before.map(numbered).unwrap_or_default();
        let counted = numbered(&self.crosses[n]);
        let mut whole = old.map(|old| totals::whole(old, counted_before)).unwrap_or_default();
        let mut met = Came::Same;
        if let Some(told) = told {
            match totals::meet(&mut whole, &totals::of_row(told), self.crosses[n].season) {
                Ok(came) => met = came,
                Err(clash) => {
                    let code = self.crosses[n].code.clone();
                    self.clash(told, &format!("Cross {code}"), &clash);
                    return None;
                }
            }
        }
        if met == Came::Same && counted == counted_before {
            return Some(met);
        }
        let rest = if counted == Counts::default() {
            Some(whole)
        } else {
            match self.options.overlap {
                Overlap::PlantsWin => None,
                Overlap::CountsWin => Some(self.rest(n, told, gathered, whole, counted)?),
                Overlap::Refuse => {
                    self.overlap(n, told, gathered, old.is_some());
                    return None;
                }
            }
        };
        if self.crosses[n].totals != rest {
            self.crosses[n].totals = rest;
            self.changed_crosses.insert(n);
        }
        Some(match (rest, old) {
            (None, _) => Came::Outdone,
            (_, None) => Came::Added,
            _ => met,
        })
    }

    fn rest(
        &mut self,
        n: usize,
        told: Option<&Told<'_, '_>>,
        gathered: &Gathered<'_, '_>,
        whole: Totals,
        counted: Counts,
    ) -> Option<Totals> {
        match totals::rest(whole, counted) {
            Ok(rest) => Some(rest),
            Err((what, numbered, all)) => {
                let code = &self.crosses[n].code;
                let message = format!(
                    "Cross {code} has {numbered} numbered plants under {what}, more than the {all} \
                     in its totals."
                );
                let at = told.map_or_else(|| self.first_row(n, gathered), |told| Some(told.at))?;
                self.faults.add(
                    at,
                    message,
                    "The totals are of the whole family, numbered plants among them; correct one of \
                     the two.",
                );
                None
            }
        }
    }

    /// Where the first row of a seedling of a cross is.
    fn first_row(&self, n: usize, gathered: &Gathered<'_, '_>) -> Option<At> {
        self.rows_of(n, gathered).into_iter().min()
    }

    fn rows_of(&self, n: usize, gathered: &Gathered<'_, '_>) -> Vec<At> {
        let here = self.crosses[n].seedlings.iter().map(|s| fold(&s.number));
        let here: std::collections::BTreeSet<String> = here.collect();
        let all = gathered.seedlings.iter();
        all.filter(|told| {
            told.text(Column::Seedling).is_some_and(|text| here.contains(&fold(text)))
        })
        .map(|told| told.at)
        .collect()
    }

    /// The fault of a cross with numbered plants and totals.
    fn overlap(
        &mut self,
        n: usize,
        told: Option<&Told<'_, '_>>,
        gathered: &Gathered<'_, '_>,
        had_totals: bool,
    ) {
        let cross = &self.crosses[n];
        let what = if cross.seedlings.is_empty() {
            "heads or packets of its own"
        } else {
            "numbered plants"
        };
        let message = if had_totals {
            format!("Cross {} has totals, and here come {what}.", cross.code)
        } else {
            format!("Cross {} has {what}, and this row counts them in total.", cross.code)
        };
        let mut rows = match told {
            Some(told) => vec![told.at],
            None => self.rows_of(n, gathered),
        };
        rows.sort();
        let Some((first, others)) = rows.split_first() else { return };
        self.faults.add_with(
            *first,
            others,
            message,
            "Say --counts-win if the totals are of the whole family with its numbered plants, or \
             --plants-win to leave the totals out.",
        );
    }

    /// Puts the book together again.
    pub(super) fn finish<'r, 's>(
        mut self,
        gathered: &Gathered<'r, 's>,
        came: CameOf<'r, 's>,
    ) -> Laid<'r, 's> {
        let mut report = Report::default();
        let mut changed = Changed::default();
        for who in self.names.all() {
            let really = self.names.really(who);
            if self.names.sort(who) == Sort::NewParent {
                report.parents_added.push(self.names.label(who).to_owned());
            } else if really != who {
                changed.varieties_gone.push(self.names.key(who).into());
                let number = self.names.label(really).to_owned();
                report.one_plant.push((self.names.label(who).to_owned(), number));
            }
        }
        report.parents_added.sort();
        report.one_plant.sort();
        for (n, family) in self.families.list.iter().enumerate() {
            let code = || family.code.clone().unwrap_or_default();
            if !family.old {
                report.crosses_made.push(code().into());
            }
            if !family.old || self.changed_crosses.contains(&n) {
                changed.crosses.push(code());
            }
        }
        report.crosses_made.sort_by(|a, b| crate::book::label_order(a, b));
        report.lots_made = self.lots_made.iter().map(|code| String::from(&**code)).collect();
        report.lots_made.sort_by(|a, b| crate::book::label_order(a, b));
        report.remarks = std::mem::take(&mut self.remarks).into_list(self.faults);
        let gone: Vec<bool> = (0..self.varieties.len())
            .map(|n| n < self.book.varieties().len() && is_gone(n, &self.names))
            .collect();
        for n in &self.changed_varieties {
            if !gone[*n] {
                changed.varieties.push(self.varieties[*n].id.clone());
            }
        }
        changed.varieties.sort();
        let mut nth = gone.into_iter();
        self.varieties.retain(|_| !nth.next().unwrap_or_default());
        let (about, crop) = (self.about.clone(), self.crop.clone());
        let varieties = std::mem::take(&mut self.varieties);
        let crosses = std::mem::take(&mut self.crosses);
        let book = Book::new(about, crop, varieties, crosses);
        self.check_loops(&book, gathered);
        Laid { book, report, changed, came }
    }

    /// A plant among its own ancestors is a fault of the rows that say so.
    fn check_loops(&mut self, book: &Book, gathered: &Gathered<'_, '_>) {
        let loops = Pedigree::of(book).loops();
        if loops.is_empty() {
            return;
        }
        let mut row_of: BTreeMap<String, At> = BTreeMap::new();
        for (list, column) in
            [(&gathered.varieties, Column::Variety), (&gathered.seedlings, Column::Seedling)]
        {
            for told in list {
                row_of.insert(
                    fold(told.text(column).unwrap_or_default()),
                    told.at(Column::SeedParent),
                );
            }
        }
        for (ring, fault) in loops.iter().zip(loop_faults(book)) {
            let words = |plant: &PlantId| {
                let plant = book.plant(*plant);
                [Some(plant.label()), plant.number(), Some(plant.key())]
            };
            let rows: Vec<At> = ring
                .iter()
                .filter_map(|plant| {
                    words(plant).into_iter().flatten().find_map(|w| row_of.get(&fold(w)).copied())
                })
                .collect();
            // A loop that no row is part of was in the book before.
            if let Some((first, others)) = rows.split_first() {
                self.faults.add_with(*first, others, fault.message, fault.hint);
            }
        }
    }
}

fn is_gone(n: usize, names: &Names<'_>) -> bool {
    let who = super::names::Who(n);
    names.really(who) != who
}
