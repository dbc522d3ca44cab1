//! The course of a life: what can come before what.

use super::{
    column::Column,
    faults::{At, Faults},
    row::Told,
};
use crate::book::{Entry, PlantDeed, Season, When};

/// Something dated, and the cell that says so; no cell where the book says it.
type Fact = (When, Option<At>);

/// What is known to have happened, by the column that would say it.
#[derive(Debug, Default)]
pub(super) struct Course {
    facts: Vec<(Column, Fact)>,
    /// Whether the look was at an open bloom.
    shows_bloom: bool,
    season: Option<Season>,
}

/// Each event with those that must not come after it, the closest first.
const ORDER: &[(Column, &[Column])] = &[
    (Column::Planted, &[Column::Sown]),
    (Column::LastSeenUnbloomed, &[Column::Planted, Column::Sown]),
    (Column::FirstBloom, &[Column::LastSeenUnbloomed, Column::Planted, Column::Sown]),
    (Column::LookOn, &[Column::Planted, Column::Sown]),
    (Column::VerdictOn, &[Column::Planted, Column::Sown]),
    (
        Column::LostOn,
        &[
            Column::LookOn,
            Column::FirstBloom,
            Column::LastSeenUnbloomed,
            Column::Planted,
            Column::Sown,
        ],
    ),
];

impl Course {
    /// What a row tells, filled from the diary of the plant. `shows_bloom` says
    /// whether its look was at an open bloom; the season is that of the cross.
    pub(super) fn of(
        told: &Told<'_, '_>,
        diary: &[Entry<PlantDeed>],
        season: Option<Season>,
        shows_bloom: bool,
    ) -> Self {
        let mut course = Self { facts: Vec::new(), shows_bloom, season };
        let told_of = |column: Column| {
            let cell = if column == Column::LookOn && told.cell(column).is_none() {
                Column::On
            } else {
                column
            };
            told.date(cell).map(|when| (when, Some(told.at(cell))))
        };
        let known = |column: Column| {
            let is = |did: &PlantDeed| match column {
                Column::Planted => matches!(did, PlantDeed::Planted(_)),
                Column::FirstBloom => matches!(did, PlantDeed::FirstBloom),
                Column::LostOn => matches!(did, PlantDeed::Lost(_)),
                _ => false,
            };
            diary.iter().find(|entry| is(&entry.did)).map(|entry| entry.on)
        };
        let columns = [Column::Sown].into_iter().chain(ORDER.iter().map(|(column, _)| *column));
        for column in columns {
            let fact = told_of(column).or_else(|| known(column).map(|when| (when, None)));
            course.facts.extend(fact.map(|fact| (column, fact)));
        }
        course
    }

    fn fact(&self, column: Column) -> Option<Fact> {
        self.facts.iter().find(|(c, _)| *c == column).map(|(_, fact)| *fact)
    }

    /// Reports whatever cannot have happened in this order.
    pub(super) fn check(&self, faults: &mut Faults<'_>) {
        for (column, before) in ORDER {
            let Some(late) = self.fact(*column) else { continue };
            let out_of_order = before.iter().find_map(|&other| {
                let early = self.fact(other)?;
                late.0.surely_before(early.0).then_some((other, early))
            });
            if let Some((other, early)) = out_of_order {
                report((*column, late), (other, early), faults);
            }
        }
        if let (true, Some(look), Some(bloom)) =
            (self.shows_bloom, self.fact(Column::LookOn), self.fact(Column::FirstBloom))
            && look.0.surely_before(bloom.0)
        {
            report((Column::LookOn, look), (Column::FirstBloom, bloom), faults);
        }
        let first = [Column::Sown, Column::Planted, Column::FirstBloom];
        let first = first.into_iter().find_map(|column| Some((column, self.fact(column)?)));
        if let (Some(season), Some((column, (when, Some(at))))) = (self.season, first)
            && when.season() < season
        {
            faults.add(
                at,
                format!(
                    "The plant was {} {}, before its cross was made in {season}.",
                    word(column),
                    on(when)
                ),
                "Correct the date, or the season of the cross.",
            );
        }
    }
}

fn report(
    (column, (late, at)): (Column, Fact),
    (other, (early, other_at)): (Column, Fact),
    faults: &mut Faults<'_>,
) {
    // Where both are of the book, the fault is not this file's.
    let Some(at) = at.or(other_at) else { return };
    let hint = if other == Column::Planted {
        "Correct one of the dates; of a plant that was planted again, planted is the first time."
    } else {
        "Correct one of the dates."
    };
    let (what, before) = (word(column), word(other));
    faults.add(
        at,
        format!("The plant was {what} {}, before it was {before} {}.", on(late), on(early)),
        hint,
    );
}

fn on(when: When) -> String {
    let word = if when.exact().is_some() { "on" } else { "in" };
    format!("{word} {when}")
}

fn word(column: Column) -> &'static str {
    match column {
        Column::Sown => "sown",
        Column::Planted => "planted",
        Column::LastSeenUnbloomed => "last seen unbloomed",
        Column::FirstBloom => "in first bloom",
        Column::VerdictOn => "given a verdict",
        Column::LostOn => "lost",
        _ => "looked at",
    }
}
