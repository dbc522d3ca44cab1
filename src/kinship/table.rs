//! What every plant used as a parent has of each of its ancestors.
//!
//! The relationship matrix is A = T D T′, with T the shares that plants have of their ancestors
//! and D their own Mendelian sampling. T is written down here by rows, without its zeros: a plant
//! has far fewer ancestors than there are plants, and a row is its parents' rows added together.
//! The relationship of two plants is then a sum over the shorter of their two rows. Source of the
//! factors: R. Thompson 1977, Biometrics 33:497–504; they are the same at any ploidy.

use super::nodes::{Nodes, Part, small};

/// A plant of a book of many seasons has about as many ancestors.
const A_ROW: usize = 150;

/// T by rows, and room for one of its columns.
#[derive(Debug, Clone)]
pub(super) struct Table {
    /// The first entry of every row, and one past the last of all.
    starts: Vec<usize>,
    ancestors: Vec<u32>,
    shares: Vec<f64>,
    /// One row without gaps, times D; all zero between questions.
    wide: Vec<f64>,
}

/// The entries of a row, by ancestor: the plant itself comes last.
#[derive(Debug, Clone, Copy, Default)]
struct Row<'t> {
    ancestors: &'t [u32],
    shares: &'t [f64],
}

impl Table {
    /// Writes the rows down, unless they need more than so many entries.
    pub(super) fn of(nodes: &Nodes, most: usize) -> Option<Self> {
        // Room that is never written to costs nothing, and moving house does.
        let likely = most.min(nodes.len() * A_ROW);
        let mut table = Self {
            starts: vec![0],
            ancestors: Vec::with_capacity(likely),
            shares: Vec::with_capacity(likely),
            wide: vec![0.0; nodes.len()],
        };
        for node in nodes.all() {
            table.add_parents(nodes.parts_of_node(node));
            table.ancestors.push(node);
            table.shares.push(1.0);
            table.starts.push(table.shares.len());
            if table.shares.len() > most {
                return None;
            }
        }
        Some(table)
    }

    fn add_parents(&mut self, parts: &[Part]) {
        let (first, rest) = parts.split_at(parts.len().min(2));
        match (first, rest) {
            ([], _) => {}
            ([one], _) => self.add_merged(*one, None),
            ([one, two, ..], []) => self.add_merged(*one, Some(*two)),
            _ => self.add_several(parts),
        }
    }

    /// Adds the rows of one or two plants, each times its share.
    fn add_merged(&mut self, one: Part, two: Option<Part>) {
        let old = self.shares.len();
        let range = |node: u32| self.starts[node as usize]..self.starts[node as usize + 1];
        let (x, y) = (range(one.node), two.map_or(0..0, |two| range(two.node)));
        self.ancestors.resize(old + x.len() + y.len(), 0);
        self.shares.resize(old + x.len() + y.len(), 0.0);
        let (ancestors, new_ancestors) = self.ancestors.split_at_mut(old);
        let (shares, new_shares) = self.shares.split_at_mut(old);
        let x = Row { ancestors: &ancestors[x.clone()], shares: &shares[x] };
        let y = Row { ancestors: &ancestors[y.clone()], shares: &shares[y] };
        let by = [one.share, two.map_or(0.0, |two| two.share)];
        let n = merge([x, y], by, new_ancestors, new_shares);
        self.ancestors.truncate(old + n);
        self.shares.truncate(old + n);
    }

    /// Where a plant has several possible parents, which is rare.
    fn add_several(&mut self, parts: &[Part]) {
        let mut wide = std::mem::take(&mut self.wide);
        for part in parts {
            let row = self.row(part.node);
            for (&ancestor, share) in row.ancestors.iter().zip(row.shares) {
                wide[ancestor as usize] += part.share * share;
            }
        }
        for (ancestor, share) in (0_u32..).zip(&mut wide) {
            if *share != 0.0 {
                self.ancestors.push(ancestor);
                self.shares.push(std::mem::take(share));
            }
        }
        self.wide = wide;
    }

    fn row(&self, node: u32) -> Row<'_> {
        let range = self.starts[node as usize]..self.starts[node as usize + 1];
        Row { ancestors: &self.ancestors[range.clone()], shares: &self.shares[range] }
    }

    /// How many ancestors a plant has, with itself.
    pub(super) fn len_of(&self, node: u32) -> u32 {
        small(self.row(node).ancestors.len())
    }

    /// The relationship of one plant to each of some others, as `put` is told with what came with
    /// them. The sampling of the one and of its ancestors must be known.
    pub(super) fn relate<T: Copy>(
        &mut self,
        from: u32,
        to: &[(u32, T)],
        sampling: &[f64],
        mut put: impl FnMut(T, f64),
    ) {
        let mut wide = std::mem::take(&mut self.wide);
        let own = self.row(from);
        for (&ancestor, share) in own.ancestors.iter().zip(own.shares) {
            wide[ancestor as usize] = share * sampling[ancestor as usize];
        }
        for &(node, with) in to {
            put(with, self.row(node).times(&wide));
        }
        for &ancestor in own.ancestors {
            wide[ancestor as usize] = 0.0;
        }
        self.wide = wide;
    }
}

impl Row<'_> {
    /// The sum over its entries, two by two: an addition need not wait for the one before.
    fn times(self, wide: &[f64]) -> f64 {
        let product = |(&ancestor, share): (&u32, &f64)| share * wide[ancestor as usize];
        let (pairs, last) = self.ancestors.as_chunks::<2>();
        let (share_pairs, last_share) = self.shares.as_chunks::<2>();
        let mut sums = [0.0; 2];
        for (ancestors, shares) in pairs.iter().zip(share_pairs) {
            for (sum, entry) in sums.iter_mut().zip(ancestors.iter().zip(shares)) {
                *sum += product(entry);
            }
        }
        sums[0] + sums[1] + last.iter().zip(last_share).map(product).sum::<f64>()
    }
}

/// Two rows, each times a number, added into one; how many entries that makes. Written without
/// branches, because which row comes next cannot be guessed.
fn merge(rows: [Row<'_>; 2], by: [f64; 2], ancestors: &mut [u32], shares: &mut [f64]) -> usize {
    let [one, two] = rows;
    let (mut at, mut of_one, mut of_two) = (0, 0, 0);
    while of_one < one.ancestors.len() && of_two < two.ancestors.len() {
        let next = [one.ancestors[of_one], two.ancestors[of_two]];
        let takes = [next[0] <= next[1], next[1] <= next[0]];
        let from_one = if takes[0] { by[0] * one.shares[of_one] } else { 0.0 };
        let from_two = if takes[1] { by[1] * two.shares[of_two] } else { 0.0 };
        ancestors[at] = next[0].min(next[1]);
        shares[at] = from_one + from_two;
        of_one += usize::from(takes[0]);
        of_two += usize::from(takes[1]);
        at += 1;
    }
    for (row, from, by) in [(one, of_one, by[0]), (two, of_two, by[1])] {
        for (&ancestor, share) in row.ancestors[from..].iter().zip(&row.shares[from..]) {
            ancestors[at] = ancestor;
            shares[at] = by * share;
            at += 1;
        }
    }
    at
}
