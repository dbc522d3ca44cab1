//! In which order to eliminate unknowns so that few entries fill in: approximate minimum degree.
//!
//! Source: P. R. Amestoy, T. A. Davis & I. S. Duff 1996, SIAM J. Matrix Anal. Appl. 17:886–905,
//! without its indistinguishable variables.

use std::{cmp::Reverse, collections::BinaryHeap};

use super::Symmetric;

/// An order of all unknowns, with the last `kept_last` left at the end as they are.
pub(super) fn minimum_degree(matrix: &Symmetric, kept_last: usize) -> Vec<usize> {
    let n = matrix.n() - kept_last;
    let mut graph = Graph::of(matrix, n);
    let mut order: Vec<usize> = Vec::with_capacity(matrix.n());
    while let Some(pivot) = graph.next() {
        graph.eliminate(pivot);
        order.push(pivot);
    }
    order.extend_from_slice(&graph.hubs);
    order.extend(n..matrix.n());
    order
}

/// Unknowns not yet eliminated, and *elements*: what is left of eliminated ones, each joining
/// all unknowns that it touched.
struct Graph {
    neighbours: Vec<Vec<usize>>,
    elements_of: Vec<Vec<usize>>,
    /// The unknowns that each element joins.
    joined: Vec<Vec<usize>>,
    is_element: Vec<bool>,
    degree: Vec<usize>,
    /// By degree and number; stale entries are skipped.
    queue: BinaryHeap<Reverse<(usize, usize)>>,
    is_left: Vec<bool>,
    /// Unknowns with so many neighbours that looking at them again and again would take longer
    /// than any fill they cause; they go last.
    hubs: Vec<usize>,
    /// Which pivot marked an unknown or counted an element last.
    mark: Vec<usize>,
    counted: Vec<usize>,
    outside: Vec<usize>,
}

const NEVER: usize = usize::MAX;

impl Graph {
    fn of(matrix: &Symmetric, n: usize) -> Self {
        let mut neighbours = vec![Vec::new(); n];
        for (row, column, _) in matrix.entries() {
            if row != column && row < n && column < n {
                neighbours[row].push(column);
                neighbours[column].push(row);
            }
        }
        let many = 16.max(10 * n.isqrt());
        let is_left: Vec<bool> = neighbours.iter().map(|list| list.len() <= many).collect();
        let hubs = (0..n).filter(|&i| !is_left[i]).collect();
        for list in &mut neighbours {
            list.retain(|&i| is_left[i]);
        }
        let degree: Vec<usize> = neighbours.iter().map(Vec::len).collect();
        let queue = (0..n).filter(|&i| is_left[i]).map(|i| Reverse((degree[i], i))).collect();
        Self {
            neighbours,
            elements_of: vec![Vec::new(); n],
            joined: vec![Vec::new(); n],
            is_element: vec![false; n],
            degree,
            queue,
            is_left,
            hubs,
            mark: vec![NEVER; n],
            counted: vec![NEVER; n],
            outside: vec![0; n],
        }
    }

    fn next(&mut self) -> Option<usize> {
        while let Some(Reverse((degree, i))) = self.queue.pop() {
            if self.is_left[i] && self.degree[i] == degree {
                return Some(i);
            }
        }
        None
    }

    fn eliminate(&mut self, pivot: usize) {
        self.is_left[pivot] = false;
        self.mark[pivot] = pivot;
        let mut touched = Vec::new();
        let neighbours = std::mem::take(&mut self.neighbours[pivot]);
        let elements = std::mem::take(&mut self.elements_of[pivot]);
        let absorbed = elements.iter().map(|&e| {
            self.is_element[e] = false;
            std::mem::take(&mut self.joined[e])
        });
        let absorbed: Vec<Vec<usize>> = absorbed.collect();
        for i in neighbours.into_iter().chain(absorbed.into_iter().flatten()) {
            if self.mark[i] != pivot {
                self.mark[i] = pivot;
                touched.push(i);
            }
        }
        self.count_outside(pivot, &touched);
        for &i in &touched {
            let mut elements = std::mem::take(&mut self.elements_of[i]);
            elements.retain(|&e| self.is_element[e] && self.outside[e] > 0);
            let beyond: usize = elements.iter().map(|&e| self.outside[e]).sum();
            elements.push(pivot);
            self.elements_of[i] = elements;
            let mark = &self.mark;
            self.neighbours[i].retain(|&j| mark[j] != pivot);
            let degree = self.neighbours[i].len() + touched.len() - 1 + beyond;
            self.degree[i] = degree;
            self.queue.push(Reverse((degree, i)));
        }
        self.is_element[pivot] = true;
        self.joined[pivot] = touched;
    }

    /// For every element that meets the touched unknowns: how many others it joins. One that
    /// joins no others is absorbed.
    fn count_outside(&mut self, pivot: usize, touched: &[usize]) {
        for &i in touched {
            for &e in &self.elements_of[i] {
                if !self.is_element[e] {
                    continue;
                }
                if self.counted[e] != pivot {
                    self.counted[e] = pivot;
                    self.outside[e] = self.joined[e].len();
                }
                self.outside[e] -= 1;
                if self.outside[e] == 0 {
                    self.is_element[e] = false;
                    self.joined[e].clear();
                }
            }
        }
    }
}
