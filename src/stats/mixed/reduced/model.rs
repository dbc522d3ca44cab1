//! What goes in, and how it is laid out: who is a parent, and who is like whom.

use std::{collections::BTreeMap, sync::Arc};

use super::{
    super::super::{dense, sparse},
    batch::Batch,
};

/// Who is descended from whom, parents before offspring.
#[derive(Debug, Clone, Copy)]
pub struct Descended<'a> {
    /// The parents of each level, with the share that comes from each.
    pub parents: &'a [Vec<(usize, f64)>],
    /// The variance of the part of each level that comes from no parent, above 0, for a variance
    /// of 1 by descent.
    pub own: &'a [f64],
    /// The group of each level, where it is in any.
    pub groups: &'a [Option<usize>],
}

/// One record.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Record {
    /// Of whom.
    pub level: usize,
    /// Which of the rows of fixed effects it has.
    pub row: usize,
    /// The figure.
    pub y: f64,
}

/// Which effects there are besides descent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct With {
    /// Whether a group has anything in common beyond descent.
    pub groups: bool,
    /// Whether anything but descent stays with a level through its records.
    pub lasting: bool,
}

/// The model, ready to be solved for any variances.
#[derive(Debug, Clone)]
pub struct Model {
    pub(super) batches: Vec<Batch>,
    /// For each batch the place of each pair of its parts among the values of the equations.
    pub(super) places: Vec<Vec<usize>>,
    pub(super) batch_of_level: Vec<usize>,
    /// The sum of what is left of the records of each level.
    pub(super) total_of_level: Vec<f64>,
    /// The unknown of a level that is a parent.
    pub(super) node_of_level: Vec<Option<usize>>,
    pub(super) group_unknown: Vec<Option<usize>>,
    /// The unknown of each fixed effect; none where it is a combination of others.
    pub(super) fixed: Vec<Option<usize>>,
    /// Least-squares estimates of the fixed effects, taken off y beforehand.
    pub(super) taken_off: Vec<f64>,
    pub(super) n_unknowns: usize,
    pub(super) n_records: usize,
    pub(super) n_fixed: usize,
    /// The part that is the same for any variances: A⁻¹ of the parents, and 1 for each group.
    pub(super) base: sparse::Symmetric,
    pub(super) plan: std::sync::OnceLock<Arc<sparse::Plan>>,
    /// Of what is left of y.
    pub(super) squares: f64,
    /// ln of the determinant of A of the parents.
    pub(super) ln_det: f64,
    pub(super) with: With,
}

/// What makes levels alike: parents, group, own variance, and records by row.
type Likeness = (Vec<(usize, u64)>, Option<usize>, u64, Vec<(usize, usize)>);

impl Model {
    /// Lays out records. `rows` are the different rows of fixed effects that records have, each
    /// by the effects (of `n_fixed`) that are in it.
    pub fn of(
        descended: Descended<'_>,
        (n_fixed, rows): (usize, &[Vec<usize>]),
        records: &[Record],
        with: With,
    ) -> Self {
        let n_levels = descended.parents.len();
        let mut node_of_level = vec![None; n_levels];
        for &(parent, _) in descended.parents.iter().flatten() {
            node_of_level[parent] = Some(0);
        }
        let mut next = 0;
        for node in node_of_level.iter_mut().flatten() {
            *node = next;
            next += 1;
        }
        let n_groups = descended.groups.iter().flatten().max().map_or(0, |last| last + 1);
        let mut group_unknown = vec![None; n_groups];
        if with.groups {
            for group in records.iter().filter_map(|record| descended.groups[record.level]) {
                group_unknown[group] = Some(0);
            }
        }
        for group in group_unknown.iter_mut().flatten() {
            *group = next;
            next += 1;
        }
        let (kept, taken_off) = least_squares(n_fixed, rows, records);
        let mut fixed = vec![None; n_fixed];
        for &column in &kept {
            fixed[column] = Some(next);
            next += 1;
        }
        let mut model = Self {
            batches: Vec::new(),
            places: Vec::new(),
            batch_of_level: Vec::with_capacity(n_levels),
            total_of_level: vec![0.0; n_levels],
            node_of_level,
            group_unknown,
            fixed,
            taken_off,
            n_unknowns: next,
            n_records: records.len(),
            n_fixed: kept.len(),
            base: sparse::Symmetric::new(0, []),
            plan: std::sync::OnceLock::new(),
            squares: 0.0,
            ln_det: 0.0,
            with,
        };
        model.take_levels(descended, rows, records);
        model.lay_out(descended);
        model
    }

