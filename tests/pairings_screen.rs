//! The pairings: keys pressed, and what the screen then shows.

use crate::sample;
use trug::tui::{Event, Settings, Stage, place::Place};

fn stage(size: (u16, u16)) -> Stage {
    let mut stage = Stage::new(sample::desk(), Settings::default(), size);
    stage.press("4").unwrap();
    stage
}

/// The first line with these words.
fn line(stage: &Stage, words: &str) -> String {
    let text = stage.text();
    let found = text.lines().find(|line| line.contains(words));
    found.unwrap_or_else(|| panic!("no {words:?} in\n{text}")).to_owned()
}

#[test]
fn the_ranking_gives_each_pairing_its_counts_and_its_range() {
    let stage = stage((80, 24));
    line(&stage, "Which pairs give keepers");
    let row = line(&stage, "Ferry Lantern × Saltmarsh");
    for part in [" of ", "├", "●", "┤", " %", "–"] {
        assert!(row.contains(part), "no {part:?} in {row}");
    }
    line(&stage, "75 %");
}

#[test]
fn the_most_promising_stand_first_and_the_order_can_be_turned() {
    let mut stage = stage((100, 40));
    let chances = |stage: &Stage| -> Vec<u32> {
        let text = stage.text();
        let ranges = text.lines().filter(|l| l.contains('├'));
        let shares = ranges.map(|l| l.split_once(" %").unwrap().0.rsplit(' ').next().unwrap());
        shares.map(|share| share.parse().unwrap()).collect()
    };
    let falling = chances(&stage);
    assert!(falling.len() > 3 && falling.is_sorted_by(|a, b| a >= b), "{falling:?}");
    stage.press("r").unwrap();
    let rising = chances(&stage);
    assert!(rising.is_sorted() && rising != falling, "{rising:?}");
}

#[test]
fn seed_parents_stand_down_and_pollen_parents_across() {
    let mut stage = stage((80, 24));
    stage.press("<tab>").unwrap();
    line(&stage, "seed parents down, pollen parents across");
    let text = stage.text();
    let row = text.lines().find(|l| l.starts_with(" Ferry Lantern ")).unwrap();
    assert!(row.contains('/'), "its own figures and a pair's: {row}");
    line(&stage, "kept/judged");
    line(&stage, "above,");
}

#[test]
fn the_cursor_of_the_grid_names_the_pair_and_enter_opens_it() {
    let mut stage = stage((170, 40));
    stage.press("jj<tab>").unwrap();
    let told = line(&stage, "turned: ");
    assert!(told.contains(" Ferry Lantern × Saltmarsh  15 of 40 kept"), "{told}");
    line(&stage, "a new seedling would be kept: 36 %");
    stage.press("<enter>").unwrap();
    assert!(matches!(stage.place(), Place::Pairing(_)));
    stage.press("<backspace>").unwrap();
    assert_eq!(stage.place(), Place::Pairings);
    line(&stage, "turned: ");
}

#[test]
fn selfings_and_unknown_pollen_parents_are_said_in_words() {
    let stage = stage((190, 50));
    for words in
        ["22-411 selfed", "Osier Maid × bees (3 likely)", "Low Meadow × bees ", "× unknown "]
    {
        line(&stage, words);
    }
}

#[test]
fn ready_made_choices_leave_pairings_out_and_say_so() {
    let mut stage = stage((100, 24));
    let all = line(&stage, "ranking");
    stage.press("o").unwrap();
    assert!(line(&stage, "ranking").contains("at least 5 judged"));
    stage.press("o").unwrap();
    assert!(line(&stage, "ranking").contains("with keepers of 2026"));
    stage.press("[").unwrap();
    assert!(line(&stage, "ranking").contains("with keepers of 2025"));
    stage.press("o").unwrap();
    assert!(line(&stage, "ranking").contains("nothing judged yet"));
    stage.press("o").unwrap();
    assert!(line(&stage, "ranking").contains("living parents never made"));
    assert!(line(&stage, "●").contains("untried"));
    stage.press("o").unwrap();
    assert_eq!(line(&stage, "ranking"), all);
    stage.press("fsaltm<enter>").unwrap();
    assert!(line(&stage, "ranking").contains("\"saltm\""));
}

#[test]
fn the_cursor_is_on_the_same_pair_in_both() {
    let mut stage = stage((160, 50));
    line(&stage, " 22-211 × Quillet Skein  6 of 9 kept");
    line(&stage, "› 22-211 × Quillet Skein");
    stage.press("j").unwrap();
    line(&stage, " 24-505 × 24-403  2 of 3 kept");
    // Parents stand in the order of what they pass on.
    stage.press("<tab>jll").unwrap();
    line(&stage, "› 22-211 × Quillet Skein");
}

#[test]
fn a_click_in_the_grid_goes_to_the_pair_and_the_wheel_scrolls() {
    let mut stage = stage((80, 24));
    stage.press("<tab>").unwrap();
    let text = stage.text();
    let y = text.lines().position(|l| l.contains("passes on")).unwrap() + 1;
    let row = text.lines().nth(y).unwrap();
    let y = u16::try_from(y).unwrap();
    let x = row.chars().position(|c| c == '·').unwrap();
    stage.take(Event::Press(u16::try_from(x).unwrap(), y));
    let name = row.split("  ").next().unwrap();
    assert!(line(&stage, "  never made").starts_with(&format!("{name} × ")));
    stage.take(Event::Wheel(40, y, 30));
    assert!(!stage.text().contains(row));
}

#[test]
fn a_book_without_crosses_says_what_to_do() {
    let mut stage = Stage::new(sample::empty_desk(), Settings::default(), (80, 24));
    stage.press("4").unwrap();
    line(&stage, "trug import");
    stage.press("<tab>jlo<enter>").unwrap();
}
