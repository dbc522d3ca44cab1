//! The step of laying that fills in families known by totals.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    Overlap,
    column::Column,
    compare::Came,
    faults::At,
    gather::Gathered,
    lay::{Bench, CameOf, note},
    row::Told,
    totals,
};
use crate::book::{Counts, Cross, Totals, fold};

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
            if let Some(first) = told.first() {
                self.count_rows.insert(self.crosses[n].code.clone(), first.at);
            }
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
        let nothing = numbered(&Cross::default());
        let counted_before = before.map_or(nothing, |cross| numbered(cross));
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
        let rest = if counted == nothing {
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
                let at = told.map_or_else(
                    || self.rows_of(n, gathered).into_iter().min(),
                    |told| Some(told.at),
                )?;
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

    /// Where the rows of the seedlings of a cross are.
    fn rows_of(&self, n: usize, gathered: &Gathered<'_, '_>) -> Vec<At> {
        let here = self.crosses[n].seedlings.iter().map(|s| fold(&s.number));
        let here: BTreeSet<String> = here.collect();
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
}
