//! Heads to be cut and to be rubbed out, and seed to be put into packets.

use chrono::{Days, NaiveDate};

use super::{End, Thing};
use crate::book::{CrossId, Head, HeadDeed, HeadState, When};
use crate::views::Desk;

/// The heads still hanging.
fn hanging(desk: &Desk) -> impl Iterator<Item = (CrossId, usize, &Head)> {
    desk.book().cross_ids().flat_map(move |id| {
        let heads = desk.book().cross(id).heads.iter().enumerate();
        let hanging = heads.filter(|(_, head)| head.state() == HeadState::Hanging);
        hanging.map(move |(n, head)| (id, n, head))
    })
}

fn days_after(on: Option<When>, days: u16) -> Option<NaiveDate> {
    on?.first().checked_add_days(Days::new(u64::from(days)))
}

/// Heads not cut yet that are ripe by their age, and all of them once the frost is near.
pub(super) fn to_cut(desk: &Desk, end: End) -> Vec<(Thing, Option<NaiveDate>)> {
    let ripens = desk.book().crop().days.head_ripens.from;
    let today = desk.today();
    let is_ripe = |head: &Head| days_after(head.pollinated(), ripens).is_none_or(|on| on <= today);
    let due = hanging(desk)
        .filter(|(_, _, head)| head.cut().is_none() && (end.is_near(today) || is_ripe(head)));
    due.map(|(id, n, head)| (Thing::Head(id, n), head.pollinated().map(When::first))).collect()
}

/// Heads cut so long ago that they are dry.
pub(super) fn to_thresh(desk: &Desk) -> Vec<(Thing, Option<NaiveDate>)> {
    let dries = desk.book().crop().days.head_dries.from;
    let dry = hanging(desk).filter(|(_, _, head)| {
        head.cut().is_some() && days_after(head.cut(), dries).is_some_and(|on| on <= desk.today())
    });
    dry.map(|(id, n, head)| (Thing::Head(id, n), head.cut().map(When::first))).collect()
}

/// Crosses of this season and the last of which more seed was threshed than is in packets.
pub(super) fn to_pack(desk: &Desk) -> Vec<(Thing, Option<NaiveDate>)> {
    let recent = desk.season().before();
    let crosses = desk.book().cross_ids().filter_map(|id| {
        let cross = desk.book().cross(id);
        if cross.season.is_none_or(|season| season < recent) {
            return None;
        }
        // A packet whose seeds nobody counted may hold any of them.
        if cross.lots.iter().any(|lot| lot.seeds.is_none()) {
            return None;
        }
        let mut threshed: u32 = 0;
        let mut since = None;
        for entry in cross.heads.iter().flat_map(|head| &head.diary) {
            if let HeadDeed::Threshed { seeds } = entry.did {
                threshed = threshed.saturating_add(seeds);
                since = since.max(Some(entry.on.first()));
            }
        }
        let packed = cross.lots.iter().filter_map(|lot| lot.seeds).fold(0, u32::saturating_add);
        (threshed > packed).then_some((Thing::Cross(id), since))
    });
    crosses.collect()
}
