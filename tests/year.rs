//! A whole year from the keyboard, each part of it on a day of its own with the program closed
//! between: and at its end the evening and the pairings say what those counts give by hand.

use std::{fs, sync::Arc};

use tempfile::TempDir;
use trug::{
    book::{Book, Counts, When},
    shelf::{self, Keeper, Machine, Tools},
    tui::{Event, Settings, Shown, Stage, Start},
    views::Desk,
};

struct Year(TempDir);

impl Year {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let text = "(\n    format: 1,\n    garden: \"Fen End\",\n    crop: \"dahlia\",\n    beds: [\
                    \n        (name: \"A\", rows: 2, places: 4),\n    ],\n)\n";
        fs::write(folder.path().join("book.ron"), text).unwrap();
        Self(folder)
    }

    /// The screen as it is opened on a day.
    fn on(&self, day: &str) -> Stage {
        let today = When::parse(day).unwrap().exact().unwrap();
        let now = today.and_hms_opt(18, 0, 0).unwrap();
        let clock = Arc::new(move || now);
        let tools = Tools { who: "Ida".into(), clock, system: Arc::new(Machine) };
        let (opened, keeper) = Keeper::open(self.0.path(), None, tools).unwrap();
        assert_eq!(opened.problems, []);
        let desk = Arc::new(Desk::new(Arc::new(opened.book), today));
        let shown = Shown { keeper: Some(Box::new(keeper)), ..Shown::only(desk, Vec::new()) };
        Stage::begin(Start::Book(shown), Settings::default(), (120, 40))
    }

    fn book(&self) -> Book {
        let opened = shelf::open(self.0.path(), None).unwrap();
        assert_eq!(opened.problems, []);
        opened.book
    }
}

#[track_caller]
fn press(stage: &mut Stage, script: &str) {
    stage.press(script).unwrap_or_else(|| panic!("{script} names a key that there is not"));
}

#[track_caller]
fn find(stage: &mut Stage, name: &str) {
    press(stage, "/");
    stage.take(Event::Paste(name.to_owned()));
    press(stage, "<enter>");
}

#[track_caller]
fn says(stage: &Stage, words: &str) {
    let text = stage.text();
    assert!(text.contains(words), "no \"{words}\" on\n{text}");
}

/// The line of the screen that begins so, with single blanks.
#[track_caller]
fn line(stage: &Stage, begins: &str) -> String {
    let text = stage.text();
    let squeezed = text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    let found = squeezed.into_iter().find(|line| line.contains(begins));
    found.unwrap_or_else(|| panic!("no line with \"{begins}\" on\n{text}"))
}

/// Writes down the likeliest deed of what is under the cursor, with this in its first field.
#[track_caller]
fn next(stage: &mut Stage, content: &str, said: &str) {
    press(stage, &format!("n<enter>{content}<enter>"));
    says(stage, said);
}

fn varieties_and_a_cross(year: &Year) {
    let mut screen = year.on("2026-08-20");
    press(&mut screen, "nvariety<enter>Harbour Light<enter>");
    says(&screen, "Took in Harbour Light");
    press(&mut screen, "nvariety<enter>Fen Ember<tab>Tom<enter>");
    says(&screen, "Took in Fen Ember");
    press(&mut screen, "n");
    press(&mut screen, "cross<enter>harbour light<tab><tab>fen<tab><tab><tab>4<enter>");
    says(&screen, "Made the cross 26X01");
    let counts = year.book().cross_with("26X01").unwrap().counts();
    assert_eq!(counts.heads, 4);
}

fn autumn(year: &Year) {
    let mut screen = year.on("2026-10-05");
    says(&screen, "4  heads to cut");
    find(&mut screen, "26X01");
    press(&mut screen, "nall cut<enter><enter>");
    says(&screen, "head 1, head 2, head 3, head 4: cut");
    press(&mut screen, "nhead 1 rotted<enter><enter>");
    says(&screen, "26X01, head 1: rotted");
    drop(screen);
    let mut screen = year.on("2026-10-25");
    says(&screen, "3  heads dry enough to rub out");
    find(&mut screen, "26X01");
    next(&mut screen, "12", "26X01, head 2: threshed, 12 seeds");
    next(&mut screen, "9", "26X01, head 3: threshed, 9 seeds");
    next(&mut screen, "0", "26X01, head 4: threshed, empty");
    next(&mut screen, "", "Filled the packet 26X01-a");
    let lot = year.book().cross_with("26X01").unwrap().lots[0].clone();
    assert_eq!((lot.seeds, lot.left()), (Some(21), Some(21)), "all that was threshed");
}

