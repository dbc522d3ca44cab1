//! What each figure means: one key beyond the keys of a page, and in the shell.

use trug::tui::{Settings, Stage};

use crate::sample;

fn stage(ascii: bool) -> Stage {
    let settings = Settings { ascii, ..Settings::default() };
    Stage::new(sample::desk(), settings, (100, 40))
}

#[test]
fn from_the_help_one_key_leads_to_what_every_figure_says_those_of_the_page_first() {
    let mut stage = stage(false);
    stage.press("5?").unwrap();
    assert!(stage.text().contains("f figures"), "{}", stage.text());
    stage.press("f").unwrap();
    let shown = stage.text();
    let at = |word: &str| shown.find(word).unwrap_or_else(|| panic!("{word}:\n{shown}"));
    assert!(at("inbreeding") < at("seasons"), "{shown}");
    assert!(shown.contains("100 % being as much as"), "{shown}");
}

#[test]
fn behind_a_figure_stand_its_formula_and_its_source_and_escape_leads_back_step_by_step() {
    let mut stage = stage(false);
    let page = stage.text();
    stage.press("3?fGk<home>").unwrap();
    let list = stage.text();
    stage.press("jjjjjjjjjjjj").unwrap();
    stage.press("<enter>").unwrap();
    let told = stage.text();
    for part in ["says", "worked out", "source", "shown on"] {
        assert!(told.contains(part), "{part}:\n{told}");
    }
    stage.press("<esc><home>").unwrap();
    assert_eq!(stage.text(), list);
    stage.press("<esc>").unwrap();
    assert!(stage.text().contains("The keys that do something on this page (Crosses)"));
    stage.press("<esc>1").unwrap();
    assert_eq!(stage.text().lines().nth(4), page.lines().nth(4));
}

#[test]
fn a_click_on_a_figure_tells_of_it() {
    let mut stage = stage(false);
    stage.press("?f").unwrap();
    let line = stage.text().lines().position(|line| line.contains("  seeds ")).unwrap();
    let y = u16::try_from(line).unwrap();
    stage.take(trug::tui::Event::Press(4, y));
    assert!(stage.text().contains("the sum of what was written down"), "{}", stage.text());
}

#[test]
fn a_terminal_without_unicode_gets_plain_letters() {
    let mut stage = stage(true);
    stage.press("?f").unwrap();
    for _ in 0..60 {
        stage.press("<enter>").unwrap();
        let shown = stage.text();
        let told = shown.lines().skip(4);
        assert!(told.clone().all(str::is_ascii), "{shown}");
        stage.press("<enter>j").unwrap();
    }
}
