//! Rows sorted by what they are about.

use std::collections::{BTreeSet, HashMap};

use foldhash::fast::FixedState;

use super::{
    Kind,
    column::Column,
    faults::{At, Faults},
    row::{Cell, Differs, Row, Told},
    value::shown,
};
use crate::book::{fold, label_order};

/// What the files tell, by kind; each list in an order that does not depend on that of the rows.
#[derive(Debug, Default)]
pub(super) struct Gathered<'r, 's> {
    pub(super) varieties: Vec<Told<'r, 's>>,
    pub(super) seedlings: Vec<Told<'r, 's>>,
    pub(super) looks: Vec<Told<'r, 's>>,
    pub(super) counts: Vec<Told<'r, 's>>,
    /// Folded names of plants whose rows contradict each other; they are in none of the lists.
    pub(super) disputed: BTreeSet<String>,
}

/// Brings together the rows about the same plant. Two that contradict each other are a fault.
pub(super) fn gather<'r, 's>(
    rows: &[&'r Row<'s>],
    traits: &[Box<str>],
    faults: &mut Faults<'_>,
) -> Gathered<'r, 's> {
    let of = |kind: Kind| rows.iter().copied().filter(move |row| row.kind == kind);
    let mut disputed = BTreeSet::new();
    let mut by_name = |kind, column| {
        let (settled, open): (Vec<_>, Vec<_>) =
            by_name(of(kind), column).into_iter().partition(|group| group.differs.is_empty());
        for group in &open {
            report(group, column, traits, faults);
            disputed.extend(group.told.text(column).map(fold));
        }
        let mut told: Vec<(&str, Told<'r, 's>)> = settled
            .into_iter()
            .map(|group| (group.told.text(column).unwrap_or_default(), group.told))
            .collect();
        told.sort_by(|(a, _), (b, _)| label_order(a, b));
        told.into_iter().map(|(_, told)| told).collect()
    };
    Gathered {
        varieties: by_name(Kind::Varieties, Column::Variety),
        seedlings: by_name(Kind::Seedlings, Column::Seedling),
        looks: each(of(Kind::Looks)),
        counts: each(of(Kind::Counts)),
        disputed,
    }
}

/// The rows about one plant.
struct Group<'r, 's> {
    told: Told<'r, 's>,
    /// Every row, also those that contradict.
    all: Vec<At>,
    /// Where a row contradicts those before it.
    differs: Vec<(&'r Row<'s>, Differs<'r, 's>)>,
}

fn by_name<'r, 's: 'r>(
    rows: impl Iterator<Item = &'r Row<'s>>,
    column: Column,
) -> Vec<Group<'r, 's>> {
    let mut groups: Vec<Group<'r, 's>> = Vec::new();
    let mut by_name: HashMap<String, usize, FixedState> = HashMap::default();
    for row in rows {
        let Some(name) = row.cell(column) else { continue };
        let n = *by_name.entry(fold(name.text)).or_insert(groups.len());
        match groups.get_mut(n) {
            None => groups.push(Group { told: Told::by(row), all: vec![row.at], differs: vec![] }),
            Some(group) => {
                group.all.push(row.at);
                if let Err(differs) = group.told.join(row) {
                    group.differs.push((row, differs));
                }
            }
        }
    }
    groups
}

/// The faults of rows that contradict others about the same plant. None of them can be taken,
/// whichever is right.
fn report(
    Group { told, all, differs }: &Group<'_, '_>,
    column: Column,
    traits: &[Box<str>],
    faults: &mut Faults<'_>,
) {
    let text = |cell: Option<&Cell<'_>>| cell.map_or("nothing".to_owned(), |c| shown(c.text));
    for (row, differs) in differs {
        let at = differs.other.map_or(row.at, |cell| cell.at);
        let first = differs.first.map_or(differs.first_row, |cell| cell.at);
        let message = format!(
            "{} stands on {} too, with {} {} there and {} here.",
            shown(told.text(column).unwrap_or_default()),
            faults.place(first, at),
            differs.column.name(traits),
            text(differs.first),
            text(differs.other),
        );
        faults.add_with(
            at,
            all,
            message,
            "Take one of the rows out, or give one of the plants another number or name.",
        );
    }
}

fn each<'r, 's: 'r>(rows: impl Iterator<Item = &'r Row<'s>>) -> Vec<Told<'r, 's>> {
    let mut told: Vec<Told<'r, 's>> = rows.map(Told::by).collect();
    told.sort_by_cached_key(|told| {
        told.cells().map(|c| (c.column, c.text.to_owned())).collect::<Vec<_>>()
    });
    told
}
