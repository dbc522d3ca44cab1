//! Keys in, screen out: the ways a raiser goes through the demo garden of an evening.

use std::{
    path::Path,
    sync::{Arc, LazyLock},
};

use trug::{
    book::PlantId,
    shelf,
    tui::{
        Event, Settings, Stage, Wish,
        keys::Key,
        place::{Kind, Place},
    },
    views::{Desk, Levels, evening, plant},
};

const USUAL: (u16, u16) = (80, 24);
const LARGE: (u16, u16) = (120, 40);

/// All journeys share one desk, with what was worked out of it.
fn desk() -> Arc<Desk> {
    static DESK: LazyLock<Arc<Desk>> = LazyLock::new(open);
    Arc::clone(&DESK)
}

fn open() -> Arc<Desk> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    let opened = shelf::open(&folder, None).unwrap();
    let today = opened.book.about().today.unwrap();
    Arc::new(Desk::new(Arc::new(opened.book), today))
}

fn stage(desk: &Arc<Desk>, size: (u16, u16)) -> Stage {
    Stage::new(desk.clone(), Settings::default(), size)
}

fn press(stage: &mut Stage, script: &str) -> Wish {
    stage.press(script).unwrap_or_else(|| panic!("{script} names a key that there is not"))
}

/// Goes to a plant by finding it.
fn find(stage: &mut Stage, name: &str) {
    press(stage, "/");
    stage.take(Event::Paste(name.to_owned()));
    press(stage, "<enter>");
}

/// What a pairing is called on the screen, as far as it fits.
fn pairing_name(desk: &Desk, at: usize) -> String {
    let pairing = &desk.pairings()[at];
    pairing.seed.name(desk.book(), " or ").unwrap()
}

/// A plant both of whose parents are known, and all four parents of those.
fn with_grandparents(desk: &Desk, among: &[PlantId]) -> PlantId {
    let known = |id| {
        let (seed, pollen) = desk.parents(id);
        Some((seed.plant()?, pollen.plant()?))
    };
    let fits = |id: &&PlantId| {
        known(**id).is_some_and(|(seed, pollen)| known(seed).is_some() || known(pollen).is_some())
    };
    *among.iter().find(fits).expect("the demo has such a keeper")
}

#[test]
fn the_pairing_with_most_keepers_is_seen_without_a_key() {
    let desk = desk();
    let season = desk.last_season();
    let review = evening::evening(&desk, season, Levels::default());
    let best = &review.behind[0];
    let best_before = &review.behind_before[0];
    for size in [USUAL, LARGE, (200, 60)] {
        let shown = stage(&desk, size).text();
        for (behind, of) in [(best, season), (best_before, season.before())] {
            let name = pairing_name(&desk, behind.pairing);
            let kept = format!("{} of {}", behind.kept, behind.judged);
            let line = shown.lines().find(|line| line.contains(&name) && line.contains(&kept));
            assert!(line.is_some(), "{of}: no line with {name} and {kept} at {size:?}\n{shown}");
        }
    }
}

#[test]
fn from_last_seasons_keepers_to_the_pairings_behind_them_and_back() {
    let desk = desk();
    let review = evening::evening(&desk, desk.last_season(), Levels::default());
    let mut stage = stage(&desk, USUAL);
    press(&mut stage, "<tab>");
    let at_keepers = stage.text();
    press(&mut stage, "<enter>");
    assert_eq!(stage.place(), Place::Plant(review.keepers[0]));
    press(&mut stage, "<end><enter>");
    assert_eq!(stage.place().kind(), Kind::Pairing, "the last of where it came from");
    press(&mut stage, "<backspace><backspace>");
    assert_eq!(stage.text(), at_keepers, "everything as it was left");
    press(&mut stage, "<tab><enter>");
    assert_eq!(stage.place(), Place::Pairing(review.behind[0].pairing));
    let counts = review.behind[0].record.pairing.counts;
    let kept = format!("kept {} of {} judged", counts.kept, counts.judged);
    assert!(stage.text().contains(&kept), "{}", stage.text());
}

