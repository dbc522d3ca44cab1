//! The plants used as parents, and who their parents are, in flat arrays.
//!
//! A *node* is a plant used as a parent, or the unnamed father that a lot has in common where it
//! is not known which plant he was. A *stock* is one set of parents: all seedlings of a cross,
//! or of one lot of it, share one.

use std::{collections::BTreeMap, ops::Range};

use crate::book::{Book, Cross, Father, PlantId, Pollen};
use crate::lineage::{FamilyId, Link, Parents, Pedigree};

/// What the parents of a stock have to do with each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Nothing is known of them.
    Founder,
    /// A seed and a pollen parent, each known, one of several, or unknown.
    Cross,
    /// One parent, who is both.
    Selfed,
    /// No offspring at all, but one of several plants: an unnamed father.
    OneOf,
}

/// One set of parents.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stock {
    pub(super) kind: Kind,
    first: u32,
    split: u32,
    end: u32,
}

/// A node among the parents of a stock, with the share of the stock that comes from it: half
/// the probability of being the parent, all of it where there is but one parent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Part {
    pub(super) node: u32,
    pub(super) share: f64,
}

/// Everything in order: the parents of a node stand before it.
#[derive(Debug, Clone, Default)]
pub(super) struct Nodes {
    /// The plant of each node; none for an unnamed father.
    plants: Vec<Option<PlantId>>,
    /// The stock of each node.
    stock_of_node: Vec<u32>,
    /// The longest way up from each node to a founder.
    levels: Vec<u32>,
    stocks: Vec<Stock>,
    parts: Vec<Part>,
    /// The plants used as parents, in roll order, and the node of each.
    used: Vec<(PlantId, u32)>,
    /// The same by their places among the plants used as parents.
    node_of_place: Vec<u32>,
    n_varieties: u32,
    /// The first plant of each cross.
    starts: Vec<u32>,
    /// The stock of each family, or of its plants one by one.
    families: Vec<Stocks>,
    /// Plants that stand among their own ancestors by a slip of the pen.
    in_loops: Vec<PlantId>,
}

#[derive(Debug, Clone, PartialEq)]
enum Stocks {
    None,
    One(u32),
    Each(Box<[u32]>),
}

/// In place of a node that there is not yet.
const NOT_YET: u32 = u32::MAX;

/// The stock of a founder, and of a plant in a loop.
const FOUNDER: u32 = 0;

pub(super) fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

impl Nodes {
    pub(super) fn of(book: &Book, pedigree: &Pedigree) -> Self {
        let mut nodes = Self {
            stocks: vec![Stock { kind: Kind::Founder, first: 0, split: 0, end: 0 }],
            node_of_place: vec![NOT_YET; pedigree.used().len()],
            n_varieties: small(book.varieties().len()),
            families: vec![Stocks::None; pedigree.families().len()],
            ..Self::default()
        };
        let n_families = pedigree.families().len();
        nodes.stocks.reserve(n_families);
        nodes.parts.reserve(2 * n_families);
        let crosses = pedigree.families().skip(book.varieties().len());
        let mut next = nodes.n_varieties;
        for family in crosses {
            nodes.starts.push(next);
            next = next.saturating_add(small(pedigree.plants(family).len()));
        }
        for (place, plant) in pedigree.used().iter().copied().enumerate() {
            let family = pedigree.family_of(plant);
            // Only within a loop is a parent no younger than its offspring.
            let depth = pedigree.depth(plant);
            let parents = pedigree.parents_of(family);
            let stock = if parents.all().any(|link| pedigree.depth(link.plant) >= depth) {
                nodes.in_loops.push(plant);
                FOUNDER
            } else {
                nodes.take_family(book, pedigree, family);
                nodes.stock_of(plant)
            };
            let node = nodes.push(Some(plant), stock);
            nodes.node_of_place[place] = node;
            nodes.used.push((plant, node));
        }
        nodes.used.sort_unstable();
        for family in pedigree.families() {
            nodes.take_family(book, pedigree, family);
        }
        nodes.in_loops.sort_unstable();
        nodes
    }

    fn push(&mut self, plant: Option<PlantId>, stock: u32) -> u32 {
        let node = small(self.plants.len());
        let parts = self.parts(self.stocks[stock as usize]);
        let above = parts.iter().map(|part| self.levels[part.node as usize] + 1).max();
        self.levels.push(above.unwrap_or(0));
        self.plants.push(plant);
        self.stock_of_node.push(stock);
        node
    }

