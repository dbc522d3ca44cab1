//! Changes to a book: done, undone, refused.

use chrono::NaiveDate;
use proptest::{collection::vec, prelude::*};
use trug::{
    book::{
        Book, Change, Cross, Entry, Head, HeadDeed, Lot, LotDeed, Parent, Part, PlantDeed, PlantId,
        PlantRecord, Pollen, Season, Spot, Step, Variety, Verdict, When,
        enter::{self, Entered, Numbering, Refused},
    },
    shelf,
};

fn demo() -> Book {
    shelf::open(&crate::demo::folder(), None).unwrap().book
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 3).unwrap()
}

fn when(text: &str) -> When {
    When::parse(text).unwrap()
}

fn verdict(is: Verdict) -> PlantDeed {
    PlantDeed::Verdict { is, why: None, who: None }
}

/// One of many things that may be done to a book, chosen by numbers. Some are refused, and then
/// nothing is done.
pub(crate) fn something(book: &Book, kind: u8, a: u16, b: u16) -> Option<Change> {
    let pick = |n: u16, of: usize| usize::from(n) % of.max(1);
    let plant = PlantId(u32::try_from(pick(a, book.n_plants())).unwrap());
    let cross = &book.crosses()[pick(a, book.crosses().len())];
    let code = cross.code.clone();
    let spot = book.spot_of(plant);
    let on = when(["2026-10-30", "2026-11", "2026", "2026-08-01"][pick(b, 4)]);
    let entry = Entry { on, did: verdict([Verdict::Keep, Verdict::Discard][pick(b, 2)]) };
    let entered = match kind {
        0 => enter::note(book, &[spot], &entry, "verdict", today()),
        1 => enter::amend(book, &spot, pick(b, 4), &entry, "amended", today()),
        2 => enter::strike::<PlantDeed>(book, &spot, pick(b, 4), "struck out", today()),
        3 => enter::head(book, &code, Head::default(), today()),
        4 => {
            let lot = Lot {
                code: format!("packet {a}").into(),
                father: None,
                seeds: Some(9),
                diary: vec![],
            };
            enter::lot(book, &code, lot, today())
        }
        5 => {
            let numbers = (0..b % 4).map(|n| format!("{a}-{n}").into()).collect();
            enter::number(book, &Numbering { cross: code, lot: None, numbers, on }, today())
        }
        6 => {
            let season = Some(Season(2019 + i16::try_from(b % 8).unwrap()));
            let code = format!("new {a}").into();
            enter::new_cross(book, Cross { code, season, ..Cross::default() }, today())
        }
        7 => {
            let id: Box<str> = format!("new {a}").into();
            enter::new_variety(
                book,
                Variety { name: id.clone(), id, ..Variety::default() },
                today(),
            )
        }
        // What is known of a cross changes, and with the season its place in the book.
        8 => {
            let mut cover =
                Cross { heads: vec![], lots: vec![], seedlings: vec![], ..Cross::clone(cross) };
            cover.season = Some(Season(2019 + i16::try_from(b % 8).unwrap()));
            let spot = Spot::Cross(code);
            let step =
                Step { before: book.part(&spot), spot, after: Some(Part::Cross(Box::new(cover))) };
            return Some(Change::new("another season", vec![step]));
        }
        // A plant is moved to another family.
        9 => {
            let Spot::Seedling(_, key) = &spot else { return None };
            let part = book.part(&spot);
            let to = Spot::Seedling(code.clone(), key.clone());
            let steps = vec![
                Step { spot: spot.clone(), before: part.clone(), after: None },
                Step { spot: to, before: None, after: part },
            ];
            return Some(Change::new("moved", steps));
        }
        10 => {
            let spot = Spot::Head(code, pick(b, 3));
            let step = Step { before: book.part(&spot), spot, after: None };
            return Some(Change::new("head taken out", vec![step]));
        }
        _ => {
            let sown = Entry { on, did: LotDeed::Sown { seeds: Some(3) } };
            enter::note(book, &[Spot::Lot(code, 0)], &sown, "sown", today())
        }
    };
    entered.ok().map(|entered| entered.change)
}

