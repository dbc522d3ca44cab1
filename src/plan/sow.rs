//! How much seed to sow for so many keepers.
//!
//! Seed comes up, of what comes up some plants live to bloom, and of those in bloom some are kept.
//! Shares that the raiser gives are taken as they are; shares that come from the book are known
//! only from counts, and that doubt is integrated over, not left out: it asks for more seed.

use crate::book::{Book, Counts, Cross, Season, Usual};
use crate::merit::Prior;
use crate::stats::{
    Beta, Interval,
    numbers::{Share, fewest},
    selection,
};

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Keepers wanted, at least.
    pub keepers: u32,
    /// With this chance.
    pub assurance: f64,
    /// Shares that are given: kept of those in bloom.
    pub keep: Option<f64>,
    /// Coming up, of those sown.
    pub germination: Option<f64>,
    /// Coming into bloom, of those that came up.
    pub survival: Option<f64>,
}

/// What a share rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// It was given.
    Given,
    /// The records of the book, with what is usual for the crop counted in.
    Book {
        /// So many came through.
        k: u32,
        /// Of so many.
        n: u32,
    },
    /// The pairings of the book, and how they differ.
    Pairings {
        /// Kept, in all.
        k: u32,
        /// Judged, in all.
        n: u32,
        /// Pairings with judged plants.
        pairings: usize,
    },
    /// Only what is usual for the crop: the book has too few records.
    Usual,
}

/// A share on the way from seed to keeper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// Its mean, and the range of what is believed of it; the range is a point where it was given.
    pub share: Interval,
    /// What it rests on.
    pub basis: Basis,
    through: Share,
}

/// What is needed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// Plants in bloom; absent where no number is enough.
    pub plants: Option<u32>,
    /// Seeds to sow.
    pub seeds: Option<u32>,
    /// Coming up, of those sown.
    pub germination: Rate,
    /// Coming into bloom, of those that came up.
    pub survival: Rate,
    /// Kept, of those in bloom.
    pub keep: Rate,
    /// How far above the mean of their family the best of so many plants may be expected to stand
    /// in any one trait, in standard deviations. A study, not a promise.
    pub best_of_plants: Option<f64>,
}

/// Works out how much to raise. `pairings` are the counts of the book's pairings, `over` the last
/// season whose plants have had their chance to bloom, `level` that of the ranges.
pub fn sow(book: &Book, pairings: &[Counts], over: Season, asked: &Asked, level: f64) -> Need {
    let usual = &book.crop().rates;
    let germination = asked.germination.map_or_else(
        || counted(came_up(book), &usual.up_of_sown, level),
        |share| given(share, level),
    );
    let survival = asked.survival.map_or_else(
        || counted(bloomed(book, over), &usual_survival(book), level),
        |share| given(share, level),
    );
    let keep = asked
        .keep
        .map_or_else(|| kept(pairings, &usual.kept_of_judged, level), |share| given(share, level));
    let stages = [germination.through, survival.through, keep.through];
    let plants = fewest(asked.keepers, asked.assurance, &stages[2..]);
    Need {
        plants,
        seeds: fewest(asked.keepers, asked.assurance, &stages),
        germination,
        survival,
        keep,
        best_of_plants: plants.and_then(|n| selection::expected_rank(1, n)),
    }
}

fn given(share: f64, level: f64) -> Rate {
    let share = share.clamp(0.0, 1.0);
    Rate {
        share: Interval { p: share, low: share, high: share, level },
        basis: Basis::Given,
        through: Share::Exact(share),
    }
}

fn believed(a: f64, b: f64, basis: Basis, level: f64) -> Rate {
    Rate { share: Beta::new(a, b).interval(level), basis, through: Share::Beta { a, b } }
}

/// The book's counts on top of what is usual.
fn counted((k, n): (u32, u32), usual: &Usual, level: f64) -> Rate {
    let (value, worth) = prior(usual);
    let (a, b) = (value * worth + f64::from(k), (1.0 - value) * worth + f64::from(n - k));
    let basis = if n == 0 { Basis::Usual } else { Basis::Book { k, n } };
    believed(a, b, basis, level)
}

/// A usual share and its weight; one of which nothing is known leaves all shares open.
fn prior(usual: &Usual) -> (f64, f64) {
    let known = usual.value > 0.0 && usual.value < 1.0 && usual.worth > 0.0;
    if known { (usual.value, usual.worth) } else { (0.5, 2.0) }
}

/// The keep rate of a pairing that is new, or any of them.
fn kept(pairings: &[Counts], usual: &Usual, level: f64) -> Rate {
    let judged = pairings.iter().filter(|counts| counts.judged > 0);
    let (k, n) = judged.clone().fold((0_u32, 0_u32), |(k, n), counts| {
        (k.saturating_add(counts.kept), n.saturating_add(counts.judged))
    });
    let basis = Basis::Pairings { k, n, pairings: judged.count() };
    match Prior::of(pairings.iter().copied(), usual) {
        Prior::FromBook { alpha, beta, .. } => believed(alpha, beta, basis, level),
        Prior::NoDifference { kept, judged, .. } => {
            // The weight of Jeffreys' prior.
            let rest = f64::from(judged.saturating_sub(kept));
            believed(f64::from(kept) + 0.5, rest + 0.5, basis, level)
        }
        // Too few pairings to tell how they differ: their plants count on top of what is usual.
        Prior::Usual { alpha, beta } => {
            let basis = if n == 0 { Basis::Usual } else { basis };
            believed(alpha + f64::from(k), beta + f64::from(n.saturating_sub(k)), basis, level)
        }
    }
}

