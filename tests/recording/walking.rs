//! Walking the bed: how few keys it takes, and that what is on the screen is on the disk.

use trug::{
    book::{Life, Look, PlantDeed, Verdict},
    shelf,
    tui::keys,
};

use super::{press, says, stage};
use crate::keep::Garden;

/// What the garden on the disk tells of a plant's last word.
fn word(garden: &Garden, key: &str) -> Option<Verdict> {
    let book = shelf::open(garden.root(), None).unwrap().book;
    let plant = book.by_key(key).unwrap();
    Life::of(book.plant(plant).diary()).verdict.map(|word| word.is)
}

/// The last look that the garden on the disk has of a plant.
fn look(garden: &Garden, key: &str) -> Look {
    let book = shelf::open(garden.root(), None).unwrap().book;
    let diary = book.plant(book.by_key(key).unwrap()).diary();
    let mut looks = diary.iter().filter_map(|entry| match &entry.did {
        PlantDeed::Look(look) => Some((**look).clone()),
        _ => None,
    });
    looks.next_back().unwrap()
}

/// Today's verdicts in the history, oldest first.
fn history(garden: &Garden) -> Vec<String> {
    let (_, keeper) = garden.open();
    keeper.history().unwrap().entries().map(|made| made.what.into()).collect()
}

#[test]
fn thirty_verdicts_take_at_most_35_keys() {
    let garden = Garden::new();
    let mut screen = stage(&garden);
    let script = "2w".to_owned() + &"khd".repeat(10);
    assert!(keys::script(&script).unwrap().len() <= 35);
    press(&mut screen, &script);
    says(&screen, "plant 31 of");
    drop(screen);
    let written = history(&garden);
    assert_eq!(written.len(), 30, "{written:?}");
    assert!(written.iter().step_by(3).all(|what| what.ends_with(": keep")), "{written:?}");
}

#[test]
fn a_look_with_size_two_scores_and_a_verdict_takes_at_most_12_keys() {
    let garden = Garden::new();
    let mut screen = stage(&garden);
    press(&mut screen, "2wg26-012<enter>");
    says(&screen, "26-012");
    let script = "112<tab><tab>7<tab>5k";
    assert!(keys::script(script).unwrap().len() <= 12);
    press(&mut screen, script);
    assert!(!screen.text().lines().nth(3).unwrap().contains("26-012"), "the next one has come");
    let seen = look(&garden, "26-012");
    assert_eq!(seen.bloom_mm, Some(112.0));
    assert_eq!(seen.scores, [("form".into(), 7.0), ("stem".into(), 5.0)]);
    assert_eq!(word(&garden, "26-012"), Some(Verdict::Keep));
    drop(screen);
    assert_eq!(history(&garden).len(), 1, "one change, taken back as one");
}

#[test]
fn a_mind_is_changed_by_going_back_or_by_taking_back() {
    let garden = Garden::new();
    let first = garden.files();
    let mut screen = stage(&garden);
    press(&mut screen, "2wg26-012<enter>d");
    assert_eq!(word(&garden, "26-012"), Some(Verdict::Discard));
    press(&mut screen, "<left>h");
    assert_eq!(word(&garden, "26-012"), Some(Verdict::Hold));
    press(&mut screen, "u");
    says(&screen, "Taken back: 26-012: hold");
    says(&screen, " 26-012   discarded");
    press(&mut screen, "u");
    assert_eq!(garden.files(), first);
    press(&mut screen, "Dgaps between the petals<enter>");
    says(&screen, "26-012: discard, gaps between the petals; u takes it back.");
    press(&mut screen, "<left>");
    says(&screen, "discarded 3 Nov: gaps between the petals");
}

#[test]
fn what_was_begun_is_written_when_one_goes_on_leaves_or_ends() {
    let garden = Garden::new();
    for (script, form) in [("4<right>", 4.0), ("5<esc>", 5.0), ("6q", 6.0), ("7g001<enter>", 7.0)] {
        let mut screen = stage(&garden);
        press(&mut screen, "2wg26-012<enter><tab><tab>");
        press(&mut screen, script);
        drop(screen);
        assert_eq!(look(&garden, "26-012").scores, [("form".into(), form)], "{script}");
    }
}

#[test]
fn faults_colours_note_picture_bloom_and_loss_are_a_few_keys_away() {
    let garden = Garden::new();
    let mut screen = stage(&garden);
    press(&mut screen, "2wg26-012<enter>");
    press(&mut screen, "xab<enter>ch<enter>nheavy with rain<enter>pa.jpg<enter><right>");
    let seen = look(&garden, "26-012");
    assert_eq!(seen.faults, ["open centre".into(), "blown centre".into()]);
    assert_eq!(seen.colours, ["apricot".into()]);
    assert_eq!(seen.note.as_deref(), Some("heavy with rain"));
    assert_eq!(seen.photo.as_deref(), Some("photos/a.jpg"));
    press(&mut screen, "<left>leaten by slugs<enter>");
    says(&screen, "26-012: lost: eaten by slugs");
    press(&mut screen, "ub");
    says(&screen, "Its first bloom was seen on 12 Jul 2026 already.");
}

#[test]
fn what_others_see_is_kept_apart() {
    let garden = Garden::new();
    let before = word(&garden, "26-012");
    let mut screen = stage(&garden);
    press(&mut screen, "2wg26-012<enter>wIda<enter>");
    says(&screen, "with the eyes of Ida");
    press(&mut screen, "<tab><tab>3d");
    let seen = look(&garden, "26-012");
    assert_eq!(seen.who.as_deref(), Some("Ida"));
    assert_eq!(seen.note.as_deref(), Some("would discard"));
    assert_eq!(word(&garden, "26-012"), before, "the raiser's word stands");
}

#[test]
fn a_size_nobody_has_grown_is_refused_where_one_stands() {
    let garden = Garden::new();
    let first = garden.files();
    let mut screen = stage(&garden);
    press(&mut screen, "2wg26-012<enter>1120k");
    says(&screen, "Not written: ");
    says(&screen, " 26-012 ");
    assert_eq!(garden.files(), first);
    press(&mut screen, "<backspace>k");
    assert_eq!(look(&garden, "26-012").bloom_mm, Some(112.0));
}

#[test]
fn the_walk_goes_where_the_list_goes() {
    let garden = Garden::new();
    let mut screen = stage(&garden);
    // The list of those that wait for a word.
    press(&mut screen, "w");
    says(&screen, "Walking the bed: plant 1 of");
    press(&mut screen, "s");
    says(&screen, "The walk goes by number.");
    press(&mut screen, "g9999<enter>");
    says(&screen, "No plant on this walk is called \"9999\".");
}