#[test]
fn from_a_keeper_both_grandparents_are_at_most_five_keys_away() {
    let desk = desk();
    let review = evening::evening(&desk, desk.last_season(), Levels::default());
    let keeper = with_grandparents(&desk, &review.keepers);
    let line = review.keepers.iter().position(|&id| id == keeper).unwrap();
    let (seed, pollen) = desk.parents(keeper);
    let through_seed = desk.parents(seed.plant().unwrap()).0.plant().is_some();
    let (side, parent) = if through_seed { ("a", seed) } else { ("b", pollen) };
    let (first, second) = desk.parents(parent.plant().unwrap());

    let mut stage = stage(&desk, USUAL);
    press(&mut stage, "<tab>");
    press(&mut stage, &"j".repeat(line));
    let on_keeper = stage.text();
    let keys = [side, "a", "<backspace>", "b"];
    assert!(keys.len() <= 5);
    let places: Vec<Place> = keys
        .iter()
        .map(|key| {
            press(&mut stage, key);
            stage.place()
        })
        .collect();
    assert_eq!(places[1].plant(), first.plant(), "its seed parent's side");
    assert_eq!(places[3].plant(), second.plant(), "and its pollen parent's");
    press(&mut stage, "<backspace><backspace>");
    assert_eq!(stage.text(), on_keeper, "Backspace leads all the way home");
}

#[test]
fn a_seedling_is_followed_back_to_its_founders() {
    let desk = desk();
    let review = evening::evening(&desk, desk.last_season(), Levels::default());
    let mut at = with_grandparents(&desk, &review.keepers);
    let mut stage = stage(&desk, LARGE);
    find(&mut stage, desk.book().plant(at).number().unwrap());
    assert_eq!(stage.place(), Place::Plant(at));
    let mut n_steps = 0;
    loop {
        let (seed, pollen) = desk.parents(at);
        let known = [("a", seed.plant()), ("b", pollen.plant())];
        let known = known.into_iter().filter_map(|(key, parent)| Some((key, parent?)));
        // The longer way, if there is one.
        let has_parents = |id| desk.parents(id).0.plant().or(desk.parents(id).1.plant()).is_some();
        let Some((key, parent)) = known.max_by_key(|(_, parent)| has_parents(*parent)) else {
            break;
        };
        press(&mut stage, key);
        assert_eq!(stage.place(), Place::Plant(parent));
        at = parent;
        n_steps += 1;
    }
    assert!(n_steps >= 2, "a founder after {n_steps} steps");
    press(&mut stage, "a");
    let said = stage.text();
    assert!(said.contains("the seed parent of"), "it is said that nobody knows:\n{said}");
    assert_eq!(stage.place(), Place::Plant(at), "and one stays where one is");
    press(&mut stage, &"<backspace>".repeat(n_steps + 1));
    assert_eq!(stage.place(), Place::Evening);
}

#[test]
fn one_parents_whole_record_stands_on_its_page() {
    let desk = desk();
    let parent = desk.book().plants().max_by_key(|&id| plant::offspring(&desk, id).len()).unwrap();
    let record = plant::page(&desk, parent, Levels::default());
    let mut stage = stage(&desk, LARGE);
    find(&mut stage, desk.label(parent));
    assert_eq!(stage.place(), Place::Plant(parent));
    let given = record.as_parent.unwrap();
    for role in [given.as_seed, given.as_pollen] {
        if role.counts.judged > 0 {
            let kept = format!("kept {} of {}", role.counts.kept, role.counts.judged);
            assert!(stage.text().contains(&kept), "{kept} in\n{}", stage.text());
        }
    }
    // Every cross it was used in can be reached from here.
    let to_offspring = (0..4)
        .find(|n| {
            let mut trial = Stage::new(desk.clone(), Settings::default(), LARGE);
            find(&mut trial, desk.label(parent));
            press(&mut trial, &format!("{}<enter>", "<tab>".repeat(*n)));
            trial.place() == Place::Cross(record.offspring[0].cross)
        })
        .expect("a list of crosses");
    press(&mut stage, &"<tab>".repeat(to_offspring));
    for offspring in &record.offspring {
        press(&mut stage, "<enter>");
        assert_eq!(stage.place(), Place::Cross(offspring.cross));
        press(&mut stage, "<backspace>j");
    }
}

