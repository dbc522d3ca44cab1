//! A small book of a few records of a large one, so that looking at a change costs the same however
//! large the book is.

use super::{
    super::{Book, Cross, Variety},
    Change, Spot,
};

impl Book {
    /// The records that a change touches, as far as they are there.
    pub(in super::super) fn touched(&self, change: &Change) -> (Vec<&Variety>, Vec<&Cross>) {
        let varieties = change.steps.iter().filter_map(|step| match &step.spot {
            Spot::Variety(id) => self.variety(id),
            _ => None,
        });
        let crosses = change.crosses().into_iter().filter_map(|code| self.cross_with(code));
        (varieties.collect(), crosses.collect())
    }

    /// A book of these records, each once.
    pub(in super::super) fn excerpt(
        &self,
        mut varieties: Vec<&Variety>,
        mut crosses: Vec<&Cross>,
    ) -> Self {
        varieties.sort_by_key(|variety| &variety.id);
        varieties.dedup_by_key(|variety| &variety.id);
        crosses.sort_by_key(|cross| &cross.code);
        crosses.dedup_by_key(|cross| &cross.code);
        Self::new(
            self.about().clone(),
            self.share_crop(),
            varieties.into_iter().cloned().collect(),
            crosses.into_iter().cloned().collect(),
        )
    }
}
