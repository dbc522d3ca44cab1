//! An opened book with what is worked out of it once.

use std::{
    collections::BTreeMap,
    sync::{Arc, Mutex, OnceLock},
};

use chrono::{Datelike, NaiveDate};

use crate::book::{Book, Counts, Cross, CrossId, PlantId, Season, When};
use crate::kinship::{Inheritance, Kinship};
use crate::lineage::Pedigree;
use crate::merit::{
    Prior,
    liability::{Forecasts, NotEnough, Options, Outcome},
    traits::Trait,
};

use super::{
    Brief, Pairing, Party, Weighed, brief, first_bloom, pairings, pairings::Directions, sibs,
};

/// An opened book. Nothing in it changes, so that a worker thread can share it through an
/// [`Arc`].
#[derive(Debug)]
pub struct Desk {
    pub(super) book: Arc<Book>,
    pub(super) pedigree: Arc<Pedigree>,
    pub(super) kinship: OnceLock<Arc<Kinship>>,
    pub(super) today: NaiveDate,
    pub(super) briefs: Vec<Brief>,
    pub(super) counts: Vec<Counts>,
    pub(super) parties: Arc<Vec<(Party, Party)>>,
    pairings: Vec<Pairing>,
    prior: OnceLock<Prior>,
    programme: OnceLock<BTreeMap<Box<str>, f64>>,
    pub(super) fitted_traits: OnceLock<Vec<Trait>>,
    first_bloom: OnceLock<first_bloom::Record>,
    /// Of pairings with both directions together, and apart.
    pub(super) forecasts: [OnceLock<Result<Forecasts, NotEnough>>; 2],
    /// Held while forecasts are worked out, so that nobody does it at the same time.
    pub(super) weighing: Mutex<()>,
    pub(super) weighed: OnceLock<Result<Weighed, NotEnough>>,
    /// Of outcomes other than being kept at the first sorting.
    outcomes: [OnceLock<Option<Forecasts>>; 2],
}

/// What is worked out of a book record by record.
pub(super) struct Laid {
    pub(super) book: Arc<Book>,
    pub(super) today: NaiveDate,
    pub(super) briefs: Vec<Brief>,
    pub(super) counts: Vec<Counts>,
    pub(super) parties: Arc<Vec<(Party, Party)>>,
    pub(super) pedigree: Arc<Pedigree>,
}

/// The two parents of every cross.
pub(super) fn parties_of(book: &Book) -> Vec<(Party, Party)> {
    let of =
        |cross: &Arc<Cross>| (Party::of(book, &cross.seed), Party::of(book, cross.pollen_parent()));
    book.crosses().iter().map(of).collect()
}

impl Desk {
    /// Works out of a book what every question needs.
    pub fn new(book: Arc<Book>, today: NaiveDate) -> Self {
        let briefs = brief::all(&book);
        let mut outcomes = briefs[book.varieties().len()..].iter().map(Brief::outcome);
        let counts: Vec<Counts> = book
            .crosses()
            .iter()
            .map(|cross| cross.counts_with(outcomes.by_ref().take(cross.seedlings.len())))
            .collect();
        let parties = Arc::new(parties_of(&book));
        let pedigree = Arc::new(Pedigree::of(&book));
        Self::laid(Laid { book, today, briefs, counts, parties, pedigree })
    }

    /// Lays out what is worked out of everything.
    pub(super) fn laid(laid: Laid) -> Self {
        let Laid { book, today, briefs, counts, parties, pedigree } = laid;
        let pairings = pairings::pooled(&book, &parties, &counts, Directions::Together);
        Self {
            book,
            pedigree,
            kinship: OnceLock::new(),
            today,
            briefs,
            counts,
            parties,
            pairings,
            prior: OnceLock::new(),
            programme: OnceLock::new(),
            fitted_traits: OnceLock::new(),
            first_bloom: OnceLock::new(),
            forecasts: Default::default(),
            weighing: Mutex::default(),
            weighed: OnceLock::new(),
            outcomes: Default::default(),
        }
    }

    /// The book.
    pub fn book(&self) -> &Book {
        &self.book
    }

    /// The book, to share.
    pub fn share_book(&self) -> Arc<Book> {
        Arc::clone(&self.book)
    }

    /// Who came from whom.
    pub fn pedigree(&self) -> &Pedigree {
        &self.pedigree
    }

