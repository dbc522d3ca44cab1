//! The page of first blooms: the curve of a group beside all plants, with its counts, and what
//! holding over is worth.

use std::sync::Arc;

use chrono::NaiveDate;
use trug::{
    book::{
        About, Book, Crop, Cross, Entry, PlantDeed, Pollen, Season, Seedling, Variety, Verdict,
        When,
    },
    tui::{
        Settings, Stage,
        place::{Kind, Place},
    },
    views::{Desk, Levels, waits, waits::Whose},
};

use crate::sample;

fn stage(desk: &Arc<Desk>, ascii: bool) -> Stage {
    Stage::new(desk.clone(), Settings { ascii, ..Settings::default() }, (100, 40))
}

fn has_dots(shown: &str) -> bool {
    shown.chars().any(|c| ('\u{2801}'..='\u{28ff}').contains(&c))
}

#[test]
fn from_a_cross_one_key_shows_its_curve_beside_all_plants_with_the_counts_of_both() {
    let desk = sample::desk();
    let cross = desk.book().cross_ids().find(|&id| desk.counts(id).bloomed > 3).unwrap();
    let code = desk.book().cross(cross).code.to_string();
    let mut stage = stage(&desk, false);
    stage.press(&format!("/{code}<enter>B")).unwrap();
    assert_eq!(stage.place(), Place::Blooms(Whose::Cross(cross)));
    let page = waits::page(&desk, Whose::Cross(cross), Levels::default());
    let shown = stage.text();
    for line in [&page.groups[0], &page.programme] {
        let counts = format!("{} of {} opened", line.bloomed, line.watched);
        assert!(shown.contains(&counts), "{counts}:\n{shown}");
    }
    assert!(has_dots(&shown) && shown.contains("100 %"), "{shown}");
    assert!(shown.contains("held over"), "{shown}");
    stage.press("<enter>").unwrap();
    assert_eq!(stage.place(), Place::Cross(cross));
}

#[test]
fn the_cursor_chooses_the_curve_and_a_terminal_without_dots_gets_letters() {
    let desk = sample::desk();
    let mut stage = stage(&desk, true);
    stage.press("1B").unwrap();
    let first = stage.text();
    assert!(first.is_ascii() || !has_dots(&first), "{first}");
    assert!(first.contains('*') && first.contains(". "), "{first}");
    stage.press("jjj").unwrap();
    assert_ne!(first, stage.text(), "another group is drawn");
}

#[test]
fn a_parent_is_asked_for_its_offspring_and_another_plant_for_its_family() {
    let desk = sample::desk();
    let mut stage = stage(&desk, false);
    stage.press("/ferry<enter>B").unwrap();
    let ferry = desk.book().by_key("ferry-lantern").unwrap();
    assert_eq!(stage.place(), Place::Blooms(Whose::Parent(ferry)));
    let childless = desk.book().plants().find(|&plant| {
        desk.pedigree().offspring(plant).is_empty() && desk.book().cross_of(plant).is_some()
    });
    let childless = childless.unwrap();
    stage.press(&format!("/{}<enter>B", desk.label(childless))).unwrap();
    assert_eq!(
        stage.place(),
        Place::Blooms(Whose::Cross(desk.book().cross_of(childless).unwrap()))
    );
}

fn on(day: &str, did: PlantDeed) -> Entry<PlantDeed> {
    Entry { on: When::parse(day).unwrap(), did }
}

/// A book of one cross whose plants have these diaries.
fn desk_of(diaries: Vec<Vec<Entry<PlantDeed>>>) -> Arc<Desk> {
    let seedlings = (1..).zip(diaries).map(|(n, diary)| Seedling {
        number: format!("26-{n:03}").into(),
        diary,
        ..Seedling::default()
    });
    let cross = Cross {
        code: "25X1".into(),
        season: Some(Season(2025)),
        seed: trug::book::Parent::Known("a".into()),
        pollen: Pollen::Selfed,
        seedlings: seedlings.collect(),
        ..Cross::default()
    };
    let a = Variety { id: "a".into(), name: "Anchor Row".into(), ..Variety::default() };
    let book = Book::new(About::default(), Arc::new(Crop::default()), vec![a], vec![cross]);
    Arc::new(Desk::new(Arc::new(book), NaiveDate::from_ymd_opt(2026, 11, 3).unwrap()))
}

#[test]
fn degenerate_books_give_sense() {
    let planted = || on("2026-05-28", PlantDeed::Planted(None));
    let bloom = || on("2026-08-10", PlantDeed::FirstBloom);
    let word = |is| on("2026-09-20", PlantDeed::Verdict { is, why: None, who: None });
    let books = [
        vec![],
        vec![vec![]],
        vec![vec![planted()]],
        vec![vec![planted(), bloom()]],
        vec![vec![planted(), bloom(), word(Verdict::Hold)]; 12],
        vec![vec![planted(), on("2026-05-28", PlantDeed::FirstBloom)]; 3],
    ];
    for diaries in books {
        let desk = desk_of(diaries);
        for way in ["1B", "3<enter>B", "/anchor<enter>B", "/anchor<enter>p", "/anchor<enter>5"] {
            for ascii in [false, true] {
                let mut stage = stage(&desk, ascii);
                stage.press(way).unwrap();
                for size in [(40, 8), (66, 14), (80, 24), (200, 60)] {
                    stage.resize(size);
                    let shown = stage.text();
                    assert!(!shown.contains("NaN") && !shown.contains("inf %"), "{way}:\n{shown}");
                }
            }
        }
    }
    let mut stage = stage(&sample::empty_desk(), false);
    stage.press("B").unwrap();
    assert_eq!(stage.place().kind(), Kind::Blooms);
    assert!(stage.text().contains("No first bloom"), "{}", stage.text());
}
