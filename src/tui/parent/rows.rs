//! What is said of a parent, and the lines of its lists.

use crate::book::By;
use crate::merit::{liability::Outcome, traits::Estimate};
use crate::tui::{
    facts::Fact,
    page::Around,
    said,
    widget::{
        listing::Key,
        range::{Scale, Spread},
        table::{Cell, Column},
    },
};
use crate::views::{
    Interval,
    given::{Partner, WentOn},
    parent::{FamilyRow, Kin, Page as Record, Seeds, TraitRow},
    parents::Role,
    sibs, words,
};

use super::slow::Slow;

pub(super) const PARTNERS: &[Column] = &[
    Column::words("partner", 10, 40, 0),
    Column::figures("kept", 9, 1),
    Column::words("", 10, 40, 3),
    Column::figures("steadied", 12, 2),
];

/// Which column of [`PARTNERS`] holds the ranges.
pub(super) const RANGE: usize = 2;
pub(super) const SCALE: Scale = Scale { to: 1.0 };

pub(super) const KIN: &[Column] = &[
    Column::words("plant", 8, 30, 0),
    Column::words("state", 9, 9, 3),
    Column::figures("relationship", 12, 2),
    Column::figures("offspring inbred", 16, 1),
];

pub(super) const TRAITS: &[Column] = &[
    Column::words("trait", 8, 14, 0),
    Column::figures("its seedlings", 16, 1),
    Column::figures("known to", 8, 3),
    Column::figures("against the rest", 16, 2),
];

pub(super) const FAMILIES: &[Column] = &[
    Column::words("family with", 8, 30, 0),
    Column::words("trait", 6, 12, 1),
    Column::figures("plants", 6, 4),
    Column::figures("family mean", 11, 1),
    Column::figures("mid-parent", 10, 2),
    Column::figures("pair adds", 12, 3),
];

/// The parent in one line.
pub(super) fn says(record: &Record, around: &Around<'_>) -> String {
    let name = around.desk.label(record.plant);
    let Some(row) = &record.row else {
        return format!("{name} has not been used as a parent.");
    };
    let crosses = row.as_seed.crosses + row.as_pollen.crosses;
    let crosses = said::many(crosses as usize, "cross", "crosses");
    let seedlings = said::many(record.went_on.seedlings as usize, "seedling", "seedlings");
    said::fitting(
        [
            format!("{name} as a parent: {crosses}, {seedlings}."),
            format!("{name} as a parent: {crosses}."),
        ],
        around.line_room(),
    )
}

/// What it gave on either side, and what its offspring went on to do.
pub(super) fn facts<'a>(record: &Record, slow: &Slow, around: &Around<'a>) -> Vec<Fact<'a>> {
    let mut all = Vec::new();
    let mut say = |name: &'static str, said: Option<String>| {
        all.extend(said.map(|said| Fact::Words(name, said)));
    };
    let Some(row) = &record.row else { return all };
    say("as seed", Some(role(row.as_seed, around)));
    say("as pollen", Some(role(row.as_pollen, around)));
    let told = |of, what: &str| match slow.chance(of) {
        Ok(chance) => format!("{} of {what}", with_ends(&chance, around)),
        Err(instead) => instead.to_owned(),
    };
    say("passes on", Some(told(Outcome::Kept, "its seedlings kept, with an average partner")));
    say("opens", Some(told(Outcome::Bloomed, "its seedlings, when planted")));
    say("kept again", Some(told(Outcome::KeptAgain, "those kept")));
    say(
        "seed set",
        record.seeds.map(|seeds| {
            let Seeds { heads, mean, low, high } = seeds;
            let dash = around.glyphs().to;
            format!(
                "{mean:.0} seeds a head ({low:.0}{dash}{high:.0}), by {}",
                words::many(heads, "head")
            )
        }),
    );
    let WentOn { seedlings, bloomed, judged, kept, kept_again, named, parents } = &record.went_on;
    say("went on", (*seedlings > 0).then(|| {
        format!(
            "of {}, {bloomed} bloomed, {kept} of {judged} kept, {kept_again} kept again, {} named, \
             {} parents",
            said::many(*seedlings as usize, "seedling", "seedlings"),
            named.len(),
            parents.len()
        )
    }));
    all
}

fn with_ends(share: &Interval, around: &Around<'_>) -> String {
    format!("{} ({})", said::percent(share.p), said::ends(share, around.glyphs()))
}

fn role(role: Role, around: &Around<'_>) -> String {
    let crosses = said::many(role.crosses as usize, "cross", "crosses");
    match role.rate {
        _ if role.crosses == 0 => "never".to_owned(),
        Some(rate) => {
            let kept = said::of(role.counts.kept, role.counts.judged);
            format!("kept {kept} in {crosses}, {}", with_ends(&rate, around))
        }
        None => format!("{crosses}, nothing judged"),
    }
}

/// The other parent of a pairing.
pub(super) fn partner(around: &Around<'_>, record: &Record, row: usize) -> String {
    let with = &record.partners[row].with;
    if with.plant() == Some(record.plant) {
        return "itself".to_owned();
    }
    said::party(around.desk, with, By::Hand)
}