    /// Who is how near of kin; worked out when first asked for.
    pub fn kinship(&self) -> &Arc<Kinship> {
        self.kinship.get_or_init(|| {
            let rules = Inheritance::of_or_nearest(&self.book);
            Arc::new(Kinship::of(&self.book, &self.pedigree, rules))
        })
    }

    /// The day that counts as today.
    pub fn today(&self) -> NaiveDate {
        self.today
    }

    /// The season that today is in.
    pub fn season(&self) -> Season {
        Season(i16::try_from(self.today.year()).unwrap_or(i16::MAX))
    }

    /// What is known of a plant in brief.
    pub fn brief(&self, plant: PlantId) -> &Brief {
        &self.briefs[plant.index()]
    }

    /// The counts of a cross over all its seasons.
    pub fn counts(&self, cross: CrossId) -> Counts {
        self.counts[cross.index()]
    }

    /// The seed parent and the pollen parent of a cross.
    pub fn parties(&self, cross: CrossId) -> &(Party, Party) {
        &self.parties[cross.index()]
    }

    /// The seed parent and the pollen parent of a plant.
    pub fn parents(&self, plant: PlantId) -> (Party, Party) {
        if let Some(cross) = self.book.cross_of(plant) {
            return self.parties(cross).clone();
        }
        let record = self.book.plant(plant);
        let of = |parent| Party::of(&self.book, parent);
        (of(record.seed_parent()), of(record.pollen_parent()))
    }

    /// The mean of each measure over all seedlings; worked out when first asked for.
    pub fn programme(&self) -> &BTreeMap<Box<str>, f64> {
        self.programme.get_or_init(|| sibs::programme(self))
    }

    /// What the book tells of first blooms; worked out when first asked for.
    pub fn first_bloom(&self) -> &first_bloom::Record {
        self.first_bloom.get_or_init(|| first_bloom::Record::of(self))
    }

    /// What is forecast of every pair; none where the book has too little for it. Worked out when
    /// first asked for, which may take a second: not to be asked for while drawing.
    pub fn forecasts(&self, directions: Directions) -> Option<&Forecasts> {
        self.forecasts_watched(directions, &|_| true)?.as_ref().ok()
    }

    /// The same of another outcome, both directions together.
    pub fn outcome(&self, outcome: Outcome) -> Option<&Forecasts> {
        let found = match outcome {
            Outcome::Kept => return self.forecasts(Directions::Together),
            Outcome::Bloomed => &self.outcomes[0],
            Outcome::KeptAgain => &self.outcomes[1],
        };
        let fit = || {
            let kinship = Arc::clone(self.kinship());
            let options = Options::default();
            Forecasts::fit(&self.book, &self.pedigree, kinship, outcome, options).ok()
        };
        found.get_or_init(fit).as_ref()
    }

    /// Every pairing, both directions together, in the order first made.
    pub fn pairings(&self) -> &[Pairing] {
        &self.pairings
    }

    pub(super) fn pooled(&self, directions: Directions) -> Vec<Pairing> {
        pairings::pooled(&self.book, &self.parties, &self.counts, directions)
    }

    /// How the keep rates of those pairings lie, by which each is steadied; worked out when first
    /// asked for.
    pub fn prior(&self) -> &Prior {
        self.prior.get_or_init(|| pairings::prior(&self.book, &self.pairings))
    }

    /// The seasons of which the book has anything to tell, oldest first.
    pub fn seasons(&self) -> Vec<Season> {
        let crosses = self.book.crosses().iter();
        let sown = crosses.clone().flat_map(|c| &c.lots).flat_map(|lot| &lot.diary);
        let plants = self.briefs.iter().flat_map(|b| [b.planted, b.first_bloom]).flatten();
        let mut seasons: Vec<Season> = crosses
            .filter_map(|cross| cross.season)
            .chain(sown.map(|entry| entry.on.season()))
            .chain(plants.map(When::season))
            .collect();
        seasons.sort_unstable();
        seasons.dedup();
        seasons
    }

    /// The last season, up to today's, of which there is anything to tell: in January, when
    /// nothing has been sown yet, the year before.
    pub fn last_season(&self) -> Season {
        let seasons = self.seasons();
        seasons.into_iter().rfind(|&season| season <= self.season()).unwrap_or(self.season())
    }

    /// What a plant is called.
    pub fn label(&self, plant: PlantId) -> &str {
        self.book.plant(plant).label()
    }
}
