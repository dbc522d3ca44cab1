//! Families of which only totals are known.

use super::{
    column::Column,
    compare::{Came, Clash, Compare},
    faults::Faults,
    row::Told,
};
use crate::book::{Counts, Season, Totals};

/// The counts along the way, first to last: each is of the one before.
const WAY: [(Column, &str); 8] = [
    (Column::Heads, "heads"),
    (Column::Seeds, "seeds"),
    (Column::SeedsSown, "sown"),
    (Column::Up, "up"),
    (Column::PlantedOut, "planted"),
    (Column::Bloomed, "bloomed"),
    (Column::Judged, "judged"),
    (Column::Kept, "kept"),
];

/// What a row counts.
pub(super) fn of_row(told: &Told<'_, '_>) -> Totals {
    Totals {
        heads: told.count(Column::Heads),
        seeds: told.count(Column::Seeds),
        sown: told.count(Column::SeedsSown),
        up: told.count(Column::Up),
        planted: told.count(Column::PlantedOut),
        bloomed: told.count(Column::Bloomed),
        judged: told.count(Column::Judged),
        kept: told.count(Column::Kept),
        judged_season: told.season(Column::JudgedSeason),
    }
}

fn fields(totals: &mut Totals) -> [&mut Option<u32>; 8] {
    let Totals { heads, seeds, sown, up, planted, bloomed, judged, kept, .. } = totals;
    [heads, seeds, sown, up, planted, bloomed, judged, kept]
}

fn counts(counts: Counts) -> [u32; 8] {
    let Counts { heads, seeds, sown, up, planted, bloomed, judged, kept, .. } = counts;
    [heads, seeds, sown, up, planted, bloomed, judged, kept]
}

/// Reports counts that cannot be: more kept than judged, and the like. Heads and seeds are
/// counts of different things.
pub(super) fn check(told: &Told<'_, '_>, faults: &mut Faults<'_>) {
    let mut before: Option<(u32, &str)> = None;
    for (column, name) in &WAY[1..] {
        let Some(n) = told.count(*column) else { continue };
        if let Some((most, of)) = before
            && n > most
        {
            faults.add(
                told.at(*column),
                format!("{n} {name} of {most} {of} cannot be."),
                format!(
                    "Correct one of the two: {name} counts some of those under {of} and no more."
                ),
            );
        }
        before = Some((n, name));
    }
    if let (Some(made), Some(judged)) =
        (told.season(Column::Season), told.season(Column::JudgedSeason))
        && judged < made
    {
        faults.add(
            told.at(Column::JudgedSeason),
            format!("The plants were judged in {judged}, before the cross was made in {made}."),
            "Correct one of the two seasons.",
        );
    }
}

/// Takes in what a row counts beside what was known of the whole family. On a clash `known` is
/// left as it was.
pub(super) fn meet(
    known: &mut Totals,
    told: &Totals,
    season: Option<Season>,
) -> Result<Came, Clash> {
    let (mut met, mut told) = (*known, *told);
    let mut compare = Compare::default();
    for (n, (known, told)) in fields(&mut met).into_iter().zip(fields(&mut told)).enumerate() {
        compare.field(WAY[n].1, known, told.as_ref());
    }
    // The season after the cross goes without saying.
    let usual = season.map(Season::next);
    if *known != Totals::default() {
        let mut judged_season = met.judged_season.or(usual);
        compare.field("judged_season", &mut judged_season, told.judged_season.as_ref());
    }
    met.judged_season = met.judged_season.or(told.judged_season).filter(|s| Some(*s) != usual);
    let came = compare.done()?;
    *known = met;
    Ok(came)
}

/// The totals of a whole family, from those of its plants without numbers and the counts of the
/// numbered ones. What nobody counted in total stays so.
pub(super) fn whole(rest: Totals, numbered: Counts) -> Totals {
    let mut whole = rest;
    for (total, n) in fields(&mut whole).into_iter().zip(counts(numbered)) {
        *total = total.map(|total| total.saturating_add(n));
    }
    whole
}

/// The totals of the plants without numbers: the whole family less the numbered plants. The name
/// of a count of which there would be more numbered plants than plants in all, with both
/// figures, where that is so.
pub(super) fn rest(whole: Totals, numbered: Counts) -> Result<Totals, (&'static str, u32, u32)> {
    let mut rest = whole;
    for (n, (total, numbered)) in fields(&mut rest).into_iter().zip(counts(numbered)).enumerate() {
        if let Some(all) = *total {
            *total = Some(all.checked_sub(numbered).ok_or((WAY[n].1, numbered, all))?);
        }
    }
    Ok(rest)
}
