//! The page of a plant as a parent.

use std::sync::Arc;

use trug::{
    book::PlantId,
    merit::liability::Outcome,
    tui::{Settings, Stage, place::Place},
    views::{Desk, Levels, parent},
};

use crate::sample;

fn stage(desk: &Arc<Desk>, size: (u16, u16)) -> Stage {
    Stage::new(desk.clone(), Settings::default(), size)
}

fn ferry(desk: &Desk) -> PlantId {
    desk.book().by_key("ferry-lantern").unwrap()
}

#[test]
fn one_key_shows_a_plant_as_a_parent_on_both_sides_with_counts_and_spread() {
    let desk = sample::desk();
    let mut stage = stage(&desk, (120, 40));
    stage.press("/ferry<enter>p").unwrap();
    assert_eq!(stage.place(), Place::Parent(ferry(&desk)));
    let shown = stage.text();
    let page = parent::page(&desk, ferry(&desk), Levels::default());
    let row = page.row.as_ref().unwrap();
    for role in [row.as_seed, row.as_pollen] {
        let kept = format!("kept {} of {}", role.counts.kept, role.counts.judged);
        assert!(role.rate.is_none() || shown.contains(&kept), "{kept}:\n{shown}");
    }
    let best = page.partners.first().unwrap();
    let name = desk.label(best.with.plant().unwrap());
    let counts = format!("{} of {}", best.kept, best.judged);
    let is_told = |line: &str| line.contains(name) && line.contains(&counts) && line.contains('–');
    assert!(shown.lines().any(is_told), "{name} {counts}:\n{shown}");
    assert!(page.partners.windows(2).all(|two| two[0].shrunk.p >= two[1].shrunk.p));
    let merit = parent::outcome(&desk, ferry(&desk), Outcome::Kept, Levels::default()).unwrap();
    assert!(shown.contains(&format!("{:.0} %", merit.p * 100.0)), "{shown}");
}

#[test]
fn its_partners_lead_to_pairings_and_its_kin_to_their_own_pages_as_parents() {
    let desk = sample::desk();
    let mut stage = stage(&desk, (120, 40));
    stage.press("/ferry<enter>p<enter>").unwrap();
    let page = parent::page(&desk, ferry(&desk), Levels::default());
    assert_eq!(stage.place(), Place::Pairing(page.partners[0].pairing));
    stage.press("<backspace><tab><enter>").unwrap();
    assert_eq!(stage.place(), Place::Parent(page.kin[0].plant));
    stage.press("<backspace><backspace>").unwrap();
    assert_eq!(stage.place(), Place::Plant(ferry(&desk)));
}

#[test]
fn kin_are_parents_the_nearest_first_and_never_strangers() {
    let desk = sample::desk();
    let kin = parent::kin(&desk, ferry(&desk), 1000);
    assert!(!kin.is_empty());
    assert!(kin.windows(2).all(|two| two[0].relationship >= two[1].relationship));
    for near in &kin {
        assert!(near.relationship > 0.0 && near.plant != ferry(&desk));
        assert!(!desk.pedigree().offspring(near.plant).is_empty());
        let direct = desk.kinship().relationship(ferry(&desk), near.plant);
        assert!((near.relationship - direct).abs() < 1e-12);
    }
}

#[test]
fn a_plant_that_never_was_a_parent_is_said_to_be_none() {
    let desk = sample::desk();
    let childless =
        desk.book().plants().find(|&plant| desk.pedigree().offspring(plant).is_empty()).unwrap();
    let mut stage = stage(&desk, (120, 40));
    stage.press(&format!("/{}<enter>p", desk.label(childless))).unwrap();
    assert_eq!(stage.place(), Place::Parent(childless));
    let shown = stage.text();
    assert!(shown.contains("has not been used as a parent"), "{shown}");
}

#[test]
fn what_cannot_be_told_yet_is_said_to_want_more_records() {
    let desk = sample::desk();
    let traits = parent::traits_of(&desk, ferry(&desk), Levels::default());
    let mut stage = stage(&desk, (160, 50));
    stage.press("/ferry<enter>p").unwrap();
    let shown = stage.text();
    let n_untold = traits.iter().filter(|row| !matches!(row.told, Ok(Some(_)))).count();
    assert_eq!(shown.matches("too few records").count(), n_untold, "{shown}");
    if parent::families(&desk, ferry(&desk)).is_empty() {
        assert!(shown.contains("Not enough records yet."), "{shown}");
    }
}
