//! The history and the earlier versions, on the screen.

use std::sync::Arc;

use trug::shelf::Machine;

use super::{press, says, stage_with};
use crate::keep::Garden;

#[test]
fn one_change_among_others_is_taken_back_and_what_stands_in_the_way_is_said() {
    let garden = Garden::new();
    let mut screen = stage_with(&garden, Arc::new(Machine), (120, 40));
    press(&mut screen, "2wg26-012<enter>d<left>h<esc>");
    press(&mut screen, "wg26-015<enter>k<esc>H");
    says(&screen, "What was changed with this program, the newest first: 3 changes.");
    says(&screen, "26-015: keep");
    press(&mut screen, "<down><down>");
    says(&screen, "It cannot be taken back by itself: \"26-012: hold\" came after it");
    press(&mut screen, "<up>");
    says(&screen, "It can be taken back by itself: enter.");
    press(&mut screen, "<enter>");
    says(&screen, "Taken back: 26-012: hold.");
    says(&screen, "taken back");
    press(&mut screen, "<down>");
    says(&screen, "It can be taken back by itself: enter.");
}

#[test]
fn an_earlier_version_is_looked_at_and_brought_back() {
    let garden = Garden::new();
    let first = garden.files();
    let mut screen = stage_with(&garden, Arc::new(Machine), (120, 40));
    press(&mut screen, "2wg26-012<enter>d<esc>E");
    says(&screen, "crosses/2025/25X01.ron");
    says(&screen, "26-012: discard");
    says(&screen, "Enter brings it back. What would be changed:");
    says(&screen, "3 Nov 2026: discard");
    press(&mut screen, "<enter>");
    says(&screen, "Brought back crosses/2025/25X01.ron");
    assert_eq!(garden.files(), first);
    press(&mut screen, "u");
    assert_ne!(garden.files(), first);
}
