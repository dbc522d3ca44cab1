//! A small garden of our own invention, made the same every time: enough of everything to fill
//! the screens.

use std::sync::{Arc, LazyLock};

use chrono::{Days, NaiveDate};
use trug::{
    book::{
        About, Bed, Book, By, Candidate, Colour, Crop, Cross, Days as Span, Entry, Frost, Head,
        HeadDeed, Look, Lot, LotDeed, Parent, PlantDeed, Pollen, Position, Season, Seedling,
        Totals, Trait, Usual, UsualDays, UsualRates, Variety, Verdict, When,
    },
    views::Desk,
};

/// The garden, opened on 3 November 2026. All tests share it, with what was worked out of it.
pub(crate) fn desk() -> Arc<Desk> {
    static DESK: LazyLock<Arc<Desk>> = LazyLock::new(unweighed_desk);
    Arc::clone(&DESK)
}

/// The same before anybody has worked anything out of it.
pub(crate) fn unweighed_desk() -> Arc<Desk> {
    Arc::new(Desk::new(Arc::new(book()), day(2026, 11, 3)))
}

/// A garden without a single record.
pub(crate) fn empty_desk() -> Arc<Desk> {
    let about = About { garden: "Bare Ground".into(), crop: "dahlia".into(), ..About::default() };
    let book = Book::new(about, Arc::new(crop()), Vec::new(), Vec::new());
    Arc::new(Desk::new(Arc::new(book), day(2026, 11, 3)))
}

/// Names of the varieties; one is written with accents and one in wide characters.
const VARIETIES: [(&str, &str, &str); 9] = [
    ("ferry-lantern", "Ferry Lantern", "apricot"),
    ("saltmarsh", "Saltmarsh", "lavender"),
    ("copper-weir", "Copper Weir", "orange"),
    ("osier-maid", "Osier Maid", "white"),
    ("low-meadow", "Low Meadow", "yellow"),
    ("tidewrack", "Tidewrack", "dark red"),
    ("rosee-du-gue", "Rosée du Gué", "pink"),
    ("asagiri", "朝霧", "straw"),
    ("long", "Grandmother Thistlewood's Unexpectedly Long Harvest Evening", "bronze"),
];

const COLOURS: [(&str, [u8; 3]); 10] = [
    ("white", [245, 243, 236]),
    ("yellow", [242, 205, 50]),
    ("straw", [226, 205, 140]),
    ("orange", [232, 126, 38]),
    ("bronze", [176, 104, 52]),
    ("apricot", [242, 170, 110]),
    ("pink", [232, 140, 168]),
    ("lavender", [180, 150, 205]),
    ("dark red", [120, 20, 30]),
    ("flame", [226, 74, 34]),
];

struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }

    fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    fn one_in(&mut self, n: u64) -> bool {
        self.below(n) == 0
    }
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn on<D>(date: NaiveDate, did: D) -> Entry<D> {
    Entry { on: When::day(date), did }
}

fn known(key: &str) -> Parent {
    Parent::Known(key.into())
}

fn book() -> Book {
    let mut chance = Chance(26);
    let varieties = VARIETIES
        .iter()
        .map(|(id, name, colour)| Variety {
            id: (*id).into(),
            name: (*name).into(),
            colours: vec![(*colour).into()],
            bloom_mm: Some(110.0),
            ..Variety::default()
        })
        .collect();
    let mut crosses: Vec<Cross> = Vec::new();
    for year in 2021..=2026_i16 {
        for serial in 1..=6_u16 {
            let cross = cross(&mut chance, year, serial, &crosses);
            crosses.push(cross);
        }
    }
    Book::new(about(), Arc::new(crop()), varieties, crosses)
}

fn about() -> About {
    let bed = |name: &str| Bed { name: name.into(), rows: 6, places: 24 };
    let frost = |year: i16| Frost {
        season: Season(year),
        last: Some(day(year.into(), 5, 8)),
        first: Some(day(year.into(), 10, 28)),
    };
    About {
        garden: "Quillet Garden".into(),
        raiser: Some("Ned Ashlar".into()),
        crop: "dahlia".into(),
        beds: vec![bed("A"), bed("B")],
        frosts: (2021..=2026).map(frost).collect(),
        ..About::default()
    }
}

