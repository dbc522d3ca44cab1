//! What every diary comes to in brief, worked out once for all plants of a book.

use std::{mem, num::NonZero, thread};

use crate::book::{Book, Entry, Life, Outcome, PlantDeed, Season, Stage, State, Verdict, When};

/// What is asked of a plant again and again, in as little room as will do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brief {
    /// How it stands.
    pub state: State,
    /// How far it has come as a keeper.
    pub stage: Option<Stage>,
    /// The latest verdict.
    pub verdict: Option<Verdict>,
    /// The verdict standing at the end of the season of first bloom.
    pub sorting: Option<Verdict>,
    /// Whether it was ever planted out.
    pub was_planted: bool,
    /// First known to be in bloom.
    pub first_bloom: Option<When>,
    /// First planted out.
    pub planted: Option<When>,
    /// The latest season in which it was planted out.
    pub planted_last: Option<Season>,
    /// The season of the last entry in its diary.
    pub last: Option<Season>,
}

impl Brief {
    pub(super) fn of(diary: &[Entry<PlantDeed>]) -> Self {
        let life = Life::of(diary);
        let plantings = diary.iter().filter(|e| matches!(e.did, PlantDeed::Planted(_)));
        Self {
            state: life.state(),
            stage: life.stage(),
            verdict: life.verdict.map(|word| word.is),
            sorting: life.outcome(diary).sorting,
            was_planted: life.was_planted(),
            first_bloom: life.first_bloom,
            planted: life.planted,
            planted_last: plantings.map(|e| e.on.season()).max(),
            last: diary.last().map(|entry| entry.on.season()),
        }
    }

    pub(super) fn outcome(&self) -> Outcome {
        Outcome {
            was_planted: self.was_planted,
            has_bloomed: self.first_bloom.is_some(),
            sorting: self.sorting,
        }
    }

    /// The season of the first bloom or, failing that, of planting.
    pub fn season(&self) -> Option<Season> {
        self.first_bloom.or(self.planted).map(When::season)
    }

    /// Whether it is still in the garden.
    pub fn is_alive(&self) -> bool {
        !matches!(self.state, State::Lost | State::Discarded)
    }
}

/// The briefs of all plants, in roll order. Each diary is read once, by as many threads as the
/// machine has hands for.
pub(super) fn all(book: &Book) -> Vec<Brief> {
    let mut briefs = vec![Brief::of(&[]); book.n_plants()];
    let (of_varieties, mut rest) = briefs.split_at_mut(book.varieties().len());
    for (variety, brief) in book.varieties().iter().zip(of_varieties) {
        *brief = Brief::of(&variety.diary);
    }
    let n_threads = thread::available_parallelism().map_or(1, NonZero::get);
    let share = book.crosses().len().div_ceil(n_threads).max(1);
    thread::scope(|scope| {
        for crosses in book.crosses().chunks(share) {
            let n_plants = crosses.iter().map(|cross| cross.seedlings.len()).sum();
            let (own, others) = mem::take(&mut rest).split_at_mut(n_plants);
            rest = others;
            scope.spawn(move || {
                let seedlings = crosses.iter().flat_map(|cross| &cross.seedlings);
                for (seedling, brief) in seedlings.zip(own) {
                    *brief = Brief::of(&seedling.diary);
                }
            });
        }
    });
    briefs
}
