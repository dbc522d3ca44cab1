//! A change done to a book in which its parts were changed meanwhile.

use thiserror::Error;

use super::{
    super::Book,
    Change, Part, Spot, Step,
    merge::{Merged, merge},
};

/// A part that both changed, in the same field or the same entry of its diary.
#[derive(Debug, Clone, PartialEq)]
pub struct Clash {
    /// Which part.
    pub spot: Spot,
    /// As it is now.
    pub now: Option<Part>,
    /// As it would be where mine goes before; whatever does not touch is of both.
    pub mine: Option<Part>,
    /// As it would be where theirs goes before.
    pub theirs: Option<Part>,
}

/// Which side goes before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// The change that was to be done.
    Mine,
    /// What was done meanwhile.
    Theirs,
}

/// A change that cannot be done until somebody says which side goes before.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("The same was changed by another program meanwhile, in another way.")]
pub struct Conflict {
    what: Box<str>,
    ways: Vec<Result<Step, Box<Clash>>>,
}

impl Conflict {
    /// What has to be settled.
    pub fn clashes(&self) -> impl Iterator<Item = &Clash> {
        self.ways.iter().filter_map(|way| way.as_ref().err().map(Box::as_ref))
    }

    /// The change that settles it: a side for each clash, in their order; mine where none is
    /// given.
    pub fn settle(&self, sides: &[Side]) -> Change {
        let mut sides = sides.iter();
        let steps = self.ways.iter().map(|way| match way {
            Ok(step) => step.clone(),
            Err(clash) => {
                let Clash { spot, now, mine, theirs } = &**clash;
                let after = match sides.next() {
                    Some(Side::Theirs) => theirs,
                    _ => mine,
                };
                Step { spot: spot.clone(), before: now.clone(), after: after.clone() }
            }
        });
        Change::new(self.what.clone(), steps.collect())
    }
}

impl Book {
    /// The change as it has to be done to this book. What was done to its parts since it was made
    /// is left as it is: fields and entries that do not touch are merged.
    ///
    /// # Errors
    /// [`Conflict`] where they do touch.
    pub fn rebase(&self, change: &Change) -> Result<Change, Conflict> {
        let (varieties, crosses) = self.touched(change);
        let mut here = self.excerpt(varieties, crosses);
        let mut ways = Vec::with_capacity(change.steps.len());
        for step in &change.steps {
            match here.rebased(step) {
                Ok(None) => {}
                Ok(Some(step)) => {
                    let one = Change { what: "".into(), steps: vec![step.clone()] };
                    // A step that cannot stand here after all: the whole change will say so.
                    here.apply(&one).ok();
                    ways.push(Ok(step));
                }
                Err(clash) => ways.push(Err(clash)),
            }
        }
        if ways.iter().any(Result::is_err) {
            return Err(Conflict { what: change.what.clone(), ways });
        }
        Ok(Change { what: change.what.clone(), steps: ways.into_iter().flatten().collect() })
    }

    /// A step as it has to be done here; nothing where it is done already.
    fn rebased(&self, step: &Step) -> Result<Option<Step>, Box<Clash>> {
        let spot = self.moved(step);
        let now = match (&spot, &step.before, &step.after) {
            // A head between others is no other head.
            (Spot::Head(..), None, _) => None,
            (Spot::Lot(code, n), None, Some(Part::Lot(new))) => {
                let cross = self.cross_with(code);
                let there = cross.and_then(|cross| cross.lots.get(*n));
                there.filter(|lot| lot.code == new.code).map(|lot| Part::Lot(lot.clone()))
            }
            _ => self.part(&spot),
        };
        let ready = |now, after| Ok(Some(Step { spot: spot.clone(), before: now, after }));
        if now == step.before {
            return ready(now, step.after.clone());
        }
        if now == step.after {
            return Ok(None);
        }
        let merged = match (&step.before, &step.after, &now) {
            (Some(before), Some(after), Some(now)) => merge(before, after, now),
            _ => None,
        };
        match merged {
            Some(Merged::Clean(part)) => ready(now, Some(part)),
            Some(Merged::Clash(mine, theirs)) => {
                Err(Box::new(Clash { spot, now, mine: Some(mine), theirs: Some(theirs) }))
            }
            None => {
                Err(Box::new(Clash { spot, mine: step.after.clone(), theirs: now.clone(), now }))
            }
        }
    }

    /// Where the part stands now that a step is about: heads and packets move when others come
    /// and go.
    fn moved(&self, step: &Step) -> Spot {
        let cross = step.spot.cross().and_then(|code| self.cross_with(code));
        let Some(cross) = cross else { return step.spot.clone() };
        match (&step.spot, &step.before) {
            (Spot::Head(code, n), Some(Part::Head(was))) => {
                let same = cross.heads.iter().position(|head| head == was);
                let tagged = || {
                    let tag = was.tag.as_ref()?;
                    cross.heads.iter().position(|head| head.tag.as_ref() == Some(tag))
                };
                let stays = cross.heads.get(*n) == Some(was);
                let place = if stays { None } else { same.or_else(tagged) };
                Spot::Head(code.clone(), place.unwrap_or(*n))
            }
            (Spot::Head(code, n), None) => Spot::Head(code.clone(), *n.min(&cross.heads.len())),
            (Spot::Lot(code, n), before) => {
                let part = before.as_ref().or(step.after.as_ref());
                let place = part.and_then(|part| match part {
                    Part::Lot(lot) => cross.lots.iter().position(|other| other.code == lot.code),
                    _ => None,
                });
                let end = *n.min(&cross.lots.len());
                Spot::Lot(code.clone(), place.unwrap_or(if before.is_some() { *n } else { end }))
            }
            _ => step.spot.clone(),
        }
    }
}
