//! Forms: what shell and screen write down, and what they refuse to.

use chrono::NaiveDate;
use trug::{
    book::{
        Book, Change, HeadDeed, HeadState, Part, PlantDeed, Pollen, Spot, When, enter::Entered,
    },
    shelf,
    views::forms::{self, FORMS, Field, Filled, Form, Kind, List, Of, Unfit},
};

fn demo() -> Book {
    shelf::open(&crate::demo::folder(), None).unwrap().book
}

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 3).unwrap()
}

fn on(day: &str) -> Filled {
    Filled::new(When::parse(day).unwrap())
}

fn enter(book: &Book, spot: &Spot, word: &str, filled: &Filled) -> Result<Entered, Unfit> {
    let form = forms::named(Of::at(spot), word).unwrap_or_else(|| panic!("no form {word}"));
    form.enter(book, std::slice::from_ref(spot), filled, today())
}

#[track_caller]
fn done(book: &mut Book, spot: &Spot, word: &str, filled: &Filled) -> Change {
    let entered = enter(book, spot, word, filled).unwrap();
    book.apply(&entered.change).unwrap();
    entered.change
}

/// A thing of the demo garden of which a form can be filled in.
fn spot(form: &Form) -> Spot {
    match form.of {
        Of::Garden => Spot::About,
        Of::Plant => Spot::Seedling("25X01".into(), "26-012".into()),
        Of::Head => Spot::Head("26X02".into(), 2),
        Of::Packet => Spot::Lot("25X01".into(), 0),
        Of::Cross => Spot::Cross("26X02".into()),
    }
}

/// Something that may stand in a field.
fn sample(form: &Form, field: &Field) -> &'static str {
    match (form.word, field.name, field.kind) {
        (_, _, Kind::Count) => "3",
        (_, _, Kind::Size(_)) => "95",
        (_, _, Kind::Word(List::Groups)) => "D",
        (_, _, Kind::Words(List::Colours)) => "apricot, tipped",
        (_, _, Kind::Words(List::Faults)) => "nods",
        (_, _, Kind::Scores) => "form=7, stem 5",
        (_, _, Kind::Place) => "C/2/13",
        (_, _, Kind::Plant) => "26-014",
        (_, "seed", _) => "ferry lantern",
        (_, "pollen", _) => "24-031|saltmarsh",
        (_, _, Kind::Choice(words)) => words[words.len() - 1],
        ("moved", "cross", _) => "25X02",
        ("moved", "packet", _) => "25X02-a",
        (_, "packet", _) => "26X02-a",
        (_, "tag", _) => "sky 1, sky 2",
        (_, "code", _) => "26X77",
        (_, "first", _) => "26-900",
        _ => "some words",
    }
}

fn full(form: &Form) -> Filled {
    form.fields
        .iter()
        .fold(on("2026-11-02"), |filled, field| filled.with(field.name, sample(form, field)))
}

/// The forms that need nothing special of the garden to be filled in whole.
fn ordinary() -> impl Iterator<Item = &'static Form> {
    FORMS.into_iter().flatten().filter(|form| !["plant-out", "same-as"].contains(&form.word))
}

#[test]
fn every_form_filled_in_is_a_change_that_can_be_taken_back() {
    let book = demo();
    for form in ordinary() {
        let spot = spot(form);
        let entered = form
            .enter(&book, std::slice::from_ref(&spot), &full(form), today())
            .unwrap_or_else(|err| panic!("{} of {}: {err:?}", form.word, form.of.name()));
        assert!(!entered.change.is_nothing(), "{}", form.word);
        assert!(!entered.change.what.is_empty());
        let mut after = book.clone();
        after.apply(&entered.change).unwrap();
        after.apply(&entered.change.reversed()).unwrap();
        assert_eq!(after.part(&spot), book.part(&spot), "{}", form.word);
    }
}

#[test]
fn nothing_is_asked_for_in_vain() {
    let book = demo();
    for form in ordinary() {
        let spot = spot(form);
        let made = |filled: &Filled| {
            form.enter(&book, std::slice::from_ref(&spot), filled, today()).map(|e| e.change.steps)
        };
        let whole = made(&full(form)).unwrap();
        for field in form.fields {
            let mut without = full(form);
            without.set(field.name, " ");
            match made(&without) {
                Ok(steps) => {
                    assert!(!field.is_needed, "{}: {} is needed", form.word, field.name);
                    assert_ne!(steps, whole, "{}: {} changes nothing", form.word, field.name);
                }
                Err(Unfit::Field { field: of, .. }) => {
                    assert!(field.is_needed && of == field.name, "{}: {of}", form.word);
                }
                Err(err) => panic!("{}: {err:?}", form.word),
            }
        }
    }
}

