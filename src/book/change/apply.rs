//! Doing a change to a book: all of it, or nothing.

use std::sync::Arc;

use thiserror::Error;

use super::{
    super::{Book, Cross, CrossId},
    Change, Part, Spot, Step,
};

/// The book is no longer as the change found it.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("This has been changed meanwhile, and is left as it is now.")]
pub struct Stale {
    /// The part that is different now.
    pub spot: Spot,
}

impl Book {
    /// The part that stands at a spot.
    pub fn part(&self, spot: &Spot) -> Option<Part> {
        match spot {
            Spot::About => Some(Part::About(Box::new(self.about().clone()))),
            Spot::Variety(id) => Some(Part::Variety(Box::new(self.variety(id)?.clone()))),
            Spot::Cross(code) => self.cross_with(code).map(Part::cover),
            Spot::Head(code, n) => {
                self.cross_with(code)?.heads.get(*n).map(|head| Part::Head(head.clone()))
            }
            Spot::Lot(code, n) => {
                self.cross_with(code)?.lots.get(*n).map(|lot| Part::Lot(lot.clone()))
            }
            Spot::Seedling(code, key) => {
                let mut family = self.cross_with(code)?.seedlings.iter();
                family.find(|s| s.key() == &**key).map(|s| Part::Seedling(s.clone()))
            }
        }
    }

    /// Does a change.
    ///
    /// # Errors
    /// [`Stale`] where a part is not as the change found it; the book is as it was then.
    pub fn apply(&mut self, change: &Change) -> Result<(), Stale> {
        let mut fate = Ok(());
        let mut n_done = 0;
        let mut moves = false;
        for step in &change.steps {
            if !self.accepts(step) {
                fate = Err(Stale { spot: step.spot.clone() });
                break;
            }
            moves |= step.moves();
            self.put(step.clone());
            n_done += 1;
        }
        if fate.is_err() {
            for step in change.steps[..n_done].iter().rev() {
                self.put(step.reversed());
            }
        }
        if moves {
            self.call_the_roll();
        }
        fate
    }

    /// Whether a step finds what it is to change, and leaves something that can stand there.
    fn accepts(&self, step: &Step) -> bool {
        let Step { spot, before, after } = step;
        let is_found = match (spot, before) {
            // Between the others or after the last, and not beyond.
            (Spot::Head(code, n), None) => {
                self.cross_with(code).is_some_and(|cross| *n <= cross.heads.len())
            }
            (Spot::Lot(code, n), None) => {
                self.cross_with(code).is_some_and(|cross| *n <= cross.lots.len())
            }
            (Spot::Seedling(code, _), None) => {
                self.cross_with(code).is_some() && self.part(spot).is_none()
            }
            (Spot::About, None) => false,
            // Where two of a family bear one key, nobody can tell which is meant.
            (Spot::Seedling(code, key), _) => {
                let bearers =
                    |cross: &Cross| cross.seedlings.iter().filter(|s| s.key() == &**key).count();
                self.cross_with(code).is_some_and(|cross| bearers(cross) == 1)
                    && self.part(spot) == *before
            }
            _ => self.part(spot) == *before,
        };
        // Whatever came of a cross goes before the cross itself.
        let is_bare = match (spot, after) {
            (Spot::Cross(code), None) => self.cross_with(code).is_none_or(|cross| {
                cross.heads.is_empty() && cross.lots.is_empty() && cross.seedlings.is_empty()
            }),
            (Spot::About, None) => false,
            _ => true,
        };
        let fits = after.as_ref().is_none_or(|part| part.fits(spot));
        is_found && is_bare && fits
    }

    /// Puts a part in its place, or takes it out. A step that does not fit does nothing.
    fn put(&mut self, step: Step) {
        let place = step.spot.cross().and_then(|code| self.cross_by_code(code));
        let place = place.map(CrossId::index);
        let (varieties, crosses) = self.records_mut();
        match (step.spot, step.after) {
            (Spot::About, Some(Part::About(about))) => self.set_about(*about),
            (Spot::Variety(id), after) => {
                let place = varieties.binary_search_by(|v| v.id.cmp(&id));
                match (place, after) {
                    (Ok(n), Some(Part::Variety(variety))) => varieties[n] = *variety,
                    (Err(n), Some(Part::Variety(variety))) => varieties.insert(n, *variety),
                    (Ok(n), None) => drop(varieties.remove(n)),
                    _ => {}
                }
            }
            (Spot::Cross(_), after) => {
                put_cover(crosses, place, after);
                self.index_crosses();
            }
            (Spot::Head(_, n), after) => {
                let Some(cross) = cross_mut(crosses, place) else { return };
                let after = after.and_then(|part| match part {
                    Part::Head(head) => Some(head),
                    _ => None,
                });
                put_item(&mut cross.heads, n, step.before.is_some(), after);
            }
            (Spot::Lot(_, n), after) => {
                let Some(cross) = cross_mut(crosses, place) else { return };
                let after = after.and_then(|part| match part {
                    Part::Lot(lot) => Some(lot),
                    _ => None,
                });
                put_item(&mut cross.lots, n, step.before.is_some(), after);
            }
            (Spot::Seedling(_, key), after) => {
                let Some(cross) = cross_mut(crosses, place) else { return };
                let place = cross.seedlings.iter().position(|s| s.key() == &*key);
                if let Some(n) = place {
                    cross.seedlings.remove(n);
                }
                if let Some(Part::Seedling(seedling)) = after {
                    let n = cross.seedlings.partition_point(|s| s.order(&seedling).is_le());
                    cross.seedlings.insert(n, seedling);
                }
            }
            (Spot::About, _) => {}
        }
    }
}

impl Step {
    /// Whether plants or crosses change their places in the book.
    fn moves(&self) -> bool {
        let number = |part: &Option<Part>| match part {
            Some(Part::Seedling(seedling)) => Some(seedling.number.clone()),
            _ => None,
        };
        match self.spot {
            Spot::About | Spot::Head(..) | Spot::Lot(..) => false,
            Spot::Variety(_) => self.before.is_none() || self.after.is_none(),
            // Its season may have changed, and crosses stand by season.
            Spot::Cross(_) => true,
            Spot::Seedling(..) => number(&self.before) != number(&self.after),
        }
    }
}

fn cross_mut(crosses: &mut [Arc<Cross>], place: Option<usize>) -> Option<&mut Cross> {
    crosses.get_mut(place?).map(Arc::make_mut)
}

/// Puts what is known of a cross as a whole; what came of it stays with it.
fn put_cover(crosses: &mut Vec<Arc<Cross>>, place: Option<usize>, after: Option<Part>) {
    let old = place.map(|n| Arc::unwrap_or_clone(crosses.remove(n)));
    let Some(Part::Cross(cover)) = after else { return };
    let mut cross = *cover;
    if let Some(old) = old {
        cross.heads = old.heads;
        cross.lots = old.lots;
        cross.seedlings = old.seedlings;
    }
    let n = crosses.partition_point(|other| other.order(&cross).is_le());
    crosses.insert(n, Arc::new(cross));
}

/// Puts an item at its place in a list: over the old one, between two, or takes the old one out.
fn put_item<T>(items: &mut Vec<T>, n: usize, is_there: bool, after: Option<T>) {
    match (is_there, after) {
        (true, Some(item)) => {
            if let Some(old) = items.get_mut(n) {
                *old = item;
            }
        }
        (false, Some(item)) => items.insert(n.min(items.len()), item),
        (true, None) if n < items.len() => drop(items.remove(n)),
        _ => {}
    }
}
