//! Keeping one change in a large book against the same in a small one.

use std::{error::Error, path::Path};

use trug::{
    book::{Book, Entry, PlantDeed, PlantRecord, When, enter},
    shelf::{Keeper, Tools},
};

use crate::measure::{share, time};

const ROUNDS: usize = 200;

/// A book that is written in, and the plants whose diaries are.
struct Desktop {
    book: Book,
    keeper: Keeper,
    plants: Vec<Box<str>>,
}

impl Desktop {
    /// Only families of one size, so that the files are alike in both books.
    fn open(root: &Path) -> Result<Self, Box<dyn Error>> {
        let (opened, keeper) = Keeper::open(root, None, Tools::of("the bench"))?;
        let book = opened.book;
        let alike = book.crosses().iter().filter(|cross| (15..30).contains(&cross.seedlings.len()));
        let plants: Vec<Box<str>> =
            alike.filter_map(|cross| cross.seedlings.first()).map(|s| s.key().into()).collect();
        Ok(Self { book, keeper, plants })
    }

    fn keep_one(&mut self, n: usize) -> Result<(), Box<dyn Error>> {
        let key = &self.plants[n * 7919 % self.plants.len()];
        let plant = self.book.by_key(key).ok_or("it is there")?;
        let PlantRecord::Seedling(..) = self.book.plant(plant) else { return Ok(()) };
        let today = self.book.about().today.ok_or("it has a day")?;
        let entry = Entry { on: When::day(today), did: PlantDeed::Note("looked at".into()) };
        let spot = self.book.spot_of(plant);
        let change = enter::note(&self.book, &[spot], &entry, "looked at", today)?.change;
        self.keeper.keep(&mut self.book, change)?;
        Ok(())
    }
}

/// Keeps changes in both books in turn.
pub fn measure(large: &Path, small: &Path, n: usize) -> Result<(), Box<dyn Error>> {
    let (mut large, mut small) = (Desktop::open(large)?, Desktop::open(small)?);
    let (mut in_large, mut in_small) = (Vec::new(), Vec::new());
    for n in 0..ROUNDS {
        let (took, done) = time(|| large.keep_one(n));
        done?;
        in_large.push(took);
        let (took, done) = time(|| small.keep_one(n));
        done?;
        in_small.push(took);
    }
    let medians = [in_large, in_small].map(|mut took| {
        took.sort_unstable();
        took[ROUNDS / 2]
    });
    share("keep a change, to a book of 1,000", n, medians, 1.1);
    Ok(())
}