fn spring(year: &Year) {
    let mut screen = year.on("2027-04-01");
    says(&screen, "1  packet to sow");
    find(&mut screen, "26X01");
    next(&mut screen, "20", "26X01-a: 20 seeds sown");
    drop(screen);
    let mut screen = year.on("2027-04-20");
    find(&mut screen, "26X01");
    next(&mut screen, "14", "26X01-a: 14 came up");
    press(&mut screen, "npricked<enter>12<enter>");
    says(&screen, "26X01-a: 12 pricked out");
    next(&mut screen, "6", "Numbered 27-001 to 27-006 of 26X01, 6 plants");
    drop(screen);
    let mut screen = year.on("2027-05-25");
    find(&mut screen, "26X01");
    next(&mut screen, "A/1/1", "Planted 27-001 to 27-006 of 26X01 from A/1/1, 6 plants");
    let book = year.book();
    let last = book.plant(book.by_key("27-006").unwrap());
    let life = trug::book::Life::of(last.diary());
    assert_eq!(life.position.unwrap().to_string(), "A/2/2", "on along the next row");
}

fn summer(year: &Year) {
    let mut screen = year.on("2027-09-01");
    // Along the rows: five in bloom, of which four get a word, and one in bud.
    press(&mut screen, "2wbkbkbdbhb<right>i<esc>");
    drop(screen);
    // Along them once more: a mind made up, and one that was missed.
    let mut screen = year.on("2027-10-10");
    press(&mut screen, "2wg27-004<enter>kd<esc>");
    drop(screen);
    let book = year.book();
    let kept = ["27-001", "27-002", "27-003", "27-004", "27-005", "27-006"].map(|number| {
        let life = trug::book::Life::of(book.plant(book.by_key(number).unwrap()).diary());
        (life.first_bloom.is_some(), life.verdict.map(|word| word.is.word()))
    });
    let (keep, discard) = (Some("keep"), Some("discard"));
    let by_hand = [keep, keep, discard, keep, discard].map(|word| (true, word));
    assert_eq!(kept[..5], by_hand);
    assert_eq!(kept[5], (false, None));
}

fn winter(year: &Year) {
    let mut screen = year.on("2027-11-02");
    press(&mut screen, "1nfirst-frost<enter>2027-10-24<enter>");
    says(&screen, "the first frost of autumn, 24 Oct 2027");
    press(&mut screen, "1");
    says(&screen, "3  plants to lift");
    for (plant, tubers) in [("27-001", "4"), ("27-002", "3"), ("27-004", "2")] {
        find(&mut screen, plant);
        next(&mut screen, &format!("{tubers}<tab>box 3"), "tubers, box 3");
    }
    drop(screen);
    let mut screen = year.on("2028-01-10");
    says(&screen, "3  stored plants to look over");
    find(&mut screen, "27-001");
    next(&mut screen, "3", "27-001: looked over, 3 tubers sound");
}

#[test]
fn a_year_written_down_by_keys_is_told_as_it_was() {
    let year = Year::new();
    varieties_and_a_cross(&year);
    autumn(&year);
    spring(&year);
    summer(&year);
    winter(&year);
    let counts = year.book().cross_with("26X01").unwrap().counts();
    let by_hand = Counts {
        heads: 4,
        seeds: 21,
        sown: 20,
        up: 14,
        planted: 6,
        bloomed: 5,
        judged: 5,
        kept: 3,
        ..counts
    };
    assert_eq!(counts, by_hand);
    let mut screen = year.on("2028-01-10");
    says(&screen, "2  stored plants to look over");
    for (begins, n) in [
        ("seed sown", "seed sown 20"),
        ("came up", "came up 14"),
        ("planted", "planted 6"),
        ("opened", "opened 5"),
        ("judged", "judged 5"),
        ("kept", "kept 3"),
    ] {
        let text = screen.text();
        let is_said = text.lines().any(|line| {
            let squeezed = line.split_whitespace().collect::<Vec<_>>().join(" ");
            squeezed.starts_with(n) && line.trim_start().starts_with(begins)
        });
        assert!(is_said, "no \"{n}\" on\n{text}");
    }
    says(&screen, "behind the keepers of 2027");
    let text = screen.text();
    let behind = text.lines().filter(|line| line.contains("Harbour Light × Fen Ember"));
    assert!(behind.clone().any(|line| line.contains("3 of 5")), "{text}");
    press(&mut screen, "4");
    let pairing = line(&screen, "Harbour Light × Fen Ember");
    assert!(pairing.contains("3 of 5"), "{pairing}");
    press(&mut screen, "[");
    find(&mut screen, "26X01");
    says(&screen, "4: 2 ripe, 1 rotted, 1 empty");
    says(&screen, "1 left in 1 packet");
    // Everything is taken back, one by one, to a garden with nothing in it.
    press(&mut screen, "1");
    for _ in 0..60 {
        press(&mut screen, "u");
    }
    says(&screen, "There is nothing to undo.");
    drop(screen);
    let book = year.book();
    assert_eq!((book.crosses().len(), book.varieties().len()), (0, 0));
}