#[test]
fn the_numbers_go_to_the_screens_and_do_not_pile_up() {
    let desk = desk();
    let mut stage = stage(&desk, USUAL);
    press(&mut stage, "jj3jjj");
    let crosses = stage.text();
    press(&mut stage, "1313");
    assert_eq!(stage.text(), crosses, "the cursor is where it was left");
    press(&mut stage, "<backspace>");
    assert_eq!(stage.place(), Place::Evening);
    press(&mut stage, "<backspace><backspace>");
    assert_eq!(stage.place(), Place::Evening, "there is nothing behind the first page");
}

#[test]
fn a_filter_narrows_while_it_is_typed_and_escape_takes_it_off() {
    let desk = desk();
    let mut stage = stage(&desk, LARGE);
    press(&mut stage, "3");
    let all = stage.text();
    press(&mut stage, "fSALTMÁRSH");
    let narrowed = stage.text();
    let rows: Vec<&str> = narrowed.lines().filter(|line| line.contains(" × ")).collect();
    assert!(!rows.is_empty(), "{narrowed}");
    assert!(rows.iter().all(|row| row.contains("Saltmarsh")), "{narrowed}");
    press(&mut stage, "<enter>");
    assert!(stage.text().contains("with \"SALTMÁRSH\""), "{}", stage.text());
    press(&mut stage, "<esc>");
    let unmarked = |text: &str| text.replace('›', " ");
    assert_eq!(unmarked(&stage.text()), unmarked(&all));
}

#[test]
fn a_list_is_ordered_by_any_column_and_turned_round() {
    let desk = desk();
    let mut stage = stage(&desk, (200, 60));
    press(&mut stage, "3");
    let kept_column = |text: &str| -> Vec<u32> {
        let head = text.lines().find(|line| line.contains("opened")).unwrap();
        let end = head.split("kept").next().unwrap().chars().count() + "kept↓".chars().count();
        let cut = |line: &str| line.chars().take(end).collect::<String>();
        text.lines()
            .map(cut)
            .filter(|line| line.contains(" × ") && line.ends_with(|c: char| c.is_ascii_digit()))
            .map(|line| {
                let (kept, _) = line.rsplit_once(" of ").unwrap();
                kept.rsplit(' ').next().unwrap().parse().unwrap()
            })
            .collect()
    };
    while !stage.text().contains("by kept↓") {
        press(&mut stage, "s");
    }
    let falling = kept_column(&stage.text());
    assert!(falling.len() > 20 && falling.is_sorted_by(|a, b| a >= b), "{falling:?}");
    press(&mut stage, "r<home>");
    let rising = kept_column(&stage.text());
    assert!(rising.is_sorted(), "{rising:?}");
}