pub(super) fn partner_cell<'a>(
    around: &Around<'a>,
    record: &Record,
    row: usize,
    column: usize,
) -> Cell<'a> {
    let partner: &Partner = &record.partners[row];
    let steadied = partner.shrunk;
    match column {
        0 => Cell::text(self::partner(around, record, row)),
        1 => Cell::text(said::of(partner.kept, partner.judged)),
        RANGE => {
            let spread = Spread { at: steadied.p, low: steadied.low, high: steadied.high };
            Cell::Range(spread, SCALE)
        }
        _ => said::share_cell(&steadied, around.glyphs()),
    }
}

pub(super) fn partner_key(around: &Around<'_>, partner: &Partner, column: usize) -> Key {
    match column {
        0 => Key::label(said::party(around.desk, &partner.with, By::Hand)),
        1 => Key::count(partner.kept),
        _ => Key::number(Some(partner.shrunk.p)),
    }
}

pub(super) fn kin_cell<'a>(around: &Around<'a>, kin: &Kin, column: usize) -> Cell<'a> {
    let desk = around.desk;
    match column {
        0 => Cell::text(desk.label(kin.plant)),
        1 if desk.book().cross_of(kin.plant).is_none() => Cell::quiet("variety"),
        1 => Cell::quiet(words::state(desk.brief(kin.plant).state)),
        2 => Cell::text(said::percent(kin.relationship)),
        _ => Cell::text(said::percent(kin.of_full_sibs)),
    }
}

pub(super) fn kin_key(around: &Around<'_>, kin: &Kin, column: usize) -> Key {
    match column {
        0 => Key::label(around.desk.label(kin.plant)),
        1 => Key::label(words::state(around.desk.brief(kin.plant).state)),
        2 => Key::number(Some(kin.relationship)),
        _ => Key::number(Some(kin.of_full_sibs)),
    }
}

/// A trait as a gardener calls it, with its unit.
fn trait_name(name: &str) -> String {
    match name {
        sibs::BLOOM_MM => "bloom, mm".to_owned(),
        sibs::HEIGHT_CM => "height, cm".to_owned(),
        score => score.to_owned(),
    }
}

/// Digits after the point: scores run from 1 to 9 or so and need one more than millimetres do.
fn digits(value: f64) -> usize {
    usize::from(value.abs() < 20.0)
}

pub(super) fn trait_cell<'a>(around: &Around<'a>, row: &TraitRow, column: usize) -> Cell<'a> {
    let dash = around.glyphs().to;
    let told = row.told.as_ref().ok().and_then(Option::as_ref);
    match (column, told) {
        (0, _) => Cell::text(trait_name(&row.name)),
        (1, Some((passed, _))) => {
            let digits = digits(passed.value);
            let (value, low, high) = (passed.value, passed.low, passed.high);
            Cell::text(format!("{value:.digits$}  {low:.digits$}{dash}{high:.digits$}"))
        }
        (1, None) => Cell::quiet("too few records"),
        (2, Some((passed, _))) => Cell::quiet(said::percent(passed.reliability)),
        (3, Some((passed, Some(general)))) => {
            Cell::text(difference(general, digits(passed.value), around))
        }
        _ => Cell::quiet(around.glyphs().unknown),
    }
}

/// A difference with its error: `+3.1 ± 2.0`.
fn difference(estimate: &Estimate, digits: usize, around: &Around<'_>) -> String {
    let sign = if around.theme.is_ascii() { "+/-" } else { "±" };
    let value = format!("{:+.digits$}", estimate.value);
    estimate.se.map_or(value.clone(), |se| format!("{value} {sign} {se:.digits$}"))
}

pub(super) fn trait_key(row: &TraitRow, column: usize) -> Key {
    let told = row.told.as_ref().ok().and_then(Option::as_ref);
    match column {
        0 => Key::label(&*row.name),
        1 => Key::number(told.map(|(passed, _)| passed.value)),
        2 => Key::number(told.map(|(passed, _)| passed.reliability)),
        _ => Key::number(told.and_then(|(_, general)| general.map(|general| general.value))),
    }
}

pub(super) fn family_cell<'a>(
    around: &Around<'a>,
    record: &Record,
    row: &FamilyRow,
    column: usize,
) -> Cell<'a> {
    let desk = around.desk;
    let family = &row.family;
    let digits = digits(family.mean);
    match column {
        0 if row.with == record.plant => Cell::text("itself"),
        0 => Cell::text(desk.label(row.with)),
        1 => Cell::quiet(trait_name(&row.name)),
        2 => Cell::count(family.n),
        3 => Cell::text(format!("{:.digits$}", family.mean)),
        4 => match family.mid_parent {
            Some(mean) => Cell::text(format!("{mean:.digits$}")),
            None => Cell::quiet(around.glyphs().unknown),
        },
        _ => match &family.specific {
            Some(adds) => Cell::text(difference(adds, digits, around)),
            None => Cell::quiet(around.glyphs().unknown),
        },
    }
}

pub(super) fn family_key(around: &Around<'_>, row: &FamilyRow, column: usize) -> Key {
    match column {
        0 => Key::label(around.desk.label(row.with)),
        1 => Key::label(&*row.name),
        2 => Key::count(row.family.n),
        3 => Key::number(Some(row.family.mean)),
        4 => Key::number(row.family.mid_parent),
        _ => Key::number(row.family.specific.map(|adds| adds.value)),
    }
}