#[test]
fn words_and_fields_are_told_apart() {
    for of in Of::ALL {
        let words: Vec<&str> = forms::of(of).map(|form| form.word).collect();
        for (n, word) in words.iter().enumerate() {
            assert!(!words[..n].contains(word), "{word} twice of {}", of.name());
        }
        for form in forms::of(of) {
            let behind = form.fields.iter().filter(|field| field.is_behind).count();
            assert!(behind <= 1, "{}", form.word);
            let needed = form.fields.iter().filter(|field| field.is_needed && !field.is_behind);
            assert_eq!(needed.count(), 0, "{}: what is needed stands behind", form.word);
        }
    }
}

#[test]
fn cautions_belong_to_deeds_that_there_are() {
    let crop = shelf::crop_file::builtin("dahlia").unwrap();
    assert!(!crop.cautions.is_empty());
    for at in crop.cautions.iter().flat_map(|caution| &caution.at) {
        let is_word = FORMS.into_iter().flatten().any(|form| *form.word == **at);
        assert!(is_word || &**at == "selfed", "{at}");
    }
    let book = demo();
    let treated = forms::named(Of::Plant, "treated").unwrap();
    assert!(treated.cautions(&book).any(|caution| caution.contains("label")));
    let disposed = forms::named(Of::Plant, "disposed").unwrap();
    assert!(disposed.cautions(&book).any(|caution| caution.contains("heap")));
    assert_eq!(forms::named(Of::Plant, "keep").unwrap().cautions(&book).count(), 0);
}

#[test]
fn what_cannot_be_read_is_complained_of_at_its_field() {
    let book = demo();
    let plant = Spot::Seedling("25X01".into(), "26-012".into());
    for (spot, word, field, content) in [
        (&plant, "look", "bloom", "-3"),
        (&plant, "look", "bloom", "big"),
        (&plant, "look", "score", "form"),
        (&plant, "checked", "sound", "two"),
        (&plant, "planted", "at", "A3"),
        (&Spot::About, "cross", "seed", "nobody at all"),
        (&Spot::About, "cross", "by", "wind"),
        (&Spot::Lot("25X01".into(), 0), "number", "plants", "0"),
    ] {
        let mut filled = on("2026-11-02").with(field, content);
        if field == "by" {
            filled.set("seed", "saltmarsh");
        }
        let Err(Unfit::Field { field: of, message, hint }) = enter(&book, spot, word, &filled)
        else {
            panic!("{word} {field} {content} was taken");
        };
        assert_eq!(of, field);
        assert!(message.ends_with('.') && hint.ends_with(['.', '?']), "{message} {hint}");
    }
    let inches = enter(&book, &plant, "look", &on("2026-11-02").with("bloom", "11,2 mm")).unwrap();
    assert!(inches.change.what.contains("11.2 mm"));
}

#[test]
fn an_oversize_bloom_is_doubted_and_taken() {
    let book = demo();
    let plant = Spot::Seedling("25X01".into(), "26-012".into());
    let look = |mm| enter(&book, &plant, "look", &on("2026-11-02").with("bloom", mm)).unwrap();
    assert_eq!(look("450").doubts, []);
    let doubts = look("451").doubts;
    assert!(doubts[0].message.contains("larger than any known"), "{doubts:?}");
}

#[test]
fn a_cross_of_odd_parents_is_doubted() {
    let mut book = demo();
    let made = |book: &Book, filled: Filled| enter(book, &Spot::About, "cross", &filled).unwrap();
    let selfed =
        made(&book, on("2026-08-20").with("seed", "saltmarsh").with("pollen", "saltmarsh"));
    assert!(selfed.doubts.iter().any(|odd| odd.hint.contains("their own pollen")));
    let Some(Part::Cross(cross)) = &selfed.change.steps[0].after else { panic!("no cross") };
    assert_eq!(cross.pollen, Pollen::Selfed);
    let barren = on("2026-05-01").with("name", "Full Sail").with("sets-seed", "no");
    done(&mut book, &Spot::About, "variety", &barren);
    let vain = made(&book, on("2026-08-20").with("seed", "Full Sail").with("pollen", "24-031"));
    assert!(vain.doubts.iter().any(|odd| odd.message.contains("sets no seed")), "{vain:?}");
    let later = on("2024-08-20").with("seed", "26-012").with("pollen", "saltmarsh");
    assert!(enter(&book, &Spot::About, "cross", &later).is_err(), "a parent not yet raised");
}

