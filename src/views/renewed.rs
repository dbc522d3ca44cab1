//! A desk renewed after a change: what the change did not touch is taken over as it was.
//!
//! Families that a change left alone are shared between the old book and the new one, and are
//! known by that. So a change to one family costs the reading of that family, and copying.

use std::sync::Arc;

use crate::book::{Book, Cross, PlantId};
use crate::lineage::Pedigree;

use super::{
    Brief, Desk,
    desk::{Laid, parties_of},
};

/// A desk on a changed book.
#[derive(Debug)]
pub struct Renewed {
    /// The desk.
    pub desk: Desk,
    /// Whether every plant, cross and pairing stands at the same place as before, so that places
    /// kept in memory are still right.
    pub is_in_place: bool,
}

impl Desk {
    /// The desk on the book as it is after a change.
    pub fn renewed(&self, book: Arc<Book>) -> Renewed {
        let is_in_place = has_same_order(&self.book, &book);
        let mut briefs = Vec::with_capacity(book.n_plants());
        let mut counts = Vec::with_capacity(book.crosses().len());
        briefs.extend(book.varieties().iter().map(|variety| Brief::of(&variety.diary)));
        for cross in book.crosses() {
            let known = self.book.cross_by_code(&cross.code);
            let known = known.filter(|id| is_untouched(&self.book.crosses()[id.index()], cross));
            if let Some(id) = known {
                let mut family = self.book.family(id);
                let n = family.len();
                let first = family.next().map_or(0, PlantId::index);
                briefs.extend_from_slice(&self.briefs[first..first + n]);
                counts.push(self.counts[id.index()]);
            } else {
                let first = briefs.len();
                briefs.extend(cross.seedlings.iter().map(|plant| Brief::of(&plant.diary)));
                let outcomes = briefs[first..].iter().map(Brief::outcome);
                counts.push(cross.counts_with(outcomes));
            }
        }
        let (parties, pedigree) = if is_in_place {
            (Arc::clone(&self.parties), Arc::clone(&self.pedigree))
        } else {
            (Arc::new(parties_of(&book)), Arc::new(Pedigree::of(&book)))
        };
        let today = self.today;
        let mut desk = Self::laid(Laid { book, today, briefs, counts, parties, pedigree });
        if is_in_place {
            desk.kinship = self.kinship.clone();
        }
        Renewed { desk, is_in_place }
    }
}

fn is_untouched(was: &Arc<Cross>, is: &Arc<Cross>) -> bool {
    Arc::ptr_eq(was, is)
}

/// Whether all plants and crosses stand where they stood, and come from where they came from.
fn has_same_order(was: &Book, is: &Book) -> bool {
    let same_inheritance = {
        let (was, is) = (was.about(), is.about());
        was.ploidy == is.ploidy && was.double_reduction == is.double_reduction
    };
    let mut varieties = was.varieties().iter().zip(is.varieties());
    let mut crosses = was.crosses().iter().zip(is.crosses());
    same_inheritance
        && was.varieties().len() == is.varieties().len()
        && was.crosses().len() == is.crosses().len()
        && varieties.all(|(a, b)| a.id == b.id && a.seed == b.seed && a.pollen == b.pollen)
        && crosses.all(|(a, b)| is_untouched(a, b) || stands_as_before(a, b))
}

fn stands_as_before(was: &Cross, is: &Cross) -> bool {
    let keys =
        |cross: &Cross| cross.seedlings.iter().map(|s| s.key().to_owned()).collect::<Vec<_>>();
    (&was.code, was.season, &was.seed, &was.pollen, was.by)
        == (&is.code, is.season, &is.seed, &is.pollen, is.by)
        && keys(was) == keys(is)
}
