//! How the two parents of every family are related.
//!
//! Two ways lead there. A table of what every parent has of its ancestors is the faster by far,
//! but it needs room for all of their ancestors together; where that would be too much, walks
//! over the pedigree give one column of the relationship matrix after the other.

use super::{columns::Walk, nodes::Nodes, table::Table};

/// As many parents walk together.
const LANES: usize = 8;

/// The most entries of a table: 48 MB.
const MOST_ENTRIES: usize = 4_000_000;

/// The two parents of a stock.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub(super) stock: u32,
    pub(super) nodes: [u32; 2],
}

/// The relationships that are sought, each told as soon as both plants are settled.
pub(super) struct Related {
    by: By,
    /// Of each node, the first of those that it finds.
    starts: Vec<u32>,
    /// The other parent, and the stock that waits to be told.
    sought: Vec<(u32, u32)>,
    /// Of the parents of each stock; 0 while it is not known.
    between: Vec<f64>,
}

enum By {
    Table(Table),
    Walks(Walk<LANES>),
}

impl Related {
    /// Gets ready for these pairs.
    pub(super) fn of(nodes: &Nodes, pairs: &[Pair]) -> Self {
        Self::with(nodes, pairs, MOST_ENTRIES)
    }

    fn with(nodes: &Nodes, pairs: &[Pair], most_entries: usize) -> Self {
        // Of the two parents one finds how it is related to the other: a sum goes over the
        // shorter row of the table; where parents walk, it is the busier one, so that few have to.
        let table = Table::of(nodes, most_entries);
        let rank: Vec<u32> = if let Some(table) = &table {
            nodes.all().map(|node| table.len_of(node)).collect()
        } else {
            let mut busy = vec![0; nodes.len()];
            pairs.iter().flat_map(|pair| pair.nodes).for_each(|node| busy[node as usize] += 1);
            busy
        };
        let turned = |&Pair { stock, nodes: [s, p] }: &Pair| {
            let key = |node: u32| (rank[node as usize], std::cmp::Reverse(node));
            if key(s) >= key(p) { (s, (p, stock)) } else { (p, (s, stock)) }
        };
        let (starts, sought) = by_node(nodes.len(), pairs.iter().map(turned));
        let by = table.map_or_else(|| By::Walks(Walk::new(nodes.len())), By::Table);
        Self { by, starts, sought, between: vec![0.0; nodes.n_stocks()] }
    }

    /// The relationship of the parents of a stock, both of which are settled.
    pub(super) fn parents_of(&self, stock: u32) -> f64 {
        self.between[stock as usize]
    }

    /// Takes note that the sampling of these nodes, all of one level, is known now.
    pub(super) fn settle(&mut self, nodes: &Nodes, level: &[u32], sampling: &[f64]) {
        let Self { by, starts, sought, between } = self;
        let sought_by = |node: u32| {
            let (first, end) = (starts[node as usize], starts[node as usize + 1]);
            &sought[first as usize..end as usize]
        };
        let seeking: Vec<u32> =
            level.iter().copied().filter(|&node| !sought_by(node).is_empty()).collect();
        match by {
            By::Table(table) => {
                for node in seeking {
                    let found = |stock: u32, x: f64| between[stock as usize] = x;
                    table.relate(node, sought_by(node), sampling, found);
                }
            }
            By::Walks(walk) => {
                for group in seeking.chunks(LANES) {
                    let all = group.iter().flat_map(|&node| sought_by(node));
                    let to = all.map(|&(to, _)| to).max().unwrap_or_default();
                    let entries = group.iter().enumerate().map(|(lane, &node)| (lane, node, 1.0));
                    let rows = walk.times(nodes, sampling, entries, to);
                    for (lane, &node) in group.iter().enumerate() {
                        for &(to, stock) in sought_by(node) {
                            between[stock as usize] = rows[to as usize][lane];
                        }
                    }
                }
            }
        }
    }
}

/// What belongs to each node, one after the other, and where each begins.
fn by_node(
    n_nodes: usize,
    all: impl Iterator<Item = (u32, (u32, u32))> + Clone,
) -> (Vec<u32>, Vec<(u32, u32)>) {
    let mut starts = vec![0_u32; n_nodes + 1];
    for (node, _) in all.clone() {
        starts[node as usize + 1] += 1;
    }
    let mut sum = 0;
    for start in &mut starts {
        sum += *start;
        *start = sum;
    }
    let mut next = starts.clone();
    let mut placed = vec![(0, 0); sum as usize];
    for (node, what) in all {
        let at = &mut next[node as usize];
        placed[*at as usize] = what;
        *at += 1;
    }
    (starts, placed)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use std::sync::Arc;

    use crate::book::{About, Book, Candidate, Crop, Cross, Parent, Pollen, Seedling, Variety};
    use crate::kinship::nodes::small;
    use crate::kinship::{Inheritance, Kinship};
    use crate::lineage::Pedigree;

    use super::*;

    /// Crosses between whatever there is, each of one plant; some with several possible fathers.
    fn book() -> Book {
        let varieties = (0..5).map(|n| Variety { id: format!("{n}").into(), ..Variety::default() });
        let parent =
            |n: usize, step: usize| -> Box<str> { (n * step % (n + 5)).to_string().into() };
        let crosses = (0..120).map(|n| {
            let candidates = [3, 5, 11].map(|step| Candidate { key: parent(n, step), weight: 0.3 });
            let pollen = match n % 7 {
                3 => Parent::OneOf(candidates.into()),
                _ => Parent::Known(parent(n, 5)),
            };
            Cross {
                code: format!("x{n}").into(),
                seed: Parent::Known(parent(n, 17)),
                pollen: Pollen::From(pollen),
                seedlings: vec![Seedling {
                    number: (n + 5).to_string().into(),
                    ..Seedling::default()
                }],
                ..Cross::default()
            }
        });
        let crosses = crosses.collect();
        Book::new(About::default(), Arc::new(Crop::default()), varieties.collect(), crosses)
    }

    #[test]
    fn a_table_and_walks_find_the_same() {
        let book = book();
        let rules = Inheritance::new(8, 0.0).unwrap();
        let kinship = Kinship::of(&book, &Pedigree::of(&book), rules);
        let nodes = &kinship.nodes;
        let all: Vec<u32> = nodes.all().collect();
        let each_with_each = all.iter().flat_map(|&s| all.iter().map(move |&p| [s, p]));
        let pairs: Vec<Pair> = (0..small(nodes.n_stocks()))
            .zip(each_with_each.filter(|[s, p]| s != p).step_by(97))
            .map(|(stock, nodes)| Pair { stock, nodes })
            .collect();
        let found = [MOST_ENTRIES, 0].map(|most_entries| {
            let mut related = Related::with(nodes, &pairs, most_entries);
            assert_eq!(matches!(related.by, By::Table(_)), most_entries > 0);
            for node in &all {
                related.settle(nodes, &[*node], &kinship.sampling_of_node);
            }
            related.between
        });
        assert!(found[0].iter().filter(|&&x| x > 0.0).count() > 50, "{found:?}");
        for (table, walk) in found[0].iter().zip(&found[1]) {
            assert!((table - walk).abs() < 1e-14, "{table} and {walk}");
        }
    }
}