#[test]
fn a_run_of_numbers_goes_on_from_the_pattern_and_along_the_rows() {
    let mut book = demo();
    let cross = Spot::Cross("26X02".into());
    done(&mut book, &cross, "packet", &on("2026-11-02").with("code", "tin 9"));
    let lot = book.cross_with("26X02").unwrap().lots.len() - 1;
    let lot = Spot::Lot("26X02".into(), lot);
    let run = on("2026-11-02").with("plants", "3").with("at", "C/2/13");
    done(&mut book, &lot, "number", &run);
    let family = &book.cross_with("26X02").unwrap().seedlings;
    let told: Vec<String> = family
        .iter()
        .filter(|seedling| seedling.lot.as_deref() == Some("tin 9"))
        .map(|seedling| match &seedling.diary[..] {
            [_, planted] => format!("{}: {:?}", seedling.number, planted.did),
            other => panic!("{other:?}"),
        })
        .collect();
    let before = demo();
    let highest = before
        .plants()
        .filter_map(|id| before.plant(id).number()?.strip_prefix("26-")?.parse::<u32>().ok())
        .max()
        .unwrap();
    assert_eq!(told.len(), 3);
    assert!(told[0].starts_with(&format!("26-{:03}:", highest + 1)), "{told:?}");
    let ends = ["row: 2, place: 13 }))", "row: 2, place: 14 }))", "row: 3, place: 1 }))"];
    assert!(told.iter().zip(ends).all(|(told, end)| told.ends_with(end)), "{told:?}");
    let again = enter(&book, &lot, "number", &run).unwrap();
    assert!(again.doubts.iter().any(|odd| odd.message.contains("stands at C/2/13 already")));
    let beyond = on("2026-11-02").with("plants", "3").with("at", "C/8/13");
    assert!(matches!(enter(&book, &lot, "number", &beyond), Err(Unfit::Field { field: "at", .. })));
}

#[test]
fn what_waits_in_its_pots_is_planted_out_in_order() {
    let mut book = demo();
    let cross = Spot::Cross("26X02".into());
    let run = on("2026-11-01").with("plants", "4").with("first", "s 07");
    done(&mut book, &cross, "number", &run);
    let out = on("2026-11-02").with("at", "C/8/1").with("plants", "3").with("first", "S 08");
    done(&mut book, &cross, "plant-out", &out);
    let family = &book.cross_with("26X02").unwrap().seedlings;
    let places: Vec<(&str, Option<String>)> = family
        .iter()
        .filter(|seedling| seedling.number.starts_with("s 0") || seedling.number.starts_with("s 1"))
        .map(|seedling| {
            let place = seedling.diary.iter().find_map(|entry| match &entry.did {
                PlantDeed::Planted(Some(place)) => Some(place.to_string()),
                _ => None,
            });
            (&*seedling.number, place)
        })
        .collect();
    let at = |n: &str| Some(format!("C/8/{n}"));
    assert_eq!(places, [("s 07", None), ("s 08", at("1")), ("s 09", at("2")), ("s 10", at("3"))]);
}

#[test]
fn several_heads_are_written_down_at_once() {
    let mut book = demo();
    let cross = Spot::Cross("26X02".into());
    done(&mut book, &cross, "head", &on("2026-09-09").with("tag", "sky 1, sky 2"));
    let n = book.cross_with("26X02").unwrap().heads.len();
    let both = [Spot::Head("26X02".into(), n - 2), Spot::Head("26X02".into(), n - 1)];
    let rotted = forms::named(Of::Head, "rotted").unwrap();
    let entered = rotted.enter(&book, &both, &on("2026-10-01"), today()).unwrap();
    assert_eq!(&*entered.change.what, "26X02, head sky 1, head sky 2: rotted, 1 Oct 2026");
    book.apply(&entered.change).unwrap();
    let heads = &book.cross_with("26X02").unwrap().heads[n - 2..];
    assert!(heads.iter().all(|head| head.state() == HeadState::Rotted));
    assert!(heads.iter().all(|head| head.diary[0].did == HeadDeed::Pollinated));
    let taken = enter(&book, &cross, "head", &on("2026-09-09").with("tag", "sky 1"));
    assert!(matches!(taken, Err(Unfit::Field { field: "tag", .. })), "{taken:?}");
}

#[test]
fn frosts_stand_on_the_first_page_and_not_twice() {
    let mut book = demo();
    done(&mut book, &Spot::About, "first-frost", &on("2026-10-20"));
    done(&mut book, &Spot::About, "first-frost", &on("2026-10-24"));
    let frosts = book.about().frosts.iter().filter(|frost| frost.season.0 == 2026);
    let first: Vec<_> = frosts.map(|frost| frost.first.map(|day| day.to_string())).collect();
    assert_eq!(first, [Some("2026-10-24".to_owned())]);
    assert!(enter(&book, &Spot::About, "first-frost", &on("2026-10")).is_err(), "no day");
    assert!(enter(&book, &Spot::About, "first-frost", &on("2027-10-24")).is_err(), "not yet");
    assert!(enter(&book, &Spot::About, "weather", &on("2026-12-24").with("text", "snow")).is_err());
}
