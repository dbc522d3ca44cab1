//! The pedigree of a book, in flat arrays.
//!
//! Plants used as parents get a number of their own, each a higher one than its parents; marks
//! and queues run over those numbers and over families, never over all plants.

use crate::book::{Book, CrossId, Parent, PlantId};

use super::{FamilyId, Link, Offspring, Parents, ancestors::Above, order};

/// Who came from whom, in one book as it stands.
#[derive(Debug, Clone)]
pub struct Pedigree {
    /// Varieties stand first on the roll, each a family by itself.
    n_varieties: u32,
    /// The first plant of each family, and one past the last of all.
    starts: Vec<u32>,
    /// The seed links, then the pollen links of each family.
    links: Vec<Link>,
    link_starts: Vec<u32>,
    pollen_starts: Vec<u32>,
    /// The plants used as parents, by depth and then in roll order: parents first.
    used: Vec<PlantId>,
    /// The parents of each of them, seed side first.
    above: Vec<Above>,
    above_starts: Vec<u32>,
    /// How many generations of ancestors stand behind each of them.
    used_depths: Vec<u32>,
    /// The numbers of the plants used as parents, in roll order.
    by_roll: Vec<u32>,
    /// Where in `by_roll` the plants of each family begin.
    by_roll_starts: Vec<u32>,
    /// The families in which each of them is a parent.
    offspring: Vec<Offspring>,
    offspring_starts: Vec<u32>,
}