    /// Makes the stocks of a family, unless they are there already or have parents that are not.
    fn take_family(&mut self, book: &Book, pedigree: &Pedigree, family: FamilyId) {
        let at = family.0 as usize;
        if self.families[at] != Stocks::None {
            return;
        }
        let parents = pedigree.parents_of(family);
        if parents.all().any(|link| self.node_of_place[link.place()] == NOT_YET) {
            return;
        }
        // Nearly all: two known parents, of which everything is told.
        if let (&[seed], &[pollen]) = (parents.seed, parents.pollen)
            && seed.is_certain()
            && pollen.is_certain()
            && seed.plant != pollen.plant
        {
            let (seed, pollen) = (self.source(&seed), self.source(&pollen));
            self.families[at] = Stocks::One(self.add_stock(Kind::Cross, &[seed], &[pollen]));
            return;
        }
        let cross = pedigree.cross_of(family).map(|id| book.cross(id));
        let selfed = cross.is_some_and(|cross| cross.pollen == Pollen::Selfed);
        let lots = cross.map_or_else(BTreeMap::new, |cross| shared_fathers(cross, parents));
        if lots.is_empty() {
            let pollen = if selfed { &[] } else { parents.pollen };
            let (seed, pollen) = (self.sources(parents.seed), self.sources(pollen));
            self.families[at] =
                Stocks::One(self.add_stock(kind(selfed, &seed, &pollen), &seed, &pollen));
            return;
        }
        let mut made: BTreeMap<Option<&str>, u32> = BTreeMap::new();
        let seedlings = cross.map_or(&[][..], |cross| &cross.seedlings);
        let mut stocks = Vec::with_capacity(seedlings.len());
        for seedling in seedlings {
            let lot = seedling.lot.as_deref();
            let stock = match made.get(&lot) {
                Some(&stock) => stock,
                None => self.stock_of_lot(parents, selfed, lots.get(&lot).copied()),
            };
            made.insert(lot, stock);
            stocks.push(stock);
        }
        self.families[at] = Stocks::Each(stocks.into());
    }

    /// The stock of one lot, with unnamed parents in common on these sides.
    fn stock_of_lot(&mut self, parents: Parents<'_>, selfed: bool, shared: Option<Shared>) -> u32 {
        let shared = shared.unwrap_or_default();
        let mut seed = self.sources(parents.seed);
        let mut pollen = if selfed { Vec::new() } else { self.sources(parents.pollen) };
        for (side, is_shared) in [(&mut seed, shared.seed), (&mut pollen, shared.pollen)] {
            if is_shared {
                let stock = self.add_stock(Kind::OneOf, side, &[]);
                *side = vec![(self.push(None, stock), 1.0)];
            }
        }
        self.add_stock(kind(selfed, &seed, &pollen), &seed, &pollen)
    }

    fn source(&self, link: &Link) -> (u32, f64) {
        (self.node_of_place[link.place()], link.weight)
    }

    fn sources(&self, links: &[Link]) -> Vec<(u32, f64)> {
        links.iter().map(|link| self.source(link)).collect()
    }

    fn add_stock(&mut self, kind: Kind, seed: &[(u32, f64)], pollen: &[(u32, f64)]) -> u32 {
        let half = if kind == Kind::Cross { 0.5 } else { 1.0 };
        let first = small(self.parts.len());
        let split = first + small(seed.len());
        let parts = seed.iter().chain(pollen);
        self.parts.extend(parts.map(|&(node, weight)| Part { node, share: half * weight }));
        self.stocks.push(Stock { kind, first, split, end: small(self.parts.len()) });
        small(self.stocks.len() - 1)
    }

    pub(super) fn len(&self) -> usize {
        self.plants.len()
    }

    /// Every node, parents before offspring.
    pub(super) fn all(&self) -> Range<u32> {
        0..small(self.plants.len())
    }

    /// Marks the ancestors of the nodes that are marked.
    pub(super) fn mark_ancestors(&self, marked: &mut [bool]) {
        for node in self.all().rev() {
            if marked[node as usize] {
                for part in self.parts_of_node(node) {
                    marked[part.node as usize] = true;
                }
            }
        }
    }

    pub(super) fn n_stocks(&self) -> usize {
        self.stocks.len()
    }

    pub(super) fn stock(&self, stock: u32) -> Stock {
        self.stocks[stock as usize]
    }

    pub(super) fn plant(&self, node: u32) -> Option<PlantId> {
        self.plants[node as usize]
    }

