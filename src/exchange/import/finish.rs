//! The last step of laying: the book put together again, and what changed in it.

use super::{
    Changed, Report,
    gather::Gathered,
    lay::{Bench, CameOf, Laid},
    names::{Sort, Who},
};
use crate::book::{Book, label_order};

impl Bench<'_, '_, '_> {
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
                changed.varieties_gone.insert(self.names.key(who).into());
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
                changed.crosses.insert(code());
            }
        }
        report.crosses_made.sort_by(|a, b| label_order(a, b));
        report.lots_made = self.lots_made.iter().map(|code| String::from(&**code)).collect();
        report.lots_made.sort_by(|a, b| label_order(a, b));
        report.remarks = std::mem::take(&mut self.remarks).into_list(self.faults);
        let is_gone =
            |n: usize| n < self.book.varieties().len() && self.names.really(Who(n)) != Who(n);
        let gone: Vec<bool> = (0..self.varieties.len()).map(is_gone).collect();
        for n in &self.changed_varieties {
            if !gone[*n] {
                changed.varieties.insert(self.varieties[*n].id.clone());
            }
        }
        let mut nth = gone.into_iter();
        self.varieties.retain(|_| !nth.next().unwrap_or_default());
        let (about, crop) = (self.about.clone(), self.crop.clone());
        let varieties = std::mem::take(&mut self.varieties);
        let crosses = std::mem::take(&mut self.crosses);
        let book = Book::new(about, crop, varieties, crosses);
        self.verify(&book, gathered);
        Laid { book, report, changed, came }
    }
}
