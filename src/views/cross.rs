//! The page of a cross: its heads, its packets, its plants, and how many of each.

use crate::book::{CrossId, HeadState, PlantId};

use super::{Desk, Levels, crosses, plant::Line, seed, words};

/// One head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeadRow {
    /// What is written on its tag.
    pub tag: Option<Box<str>>,
    /// How it stands.
    pub state: HeadState,
    /// Its diary, oldest first.
    pub diary: Vec<Line>,
}

/// One packet.
#[derive(Debug, Clone, PartialEq)]
pub struct PacketRow {
    /// Its figures.
    pub row: seed::Row,
    /// Its diary, oldest first.
    pub diary: Vec<Line>,
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// Its figures.
    pub row: crosses::Row,
    /// From whom, if the seed was bought or given.
    pub from: Option<Box<str>>,
    /// A remark.
    pub note: Option<Box<str>>,
    /// Its heads.
    pub heads: Vec<HeadRow>,
    /// Its packets.
    pub packets: Vec<PacketRow>,
    /// Its plants, in order of number.
    pub plants: Vec<PlantId>,
    /// Whether some of its plants are known by totals only.
    pub has_totals: bool,
}

/// Puts the page together.
pub fn page(desk: &Desk, id: CrossId, levels: Levels) -> Page {
    let cross = desk.book().cross(id);
    let heads = cross.heads.iter().map(|head| HeadRow {
        tag: head.tag.clone(),
        state: head.state(),
        diary: head
            .diary
            .iter()
            .map(|e| Line { on: e.on, text: words::head_deed(&e.did) })
            .collect(),
    });
    let packets = cross.lots.iter().enumerate().map(|(lot, record)| PacketRow {
        row: seed::row(desk, seed::PacketId { cross: id, lot }, levels),
        diary: record
            .diary
            .iter()
            .map(|e| Line { on: e.on, text: words::lot_deed(&e.did) })
            .collect(),
    });
    Page {
        row: crosses::row(desk, id, levels),
        from: cross.from.clone(),
        note: cross.note.clone(),
        heads: heads.collect(),
        packets: packets.collect(),
        plants: desk.book().family(id).collect(),
        has_totals: cross.totals.is_some(),
    }
}
