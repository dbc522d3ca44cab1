//! What stands in the list of crosses and in the tin, and how both are ordered.

use std::{borrow::Cow, cmp::Ordering};

use crate::book::{By, CrossId};
use crate::tui::{
    page::Around,
    said,
    theme::Role,
    widget::{
        listing::Key,
        range::{Scale, Spread},
        table::{Cell, Column},
    },
};
use crate::views::{
    Levels,
    crosses::{self, beside_usual},
    seed::{self, PacketId},
};

pub(super) const CROSSES: &[Column] = &[
    Column::words("cross", 6, 12, 0),
    Column::figures("made", 4, 3),
    Column::words("parents", 24, 56, 1),
    Column::figures("ripe", 7, 6),
    Column::figures("seeds", 5, 7),
    Column::figures("came up", 11, 4),
    Column::figures("planted", 7, 8),
    Column::figures("opened", 11, 5),
    Column::figures("kept", 9, 2),
    Column::words("", 14, 48, 9),
    Column::figures("share", 12, 9),
];

/// Which column of [`CROSSES`] a list begins ordered by.
pub(super) const MADE: usize = 1;
/// Which column of [`CROSSES`] holds the ranges.
pub(super) const RANGE: usize = 9;

pub(super) const TIN: &[Column] = &[
    Column::words("packet", 7, 14, 0),
    Column::words("parents", 26, 56, 1),
    Column::figures("age", 7, 3),
    Column::figures("filled", 6, 5),
    Column::figures("sown", 5, 6),
    Column::figures("came up", 7, 6),
    Column::figures("left", 5, 2),
    Column::figures("should come up", 14, 4),
];

/// What the ranges of the list are drawn to.
pub(super) const SCALE: Scale = Scale { to: 1.0 };

pub(super) fn cross<'a>(around: &Around<'a>, id: CrossId, column: usize) -> Cell<'a> {
    let desk = around.desk;
    // The first columns need no counting.
    match column {
        0 => return Cell::text(&*desk.book().cross(id).code),
        1 => return Cell::quiet(made(around, id)),
        2 => return Cell::text(parents(around, id)),
        _ => {}
    }
    let row = crosses::row(desk, id, Levels::default());
    let (counts, usual) = (row.counts, &desk.book().crop().rates);
    match column {
        3 if row.heads.pollinated > 0 => Cell::text(said::of(row.heads.ripe, row.heads.pollinated)),
        3 => Cell::count(counts.heads),
        4 => Cell::count(counts.seeds),
        5 => against(around, counts.up, counts.sown, usual.up_of_sown.value),
        6 => Cell::count(counts.planted),
        7 => against(around, counts.bloomed, counts.planted, usual.bloomed_of_planted.value),
        8 if counts.judged > 0 => {
            let role = if counts.kept > 0 { Role::Strong } else { Role::Text };
            Cell::Text(said::of(counts.kept, counts.judged).into(), role)
        }
        RANGE => row.rate.map_or(Cell::Blank, |rate| {
            Cell::Range(Spread { at: rate.p, low: rate.low, high: rate.high }, SCALE)
        }),
        10 => row.rate.map_or(Cell::Blank, |rate| said::share_cell(&rate, around.glyphs())),
        _ => Cell::quiet(around.glyphs().unknown),
    }
}

fn made(around: &Around<'_>, id: CrossId) -> String {
    let season = around.desk.book().cross(id).season;
    season.map_or_else(String::new, |season| season.to_string())
}

/// The parents, and for what was bought in the word for it.
fn parents(around: &Around<'_>, id: CrossId) -> String {
    let cross = around.desk.book().cross(id);
    match (&cross.from, cross.by) {
        (Some(from), By::Hand) => {
            format!("{}, from {from}", said::cross(around.desk, id, around.glyphs()))
        }
        _ => said::cross(around.desk, id, around.glyphs()),
    }
}

