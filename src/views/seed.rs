//! The packets in the tin: how old, how much is left, what should come up.

use crate::book::{CrossId, Season};
use crate::merit::{self, Expected};

use super::{Desk, Levels, Party};

/// One packet, by its place in its cross.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct PacketId {
    /// The cross it is of.
    pub cross: CrossId,
    /// Its place among the lots of the cross.
    pub lot: usize,
}

/// One packet.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Which.
    pub packet: PacketId,
    /// The season of the cross.
    pub season: Option<Season>,
    /// The seed parent.
    pub seed: Party,
    /// The pollen parent.
    pub pollen: Party,
    /// Seeds in it when it was filled.
    pub seeds: Option<u32>,
    /// Seeds sown of it so far.
    pub sown: u32,
    /// Of those, seedlings that came up.
    pub up: u32,
    /// Seeds left; none where it was never counted.
    pub left: Option<u32>,
    /// Years since the season of the cross.
    pub age: Option<u16>,
    /// Seedlings to be expected of what is left, from what came up of this packet before and what
    /// is usual for the crop. That seed ages is not in it.
    pub expected_up: Option<Expected>,
}

/// The packets that may still hold seed, in the order of the book. With `all`, the empty ones
/// too.
pub fn list(desk: &Desk, all: bool) -> Vec<PacketId> {
    desk.book()
        .cross_ids()
        .flat_map(|cross| {
            let lots = desk.book().cross(cross).lots.iter().enumerate();
            lots.filter(move |(_, lot)| {
                all || match lot.left() {
                    Some(left) => left > 0,
                    None => lot.first_sown().is_none(),
                }
            })
            .map(move |(lot, _)| PacketId { cross, lot })
        })
        .collect()
}

/// The line of one packet.
pub fn row(desk: &Desk, packet: PacketId, levels: Levels) -> Row {
    let cross = desk.book().cross(packet.cross);
    let lot = &cross.lots[packet.lot];
    let (seed, pollen) = desk.parties(packet.cross).clone();
    let usual = &desk.book().crop().rates.up_of_sown;
    let (sown, up, left) = (lot.sown(), lot.up(), lot.left());
    let expected = |left| merit::expected(left, (up, sown), usual, levels.shrunk);
    Row {
        packet,
        season: cross.season,
        seed,
        pollen,
        seeds: lot.seeds,
        sown,
        up,
        left,
        age: cross.season.and_then(|s| u16::try_from(desk.season().0.saturating_sub(s.0)).ok()),
        expected_up: left.filter(|&left| left > 0).and_then(expected),
    }
}