fn cross(chance: &mut Chance, year: i16, serial: u16, earlier: &[Cross]) -> Cross {
    let kept: Vec<&str> = earlier
        .iter()
        .filter(|c| c.season < Some(Season(year - 1)))
        .flat_map(|c| &c.seedlings)
        .filter(|s| {
            s.diary.iter().any(|e| matches!(e.did, PlantDeed::Verdict { is: Verdict::Keep, .. }))
        })
        .map(|s| &*s.number)
        .collect();
    let pick = |chance: &mut Chance| -> Box<str> {
        if !kept.is_empty() && !chance.one_in(3) {
            kept[usize::try_from(chance.below(kept.len() as u64)).unwrap()].into()
        } else {
            let n = VARIETIES.len() as u64;
            VARIETIES[usize::try_from(chance.below(n)).unwrap()].0.into()
        }
    };
    let (seed, pollen) = match serial {
        1 => ("ferry-lantern".into(), "saltmarsh".into()),
        2 if year % 2 == 0 => ("saltmarsh".into(), "ferry-lantern".into()),
        _ => (pick(chance), pick(chance)),
    };
    let likely = ["copper-weir", "osier-maid", "low-meadow"];
    let candidates =
        likely.iter().map(|key| Candidate { key: (*key).into(), weight: 0.3 }).collect();
    let (pollen, by) = match serial {
        3 => (Pollen::From(Parent::OneOf(candidates)), By::Bees),
        4 if year == 2023 => (Pollen::Selfed, By::Hand),
        6 if year == 2022 => (Pollen::From(Parent::Unknown), By::Hand),
        5 if year % 2 == 1 => (Pollen::From(Parent::Unknown), By::Bees),
        _ => (Pollen::From(known(&pollen)), By::Hand),
    };
    let code = format!("{}X{serial:02}", year - 2000);
    let lot = format!("{code}-a");
    let totals = (year == 2024 && serial == 6).then(|| Totals {
        planted: Some(20),
        bloomed: Some(18),
        judged: Some(17),
        kept: Some(3),
        ..Totals::default()
    });
    let n = if year == 2026 || totals.is_some() { 0 } else { 5 + chance.below(14) };
    let seedlings = (1..=n).map(|i| seedling(chance, year, serial, i, &lot)).collect();
    let seeds = u32::try_from(n * 2 + 6).unwrap();
    let next = i32::from(year) + 1;
    let sown = LotDeed::Sown { seeds: Some(u32::try_from(n * 3 / 2 + 1).unwrap()) };
    let lot_diary = if year == 2026 {
        Vec::new()
    } else {
        let up = LotDeed::Up(u32::try_from(n + 1).unwrap());
        vec![on(day(next, 3, 12), sown), on(day(next, 3, 30), up)]
    };
    Cross {
        code: code.into(),
        season: Some(Season(year)),
        seed: known(&seed),
        pollen,
        by,
        heads: (0..3).map(|i| head(chance, year, i)).collect(),
        lots: vec![Lot { code: lot.into(), father: None, seeds: Some(seeds), diary: lot_diary }],
        seedlings,
        totals,
        ..Cross::default()
    }
}

fn head(chance: &mut Chance, year: i16, i: u64) -> Head {
    let made = day(year.into(), 8, 1) + Days::new(chance.below(40));
    let mut diary = vec![on(made, HeadDeed::Pollinated)];
    let cut = made + Days::new(45);
    match (year, chance.below(5)) {
        (2026, 0 | 1) => {}
        (_, 2) => diary.push(on(cut, HeadDeed::Rotted)),
        (_, 3) => diary.push(on(cut, HeadDeed::Threshed { seeds: 0 })),
        _ => {
            diary.push(on(cut, HeadDeed::Cut));
            let seeds = 5 + u32::try_from(chance.below(30)).unwrap();
            diary.push(on(cut + Days::new(30), HeadDeed::Threshed { seeds }));
        }
    }
    Head { tag: Some(format!("red {}", i + 1).into()), diary }
}