    pub(super) fn levels(&self) -> &[u32] {
        &self.levels
    }

    pub(super) fn in_loops(&self) -> &[PlantId] {
        &self.in_loops
    }

    /// All parents of a stock.
    pub(super) fn parts(&self, stock: Stock) -> &[Part] {
        &self.parts[stock.first as usize..stock.end as usize]
    }

    /// The parents on the two sides; the second is empty where there is but one parent.
    pub(super) fn sides(&self, stock: Stock) -> [&[Part]; 2] {
        let (first, split, end) = (stock.first as usize, stock.split as usize, stock.end as usize);
        [&self.parts[first..split], &self.parts[split..end]]
    }

    pub(super) fn stock_of_node(&self, node: u32) -> u32 {
        self.stock_of_node[node as usize]
    }

    pub(super) fn parts_of_node(&self, node: u32) -> &[Part] {
        self.parts(self.stock(self.stock_of_node(node)))
    }

    pub(super) fn node_of(&self, plant: PlantId) -> Option<u32> {
        let at = self.used.binary_search_by_key(&plant, |&(used, _)| used).ok()?;
        Some(self.used[at].1)
    }

    /// The stock of a family; the first, where its plants are of several.
    pub(super) fn stock_of_family(&self, family: FamilyId) -> u32 {
        match self.families.get(family.0 as usize) {
            Some(&Stocks::One(stock)) => stock,
            Some(Stocks::Each(stocks)) => stocks.first().copied().unwrap_or(FOUNDER),
            Some(Stocks::None) | None => FOUNDER,
        }
    }

    /// The stock that a plant is of.
    pub(super) fn stock_of(&self, plant: PlantId) -> u32 {
        if self.in_loops.contains(&plant) {
            return FOUNDER;
        }
        let (family, place) = if plant.0 < self.n_varieties {
            (plant.0, 0)
        } else {
            let cross = self.starts.partition_point(|&start| start <= plant.0).saturating_sub(1);
            let start = self.starts.get(cross).copied().unwrap_or(plant.0);
            (self.n_varieties + small(cross), plant.0 - start)
        };
        match self.families.get(family as usize) {
            Some(&Stocks::One(stock)) => stock,
            Some(Stocks::Each(stocks)) => stocks.get(place as usize).copied().unwrap_or(FOUNDER),
            Some(Stocks::None) | None => FOUNDER,
        }
    }
}

fn kind(selfed: bool, seed: &[(u32, f64)], pollen: &[(u32, f64)]) -> Kind {
    match (selfed, seed.is_empty() && pollen.is_empty()) {
        (true, _) => Kind::Selfed,
        (false, true) => Kind::Founder,
        (false, false) => Kind::Cross,
    }
}

/// On which sides a lot has one parent in common though it is not known which.
#[derive(Debug, Clone, Copy, Default)]
struct Shared {
    seed: bool,
    pollen: bool,
}

/// The lots of a cross with an unnamed parent in common. Lots of a single plant have nothing to
/// share. An unknown parent is a fresh one for every seedling unless the lot says otherwise.
fn shared_fathers<'a>(cross: &'a Cross, parents: Parents<'_>) -> BTreeMap<Option<&'a str>, Shared> {
    let one_of = |links: &[Link]| links.len() > 1 || links.iter().any(|link| !link.is_certain());
    let mut sizes: BTreeMap<Option<&str>, u32> = BTreeMap::new();
    if !one_of(parents.seed) && !parents.pollen.is_empty() && !one_of(parents.pollen) {
        return BTreeMap::new();
    }
    for seedling in &cross.seedlings {
        *sizes.entry(seedling.lot.as_deref()).or_default() += 1;
    }
    let shared = |lot: Option<&str>| {
        let says_one =
            lot.and_then(|code| cross.lot(code)).is_some_and(|lot| lot.father == Some(Father::One));
        let is_one = cross.father_of(lot) == Father::One;
        let selfed = cross.pollen == Pollen::Selfed;
        Shared {
            seed: is_one && one_of(parents.seed),
            pollen: !selfed
                && ((is_one && one_of(parents.pollen)) || (says_one && parents.pollen.is_empty())),
        }
    };
    sizes
        .into_iter()
        .filter(|&(_, size)| size > 1)
        .map(|(lot, _)| (lot, shared(lot)))
        .filter(|(_, shared)| shared.seed || shared.pollen)
        .collect()
}