/// `14 of 20`, with a sign where that is less or more than usual beyond chance.
fn against<'a>(around: &Around<'a>, part: u32, whole: u32, usual: f64) -> Cell<'a> {
    let glyphs = around.glyphs();
    if whole == 0 {
        return Cell::Pieces(vec![
            (Cow::Borrowed(if part == 0 { glyphs.unknown } else { "" }), Role::Quiet),
            (Cow::Owned(if part == 0 { String::new() } else { part.to_string() }), Role::Text),
            (Cow::Borrowed("  "), Role::Text),
        ]);
    }
    let sign = match Levels::default().rate(part.min(whole), whole) {
        Some(share) => match beside_usual(share, usual) {
            Ordering::Less => (glyphs.falling, Role::Bad),
            Ordering::Greater => (glyphs.rising, Role::Good),
            Ordering::Equal => (" ", Role::Text),
        },
        None => (" ", Role::Text),
    };
    Cell::Pieces(vec![
        (said::of(part, whole).into(), Role::Text),
        (Cow::Borrowed(" "), Role::Text),
        (Cow::Borrowed(sign.0), sign.1),
    ])
}

pub(super) fn packet<'a>(around: &Around<'a>, id: PacketId, column: usize) -> Cell<'a> {
    let desk = around.desk;
    let lot = &desk.book().cross(id.cross).lots[id.lot];
    let row = seed::row(desk, id, Levels::default());
    let unknown = || Cell::quiet(around.glyphs().unknown);
    match column {
        0 => Cell::text(&*lot.code),
        1 => Cell::text(parents(around, id.cross)),
        2 => row.age.map_or_else(unknown, |age| match age {
            0 => Cell::text("fresh"),
            1 => Cell::text("1 year"),
            _ => Cell::text(format!("{age} years")),
        }),
        3 => row.seeds.map_or_else(unknown, Cell::count),
        4 => Cell::count(row.sown),
        5 => Cell::count(row.up),
        6 => row.left.map_or_else(
            || Cell::quiet("some"),
            |left| Cell::Text(left.to_string().into(), Role::Strong),
        ),
        _ => row.expected_up.map_or_else(unknown, |up| {
            let ends = format!("{}{}{}", up.low, around.glyphs().to, up.high);
            Cell::Pieces(vec![
                (format!("{:.0}", up.n).into(), Role::Text),
                (format!("{ends:>8}").into(), Role::Quiet),
            ])
        }),
    }
}

pub(super) fn cross_key(around: &Around<'_>, id: CrossId, column: usize) -> Key {
    let desk = around.desk;
    let counts = desk.counts(id);
    let share = |part: u32, whole: u32| {
        Key::number((whole > 0).then(|| f64::from(part) / f64::from(whole)))
    };
    match column {
        0 => Key::label(&*desk.book().cross(id).code),
        1 => Key::number(desk.book().cross(id).season.map(|season| season.0.into())),
        2 => Key::label(parents(around, id)),
        3 => Key::count(crosses::Heads::of(&desk.book().cross(id).heads).ripe),
        4 => Key::count(counts.seeds),
        5 => share(counts.up, counts.sown),
        6 => Key::count(counts.planted),
        7 => share(counts.bloomed, counts.planted),
        8 => Key::number((counts.judged > 0).then_some(counts.kept.into())),
        _ => share(counts.kept, counts.judged),
    }
}

pub(super) fn packet_key(around: &Around<'_>, id: PacketId, column: usize) -> Key {
    let row = seed::row(around.desk, id, Levels::default());
    match column {
        0 => Key::label(&*around.desk.book().cross(id.cross).lots[id.lot].code),
        1 => Key::label(parents(around, id.cross)),
        2 => Key::number(row.age.map(f64::from)),
        3 => Key::number(row.seeds.map(f64::from)),
        4 => Key::count(row.sown),
        5 => Key::count(row.up),
        6 => Key::number(row.left.map(f64::from)),
        _ => Key::number(row.expected_up.map(|up| up.n)),
    }
}

/// The words of a cross that a filter looks at.
pub(super) fn cross_letters(around: &Around<'_>, id: CrossId) -> String {
    format!("{} {} {}", around.desk.book().cross(id).code, made(around, id), parents(around, id))
}

/// The words of a packet that a filter looks at.
pub(super) fn packet_letters(around: &Around<'_>, id: PacketId) -> String {
    let lot = &around.desk.book().cross(id.cross).lots[id.lot];
    format!("{} {}", lot.code, parents(around, id.cross))
}
