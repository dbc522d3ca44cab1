//! Generations counted from the founders, and an order in which parents come first.

use petgraph::{algo::kosaraju_scc, graph::DiGraph, graph::NodeIndex};

use super::Pedigree;

/// How deep every parent and every family stands.
#[derive(Debug, Clone, Default)]
pub(super) struct Depths {
    /// Of each plant used as a parent.
    pub(super) used: Vec<u32>,
    /// Of the plants of each family that are in no loop.
    pub(super) families: Vec<u32>,
    /// The plants used as parents, by depth and then by number.
    pub(super) order: Vec<u32>,
}

/// The plants used as parents, with an edge from each to each of its parents.
pub(super) fn graph(pedigree: &Pedigree) -> DiGraph<(), ()> {
    let n = pedigree.used().len();
    let mut graph = DiGraph::with_capacity(n, n * 2);
    for _ in 0..n {
        graph.add_node(());
    }
    for child in (0..).take(n) {
        for link in pedigree.parents_of(pedigree.used_family(child)).all() {
            graph.add_edge(NodeIndex::new(child as usize), NodeIndex::new(link.used as usize), ());
        }
    }
    graph
}

/// The plants used as parents, as groups: plants of one loop together, all others alone, and
/// parents before offspring. The two searches of Kosaraju keep their stack on the heap; a
/// recursive one would end the program on a pedigree a hundred thousand generations deep.
pub(super) fn knots(pedigree: &Pedigree) -> Vec<Vec<u32>> {
    kosaraju_scc(&graph(pedigree))
        .into_iter()
        .map(|knot| {
            let mut knot: Vec<u32> =
                knot.into_iter().map(|n| u32::try_from(n.index()).unwrap_or(u32::MAX)).collect();
            knot.sort_unstable();
            knot
        })
        .collect()
}

pub(super) fn depths(pedigree: &Pedigree) -> Depths {
    /// Not reached yet: a parent in the same loop.
    const NOT_YET: u32 = u32::MAX;
    let mut used = vec![NOT_YET; pedigree.used().len()];
    let deepest = |used: &[u32], family| {
        let parents = pedigree.parents_of(family).all();
        let known = parents.map(|link| used[link.used as usize]).filter(|&d| d != NOT_YET);
        known.map(|d| d + 1).max().unwrap_or_default()
    };
    for knot in knots(pedigree) {
        let members = knot.iter().map(|&member| pedigree.used_family(member));
        let depth = members.map(|family| deepest(&used, family)).max().unwrap_or_default();
        for member in knot {
            used[member as usize] = depth;
        }
    }
    let families = pedigree.families().map(|family| deepest(&used, family)).collect();
    let mut order: Vec<u32> = (0..).take(used.len()).collect();
    order.sort_by_key(|&member| used[member as usize]);
    Depths { used, families, order }
}
