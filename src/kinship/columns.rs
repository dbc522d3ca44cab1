//! Rows of the relationship matrix times a vector, without the matrix.
//!
//! With q the shares that a plant has from its parents and D its own Mendelian sampling, the
//! relationship matrix is A = T D T′, and A x takes one walk up the pedigree (T′x) and one walk
//! down. Source: J. J. Colleau 2002, Genet. Sel. Evol. 34:409–421; the walks are the same at any
//! ploidy.

use super::nodes::Nodes;

/// Room for `LANES` vectors side by side, over the nodes.
///
/// Walking with several vectors at once costs little more than walking with one.
#[derive(Debug, Clone)]
pub(super) struct Walk<const LANES: usize> {
    up: Vec<[f64; LANES]>,
    rows: Vec<[f64; LANES]>,
}

impl<const LANES: usize> Walk<LANES> {
    pub(super) fn new(n_nodes: usize) -> Self {
        Self { up: vec![[0.0; LANES]; n_nodes], rows: vec![[0.0; LANES]; n_nodes] }
    }

    /// A·x for the vectors given by their entries (lane, node, value), as far down as node
    /// `to`. The sampling of every node that has an entry, and of its ancestors, must be known.
    pub(super) fn times(
        &mut self,
        nodes: &Nodes,
        sampling: &[f64],
        entries: impl IntoIterator<Item = (usize, u32, f64)>,
        to: u32,
    ) -> &[[f64; LANES]] {
        let mut top = 0;
        let mut is_empty = true;
        for (lane, node, value) in entries {
            self.up[node as usize][lane] += value;
            top = top.max(node);
            is_empty = false;
        }
        let end = if is_empty { 0 } else { to.max(top) as usize + 1 };
        for node in (0..=top).rev().take_while(|_| !is_empty) {
            let carried = self.up[node as usize];
            if carried.iter().all(|&x| x == 0.0) {
                continue;
            }
            for part in nodes.parts_of_node(node) {
                let above = &mut self.up[part.node as usize];
                for (above, carried) in above.iter_mut().zip(carried) {
                    *above += part.share * carried;
                }
            }
        }
        for (node, index) in (0_u32..).zip(0..end) {
            let mut row = std::mem::replace(&mut self.up[index], [0.0; LANES]);
            for row in &mut row {
                *row *= sampling[index];
            }
            for part in nodes.parts_of_node(node) {
                for (row, above) in row.iter_mut().zip(&self.rows[part.node as usize]) {
                    *row += part.share * above;
                }
            }
            self.rows[index] = row;
        }
        for row in &mut self.rows[end..] {
            *row = [0.0; LANES];
        }
        &self.rows
    }
}