/// Seedlings that came up of seeds sown, over crosses of which both were counted.
fn came_up(book: &Book) -> (u32, u32) {
    let mut sum = (0_u32, 0_u32);
    for counts in book.crosses().iter().map(|cross| cross.counts()) {
        if counts.sown > 0 && counts.up > 0 {
            sum.0 = sum.0.saturating_add(counts.up.min(counts.sown));
            sum.1 = sum.1.saturating_add(counts.sown);
        }
    }
    sum
}

/// Plants that bloomed of seedlings that came up, over crosses of which both were counted and
/// whose last plants have had a whole season.
fn bloomed(book: &Book, over: Season) -> (u32, u32) {
    let mut sum = (0_u32, 0_u32);
    for cross in book.crosses() {
        let counts = cross.counts();
        let is_over = grown_in(cross).is_none_or(|season| season <= over);
        if counts.up > 0 && counts.planted > 0 && is_over {
            sum.0 = sum.0.saturating_add(counts.bloomed.min(counts.up));
            sum.1 = sum.1.saturating_add(counts.up);
        }
    }
    sum
}

/// The last season in which seed of a cross was grown.
pub(super) fn grown_in(cross: &Cross) -> Option<Season> {
    let sown = cross.lots.iter().flat_map(|lot| &lot.diary).map(|entry| entry.on.season());
    sown.max().or(cross.season.map(Season::next))
}

/// What is usual of coming into bloom, of those that came up: planted of sown over up of sown, and
/// in bloom of planted.
fn usual_survival(book: &Book) -> Usual {
    let rates = &book.crop().rates;
    let (up, planted, bloomed) =
        (&rates.up_of_sown, &rates.planted_of_sown, &rates.bloomed_of_planted);
    let value = if up.value > 0.0 { planted.value / up.value * bloomed.value } else { 0.0 };
    Usual {
        value: value.min(1.0),
        worth: up.worth.min(planted.worth).min(bloomed.worth),
        source: "".into(),
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::book::{About, Crop, Totals};

    fn asked(keepers: u32) -> Asked {
        Asked { keepers, assurance: 0.9, keep: None, germination: None, survival: None }
    }

    fn book(totals: &[Totals]) -> Book {
        let crosses = totals.iter().map(|&totals| Cross {
            season: Some(Season(2020)),
            totals: Some(totals),
            ..Cross::default()
        });
        Book::new(About::default(), Arc::new(Crop::default()), Vec::new(), crosses.collect())
    }

    fn counted_cross() -> Totals {
        Totals {
            sown: Some(40),
            up: Some(30),
            planted: Some(28),
            bloomed: Some(24),
            judged: Some(24),
            kept: Some(6),
            ..Totals::default()
        }
    }

    #[test]
    fn a_share_given_is_taken_as_it_is_and_one_counted_asks_for_more() {
        let book = book(&[counted_cross(); 4]);
        let pairings: Vec<Counts> = book.crosses().iter().map(|cross| cross.counts()).collect();
        let from_book = sow(&book, &pairings, Season(2026), &asked(3), 0.9);
        let exact = Asked {
            keep: Some(from_book.keep.share.p),
            germination: Some(from_book.germination.share.p),
            survival: Some(from_book.survival.share.p),
            ..asked(3)
        };
        let exact = sow(&book, &pairings, Season(2026), &exact, 0.9);
        assert!(from_book.plants.unwrap() >= exact.plants.unwrap());
        assert!(from_book.seeds.unwrap() > exact.seeds.unwrap());
        assert_eq!(from_book.germination.basis, Basis::Book { k: 120, n: 160 });
        assert_eq!(from_book.survival.basis, Basis::Book { k: 96, n: 120 });
        assert_eq!(from_book.keep.basis, Basis::Pairings { k: 24, n: 96, pairings: 4 });
        assert_eq!(exact.keep.basis, Basis::Given);
    }

    #[test]
    fn seed_that_has_not_had_its_season_tells_nothing_of_survival() {
        let book = book(&[counted_cross()]);
        assert_eq!(bloomed(&book, Season(2020)), (0, 0));
        assert_eq!(bloomed(&book, Season(2021)), (24, 30));
    }

    #[test]
    fn an_empty_book_falls_back_on_what_is_usual() {
        let need = sow(&book(&[]), &[], Season(2026), &asked(1), 0.9);
        for rate in [need.germination, need.survival, need.keep] {
            assert_eq!(rate.basis, Basis::Usual);
        }
        assert!(need.seeds.unwrap() >= need.plants.unwrap());
    }

    #[test]
    fn what_cannot_be_is_absent() {
        let hopeless = Asked { keep: Some(0.0), ..asked(1) };
        let need = sow(&book(&[]), &[], Season(2026), &hopeless, 0.9);
        assert_eq!((need.plants, need.seeds, need.best_of_plants), (None, None, None));
    }
}