fn seedling(chance: &mut Chance, year: i16, serial: u16, i: u64, lot: &str) -> Seedling {
    let season = i32::from(year) + 1;
    let number = format!("{}-{serial}{i:02}", season - 2000);
    let planted = day(season, 5, 20) + Days::new(chance.below(10));
    let place = u16::try_from(i).unwrap();
    let position = Position {
        bed: if serial < 4 { "A" } else { "B" }.into(),
        row: (serial - 1) % 3 * 2 + 1,
        place,
    };
    let mut diary = vec![on(planted, PlantDeed::Planted(Some(position)))];
    let opened = day(season, 7, 20) + Days::new(chance.below(70));
    if chance.one_in(12) {
        diary.push(on(opened, PlantDeed::Lost("slugs".into())));
        return Seedling { number: number.into(), lot: Some(lot.into()), diary, id: None };
    }
    if chance.one_in(10) {
        diary.push(on(day(season, 10, 1), PlantDeed::SeenUnbloomed));
        return Seedling { number: number.into(), lot: Some(lot.into()), diary, id: None };
    }
    diary.push(on(opened, PlantDeed::FirstBloom));
    let colour = COLOURS[usize::try_from(chance.below(10)).unwrap()].0;
    let score = |chance: &mut Chance| 3.0 + chance.below(7) as f64;
    let look = Look {
        bloom_mm: Some(70.0 + chance.below(90) as f64),
        height_cm: Some(70.0 + chance.below(70) as f64),
        colours: vec![colour.into()],
        scores: vec![("form".into(), score(chance)), ("stem".into(), score(chance))],
        faults: if chance.one_in(4) { vec!["open centre".into()] } else { Vec::new() },
        ..Look::default()
    };
    let again = Look { scores: vec![("form".into(), score(chance))], ..Look::default() };
    diary.push(on(opened + Days::new(6), PlantDeed::Look(Box::new(look))));
    if chance.one_in(9) {
        diary.push(on(opened + Days::new(20), PlantDeed::Look(Box::new(again))));
    }
    let is = match chance.below(if serial <= 2 { 8 } else { 12 }) {
        0..=2 => Verdict::Keep,
        3 => Verdict::Hold,
        _ => Verdict::Discard,
    };
    if !(season == 2026 && chance.one_in(5)) {
        let why = match is {
            Verdict::Keep => Some("good stem and a clear colour".into()),
            Verdict::Hold => Some("stem may firm up".into()),
            Verdict::Discard => None,
        };
        diary.push(on(day(season, 10, 20), PlantDeed::Verdict { is, why, who: None }));
        if is == Verdict::Keep {
            let tubers = Some(u16::try_from(2 + chance.below(5)).unwrap());
            let kept_in = Some("box 3".into());
            diary.push(on(day(season, 11, 1), PlantDeed::Lifted { tubers, store: kept_in }));
            if season < 2024 && chance.one_in(4) {
                let name =
                    ["Quillet Ember", "Quillet Skein", "Quillet Marl"][usize::from(serial % 3)];
                diary.push(on(day(2026, 2, 1), PlantDeed::Named(name.into())));
            }
        }
    }
    Seedling { number: number.into(), lot: Some(lot.into()), diary, id: None }
}

fn crop() -> Crop {
    let usual = |value: f64| Usual { value, worth: 20.0, source: "invented".into() };
    let span = |from: u16, to: u16| Span { from, to, source: "invented".into() };
    let scored =
        |name: &str| Trait { name: name.into(), means: "good".into(), low: 1.0, high: 9.0 };
    Crop {
        name: "dahlia".into(),
        plural: "dahlias".into(),
        ploidy: 8,
        double_reduction: 0.0,
        ploidy_source: "invented".into(),
        groups: Vec::new(),
        markings: Vec::new(),
        sizes: Vec::new(),
        colours: COLOURS
            .iter()
            .map(|(word, swatch)| Colour { word: (*word).into(), swatch: *swatch })
            .collect(),
        traits: vec![scored("form"), scored("stem")],
        faults: vec!["open centre".into()],
        largest_bloom_mm: 400.0,
        tallest_cm: 300.0,
        rates: UsualRates {
            up_of_sown: usual(0.72),
            planted_of_sown: usual(0.6),
            bloomed_of_planted: usual(0.85),
            kept_of_judged: usual(0.4),
            held_over_kept: usual(0.1),
            ripened_of_heads: usual(0.6),
            seeds_of_head: usual(15.0),
        },
        days: UsualDays {
            first_frost: span(288, 319),
            head_ripens: span(40, 60),
            head_dries: span(20, 40),
            sown_to_bloom: span(120, 180),
            seed_keeps_years: span(2, 4),
            ..UsualDays::default()
        },
        cautions: Vec::new(),
    }
}