    /// Puts every level into its batch.
    fn take_levels(&mut self, descended: Descended<'_>, rows: &[Vec<usize>], records: &[Record]) {
        let mut sorted: Vec<&Record> = records.iter().collect();
        sorted.sort_by_key(|record| record.level);
        let unknowns: Vec<Vec<usize>> = rows
            .iter()
            .map(|row| row.iter().filter_map(|&column| self.fixed[column]).collect())
            .collect();
        let mut known: BTreeMap<Likeness, usize> = BTreeMap::new();
        let mut rest = &sorted[..];
        for level in 0..descended.parents.len() {
            let (mine, others) = rest.split_at(rest.partition_point(|r| r.level <= level));
            rest = others;
            let (likeness, own) = self.likeness(descended, level, mine);
            let n = self.batches.len();
            let batch = *known.entry(likeness).or_insert_with_key(|(shares, group, _, counts)| {
                let shares: Vec<(usize, f64)> =
                    shares.iter().map(|&(node, bits)| (node, f64::from_bits(bits))).collect();
                let counts: Vec<(&[usize], f64)> =
                    counts.iter().map(|&(row, count)| (&unknowns[row][..], count as f64)).collect();
                self.batches.push(Batch::new(&shares, *group, &counts, own));
                n
            });
            let mut total = 0.0;
            for record in mine {
                let known: f64 = rows[record.row].iter().map(|&c| self.taken_off[c]).sum();
                let left = record.y - known;
                self.squares += left * left;
                total += left;
                self.batches[batch].take_record(&unknowns[record.row], left);
            }
            self.batches[batch].take_level(total);
            self.total_of_level[level] = total;
            self.batch_of_level.push(batch);
        }
    }

    fn likeness(
        &self,
        descended: Descended<'_>,
        level: usize,
        mine: &[&Record],
    ) -> (Likeness, f64) {
        let node = |level: usize| self.node_of_level[level].unwrap_or_default();
        let (shares, own) = if let Some(node) = self.node_of_level[level] {
            (vec![(node, 1.0_f64.to_bits())], 0.0)
        } else {
            let parents = descended.parents[level].iter();
            let shares = parents.map(|&(p, share)| (node(p), share.to_bits())).collect();
            (shares, descended.own[level])
        };
        let group = descended.groups[level].and_then(|group| self.group_unknown[group]);
        let group = group.filter(|_| !mine.is_empty());
        let mut of_record: Vec<usize> = mine.iter().map(|record| record.row).collect();
        of_record.sort_unstable();
        let counts = of_record.chunk_by(|a, b| a == b).map(|same| (same[0], same.len())).collect();
        ((shares, group, own.to_bits(), counts), own)
    }

    /// The pattern of the equations, and A⁻¹ of the parents on it.
    fn lay_out(&mut self, descended: Descended<'_>) {
        let mut entries = Vec::new();
        for (level, node) in self.node_of_level.iter().enumerate() {
            let Some(node) = *node else { continue };
            let own = descended.own[level];
            self.ln_det += own.ln();
            let parents = descended.parents[level].iter();
            let row: Vec<(usize, f64)> = std::iter::once((node, 1.0))
                .chain(parents.filter_map(|&(p, share)| Some((self.node_of_level[p]?, -share))))
                .collect();
            for (i, &(r, x)) in row.iter().enumerate() {
                entries.extend(row[..=i].iter().map(|&(c, z)| (r, c, x * z / own)));
            }
        }
        entries.extend(self.group_unknown.iter().flatten().map(|&group| (group, group, 1.0)));
        for batch in &self.batches {
            for (i, part) in batch.parts.iter().enumerate() {
                let others = batch.parts[..=i].iter();
                entries.extend(others.map(|other| (part.unknown, other.unknown, 0.0)));
            }
        }
        self.base = sparse::Symmetric::new(self.n_unknowns, entries);
        let base = &self.base;
        self.places = self
            .batches
            .iter()
            .map(|batch| {
                let pairs = batch.parts.iter().enumerate().flat_map(|(i, part)| {
                    let others = batch.parts[..=i].iter();
                    others.filter_map(|other| base.position(part.unknown, other.unknown))
                });
                pairs.collect()
            })
            .collect();
    }
}

/// Which fixed effects can be told apart, and their least-squares estimates.
fn least_squares(n: usize, rows: &[Vec<usize>], records: &[Record]) -> (Vec<usize>, Vec<f64>) {
    let mut of_row = vec![(0.0, 0.0); rows.len()];
    for record in records {
        let (count, sum) = &mut of_row[record.row];
        (*count, *sum) = (*count + 1.0, *sum + record.y);
    }
    let mut products = vec![0.0; n * n];
    let mut right = vec![0.0; n];
    for (row, (count, sum)) in rows.iter().zip(of_row) {
        for &i in row {
            right[i] += sum;
            for &j in row {
                products[i * n + j] += count;
            }
        }
    }
    let kept = dense::independent_in_order(&products, n);
    let k = kept.len();
    let small = kept.iter().flat_map(|&i| kept.iter().map(move |&j| (i, j)));
    let small: Vec<f64> = small.map(|(i, j)| products[i * n + j]).collect();
    let some: Vec<f64> = kept.iter().map(|&i| right[i]).collect();
    let mut estimates = vec![0.0; n];
    for (&i, value) in kept.iter().zip(dense::Factor::of(&small, k).solve(&some)) {
        estimates[i] = value;
    }
    (kept, estimates)
}
