//! Tubers in store: those to be looked over, and those to be woken.

use chrono::{Datelike, NaiveDate};

use super::Thing;
use crate::book::{PlantDeed, When};
use crate::views::Desk;

type Things = Vec<(Thing, Option<NaiveDate>)>;

/// Stored plants that nobody has looked at for as long as is usual, and, from the usual time on,
/// those that are to be woken.
pub(super) fn in_store(desk: &Desk) -> (Things, Things) {
    let usual = &desk.book().crop().days;
    let (every, wake) = (&usual.winter_check, &usual.wake_up);
    let today = desk.today();
    let day = today.ordinal();
    // Until six weeks after the usual time; later it is no use.
    let is_waking =
        wake.to > 0 && day >= u32::from(wake.from) && day <= u32::from(wake.to).saturating_add(42);
    let (mut check, mut woken) = (Vec::new(), Vec::new());
    for plant in desk.book().plants() {
        let brief = desk.brief(plant);
        let recent = desk.season().before();
        if !brief.is_alive() || brief.last.is_none_or(|last| last < recent) {
            continue;
        }
        let Some((lifted, looked)) = stored(desk, plant) else { continue };
        let thing = Thing::Plant(plant);
        if is_waking {
            woken.push((thing, Some(lifted.first())));
        } else if every.to > 0 && (today - looked.first()).num_days() >= i64::from(every.to) {
            check.push((thing, Some(looked.first())));
        }
    }
    (check, woken)
}

/// When a plant that is in store was lifted, and when it was last looked at; none for one that is
/// not in store, or of which the last check found nothing sound.
fn stored(desk: &Desk, plant: crate::book::PlantId) -> Option<(When, When)> {
    let mut stored = None;
    for entry in desk.book().plant(plant).diary() {
        match entry.did {
            PlantDeed::Lifted { tubers, .. } => {
                stored = (tubers != Some(0)).then_some((entry.on, entry.on));
            }
            PlantDeed::Checked { sound } => {
                stored = stored.filter(|_| sound > 0).map(|(lifted, _)| (lifted, entry.on));
            }
            PlantDeed::Planted(_)
            | PlantDeed::Woken
            | PlantDeed::FirstBloom
            | PlantDeed::SeenUnbloomed => stored = None,
            _ => {}
        }
    }
    stored
}
