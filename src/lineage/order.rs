//! Generations counted from the founders, and an order in which parents come first.

use petgraph::{algo::kosaraju_scc, graph::DiGraph, graph::NodeIndex};

use super::{Link, pedigree::small};

/// The plants used as parents, with an edge from each to each of its parents; `links` are the
/// parents of each.
fn graph<'a>(links: impl ExactSizeIterator<Item = &'a [Link]>) -> DiGraph<(), ()> {
    let n = links.len();
    let mut graph = DiGraph::with_capacity(n, n * 2);
    for _ in 0..n {
        graph.add_node(());
    }
    for (child, links) in links.enumerate() {
        for link in links {
            graph.add_edge(NodeIndex::new(child), NodeIndex::new(link.used as usize), ());
        }
    }
    graph
}

/// The plants used as parents, as groups: plants of one loop together, all others alone, and
/// parents before offspring. The two searches of Kosaraju keep their stack on the heap; a
/// recursive one would end the program on a pedigree a hundred thousand generations deep.
pub(super) fn knots<'a>(links: impl ExactSizeIterator<Item = &'a [Link]>) -> Vec<Vec<u32>> {
    let knots = kosaraju_scc(&graph(links)).into_iter();
    let numbers = knots.map(|knot| knot.into_iter().map(|n| small(n.index())));
    numbers
        .map(|numbers| {
            let mut knot: Vec<u32> = numbers.collect();
            knot.sort_unstable();
            knot
        })
        .collect()
}

/// Not reached yet: a parent in the same loop.
const NOT_YET: u32 = u32::MAX;

/// The depth of plants with these parents, as far as the depth of those is known.
pub(super) fn depth(links: &[Link], depths: &[u32]) -> u32 {
    let parents = links.iter().map(|link| depths[link.used as usize]);
    parents.filter(|&depth| depth != NOT_YET).map(|depth| depth + 1).max().unwrap_or_default()
}

/// How deep every plant used as a parent stands; plants of one loop stand at the same depth.
pub(super) fn depths<'a>(links: impl ExactSizeIterator<Item = &'a [Link]> + Clone) -> Vec<u32> {
    let lists: Vec<&[Link]> = links.clone().collect();
    let mut depths = vec![NOT_YET; lists.len()];
    for knot in knots(links) {
        let deepest = knot.iter().map(|&member| depth(lists[member as usize], &depths)).max();
        for member in knot {
            depths[member as usize] = deepest.unwrap_or_default();
        }
    }
    depths
}
