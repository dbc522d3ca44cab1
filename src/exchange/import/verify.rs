//! The changed book held against the rules that every book is held against.
//!
//! Most of what can be wrong is found before, cell by cell. What only shows when all is together
//! is found here: loops, parents younger than their offspring, and whatever the records' own
//! check knows that no step before thought of. So what was taken in passes that check.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use super::{column::Column, faults::At, gather::Gathered, lay::Bench, row::Told};
use crate::book::{Book, Cross, Fault, Place, PlantId, PlantRecord, Severity, faults, fold};
use crate::lineage::{Pedigree, loop_faults};

/// The rows about each plant, by folded name or number.
struct Rows<'t, 'r, 's> {
    of: BTreeMap<String, &'t Told<'r, 's>>,
    /// The rows of counts, by the code of their cross.
    counts: BTreeMap<&'t str, At>,
}

impl Bench<'_, '_, '_> {
    /// Reports what is wrong with the book now and was not before.
    pub(super) fn verify(&mut self, book: &Book, gathered: &Gathered<'_, '_>) {
        let today = self.options.today.unwrap_or(NaiveDate::MAX);
        let errors = |book: &Book| {
            let all = faults(book, today, |_| false).into_iter();
            all.filter(|fault| fault.severity == Severity::Error)
        };
        let mut wrong: Vec<Fault> = errors(book).collect();
        let loops = Pedigree::of(book).loops();
        if wrong.is_empty() && loops.is_empty() {
            return;
        }
        let known: BTreeSet<(String, String)> =
            errors(self.book).map(|f| (of(&f.at), f.message)).collect();
        wrong.retain(|fault| !known.contains(&(of(&fault.at), fault.message.clone())));
        let told_of =
            [(&gathered.varieties, Column::Variety), (&gathered.seedlings, Column::Seedling)]
                .into_iter()
                .flat_map(|(list, column)| {
                    list.iter().map(move |told| (fold(told.text(column).unwrap_or_default()), told))
                })
                .collect();
        let counts = self.count_rows.clone();
        let counts = counts.iter().map(|(code, at)| (&**code, *at)).collect();
        let rows = Rows { of: told_of, counts };
        let faulty = self.faults.rows();
        for Fault { at, message, hint, .. } in wrong {
            let places = rows.behind(book, &at);
            // A row with a fault already needs no second for what may follow from the first.
            if let Some((first, others)) = places.split_first()
                && !first.row.is_some_and(|row| faulty.contains(&(first.file, row)))
            {
                self.faults.add_with(*first, others, message, hint);
            }
        }
        for (ring, fault) in loops.iter().zip(loop_faults(book)) {
            let places: Vec<At> = ring
                .iter()
                .filter_map(|plant| Some(rows.of_plant(book, *plant)?.at(Column::SeedParent)))
                .collect();
            // A loop that no row is part of was in the book before.
            if let Some((first, others)) = places.split_first() {
                self.faults.add_with(*first, others, fault.message, fault.hint);
            }
        }
    }
}

impl<'t, 'r, 's> Rows<'t, 'r, 's> {
    fn of_plant(&self, book: &Book, plant: PlantId) -> Option<&'t Told<'r, 's>> {
        let plant = book.plant(plant);
        let words = [plant.number(), Some(plant.label()), Some(plant.key())];
        words.into_iter().flatten().find_map(|word| self.of.get(&fold(word)).copied())
    }

    fn of_seedling(&self, cross: &Cross, n: usize) -> Option<&'t Told<'r, 's>> {
        let plant = PlantRecord::Seedling(cross, cross.seedlings.get(n)?);
        self.of.get(&fold(plant.number()?)).copied()
    }

    /// The cells behind a place in the records: the one to point at, and all others that share
    /// in it.
    fn behind(&self, book: &Book, place: &Place) -> Vec<At> {
        let (root, field) = match place {
            Place::Field(root, field) | Place::Item(root, field, _) => (&**root, *field),
            place => (place, ""),
        };
        let column = match field {
            "pollen" => Column::PollenParent,
            _ => Column::SeedParent,
        };
        let code = match root {
            Place::Variety(id, _) => {
                let told = book.by_key(id).and_then(|plant| self.of_plant(book, plant));
                return told.map(|told| told.at(column)).into_iter().collect();
            }
            Place::Seedling(code, n, _) => {
                let cross = book.cross_with(code);
                let told = cross.and_then(|cross| self.of_seedling(cross, *n));
                return told.map(|told| told.at).into_iter().collect();
            }
            Place::Cross(code) | Place::Head(code, ..) | Place::Lot(code, ..) => code,
            _ => return Vec::new(),
        };
        let Some(cross) = book.cross_with(code) else {
            return Vec::new();
        };
        let plants = (0..cross.seedlings.len()).filter_map(|n| self.of_seedling(cross, n));
        let mut places: Vec<At> = plants.map(|told| told.at(column)).collect();
        places.extend(self.counts.get(&**code));
        if places.is_empty() {
            // The rows may be about a parent.
            let keys = cross.seed.candidates().chain(cross.pollen_parent().candidates());
            let parents = keys.filter_map(|(key, _)| self.of_plant(book, book.by_key(key)?));
            places.extend(parents.map(|told| told.at(Column::Season)));
        }
        places.sort_unstable();
        places
    }
}

/// The record that a place is in; where in the record is left out, because additions move it.
fn of(place: &Place) -> String {
    match place {
        Place::Field(root, _) | Place::Item(root, ..) => of(root),
        Place::Variety(id, _) => format!("variety {id}"),
        Place::Cross(code)
        | Place::Head(code, ..)
        | Place::Lot(code, ..)
        | Place::Seedling(code, ..) => code.to_string(),
        Place::About => String::new(),
    }
}
