//! Inbreeding and Mendelian sampling of every plant, and the kinship of a book as a whole.

use crate::book::{Book, PlantId};
use crate::lineage::{FamilyId, Pedigree};

use super::{
    Inheritance,
    columns::Walk,
    nodes::{Kind, Nodes, Part, Stock},
    related::{Pair, Related},
};

/// The kinship of all plants of one book as it stands.
///
/// F is worked out once for every set of parents, so that it costs nothing per seedling. What it
/// takes is how the parents are related; [`Related`] finds that, generation by generation.
#[derive(Debug, Clone)]
pub struct Kinship {
    pub(super) rules: Inheritance,
    pub(super) nodes: Nodes,
    /// F of each stock.
    pub(super) inbreeding: Vec<f64>,
    /// Mendelian sampling of each stock, in units of the variance among founders.
    pub(super) sampling: Vec<f64>,
    /// The same, node by node.
    pub(super) sampling_of_node: Vec<f64>,
}

impl Kinship {
    /// Works out the kinship of a book. Plants that stand among their own ancestors, which is a
    /// slip of the pen, count as founders; [`Kinship::in_loops`] names them.
    pub fn of(book: &Book, pedigree: &Pedigree, rules: Inheritance) -> Self {
        let nodes = Nodes::of(book, pedigree);
        let n_stocks = nodes.n_stocks();
        let mut kinship = Self {
            rules,
            inbreeding: vec![0.0; n_stocks],
            sampling: vec![1.0; n_stocks],
            sampling_of_node: vec![1.0; nodes.len()],
            nodes,
        };
        kinship.work_out();
        kinship
    }

    /// Plants that count as founders because by the records they are their own ancestors.
    pub fn in_loops(&self) -> &[PlantId] {
        self.nodes.in_loops()
    }

    /// The rules of inheritance that were used.
    pub fn rules(&self) -> Inheritance {
        self.rules
    }

    /// Generation by generation: first F and the sampling of its plants, then what they tell
    /// later generations of how their parents are related.
    fn work_out(&mut self) {
        let pairs = (0_u32..).take(self.nodes.n_stocks()).filter_map(|stock| {
            let [seed, pollen] = self.nodes.sides(self.nodes.stock(stock));
            match (seed, pollen) {
                ([s], [p]) if s.node != p.node => Some(Pair { stock, nodes: [s.node, p.node] }),
                _ => None,
            }
        });
        let mut wanted: Vec<Pair> = Vec::with_capacity(self.nodes.n_stocks());
        wanted.extend(pairs);
        let mut related = Related::of(&self.nodes, &wanted);
        let mut by_level: Vec<Vec<u32>> = Vec::new();
        for (node, &level) in (0_u32..).zip(self.nodes.levels()) {
            let level = level as usize;
            by_level.resize_with(by_level.len().max(level + 1), Vec::new);
            by_level[level].push(node);
        }
        let mut two = Walk::<2>::new(self.nodes.len());
        let mut done = vec![false; self.nodes.n_stocks()];
        for level in by_level {
            for &node in &level {
                let stock = self.nodes.stock_of_node(node);
                if !std::mem::replace(&mut done[stock as usize], true) {
                    self.settle(stock, related.parents_of(stock), &mut two);
                }
                self.sampling_of_node[node as usize] = self.sampling[stock as usize];
            }
            related.settle(&self.nodes, &level, &self.sampling_of_node);
        }
        for stock in (0_u32..).take(self.nodes.n_stocks()) {
            if !done[stock as usize] {
                self.settle(stock, related.parents_of(stock), &mut two);
            }
        }
    }

    /// Whether there is at most one plant on either side.
    fn is_plain(&self, stock: u32) -> bool {
        self.nodes.sides(self.nodes.stock(stock)).iter().all(|side| side.len() <= 1)
    }

    /// F and the sampling of a stock: a(o, o) − q′Aq. `between` is the relationship of its two
    /// parents where there are just two.
    fn settle(&mut self, stock: u32, between: f64, walk: &mut Walk<2>) {
        let of = self.nodes.stock(stock);
        let [seed, pollen] = self.nodes.sides(of);
        let product = |x: &[Part], y: &[Part]| match (x, y) {
            ([x], [y]) if x.node == y.node => x.share * y.share * self.own(x.node),
            ([x], [y]) => x.share * y.share * between,
            _ => 0.0,
        };
        // Of the seed side with itself, with the pollen side, and of the pollen side with itself.
        let products = if self.is_plain(stock) {
            [product(seed, seed), product(seed, pollen), product(pollen, pollen)]
        } else {
            self.products(seed, pollen, walk)
        };
        let inbreeding = self.expected_inbreeding(of, products[1]);
        let own = self.rules.own_relationship(inbreeding);
        let passed_on = products[0] + 2.0 * products[1] + products[2];
        self.inbreeding[stock as usize] = inbreeding;
        self.sampling[stock as usize] = (own - passed_on).max(0.0);
    }

    fn expected_inbreeding(&self, of: Stock, between_sides: f64) -> f64 {
        let [seed, pollen] = self.nodes.sides(of);
        let mean = |side: &[Part]| -> f64 {
            side.iter().map(|part| part.share * self.inbreeding_of_node(part.node)).sum()
        };
        match of.kind {
            Kind::Founder => 0.0,
            Kind::OneOf => mean(seed),
            Kind::Selfed => {
                let parent = mean(seed);
                let with_itself = self.rules.own_relationship(parent) / self.rules.ploidy();
                self.rules.offspring([parent, parent], with_itself)
            }
            // The shares of each side are halves of the probabilities.
            Kind::Cross => self.rules.offspring(
                [2.0 * mean(seed), 2.0 * mean(pollen)],
                4.0 * between_sides / self.rules.ploidy(),
            ),
        }
    }

    /// x′Ax, x′Ay, y′Ay of the two sides of a stock, where candidates are among them.
    fn products(&self, x: &[Part], y: &[Part], walk: &mut Walk<2>) -> [f64; 3] {
        let entry = |lane| move |part: &Part| (lane, part.node, part.share);
        let entries = x.iter().map(entry(0)).chain(y.iter().map(entry(1)));
        let rows = walk.times(&self.nodes, &self.sampling_of_node, entries, 0);
        let sum = |side: &[Part], lane: usize| -> f64 {
            side.iter().map(|part| part.share * rows[part.node as usize][lane]).sum()
        };
        [sum(x, 0), sum(y, 0), sum(y, 1)]
    }

    pub(super) fn inbreeding_of_node(&self, node: u32) -> f64 {
        self.inbreeding[self.nodes.stock_of_node(node) as usize]
    }

    /// The relationship of a node to itself.
    pub(super) fn own(&self, node: u32) -> f64 {
        self.rules.own_relationship(self.inbreeding_of_node(node))
    }

    /// F of a plant.
    pub fn inbreeding(&self, plant: PlantId) -> f64 {
        self.inbreeding[self.nodes.stock_of(plant) as usize]
    }

    /// F of the plants of a family, which is known before there are any; where its lots differ,
    /// of the first of them.
    pub fn inbreeding_of_family(&self, family: FamilyId) -> f64 {
        self.inbreeding[self.nodes.stock_of_family(family) as usize]
    }

    /// The Mendelian sampling variance of a plant, in units of the variance among founders: how
    /// much the plants of its family vary although they have the same parents.
    pub fn sampling(&self, plant: PlantId) -> f64 {
        self.sampling[self.nodes.stock_of(plant) as usize]
    }
}
