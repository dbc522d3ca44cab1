//! What is due today: heads to see to, seed to sow.

use crate::book::{HeadState, When};
use crate::views::{Desk, seed};

/// What is due.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Due {
    /// Heads on the plant or drying.
    pub hanging: u32,
    /// Days since the oldest of them was pollinated.
    pub oldest_days: Option<u32>,
    /// Packets with seed left in the tin.
    pub packets: u32,
    /// Seeds in those of them that were counted.
    pub seeds: u32,
    /// Years since the oldest of those was crossed.
    pub oldest_years: Option<u16>,
}

pub(super) fn due(desk: &Desk) -> Due {
    let mut due = Due::default();
    let heads = desk.book().crosses().iter().flat_map(|cross| &cross.heads);
    for head in heads.filter(|head| head.state() == HeadState::Hanging) {
        due.hanging += 1;
        let days = head
            .pollinated()
            .and_then(When::exact)
            .and_then(|on| u32::try_from((desk.today() - on).num_days()).ok());
        due.oldest_days = due.oldest_days.max(days);
    }
    for packet in seed::list(desk, false) {
        let cross = desk.book().cross(packet.cross);
        due.packets += 1;
        due.seeds = due.seeds.saturating_add(cross.lots[packet.lot].left().unwrap_or_default());
        let age = cross.season.map(|made| desk.season().0.saturating_sub(made.0));
        due.oldest_years = due.oldest_years.max(age.and_then(|age| u16::try_from(age).ok()));
    }
    due
}
