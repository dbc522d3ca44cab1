//! Breeding values of every plant for known variances, against conjugate gradients on the full
//! equations, in which every plant is an unknown.

use std::error::Error;

use trug::{
    book::{Book, PlantDeed},
    kinship::{Descent, Inheritance, Kinship},
    lineage::Pedigree,
    stats::mixed::reduced::{Descended, Model, Record, Shares, With},
};

use crate::measure::{best_busy, faster};

/// A heritability of 0.3.
const SHARES: Shares = Shares { descent: 3.0, group: 0.0, lasting: 0.0, residual: 7.0 };
/// How near to nothing what is left is brought, for both alike.
const WITHIN: f64 = 1e-11;

/// The scores of a book, each with its season: enough of a fixed effect for both.
struct Records {
    n_seasons: usize,
    all: Vec<Record>,
}

fn records(book: &Book, descent: &Descent) -> Records {
    let mut seasons: Vec<i16> = Vec::new();
    let mut all = Vec::new();
    for plant in book.plants() {
        let Some(level) = descent.place(plant) else { continue };
        for entry in book.plant(plant).diary() {
            let PlantDeed::Look(look) = &entry.did else { continue };
            let Some((_, score)) = look.scores.first() else { continue };
            let season = entry.on.season().0;
            let row = seasons.iter().position(|known| *known == season).unwrap_or_else(|| {
                seasons.push(season);
                seasons.len() - 1
            });
            all.push(Record { level, row, y: *score });
        }
    }
    Records { n_seasons: seasons.len(), all }
}

/// A symmetric matrix by rows, both triangles stored.
struct Full {
    starts: Vec<usize>,
    columns: Vec<u32>,
    values: Vec<f64>,
    diagonal: Vec<f64>,
    right: Vec<f64>,
}

impl Full {
    /// Henderson's equations with every plant an unknown, and the seasons after them.
    fn of(descent: &Descent, records: &Records) -> Result<Self, Box<dyn Error>> {
        let n_plants = descent.plants().len();
        let n = n_plants + records.n_seasons;
        let mut entries: Vec<(u32, u32, f64)> = Vec::new();
        let mut put = |i: usize, j: usize, x: f64| -> Result<(), Box<dyn Error>> {
            entries.push((u32::try_from(i)?, u32::try_from(j)?, x));
            if i != j {
                entries.push((u32::try_from(j)?, u32::try_from(i)?, x));
            }
            Ok(())
        };
        for (i, j, x) in descent.inverse() {
            put(i, j, x / SHARES.descent)?;
        }
        let mut right = vec![0.0; n];
        for record in &records.all {
            let season = n_plants + record.row;
            for (i, j) in [(record.level, record.level), (record.level, season), (season, season)] {
                put(i, j, 1.0 / SHARES.residual)?;
            }
            right[record.level] += record.y / SHARES.residual;
            right[season] += record.y / SHARES.residual;
        }
        entries.sort_unstable_by_key(|&(i, j, _)| (i, j));
        let mut full = Self {
            starts: vec![0],
            columns: Vec::new(),
            values: Vec::new(),
            diagonal: vec![0.0; n],
            right,
        };
        for same in entries.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            let (i, j, _) = same[0];
            while full.starts.len() <= i as usize {
                full.starts.push(full.columns.len());
            }
            let sum: f64 = same.iter().map(|(.., x)| x).sum();
            if i == j {
                full.diagonal[i as usize] = sum;
            }
            full.columns.push(j);
            full.values.push(sum);
        }
        full.starts.resize(n + 1, full.columns.len());
        Ok(full)
    }

    fn times(&self, x: &[f64], into: &mut [f64]) {
        for (row, into) in into.iter_mut().enumerate() {
            let range = self.starts[row]..self.starts[row + 1];
            let entries = self.columns[range.clone()].iter().zip(&self.values[range]);
            *into = entries.map(|(&column, value)| value * x[column as usize]).sum();
        }
    }

    /// Conjugate gradients with the diagonal taken out, and the steps they took.
    fn solve(&self) -> (Vec<f64>, usize) {
        let n = self.right.len();
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
        let mut x = vec![0.0; n];
        let mut left = self.right.clone();
        let mut next: Vec<f64> = left.iter().zip(&self.diagonal).map(|(r, d)| r / d).collect();
        let mut way = next.clone();
        let mut turned = vec![0.0; n];
        let mut size = dot(&left, &next);
        let enough = size * WITHIN * WITHIN;
        let mut steps = 0;
        while size > enough {
            steps += 1;
            self.times(&way, &mut turned);
            let step = size / dot(&way, &turned);
            for i in 0..n {
                x[i] += step * way[i];
                left[i] -= step * turned[i];
                next[i] = left[i] / self.diagonal[i];
            }
            let next_size = dot(&left, &next);
            let keep = next_size / size;
            for (way, next) in way.iter_mut().zip(&next) {
                *way = next + keep * *way;
            }
            size = next_size;
        }
        (x, steps)
    }
}

/// Solves for every plant of a book in both ways.
pub fn measure(book: &Book, n: usize) -> Result<(), Box<dyn Error>> {
    let pedigree = Pedigree::of(book);
    let kinship = Kinship::of(book, &pedigree, Inheritance::of(book)?);
    let descent = kinship.descent(book.plants());
    let records = records(book, &descent);
    let full = Full::of(&descent, &records)?;
    let groups = vec![None; descent.plants().len()];
    let descended =
        Descended { parents: descent.parents(), own: descent.sampling(), groups: &groups };
    let rows: Vec<Vec<usize>> = (0..records.n_seasons).map(|season| vec![season]).collect();
    let with = With { groups: false, lasting: false };
    let model = Model::of(descended, (records.n_seasons, &rows), &records.all, with);

    let ours = model.values(&SHARES, WITHIN).ok_or("it did not come to rest")?;
    let (theirs, steps) = full.solve();
    let apart = ours.iter().zip(&theirs).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    assert!(apart < 1e-8, "the peers must agree: they are {apart} apart");
    let ours = best_busy(5, || {
        std::hint::black_box(model.values(&SHARES, WITHIN));
    });
    let theirs = best_busy(5, || {
        std::hint::black_box(full.solve());
    });
    let what = format!("breeding values; {steps} steps on the full equations");
    faster(&what, n, [ours, theirs], 40.0);
    Ok(())
}
