//! Two at one book: what an editor or git did meanwhile is taken in, and where both changed the
//! same somebody is asked.

use std::sync::Arc;

use trug::shelf::{Machine, open};

use super::{press, says, stage, stage_with};
use crate::keep::Garden;

const FILE: &str = "crosses/2025/25X01.ron";
const WORD: &str = "Verdict(is: Keep, why: \"lasted nine days in the jug\")";

/// Gives 26-012 a word on the screen, changes it, and meanwhile the same in the file.
fn both(garden: &Garden) -> trug::tui::Stage {
    let mut screen = stage_with(garden, Arc::new(Machine), (120, 40));
    press(&mut screen, "2wg26-012<enter>Hmaybe<enter>");
    says(&screen, "26-012: hold, maybe");
    garden.edit(FILE, "is: Hold, why: \"maybe\"", "is: Hold, why: \"surely\"");
    press(&mut screen, "<left>Dweak neck<enter>");
    says(&screen, "The same was changed elsewhere meanwhile. Which way stands?");
    says(&screen, "3 Nov 2026: discard, weak neck");
    says(&screen, "3 Nov 2026: hold, surely");
    screen
}

#[test]
fn where_both_changed_the_same_mine_can_stand() {
    let garden = Garden::new();
    let mut screen = both(&garden);
    press(&mut screen, "<enter>");
    says(&screen, "Settled and written");
    let text = garden.read(FILE);
    assert!(text.contains("why: \"weak neck\"") && !text.contains("surely"), "{text}");
}

#[test]
fn where_both_changed_the_same_theirs_can_stand() {
    let garden = Garden::new();
    let mut screen = both(&garden);
    press(&mut screen, "<right><enter>");
    let text = garden.read(FILE);
    assert!(!text.contains("why: \"weak neck\"") && text.contains("surely"), "{text}");
    press(&mut screen, "g26-012<enter>");
    says(&screen, "surely");
}

#[test]
fn what_others_wrote_in_the_same_family_is_taken_in_and_shown() {
    let garden = Garden::new();
    let mut screen = stage(&garden);
    garden.edit(FILE, WORD, "Verdict(is: Keep, why: \"lasted ten days in the jug\")");
    press(&mut screen, "2wg26-015<enter>k");
    says(&screen, "26-015: keep");
    press(&mut screen, "g26-012<enter>");
    says(&screen, "lasted ten days in the jug");
    let opened = open(garden.root(), None).unwrap();
    assert!(opened.problems.is_empty());
}
