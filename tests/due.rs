//! What is due, through a year of the demo garden, counted beside it by hand.

use std::sync::Arc;

use chrono::NaiveDate;
use trug::{
    book::{Book, HeadDeed, HeadState, LotDeed, PlantDeed, Season, When},
    shelf,
    views::{
        Desk, Levels,
        evening::{self, Task, What},
    },
};

fn day(text: &str) -> NaiveDate {
    When::parse(text).unwrap().exact().unwrap()
}

/// The demo garden as it was known on a day.
fn on(today: &str) -> (Arc<Book>, Vec<Task>) {
    let mut book = shelf::open(&crate::demo::folder(), None).unwrap().book;
    let today = day(today);
    // Nothing may be known that had not happened yet.
    let (about, crop, varieties, mut crosses) = book.into_parts();
    for cross in &mut crosses {
        for head in &mut cross.heads {
            head.diary.retain(|entry| entry.on.last() <= today);
        }
        cross.heads.retain(|head| !head.diary.is_empty());
    }
    book = Book::new(about, crop, varieties, crosses);
    let book = Arc::new(book);
    let desk = Desk::new(Arc::clone(&book), today);
    let evening = evening::evening(&desk, desk.last_season(), Levels::default());
    (book, evening.due.unwrap().tasks)
}

fn n(tasks: &[Task], what: What) -> usize {
    tasks.iter().find(|task| task.what == what).map_or(0, |task| task.things.len())
}

/// Heads hanging, by when they were pollinated and cut.
fn hanging(book: &Book) -> Vec<(Option<When>, Option<When>)> {
    let heads = book.crosses().iter().flat_map(|cross| &cross.heads);
    let hanging = heads.filter(|head| head.state() == HeadState::Hanging);
    hanging.map(|head| (head.pollinated(), head.cut())).collect()
}

#[test]
fn heads_are_cut_when_ripe_and_all_before_the_frost_and_rubbed_out_when_dry() {
    let aged = |on: Option<When>, today: &str, days: i64| {
        on.is_some_and(|on| (day(today) - on.first()).num_days() >= days)
    };
    for today in ["2026-09-10", "2026-09-24"] {
        let (book, tasks) = on(today);
        let ripe = hanging(&book)
            .iter()
            .filter(|(pollinated, cut)| cut.is_none() && aged(*pollinated, today, 28))
            .count();
        assert_eq!(n(&tasks, What::Cut), ripe, "{today}");
    }
    // The middle one of the frosts of eight years is that of 2 November.
    let (book, tasks) = on("2026-10-19");
    let uncut = hanging(&book).iter().filter(|(_, cut)| cut.is_none()).count();
    assert_eq!(n(&tasks, What::Cut), uncut);
    let dry = hanging(&book).iter().filter(|(_, cut)| aged(*cut, "2026-10-19", 14)).count();
    assert!(uncut > 0 && dry > 0, "{uncut} {dry}");
    assert_eq!(n(&tasks, What::Thresh), dry);
    let cut = tasks.iter().find(|task| task.what == What::Cut).unwrap();
    assert_eq!(cut.note, "the frost comes about 2 Nov here");
    let days: Vec<_> = cut.things.iter().filter_map(|(_, since)| *since).collect();
    assert!(days.is_sorted(), "the oldest first");
}

#[test]
fn packets_are_due_in_sowing_time_only() {
    let (book, tasks) = on("2027-04-01");
    let lots = book.crosses().iter().flat_map(|cross| &cross.lots);
    let unsown = lots.filter(|lot| {
        lot.left() != Some(0) && !lot.diary.iter().any(|e| matches!(e.did, LotDeed::Sown { .. }))
    });
    assert_eq!(n(&tasks, What::Sow), unsown.count());
    assert!(n(&tasks, What::Sow) > 0);
    for today in ["2026-11-03", "2027-01-15", "2027-08-01"] {
        assert_eq!(n(&on(today).1, What::Sow), 0, "{today}");
    }
}

#[test]
fn tubers_are_looked_over_in_winter_and_woken_in_spring() {
    let in_store = |book: &Book| {
        let plants = book.plants().filter(|id| {
            let diary = book.plant(*id).diary();
            let last = diary.iter().rposition(|e| matches!(e.did, PlantDeed::Lifted { .. }));
            let lifted = last.filter(|n| diary[*n].on.season() == Season(2026));
            let is_alive = trug::book::Life::of(diary).is_alive();
            is_alive
                && lifted.is_some_and(|n| {
                    diary[n].did != PlantDeed::Lifted { tubers: Some(0), store: None }
                })
        });
        plants.count()
    };
    let (book, tasks) = on("2027-01-10");
    let stored = in_store(&book);
    assert!(stored > 5, "{stored}");
    assert_eq!(n(&tasks, What::Check), stored, "nobody looked since they were lifted");
    assert_eq!(n(&tasks, What::Wake), 0);
    let (_, tasks) = on("2027-03-20");
    assert_eq!(n(&tasks, What::Check), 0);
    assert_eq!(n(&tasks, What::Wake), stored);
    assert_eq!(n(&on("2026-11-03").1, What::Check), 0, "too soon after lifting");
}

#[test]
fn nothing_is_said_of_buds_while_there_is_time() {
    assert_eq!(n(&on("2026-08-01").1, What::Bud), 0);
    let (_, tasks) = on("2026-11-03");
    let bud = tasks.iter().find(|task| task.what == What::Bud).unwrap();
    assert!(bud.note.contains("plants"), "with its counts: {}", bud.note);
}

#[test]
fn seed_that_is_in_no_packet_is_told_until_it_is() {
    let (book, _) = on("2026-11-03");
    let (about, crop, varieties, mut crosses) = Arc::unwrap_or_clone(book).into_parts();
    let at = crosses
        .iter()
        .position(|cross| {
            cross.season == Some(Season(2026))
                && cross.lots.len() == 1
                && cross
                    .heads
                    .iter()
                    .flat_map(|head| &head.diary)
                    .any(|entry| matches!(entry.did, HeadDeed::Threshed { seeds } if seeds > 0))
        })
        .unwrap();
    let due = |crosses| {
        let book = Book::new(about.clone(), Arc::clone(&crop), varieties.clone(), crosses);
        let desk = Desk::new(Arc::new(book), day("2026-11-03"));
        evening::task(&desk, What::Pack).map_or(0, |task| task.things.len())
    };
    let before = due(crosses.clone());
    crosses[at].lots.clear();
    assert_eq!(due(crosses), before + 1);
}