/// Whether every plant and cross is found where the roll says.
fn roll_is_right(book: &Book) -> bool {
    let (about, _, varieties, crosses) = book.clone().into_parts();
    let anew = Book::new(about, book.share_crop(), varieties, crosses);
    anew.n_plants() == book.n_plants()
        && anew.crosses() == book.crosses()
        && anew.varieties() == book.varieties()
        && anew.plants().all(|id| {
            let key = anew.plant(id).key();
            book.plant(id).key() == key && book.by_key(key) == anew.by_key(key)
        })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(6) })]

    #[test]
    fn whatever_is_done_and_undone_leaves_every_letter_as_it_was(
        doings in vec((0_u8..12, any::<u16>(), any::<u16>()), 1..40)
    ) {
        let mut book = demo();
        let first = shelf::texts(&book);
        let mut done = Vec::new();
        for (kind, a, b) in doings {
            let Some(change) = something(&book, kind, a, b) else { continue };
            if book.apply(&change).is_ok() {
                done.push(change);
            }
        }
        prop_assert!(roll_is_right(&book));
        let last = shelf::texts(&book);
        for change in done.iter().rev() {
            book.apply(&change.reversed()).unwrap();
        }
        prop_assert!(roll_is_right(&book));
        prop_assert_eq!(shelf::texts(&book), first);
        for change in &done {
            book.apply(change).unwrap();
        }
        prop_assert_eq!(shelf::texts(&book), last);
    }
}

#[test]
fn a_change_that_fails_half_way_does_nothing() {
    let mut book = demo();
    let first = shelf::texts(&book);
    let good = Spot::Seedling("25X01".into(), "26-012".into());
    let stale = Spot::Seedling("25X01".into(), "26-013".into());
    let part = |spot: &Spot| book.part(spot);
    let steps = vec![
        Step { before: part(&good), after: None, spot: good.clone() },
        Step { before: part(&good), after: None, spot: stale.clone() },
    ];
    let failed = book.apply(&Change::new("half", steps)).unwrap_err();
    assert_eq!(failed.spot, stale);
    assert_eq!(shelf::texts(&book), first);
    assert!(roll_is_right(&book));
}

#[test]
fn an_entry_goes_after_all_that_may_have_happened_before_it() {
    let mut book = demo();
    let spot = Spot::Seedling("25X01".into(), "26-012".into());
    let note = |on| Entry { on: when(on), did: PlantDeed::Note("here".into()) };
    let place = |book: &mut Book, on| {
        let Entered { change, doubts } =
            enter::note(book, std::slice::from_ref(&spot), &note(on), "note", today()).unwrap();
        assert_eq!(doubts, []);
        book.apply(&change).unwrap();
        let Some(Part::Seedling(plant)) = book.part(&spot) else { panic!("it is there") };
        let n = plant.diary.iter().position(|e| e.did == note(on).did).unwrap();
        book.apply(&change.reversed()).unwrap();
        (n, plant.diary.len())
    };
    assert_eq!(place(&mut book, "2026-07-12"), (2, 6), "after the first bloom of that day");
    assert_eq!(place(&mut book, "2026-11-03"), (5, 6));
    assert_eq!(place(&mut book, "2026-05-01"), (0, 6));
}

/// What is refused, and in what words.
fn refusal(outcome: Result<Entered, Refused>) -> String {
    outcome.unwrap_err().to_string()
}

#[test]
fn what_cannot_be_is_refused_with_the_reason() {
    let book = demo();
    let plant = [Spot::Seedling("25X01".into(), "26-012".into())];
    let on = |on, did| enter::note(&book, &plant, &Entry { on: when(on), did }, "", today());
    assert_eq!(
        refusal(on("2026-11-04", verdict(Verdict::Keep))),
        "2026-11-04 has not come yet; today is 2026-11-03."
    );
    assert_eq!(
        refusal(on("2026-05-01", PlantDeed::FirstBloom)),
        "26-012 was in bloom on 2026-05-01, before it was planted on 2026-05-24."
    );
    assert_eq!(
        refusal(on("2024-05-01", PlantDeed::SeenUnbloomed)),
        "2024-05-01 is before this cross was made in 2025."
    );
    let run = |numbers: &[&str]| {
        let numbers = numbers.iter().map(|&n| n.into()).collect();
        let run = Numbering { cross: "25X01".into(), lot: None, numbers, on: when("2026-05-24") };
        enter::number(&book, &run, today())
    };
    assert_eq!(refusal(run(&["26-001"])), "There is another plant called \"26-001\" already.");
    assert_eq!(refusal(run(&["x", "x"])), "There is another plant called \"x\" already.");
    assert_eq!(refusal(run(&[])), "No plants were named.");
    let head = Head { tag: None, diary: vec![Entry { on: when("2025-07"), did: HeadDeed::Cut }] };
    assert_eq!(
        refusal(enter::head(&book, "99X99", head, today())),
        "This is not in the book any more."
    );
}