#[test]
fn the_mouse_goes_where_the_keys_go() {
    let desk = desk();
    let mut stage = stage(&desk, LARGE);
    let find = |stage: &Stage, text: &str| -> (u16, u16) {
        let shown = stage.text();
        let (y, line) = shown.lines().enumerate().find(|(_, line)| line.contains(text)).unwrap();
        let x = line.split(text).next().unwrap().chars().count();
        (u16::try_from(x).unwrap(), u16::try_from(y).unwrap())
    };
    let (x, y) = find(&stage, "3 Crosses");
    stage.take(Event::Press(x + 3, y));
    assert_eq!(stage.place(), Place::Crosses);
    let (x, y) = find(&stage, "25X04");
    stage.take(Event::Press(x, y));
    assert_eq!(stage.place(), Place::Crosses, "the first click puts the cursor there");
    stage.take(Event::Press(x, y));
    assert_eq!(stage.place().name(&desk, &trug::tui::glyphs::FINE), "25X04", "the second opens it");
    press(&mut stage, "<backspace>");
    let before = stage.text();
    stage.take(Event::Wheel(x, y, 1));
    assert_ne!(stage.text(), before, "the wheel scrolls");
    stage.take(Event::Wheel(x, y, -1));
    let (x, y) = find(&stage, "parents");
    stage.take(Event::Press(x, y));
    assert!(stage.text().contains("by parents↑"), "{}", stage.text());
    press(&mut stage, "1");
    let before = stage.text();
    let (x, y) = find(&stage, "[ ] season");
    stage.take(Event::Press(x, y));
    assert_ne!(stage.text(), before, "the one bracket goes a season back");
    stage.take(Event::Press(x + 2, y));
    assert_eq!(stage.text(), before, "and the other forth");
    let (x, y) = find(&stage, "/ find");
    stage.take(Event::Press(x, y));
    assert!(stage.text().contains("Find a plant"), "a hint at the foot is a key too");
}

#[test]
fn help_lists_every_key_that_does_something_here() {
    let desk = desk();
    let mut stage = stage(&desk, (200, 60));
    press(&mut stage, "?");
    let shown = stage.text();
    let without_a_book = ["demo", "new-book", "spreadsheets"];
    for row in trug::tui::action::ROWS {
        if without_a_book.contains(&row.name) {
            continue;
        }
        assert!(shown.contains(row.help), "{} is not told of:\n{shown}", row.name);
    }
    press(&mut stage, "<esc>");
    assert_eq!(stage.place(), Place::Evening);
}

#[test]
fn what_does_nothing_on_a_page_stands_apart_in_its_help() {
    let desk = desk();
    // In one column, so that what stands below comes later in the text.
    let mut stage = stage(&desk, (100, 120));
    press(&mut stage, "3<enter>?");
    let shown = stage.text();
    let (here, elsewhere) = shown.split_once("only elsewhere").unwrap();
    for (words, is_here) in [("the next list of this page", true), ("one season earlier", false)] {
        assert_eq!(here.contains(words), is_here, "{words}:\n{shown}");
        assert_eq!(elsewhere.contains(words), !is_here, "{words}:\n{shown}");
    }
}

#[test]
fn in_plain_letters_even_the_help_keeps_to_them() {
    let desk = desk();
    let settings = Settings { ascii: true, ..Settings::default() };
    let mut stage = Stage::new(desk, settings, (120, 60));
    for script in ["", "?", "<esc>2", "3", "4", "5", "1<enter>", "c"] {
        press(&mut stage, script);
        let odd: String = stage.text().chars().filter(|c| !c.is_ascii()).collect();
        assert_eq!(odd, "", "after {script}:\n{}", stage.text());
    }
}

#[test]
fn every_sentence_fits_a_usual_screen() {
    let desk = desk();
    for script in
        ["", "2", "3", "3o", "3oo", "3ooo", "4", "5", "<enter>", "<enter>c", "<tab><tab><enter>"]
    {
        let mut stage = stage(&desk, USUAL);
        press(&mut stage, script);
        let shown = stage.text();
        let says = shown.lines().nth(2).unwrap();
        assert!(says.ends_with('.'), "after {script}: {says}");
        let way = shown.lines().nth(1).unwrap();
        assert!(!way.contains("…") || way.contains(" … › "), "a step is whole or gone: {way}");
    }
}

#[test]
fn the_seed_tin_says_what_it_is_and_how_to_get_back() {
    let desk = desk();
    let mut stage = stage(&desk, USUAL);
    press(&mut stage, "3");
    let all = stage.text();
    assert!(all.contains("o seed tin"), "{all}");
    press(&mut stage, "o13");
    let tin = stage.text();
    assert!(tin.contains("The seed tin") && tin.contains("esc all crosses"), "{tin}");
    press(&mut stage, "<esc>");
    assert_eq!(stage.text(), all);
}

