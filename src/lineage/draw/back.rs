//! The ancestors in the picture.

use std::collections::VecDeque;

use crate::book::PlantId;

use super::{
    super::{Link, Parents, Scratch},
    Rail, Role, Room, What,
    sheet::Sheet,
};

/// A parent that is to be drawn.
#[derive(Debug, Clone, Copy)]
struct Upward {
    what: What,
    role: Role,
    certain: bool,
}

/// Draws parents of parents, near ones first, as long as there are rows. Returns everything
/// drawn from top to bottom, the plant in the middle among it.
pub(super) fn fill(sheet: &mut Sheet<'_>, room: Room) -> Vec<usize> {
    let mut waiting = VecDeque::from([0]);
    let mut scratch = Scratch::default();
    while let Some(at) = waiting.pop_front() {
        let cell = sheet.drafts[at].cell;
        let What::Plant(plant) = cell.what else { continue };
        let rows_left = room.rows.saturating_sub(sheet.drafts.len());
        let generation = usize::try_from(-cell.column).unwrap_or_default();
        let parents = sheet.pedigree.parents(plant);
        let fits = |parents: &Vec<Upward>| generation < room.back && parents.len() <= rows_left;
        let Some(parents) = [all(parents), in_short(parents)].into_iter().find(fits) else {
            let n_ancestors = sheet.pedigree.ancestors_in(plant, None, &mut scratch).len();
            // A plant that is its own parent may have nobody behind it but itself.
            let at_least = usize::from(!sheet.pedigree.is_founder(plant));
            sheet.drafts[at].cell.behind = n_ancestors.max(at_least);
            continue;
        };
        for Upward { what, role, certain } in parents {
            let parent = sheet.put(cell.column - 1, what);
            sheet.rails.push(Rail { from: parent, to: at, role: Some(role), certain });
            match role {
                Role::Seed | Role::Selfed => sheet.drafts[at].above.push(parent),
                Role::Pollen => sheet.drafts[at].below.push(parent),
            }
            if sheet.drafts[parent].same_as.is_none() {
                waiting.push_back(parent);
            }
        }
    }
    sheet.column_of(0)
}

/// Every plant that is or may be a parent, and a place for one that nobody knows.
fn all(parents: Parents<'_>) -> Vec<Upward> {
    if let Some(parent) = selfed(parents) {
        return vec![Upward { what: What::Plant(parent), role: Role::Selfed, certain: true }];
    }
    let side = |links: &[Link], unknown: f64, role| {
        let known = links.iter().map(move |link| Upward {
            what: What::Plant(link.plant),
            role,
            certain: link.is_certain(),
        });
        let is_all_unknown = links.is_empty();
        let nobody = Upward { what: What::Unknown, role, certain: is_all_unknown };
        known.chain((unknown > 0.0).then_some(nobody)).collect::<Vec<_>>()
    };
    if parents.all().next().is_none() {
        return Vec::new();
    }
    let seed = side(parents.seed, parents.unknown_seed(), Role::Seed);
    let pollen = side(parents.pollen, parents.unknown_pollen(), Role::Pollen);
    [seed, pollen].concat()
}

/// The same with one cell for all candidates of a side.
fn in_short(parents: Parents<'_>) -> Vec<Upward> {
    let (seed, pollen): (Vec<Upward>, Vec<Upward>) =
        all(parents).into_iter().partition(|parent| parent.role != Role::Pollen);
    let short = |side: Vec<Upward>| match side[..] {
        [first, _, ..] => vec![Upward { what: What::OneOf(side.len()), ..first }],
        _ => side,
    };
    [short(seed), short(pollen)].concat()
}

fn selfed(parents: Parents<'_>) -> Option<PlantId> {
    parents.known_seed().filter(|&seed| parents.known_pollen() == Some(seed))
}
