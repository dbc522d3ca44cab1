//! What takes long to work out of a parent: what it passes on. The page stands without it, and
//! shows it when it comes.

use crate::book::PlantId;
use crate::merit::liability::Outcome;
use crate::tui::{basis::Basis, page::Around, worker::Later};
use crate::views::{
    Interval, Levels,
    parent::{self, FamilyRow, TraitRow},
};

/// Answers on their way.
#[derive(Debug)]
pub(super) struct Slow {
    basis: Basis,
    /// The chances of being kept, of blooming, and of being kept again.
    chances: [Later<Option<Interval>>; 3],
    traits: Later<(Vec<TraitRow>, Vec<FamilyRow>)>,
}

impl Default for Slow {
    fn default() -> Self {
        let chances = [(); 3].map(|()| Later::Unasked);
        Self { basis: Basis::default(), chances, traits: Later::Unasked }
    }
}

impl Slow {
    /// Asks for everything where the book has changed since, and takes in what has come.
    pub(super) fn ask(&mut self, around: &Around<'_>, plant: PlantId) {
        let levels = Levels::default();
        if self.basis.moved(around, false).is_some() {
            let outcomes = [Outcome::Kept, Outcome::Bloomed, Outcome::KeptAgain];
            self.chances = outcomes.map(|of| {
                around
                    .worker
                    .ask(around.desk, move |desk, _| parent::outcome(desk, plant, of, levels))
            });
            self.traits = around.worker.ask(around.desk, move |desk, _| {
                (parent::traits_of(desk, plant, levels), parent::families(desk, plant))
            });
        }
        for chance in &mut self.chances {
            chance.settle();
        }
        self.traits.settle();
    }

    /// The chance of an outcome, or what to say in its place.
    pub(super) fn chance(&self, of: Outcome) -> Result<Interval, &'static str> {
        let at = match of {
            Outcome::Kept => 0,
            Outcome::Bloomed => 1,
            Outcome::KeptAgain => 2,
        };
        match self.chances[at].here() {
            Some(Some(chance)) => Ok(*chance),
            Some(None) => Err("not enough records yet"),
            None => Err(self.chances[at].instead()),
        }
    }

    pub(super) fn traits(&self) -> &[TraitRow] {
        self.traits.here().map_or(&[], |(traits, _)| traits)
    }

    pub(super) fn families(&self) -> &[FamilyRow] {
        self.traits.here().map_or(&[], |(_, families)| families)
    }

    /// What to say of the traits until they come.
    pub(super) fn instead(&self) -> Option<&'static str> {
        self.traits.here().is_none().then(|| self.traits.instead())
    }
}
