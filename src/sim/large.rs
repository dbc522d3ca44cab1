//! Books of any size for benchmarks: the shape and the diaries of real ones, made cheaply.
//!
//! No genes are dropped here and nothing is to be learnt from who is kept; what matters is that
//! families, pedigree and diaries are as large, as deep and as uneven as in a raiser's book.

use std::sync::Arc;

use chrono::NaiveDate;

use super::{
    Dice,
    dice::index,
    garden::{after, date},
};

use crate::book::{
    About, Bed, Book, By, Candidate, Crop, Cross, Entry, Head, HeadDeed, Look, Lot, LotDeed,
    Parent, PlantDeed, Pollen, Position, Season, Seedling, Variety, Verdict, When,
};

const N_VARIETIES: usize = 60;
const LAST_SEASON: i16 = 2026;
const PLANTS_A_FAMILY: f64 = 25.0;
const COLOURS: [&str; 8] =
    ["white", "straw", "yellow", "apricot", "pink", "red", "purple", "bronze"];
const WHY: [&str; 6] =
    ["stem may firm up", "open centre", "nothing new", "clean colour", "hangs its head", "yes"];

/// A book of so many seedlings, the same for the same seed.
pub fn book_of(n_seedlings: usize, crop: Arc<Crop>, seed: u64) -> Book {
    let mut dice = Dice::new(seed, 4);
    let varieties: Vec<Variety> = (1..=N_VARIETIES)
        .map(|n| Variety {
            id: format!("variety-{n:02}").into(),
            name: format!("Variety {n}").into(),
            colours: vec![dice.word(&COLOURS).into()],
            ..Variety::default()
        })
        .collect();
    let mut parents: Vec<Box<str>> = varieties.iter().map(|v| v.id.clone()).collect();
    // A large book is a long one as well as a wide one.
    let n_seasons = (n_seedlings / 2500).clamp(8, 40);
    let first = LAST_SEASON - i16::try_from(n_seasons).unwrap_or(8);
    let mut crosses = Vec::new();
    for (nth, season) in (first..LAST_SEASON).enumerate() {
        let wanted = n_seedlings * (nth + 1) / n_seasons - n_seedlings * nth / n_seasons;
        one_season(&mut dice, season, wanted, &mut parents, &mut crosses);
    }
    let about = About {
        garden: "A large garden".into(),
        crop: crop.name.clone(),
        today: Some(date(LAST_SEASON, 11, 3)),
        beds: vec![Bed { name: "A".into(), rows: 1000, places: 100 }],
        ..About::default()
    };
    Book::new(about, crop, varieties, crosses)
}

/// The crosses of a season, whose plants bloom in the next.
fn one_season(
    dice: &mut Dice,
    season: i16,
    wanted: usize,
    parents: &mut Vec<Box<str>>,
    crosses: &mut Vec<Cross>,
) {
    let (mut planted, mut nth) = (0, 0);
    let mut keepers = Vec::new();
    while planted < wanted {
        nth += 1;
        let n_plants = index(f64::from(dice.count(PLANTS_A_FAMILY, 0.6)));
        let n_plants = n_plants.clamp(1, wanted - planted);
        let code = format!("{:02}X{nth:02}", season % 100);
        crosses.push(one_cross(dice, season, &code, n_plants, planted, parents, &mut keepers));
        planted += n_plants;
    }
    parents.append(&mut keepers);
}

fn one_cross(
    dice: &mut Dice,
    season: i16,
    code: &str,
    n_plants: usize,
    planted: usize,
    parents: &[Box<str>],
    keepers: &mut Vec<Box<str>>,
) -> Cross {
    let lot: Box<str> = format!("{code}-a").into();
    let seeds = u32::try_from(n_plants * 2).unwrap_or(u32::MAX);
    let mut seedlings = Vec::with_capacity(n_plants);
    for n in 0..n_plants {
        let number: Box<str> = format!("{:02}-{:03}", (season + 1) % 100, planted + n + 1).into();
        let (diary, kept) = one_plant(dice, season + 1, planted + n);
        // Few keepers become parents, so that the pedigree is deep but not as wide as the book.
        if kept && dice.chance(0.04) {
            keepers.push(number.clone());
        }
        seedlings.push(Seedling { number, id: None, lot: Some(lot.clone()), diary });
    }
    let by_bees = dice.chance(0.2);
    let pollen = if by_bees {
        let [a, b] = [late(dice, parents), late(dice, parents)];
        let candidate = |key: &str, weight| Candidate { key: key.into(), weight };
        Parent::OneOf(vec![candidate(a, 0.5), candidate(if a == b { &parents[0] } else { b }, 0.3)])
    } else {
        Parent::Known(late(dice, parents).into())
    };
    Cross {
        code: code.into(),
        season: Some(Season(season)),
        seed: Parent::Known(late(dice, parents).into()),
        pollen: Pollen::From(pollen),
        by: if by_bees { By::Bees } else { By::Hand },
        heads: (0..4).map(|n| one_head(dice, season, n, seeds / 4)).collect(),
        lots: vec![Lot {
            code: lot,
            father: None,
            seeds: Some(seeds),
            diary: vec![
                on(date(season + 1, 3, 12), LotDeed::Sown { seeds: Some(seeds) }),
                on(date(season + 1, 3, 26), LotDeed::Up(seeds * 7 / 10)),
            ],
        }],
        seedlings,
        ..Cross::default()
    }
}

