//! What must be true of the action table as a whole.

use std::collections::BTreeSet;

use super::*;

/// Every way in which the screen can stand, as far as the table asks.
fn snapshots() -> Vec<Snapshot> {
    let mut all = Vec::new();
    let layers = [
        Layer::Page,
        Layer::Find,
        Layer::Help,
        Layer::Figures,
        Layer::Filter,
        Layer::Ask,
        Layer::Deeds,
        Layer::Form,
        Layer::Question,
        Layer::Settle,
        Layer::Unwritten,
    ];
    let unders = [Under::Nothing, Under::Plant, Under::Cross, Under::Pairing, Under::Due];
    for kind in Kind::ALL {
        for layer in layers {
            for under in unders {
                for bits in 0..64_u8 {
                    let on = |bit: u8| bits & (1 << bit) != 0;
                    all.push(Snapshot {
                        kind,
                        layer,
                        under,
                        n_behind: usize::from(on(0)),
                        n_lists: if on(1) { 2 } else { 1 },
                        sorts: on(2),
                        filters: on(3),
                        next_choice: if on(2) { "some" } else { "" },
                        seasons: on(3),
                        sideways: on(4),
                        walks: on(4),
                        filtered: on(5),
                        amiss: on(0),
                        writes: on(1),
                        stuck: on(2),
                        other_shade: if on(4) && kind == Kind::Pairings { "kin" } else { "" },
                        weighing: if on(3) { "stop" } else { "" },
                    });
                }
            }
        }
    }
    all
}

#[test]
fn no_key_means_two_things_at_once() {
    for here in snapshots() {
        let mut seen = BTreeSet::new();
        for row in ROWS.iter().filter(|row| (row.when)(&here)) {
            for key in row.keys {
                assert!(seen.insert(*key), "{key} means two things, one of them {}", row.name);
            }
        }
    }
}

#[test]
fn every_action_can_be_reached_and_says_what_it_does() {
    let keys = Keymap::default();
    let snapshots = snapshots();
    let (mut names, mut actions) = (BTreeSet::new(), Vec::new());
    for row in ROWS {
        assert!(names.insert(row.name), "two actions are called {}", row.name);
        assert!(!actions.contains(&row.action), "{} stands twice", row.name);
        actions.push(row.action);
        assert!(row.name.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", row.name);
        assert!(row.help.len() > 5 && !row.help.ends_with('.'), "{}: {}", row.name, row.help);
        let reached = snapshots.iter().any(|here| {
            row.keys.iter().any(|name| {
                Key::parse(name).and_then(|key| keys.action(key, here)) == Some(row.action)
            })
        });
        assert!(reached, "no key ever does {}", row.name);
    }
}

#[test]
fn every_key_can_be_typed_on_any_keyboard_and_is_nobody_elses() {
    for row in ROWS {
        for name in row.keys {
            assert!(Key::parse(name).is_some(), "{name} is no key");
            assert!(!RESERVED.contains(name), "{name} belongs to the terminal");
            assert_ne!(*name, ALWAYS_QUITS);
        }
        let plain = |name: &str| {
            Key::parse(name).is_some_and(|key| {
                !key.alt && (!key.ctrl || key.typed().is_some() || name.len() == "ctrl-x".len())
            })
        };
        assert!(row.keys.iter().any(|name| plain(name)), "{} needs a plain key", row.name);
    }
}

#[test]
fn the_cursor_moves_by_arrows_and_by_letters() {
    for row in ROWS.iter().filter(|row| row.group == Group::Moving && row.hint.is_empty()) {
        if row.action != Action::ListBefore {
            assert!(row.keys.len() > 1, "{} has one key only", row.name);
        }
    }
}

#[test]
fn what_is_typed_into_a_field_is_no_key() {
    let keys = Keymap::default();
    for here in snapshots().into_iter().filter(|here| here.types()) {
        for letter in ["q", "j", "/", "?", "1", "space"] {
            assert_eq!(Key::parse(letter).and_then(|key| keys.action(key, &here)), None);
        }
        let quit = Key::parse(ALWAYS_QUITS).and_then(|key| keys.action(key, &here));
        assert_eq!(quit, Some(Action::Quit));
    }
}