#[test]
fn what_is_odd_is_entered_and_said() {
    let book = demo();
    let pollen = Pollen::From(Parent::Known("ferry-lantern".into()));
    let cross = Cross {
        code: "26X99".into(),
        season: Some(Season(2026)),
        seed: Parent::Known("ferry-lantern".into()),
        pollen,
        ..Cross::default()
    };
    let entered = enter::new_cross(&book, cross, today()).unwrap();
    let said: Vec<&str> = entered.doubts.iter().map(|doubt| &*doubt.message).collect();
    assert_eq!(said, ["The seed parent and the pollen parent are both \"ferry-lantern\"."]);
}

#[test]
fn one_stroke_gives_many_plants_their_verdict() {
    let mut book = demo();
    let spots: Vec<Spot> = ["26-001", "26-002", "26-003"]
        .iter()
        .map(|key| book.spot_of(book.by_key(key).unwrap()))
        .collect();
    let entry = Entry { on: when("2026-11-02"), did: verdict(Verdict::Discard) };
    let entered = enter::note(&book, &spots, &entry, "Discarded three", today()).unwrap();
    assert_eq!(entered.change.steps.len(), 3);
    assert_eq!(entered.change.crosses(), ["24X02"]);
    book.apply(&entered.change).unwrap();
    for spot in &spots {
        let Some(Part::Seedling(plant)) = book.part(spot) else { panic!("it is there") };
        assert_eq!(plant.diary.last(), Some(&entry));
    }
}

#[test]
fn a_plant_moved_to_its_own_family_says_where_it_came_from() {
    let mut book = demo();
    let plant = book.spot_of(book.by_key("26-012").unwrap());
    let n = book.n_plants();
    let why = (when("2026-11-02"), Some("labels swapped"));
    let entered = enter::move_to(&book, &plant, ("25X02", None), why, today()).unwrap();
    assert_eq!(&*entered.change.what, "Moved 26-012 from 25X01 to 25X02");
    book.apply(&entered.change).unwrap();
    let PlantRecord::Seedling(cross, moved) = book.plant(book.by_key("26-012").unwrap()) else {
        panic!("it is a seedling")
    };
    assert_eq!((&*cross.code, book.n_plants()), ("25X02", n));
    let why = Some("labels swapped".into());
    let did = PlantDeed::MovedFrom { cross: "25X01".into(), why };
    assert_eq!(moved.diary.last(), Some(&Entry { on: when("2026-11-02"), did }));
    let back = enter::move_to(&book, &plant, ("25X01", None), (when("2026"), None), today());
    assert_eq!(refusal(back), "This is not in the book any more.");
}

#[test]
fn two_numbers_that_are_one_plant_are_joined_and_keep_their_offspring() {
    let mut book = demo();
    let spot = |book: &Book, key: &str| book.spot_of(book.by_key(key).unwrap());
    let (stays, goes) = (spot(&book, "23-034"), spot(&book, "23-033"));
    let both = (&stays, &goes);
    let offspring = |book: &Book, key: &str| {
        let is_parent = |parent: &Parent| parent.candidates().any(|(other, _)| other == key);
        let crosses = book.crosses().iter();
        crosses.filter(|c| is_parent(&c.seed) || is_parent(c.pollen_parent())).count()
    };
    let before = (offspring(&book, "23-033"), offspring(&book, "23-034"));
    assert!(before.0 > 0 && before.1 > 0, "{before:?}");
    let n = book.n_plants();
    let entered = enter::join(&book, both, when("2026-11-02"), today()).unwrap();
    book.apply(&entered.change).unwrap();
    assert!(roll_is_right(&book));
    assert_eq!((book.by_key("23-033"), book.n_plants()), (None, n - 1));
    assert_eq!(offspring(&book, "23-033"), 0);
    assert!(offspring(&book, "23-034") >= before.0.max(before.1));
    let Some(Part::Seedling(joined)) = book.part(&stays) else { panic!("it is there") };
    let blooms = joined.diary.iter().filter(|e| e.did == PlantDeed::FirstBloom).count();
    assert_eq!(blooms, 1);
    assert!(joined.diary.is_sorted_by_key(|entry| entry.on.first()));
}
