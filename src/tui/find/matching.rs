//! Which plants, crosses and pairings a few letters may mean, the likeliest first.

use nucleo_matcher::{
    Config, Matcher, Utf32Str,
    pattern::{CaseMatching, Normalization, Pattern},
};

use crate::book::PlantRecord;
use crate::tui::{glyphs::Glyphs, place::Place, said, worker::Stop};
use crate::views::Desk;

/// Rows worth looking through; who wants more types another letter.
const MOST: usize = 500;
/// How often long work looks whether it is still wanted.
const EVERY: usize = 4096;

/// The letters to be found, ready to be compared.
pub(super) fn pattern(letters: &str) -> Pattern {
    Pattern::parse(letters, CaseMatching::Ignore, Normalization::Smart)
}

/// Puts everything that has the letters in order: closest first, then the shorter name, then the
/// order of the book.
pub(super) fn find(desk: &Desk, letters: &str, glyphs: &Glyphs, stop: &Stop) -> Vec<Place> {
    let pattern = pattern(letters);
    if pattern.atoms.is_empty() {
        return Vec::new();
    }
    let mut matcher = Matcher::new(Config::DEFAULT);
    let mut signs = Vec::new();
    let mut found: Vec<(u32, usize, usize, Place)> = Vec::new();
    let mut try_one = |at: usize, place: Place, name: &str, other: Option<&str>| {
        let mut score = |text: &str| pattern.score(Utf32Str::new(text, &mut signs), &mut matcher);
        let best = score(name).max(other.and_then(&mut score));
        if let Some(score) = best {
            found.push((u32::MAX - score, name.len(), at, place));
        }
    };
    let book = desk.book();
    let mut at = 0;
    for plant in book.plants() {
        let record = book.plant(plant);
        let number = match record {
            PlantRecord::Seedling(..) => record.number(),
            PlantRecord::Variety(_) => None,
        };
        try_one(at, Place::Plant(plant), record.label(), number);
        at += 1;
        if at.is_multiple_of(EVERY) && stop.asked() {
            return Vec::new();
        }
    }
    for cross in book.cross_ids() {
        try_one(at, Place::Cross(cross), &book.cross(cross).code, None);
        at += 1;
    }
    for pairing in 0..desk.pairings().len() {
        try_one(at, Place::Pairing(pairing), &said::pairing(desk, pairing, glyphs), None);
        at += 1;
    }
    if found.len() > MOST {
        found.select_nth_unstable_by_key(MOST, |(score, len, at, _)| (*score, *len, *at));
        found.truncate(MOST);
    }
    found.sort_unstable_by_key(|(score, len, at, _)| (*score, *len, *at));
    found.into_iter().map(|(.., place)| place).collect()
}

/// Which graphemes of a name the letters fell on, by their place among its characters.
pub(super) fn letters_of(pattern: &Pattern, name: &str) -> Vec<u32> {
    let mut matcher = Matcher::new(Config::DEFAULT);
    let (mut signs, mut places) = (Vec::new(), Vec::new());
    pattern.indices(Utf32Str::new(name, &mut signs), &mut matcher, &mut places);
    places.sort_unstable();
    places.dedup();
    places
}
