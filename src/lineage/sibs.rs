//! Sibs: plants that share both parents, or one.

use crate::book::{Book, Father, PlantId, PlantRecord};

use super::{FamilyId, Parents, Pedigree};

/// How two sibs are related.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kin {
    /// They have both parents in common; which of them bore the seed does not matter.
    Full,
    /// They have this parent in common.
    Half(PlantId),
}

/// A plant that shares a parent with another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Sib {
    /// How it is related. Plants of one family are called full sibs whatever is known of their
    /// fathers.
    pub kin: Kin,
    /// The plant.
    pub plant: PlantId,
    /// Whether the parents in common are known for certain. Plants of one family share an
    /// unknown father for certain only if one father is said to stand behind the whole lot.
    pub certain: bool,
}

impl Pedigree {
    /// The sibs of a plant, full sibs first, then by the parent in common. A plant that is
    /// related both ways is listed once, by the surer way and then by the closer.
    pub fn sibs(&self, book: &Book, plant: PlantId) -> Vec<Sib> {
        let own = self.family_of(plant);
        let parents = self.parents_of(own);
        let mut sibs: Vec<Sib> = self
            .plants(own)
            .filter(|&other| other != plant)
            .map(|other| Sib {
                kin: Kin::Full,
                plant: other,
                certain: shares_both(book, parents, plant, other),
            })
            .collect();
        for family in self.families_near(own) {
            let Some((kin, certain)) = related(parents, self.parents_of(family)) else { continue };
            let others = self.plants(family).filter(|&other| other != plant);
            sibs.extend(others.map(|plant| Sib { kin, plant, certain }));
        }
        sibs.sort_unstable();
        sibs
    }

    /// The other families in which a parent of this one is a parent too.
    fn families_near(&self, own: FamilyId) -> Vec<FamilyId> {
        let links = self.parents_of(own).all();
        let offspring = links.flat_map(|link| self.offspring_of(link.used));
        let mut near: Vec<FamilyId> =
            offspring.map(|o| o.family).filter(|&family| family != own).collect();
        near.sort_unstable();
        near.dedup();
        near
    }
}

/// Whether two plants of one family surely have the same father, known or not.
fn shares_both(book: &Book, parents: Parents<'_>, plant: PlantId, other: PlantId) -> bool {
    if parents.known_seed().is_some() && parents.known_pollen().is_some() {
        return true;
    }
    let (PlantRecord::Seedling(cross, one), PlantRecord::Seedling(_, two)) =
        (book.plant(plant), book.plant(other))
    else {
        return false;
    };
    let (one, two) = (one.lot.as_deref(), two.lot.as_deref());
    one == two && cross.father_of(one) == Father::One
}

/// How the plants of two families with these parents are related, and whether for certain.
fn related(one: Parents<'_>, two: Parents<'_>) -> Option<(Kin, bool)> {
    if let (Some(s), Some(p)) = (one.known_seed(), one.known_pollen())
        && let (Some(t), Some(q)) = (two.known_seed(), two.known_pollen())
        && ((s, p) == (t, q) || (s, p) == (q, t))
    {
        return Some((Kin::Full, true));
    }
    let mut found = None;
    for link in one.all() {
        for other in two.all().filter(|other| other.plant == link.plant) {
            let certain = link.is_certain() && other.is_certain();
            if certain {
                return Some((Kin::Half(link.plant), true));
            }
            found = found.or(Some((Kin::Half(link.plant), false)));
        }
    }
    found
}