/// A parent, rather one of the newer ones.
fn late<'a>(dice: &mut Dice, parents: &'a [Box<str>]) -> &'a str {
    let n = parents.len();
    let back = index(dice.unit().powi(2) * n as f64).min(n - 1);
    &parents[n - 1 - back]
}

fn one_head(dice: &mut Dice, season: i16, nth: u32, seeds: u32) -> Head {
    let pollinated = after(date(season, 8, 1), dice.between(0.0, 35.0));
    let cut = after(pollinated, dice.between(38.0, 52.0));
    let end = if dice.chance(0.2) { HeadDeed::Rotted } else { HeadDeed::Threshed { seeds } };
    Head {
        tag: Some(format!("red {}", nth + 1).into()),
        diary: vec![
            on(pollinated, HeadDeed::Pollinated),
            on(cut, HeadDeed::Cut),
            on(after(cut, 20.0), end),
        ],
    }
}

/// The diary of one plant, and whether it was kept.
fn one_plant(dice: &mut Dice, season: i16, nth: usize) -> (Vec<Entry<PlantDeed>>, bool) {
    let (row, place) = (1 + nth / 100 % 1000, 1 + nth % 100);
    let position = Position {
        bed: "A".into(),
        row: u16::try_from(row).unwrap_or(1),
        place: u16::try_from(place).unwrap_or(1),
    };
    let mut diary = vec![on(date(season, 5, 28), PlantDeed::Planted(Some(position)))];
    if dice.chance(0.18) {
        diary.push(on(date(season, 9, 20), PlantDeed::SeenUnbloomed));
        return (diary, false);
    }
    let opened = after(date(season, 7, 13), dice.between(0.0, 70.0));
    diary.push(on(opened, PlantDeed::FirstBloom));
    let kept = dice.chance(0.3);
    let look = Look {
        bloom_mm: kept.then(|| f64::from(dice.from_to(60, 180))),
        height_cm: kept.then(|| f64::from(dice.from_to(70, 150))),
        colours: vec![dice.word(&COLOURS).into()],
        scores: vec![("form".into(), f64::from(dice.from_to(2, 9)))],
        ..Look::default()
    };
    let seen = after(opened, 6.0);
    diary.push(on(seen, PlantDeed::Look(Box::new(look))));
    let is = if kept { Verdict::Keep } else { Verdict::Discard };
    let why = dice.chance(0.7).then(|| dice.word(&WHY).into());
    diary.push(on(after(seen, 14.0), PlantDeed::Verdict { is, why, who: None }));
    if kept {
        let tubers = u16::try_from(dice.from_to(1, 6)).ok();
        let store = Some("box 3".into());
        diary.push(on(date(season, 11, 2), PlantDeed::Lifted { tubers, store }));
    }
    (diary, kept)
}

fn on<D>(day: NaiveDate, did: D) -> Entry<D> {
    Entry { on: When::day(day), did }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_large_book_is_as_large_as_asked_and_refers_to_nobody_unknown() {
        let book = book_of(3000, Arc::new(Crop::default()), 1);
        assert_eq!(book.n_plants(), 3000 + N_VARIETIES);
        let mut n_bred = 0;
        for cross in book.crosses() {
            let pollen = cross.pollen_parent().candidates();
            for (key, _) in cross.seed.candidates().chain(pollen) {
                assert!(book.by_key(key).is_some(), "{key}");
                n_bred += usize::from(!key.starts_with("variety"));
            }
        }
        assert!(n_bred > 20, "only {n_bred} parents are seedlings");
    }

    #[test]
    fn the_same_seed_makes_the_same_large_book() {
        let made = || book_of(500, Arc::new(Crop::default()), 7);
        assert_eq!(made().crosses(), made().crosses());
    }
}