#[test]
fn the_line_of_a_pairing_is_that_of_its_best_keeper_and_says_so() {
    let desk = desk();
    let mut stage = stage(&desk, LARGE);
    let review = evening::evening(&desk, desk.last_season(), Levels::default());
    let crosses = &desk.pairings()[review.behind[0].pairing].crosses;
    press(&mut stage, "<tab><tab>5");
    let Place::Line(Some(keeper)) = stage.place() else { panic!("{:?}", stage.place()) };
    assert!(crosses.iter().any(|&cross| desk.book().family(cross).any(|plant| plant == keeper)));
    let told = format!("{} is the best keeper of ", desk.label(keeper));
    assert!(stage.text().contains(&told), "{}", stage.text());
    // A cross of this year has no plants yet.
    press(&mut stage, "3<home>5");
    assert!(stage.text().contains("is its seed parent"), "{}", stage.text());
}

#[test]
fn all_crosses_of_a_line_tell_how_many_seedlings_they_have() {
    let desk = desk();
    let parent = desk.book().plants().max_by_key(|&id| plant::offspring(&desk, id).len()).unwrap();
    for size in [USUAL, LARGE, (200, 60)] {
        let mut stage = stage(&desk, size);
        find(&mut stage, desk.label(parent));
        press(&mut stage, "5");
        let shown = stage.text();
        let rails = shown.lines().filter(|line| {
            let is_rail = |word: &str| line.contains(&format!("{word}─ "));
            ["seed", "pollen", "pollen?", "selfed"].into_iter().any(is_rail)
        });
        for line in rails {
            // A variety of which no cross is known hangs there by itself.
            let is_told = line.contains("seedling") || line.contains("variety");
            assert!(is_told, "{line} in\n{shown}");
        }
    }
}

#[test]
fn shares_of_the_seed_say_of_what_and_keepers_of_older_plants_are_named() {
    let desk = desk();
    let review = evening::evening(&desk, desk.last_season(), Levels::default());
    assert!(review.older_keepers > 0, "the demo has some");
    for size in [USUAL, LARGE, (200, 60)] {
        let shown = stage(&desk, size).text();
        for of in ["% of sown", "% of planted", "% of opened"] {
            assert!(shown.contains(of), "{of} at {size:?}\n{shown}");
        }
        assert!(shown.contains(&format!("{} planted earlier", review.older_keepers)), "{shown}");
    }
}

#[test]
fn the_seasons_are_gone_through_one_by_one_to_the_first() {
    let desk = desk();
    let mut stage = stage(&desk, LARGE);
    let seasons = desk.seasons();
    let first = seasons[0];
    press(&mut stage, &"[".repeat(seasons.len()));
    let shown = stage.text();
    assert!(shown.contains(&format!("Season {first}:")), "{shown}");
    assert!(shown.contains("no earlier season"), "{shown}");
    press(&mut stage, "]");
    assert!(stage.text().contains(&format!("Season {}:", seasons[1])));
}

#[test]
fn only_the_quit_keys_quit() {
    let desk = desk();
    for (script, wish) in [
        ("q", Wish::Quit),
        ("<ctrl-c>", Wish::Quit),
        ("/q", Wish::Draw),
        ("/<ctrl-c>", Wish::Quit),
        ("?q", Wish::Quit),
        ("3fq", Wish::Draw),
        ("<ctrl-z>", Wish::Suspend),
        ("<ctrl-l>", Wish::Redraw),
        ("m", Wish::Mouse(false)),
    ] {
        assert_eq!(press(&mut stage(&desk, USUAL), script), wish, "{script}");
    }
    assert!(Key::parse("ctrl-c").is_some());
}
