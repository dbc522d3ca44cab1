//! The offspring in the picture, cross by cross.

use std::cmp::Reverse;

use crate::book::PlantId;

use super::{
    super::{FamilyId, Pedigree},
    Rail, Role, Room, What,
    sheet::Sheet,
};

/// A family that is drawn, and how much of it.
struct Litter {
    /// The draft of its cross.
    cross: usize,
    /// Its plants, those worth showing first.
    plants: Vec<PlantId>,
    n_notable: usize,
    n_shown: usize,
}

/// Draws the crosses of the plant in the middle and of those of its offspring that are parents,
/// with their seedlings, as long as there are rows: those worth showing in every generation, and
/// then the others. Returns everything drawn from top to bottom.
pub(super) fn fill(
    sheet: &mut Sheet<'_>,
    room: Room,
    notable: impl Fn(PlantId) -> bool,
) -> Vec<usize> {
    let pedigree = sheet.pedigree;
    let mut on = On { sheet, rows_left: room.rows, litters: Vec::new() };
    let is_notable = |plant| notable(plant) || !pedigree.offspring(plant).is_empty();
    let mut parents = vec![0];
    let mut n_told = 0;
    for _ in 0..room.on {
        let mut next = Vec::new();
        for parent in parents {
            next.extend(on.crosses(parent, &is_notable));
        }
        next.extend(on.show(n_told, |litter| litter.n_notable));
        n_told = on.litters.len();
        parents = next;
    }
    on.show(0, |litter| litter.plants.len());
    on.count_the_rest();
    let order = on.sheet.column_of(0).into_iter();
    order.filter(|&at| on.sheet.drafts[at].cell.column > 0).collect()
}

struct On<'s, 'a> {
    sheet: &'s mut Sheet<'a>,
    rows_left: usize,
    litters: Vec<Litter>,
}

impl On<'_, '_> {
    fn take_rows(&mut self, n: usize) -> bool {
        let enough = n <= self.rows_left;
        if enough {
            self.rows_left -= n;
        }
        enough
    }

    fn hang(&mut self, from: usize, what: What, role: Option<Role>, certain: bool) -> usize {
        let column = self.sheet.drafts[from].cell.column;
        // What hangs on a parent itself stands in an odd column, a seedling behind its cross.
        let column = match what {
            What::Plant(_) | What::MoreSeedlings(_) if role.is_none() => (column / 2 + 1) * 2,
            _ => (column + 1) / 2 * 2 + 1,
        };
        let at = self.sheet.put(column, what);
        self.sheet.drafts[from].below.push(at);
        self.sheet.rails.push(Rail { from, to: at, role, certain });
        at
    }

    /// Draws the crosses of a plant, those with something to show before empty ones if there is
    /// not room for all. Returns the varieties among its offspring, which are of no cross here.
    fn crosses(&mut self, parent: usize, is_notable: &impl Fn(PlantId) -> bool) -> Vec<usize> {
        let What::Plant(plant) = self.sheet.drafts[parent].cell.what else { return Vec::new() };
        let pedigree = self.sheet.pedigree;
        let families: Vec<FamilyId> = pedigree.offspring(plant).iter().map(|o| o.family).collect();
        let mut litters: Vec<(FamilyId, Litter)> = families
            .into_iter()
            .map(|family| (family, Litter::of(pedigree, family, is_notable)))
            .collect();
        let n_all = litters.len();
        if n_all > self.rows_left {
            litters.sort_by_key(|(_, litter)| Reverse((litter.n_notable, litter.plants.len())));
            litters.truncate(self.rows_left.saturating_sub(1));
            litters.sort_by_key(|(family, _)| *family);
        }
        let n_left_out = n_all - litters.len();
        let mut varieties = Vec::new();
        for (family, litter) in litters {
            self.rows_left -= 1;
            let (role, certain) = role(pedigree, family, plant);
            let what = match (pedigree.cross_of(family), &litter.plants[..]) {
                (None, &[variety]) => What::Plant(variety),
                _ => What::Cross(family),
            };
            let at = self.hang(parent, what, Some(role), certain);
            match what {
                _ if self.sheet.drafts[at].same_as.is_some() => {}
                What::Plant(_) => varieties.push(at),
                _ => self.litters.push(Litter { cross: at, ..litter }),
            }
        }
        if n_left_out > 0 {
            if self.take_rows(1) {
                self.hang(parent, What::MoreCrosses(n_left_out), None, true);
            } else {
                self.sheet.drafts[parent].cell.beyond = n_left_out;
            }
        }
        varieties
    }

    /// Shows plants of the litters from the `first` on, one of each in turn, as long as there
    /// are rows and up to so many of each. Returns those that are parents.
    fn show(&mut self, first: usize, most: impl Fn(&Litter) -> usize) -> Vec<usize> {
        let mut parents = Vec::new();
        let mut is_done = false;
        while !is_done {
            is_done = true;
            for i in first..self.litters.len() {
                let litter = &self.litters[i];
                if litter.n_shown >= most(litter) {
                    continue;
                }
                // The row that counts the rest comes with the first plant and goes with the last.
                let n_rest = litter.plants.len() - litter.n_shown - 1;
                let rows = match (litter.n_shown, n_rest) {
                    (0, 1..) => 2,
                    (1.., 0) => 0,
                    _ => 1,
                };
                if !self.take_rows(rows) {
                    continue;
                }
                is_done = false;
                let litter = &mut self.litters[i];
                let (cross, plant) = (litter.cross, litter.plants[litter.n_shown]);
                litter.n_shown += 1;
                let at = self.hang(cross, What::Plant(plant), None, true);
                let is_parent = !self.sheet.pedigree.offspring(plant).is_empty();
                if is_parent && self.sheet.drafts[at].same_as.is_none() {
                    parents.push(at);
                }
            }
        }
        parents
    }

    /// Counts the seedlings that are not shown, and the crosses that are not told of.
    fn count_the_rest(&mut self) {
        for litter in std::mem::take(&mut self.litters) {
            let n_more = litter.plants.len() - litter.n_shown;
            if n_more > 0 && litter.n_shown > 0 {
                self.hang(litter.cross, What::MoreSeedlings(n_more), None, true);
            }
        }
        for draft in self.sheet.drafts.iter_mut().filter(|draft| draft.cell.column > 0) {
            if let What::Plant(plant) = draft.cell.what
                && draft.below.is_empty()
                && draft.same_as.is_none()
            {
                draft.cell.beyond = self.sheet.pedigree.offspring(plant).len();
            }
        }
    }
}

impl Litter {
    fn of(pedigree: &Pedigree, family: FamilyId, is_notable: &impl Fn(PlantId) -> bool) -> Self {
        let (mut plants, others): (Vec<_>, Vec<_>) =
            pedigree.plants(family).partition(|&plant| is_notable(plant));
        let n_notable = plants.len();
        plants.extend(others);
        Self { cross: 0, plants, n_notable, n_shown: 0 }
    }
}

/// What a plant was in the cross of a family, and whether for certain.
fn role(pedigree: &Pedigree, family: FamilyId, plant: PlantId) -> (Role, bool) {
    let parents = pedigree.parents_of(family);
    let bore_seed = parents.known_seed() == Some(plant);
    let gave_pollen = parents.known_pollen() == Some(plant);
    match (bore_seed, gave_pollen) {
        (true, true) => (Role::Selfed, true),
        (true, false) => (Role::Seed, true),
        (false, true) => (Role::Pollen, true),
        (false, false) if parents.seed.iter().any(|link| link.plant == plant) => {
            (Role::Seed, false)
        }
        (false, false) => (Role::Pollen, false),
    }
}