/// A place in memory as a number; a pedigree that `u32` cannot count does not fit there.
pub(super) fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl Pedigree {
    /// Works out the pedigree of a book. A parent whose key nobody bears is an unknown one.
    pub fn of(book: &Book) -> Self {
        let n_varieties = small(book.varieties().len());
        let mut pedigree = Self {
            n_varieties,
            starts: (0..n_varieties).collect(),
            links: Vec::new(),
            link_starts: vec![0],
            pollen_starts: Vec::new(),
            used: Vec::new(),
            above: Vec::new(),
            above_starts: Vec::new(),
            used_depths: Vec::new(),
            by_roll: Vec::new(),
            by_roll_starts: Vec::new(),
            offspring: Vec::new(),
            offspring_starts: Vec::new(),
        };
        let varieties = book.varieties().iter().map(|v| (&v.seed, &v.pollen));
        let crosses = book.crosses().iter().map(|c| (&c.seed, c.pollen_parent()));
        for (seed, pollen) in varieties.chain(crosses) {
            pedigree.take_links(book, seed);
            pedigree.pollen_starts.push(small(pedigree.links.len()));
            pedigree.take_links(book, pollen);
            pedigree.link_starts.push(small(pedigree.links.len()));
        }
        let mut next = n_varieties;
        for cross in book.crosses() {
            pedigree.starts.push(next);
            next = next.saturating_add(small(cross.seedlings.len()));
        }
        pedigree.starts.push(next);
        pedigree.number_the_used();
        pedigree.turn_links_round();
        pedigree
    }

    fn take_links(&mut self, book: &Book, parent: &Parent) {
        let first = self.links.len();
        for (key, weight) in parent.candidates() {
            let Some(plant) = book.by_key(key).filter(|_| weight > 0.0) else { continue };
            match self.links[first..].iter_mut().find(|link| link.plant == plant) {
                Some(twice) => twice.weight = (twice.weight + weight).min(1.0),
                None => self.links.push(Link { plant, used: 0, weight: weight.min(1.0) }),
            }
        }
    }

    /// Numbers the plants used as parents in roll order, finds how deep they stand, and numbers
    /// them again with parents first.
    fn number_the_used(&mut self) {
        let mut plants: Vec<PlantId> = self.links.iter().map(|link| link.plant).collect();
        plants.sort_unstable();
        plants.dedup();
        for link in &mut self.links {
            link.used = small(plants.partition_point(|&plant| plant < link.plant));
        }
        let families: Vec<FamilyId> = plants.iter().map(|&p| self.family_of(p)).collect();
        let depths = order::depths(families.iter().map(|&family| self.links_of(family)));
        let mut order: Vec<usize> = (0..plants.len()).collect();
        order.sort_by_key(|&i| depths[i]);

        self.by_roll = vec![0; plants.len()];
        for (number, &i) in order.iter().enumerate() {
            self.by_roll[i] = small(number);
        }
        for link in &mut self.links {
            link.used = self.by_roll[link.used as usize];
        }
        let first = |&start: &u32| small(plants.partition_point(|plant| plant.0 < start));
        self.by_roll_starts = self.starts.iter().map(first).collect();
        self.used = order.iter().map(|&i| plants[i]).collect();
        self.above_starts.push(0);
        for &i in &order {
            let above: Vec<Above> = self.links_of(families[i]).iter().map(Above::of).collect();
            self.above.extend(above);
            self.above_starts.push(small(self.above.len()));
        }
        self.used_depths = order.iter().map(|&i| depths[i]).collect();
    }

    /// From parents to families: a counting sort of the links by parent.
    fn turn_links_round(&mut self) {
        let mut lists: Vec<Vec<Offspring>> = vec![Vec::new(); self.used.len()];
        for family in self.families() {
            let Parents { seed, pollen } = self.parents_of(family);
            let sides = seed.iter().map(|l| (l, true)).chain(pollen.iter().map(|l| (l, false)));
            for (link, is_seed) in sides {
                let list = &mut lists[link.used as usize];
                if list.last().is_none_or(|last| last.family != family) {
                    list.push(Offspring {
                        family,
                        as_seed: false,
                        as_pollen: false,
                        certain: false,
                    });
                }
                if let Some(last) = list.last_mut() {
                    last.as_seed |= is_seed;
                    last.as_pollen |= !is_seed;
                    last.certain |= link.is_certain();
                }
            }
        }
        self.offspring_starts.push(0);
        for list in lists {
            self.offspring.extend(list);
            self.offspring_starts.push(small(self.offspring.len()));
        }
    }

    /// How many plants there are.
    pub fn n_plants(&self) -> usize {
        self.starts.last().copied().unwrap_or_default() as usize
    }

    /// Every family: the varieties, then the crosses.
    pub fn families(&self) -> impl ExactSizeIterator<Item = FamilyId> + use<> {
        (0..small(self.pollen_starts.len())).map(FamilyId)
    }

    /// The family that a plant is of.
    pub fn family_of(&self, plant: PlantId) -> FamilyId {
        if plant.0 < self.n_varieties {
            return FamilyId(plant.0);
        }
        FamilyId(small(self.starts.partition_point(|&start| start <= plant.0).saturating_sub(1)))
    }

    /// The family of a cross, which may hold no plants.
    pub fn family_of_cross(&self, cross: CrossId) -> FamilyId {
        FamilyId(self.n_varieties + cross.0)
    }

    /// The cross that a family came of; none where the family is a variety.
    pub fn cross_of(&self, family: FamilyId) -> Option<CrossId> {
        family.0.checked_sub(self.n_varieties).map(CrossId)
    }

    /// The plants of a family, in roll order.
    pub fn plants(&self, family: FamilyId) -> impl ExactSizeIterator<Item = PlantId> + use<> {
        (self.starts[family.index()]..self.starts[family.index() + 1]).map(PlantId)
    }

    /// The parents of a plant.
    pub fn parents(&self, plant: PlantId) -> Parents<'_> {
        self.parents_of(self.family_of(plant))
    }

    /// The parents of a family.
    pub fn parents_of(&self, family: FamilyId) -> Parents<'_> {
        let first = self.link_starts[family.index()] as usize;
        let split = self.pollen_starts[family.index()] as usize;
        let (seed, pollen) = self.links_of(family).split_at(split - first);
        Parents { seed, pollen }
    }

    /// The same in one, the seed side first.
    pub(super) fn links_of(&self, family: FamilyId) -> &[Link] {
        let first = self.link_starts[family.index()] as usize;
        let end = self.link_starts[family.index() + 1] as usize;
        &self.links[first..end]
    }

    /// The families in which a plant is or may be a parent, varieties first, then in order of
    /// crosses.
    pub fn offspring(&self, plant: PlantId) -> &[Offspring] {
        self.used_number(plant).map_or(&[], |used| self.offspring_of(used))
    }

    /// The plants that are or may be a parent of anything, each after its own parents and
    /// otherwise in roll order.
    pub fn used(&self) -> &[PlantId] {
        &self.used
    }

    /// Whether none of its parents is known or guessed at.
    pub fn is_founder(&self, plant: PlantId) -> bool {
        self.parents(plant).all().next().is_none()
    }

    /// How many generations of known ancestors stand behind a plant at most; 0 for a founder.
    /// Plants of one loop count as one generation.
    pub fn depth(&self, plant: PlantId) -> u32 {
        match self.used_number(plant) {
            Some(used) => self.used_depths[used as usize],
            None => order::depth(self.links_of(self.family_of(plant)), &self.used_depths),
        }
    }

    /// The number of a plant among those used as parents.
    pub(super) fn used_number(&self, plant: PlantId) -> Option<u32> {
        self.used_number_in(self.family_of(plant), plant)
    }

    /// The same, of a plant whose family is known.
    pub(super) fn used_number_in(&self, family: FamilyId, plant: PlantId) -> Option<u32> {
        let numbers = self.used_in(family);
        let at = numbers.binary_search_by_key(&plant, |&used| self.used[used as usize]).ok()?;
        Some(numbers[at])
    }

    /// The parents of a plant used as a parent, seed side first.
    pub(super) fn above(&self, used: u32) -> &[Above] {
        let first = self.above_starts[used as usize] as usize;
        let end = self.above_starts[used as usize + 1] as usize;
        &self.above[first..end]
    }

    /// The numbers of the parents among the plants of a family, in roll order.
    pub(super) fn used_in(&self, family: FamilyId) -> &[u32] {
        let first = self.by_roll_starts[family.index()] as usize;
        let end = self.by_roll_starts[family.index() + 1] as usize;
        &self.by_roll[first..end]
    }

    pub(super) fn offspring_of(&self, used: u32) -> &[Offspring] {
        let first = self.offspring_starts[used as usize] as usize;
        let end = self.offspring_starts[used as usize + 1] as usize;
        &self.offspring[first..end]
    }
}
