//! How far forecasts can be trusted: many invented gardens of six kinds, whose truth is known.
//!
//! `cargo run --release --manifest-path tests/calibration/Cargo.toml -- [GARDENS [KIND …]]`;
//! without a number it takes 200 gardens of each kind. The same seed gives the same table.

mod kind;
mod measure;
mod report;

use std::{error::Error, sync::Arc, thread};

use kind::{KINDS, Kind};
use measure::{Measured, Pair, measure};
use report::{figures, thirds};
use trug::book::Crop;

const SEED: u64 = 20_261_125;

fn main() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let gardens: u64 = words.next().map_or(Ok(200), |n| n.parse())?;
    let mut kinds: Vec<String> = words.collect();
    if kinds.is_empty() {
        kinds = KINDS.map(str::to_owned).to_vec();
    }
    let crop = Arc::new(trug::shelf::crop_file::builtin("dahlia").ok_or("no such crop")?);
    println!("seed {SEED}, {gardens} gardens of each kind");
    let mut within = [0.0; 2];
    for name in &kinds {
        let measured = many(&Kind::read(name), &crop, gardens);
        print(name, &measured);
        within[0] += figures(&measured, Pair::is_tried).within;
        within[1] += figures(&measured, |p| !p.is_tried()).within;
    }
    let [tried, untried] = within.map(|sum| 100.0 * sum / kinds.len() as f64);
    println!("\nmean of these kinds: within {tried:.1} % tried, {untried:.1} % untried");
    Ok(())
}

fn many(kind: &Kind, crop: &Arc<Crop>, gardens: u64) -> Vec<Measured> {
    let workers = thread::available_parallelism().map_or(1, |n| n.get() as u64);
    let mut found: Vec<(u64, Measured)> = thread::scope(|scope| {
        let some = |first: u64| {
            let seeds = (first..gardens).step_by(usize::try_from(workers).unwrap_or(1));
            seeds.map(|i| (i, measure(kind, crop, SEED + i))).collect::<Vec<_>>()
        };
        let running: Vec<_> = (0..workers).map(|w| scope.spawn(move || some(w))).collect();
        running.into_iter().flat_map(|worker| worker.join().expect("a garden")).collect()
    });
    found.sort_by_key(|(i, _)| *i);
    found.into_iter().map(|(_, measured)| measured).collect()
}

fn print(name: &str, gardens: &[Measured]) {
    println!("\n{name}");
    let asked: [(&str, fn(&Pair) -> bool); 3] =
        [("tried", Pair::is_tried), ("untried", |p| !p.is_tried()), ("picked", |p| p.picked)];
    for (of, is_asked) in asked {
        let f = figures(gardens, is_asked);
        println!(
            "  {of:<8} {:>7} pairs  within {:.1} % (below {:.1})  width {:.3}  loss {:.1} raw {:.1} \
             steadied {:.1}  rank {:.3} raw {:.3} steadied {:.3} by true spreads {:.3} by parents {:.3}",
            f.n,
            100.0 * f.within,
            100.0 * f.below,
            f.width,
            f.loss[0],
            f.loss[1],
            f.loss[2],
            f.rank[0],
            f.rank[1],
            f.rank[2],
            f.rank[3],
            f.rank[4],
        );
    }
    let all = |of: &dyn Fn(&Measured) -> usize| -> usize { gardens.iter().map(of).sum() };
    let per_garden = |n: usize| n as f64 / gardens.len().max(1) as f64;
    let sorted = [0, 1].map(|i| gardens.iter().map(|g| f64::from(g.sorted[i])).sum::<f64>());
    println!(
        "  kept {:.1} % of {:.0} judged a garden, {:.1} parents, {:.1} tried pairs of {:.1}",
        100.0 * sorted[0] / sorted[1],
        sorted[1] / gardens.len().max(1) as f64,
        per_garden(all(&|g| g.n_parents)),
        per_garden(all(&|g| g.pairs.iter().filter(|p| p.is_tried()).count())),
        per_garden(all(&|g| g.pairs.len())),
    );
    let by: [(&str, fn(&Pair) -> f64); 2] =
        [("true rate", |p| p.truth), ("forecast", |p| p.forecast)];
    for (of, by) in by {
        let [low, middle, high] = thirds(gardens, by).map(|x| 100.0 * x);
        println!("  thirds of the {of}: within {low:.1}, {middle:.1}, {high:.1} %");
    }
    let mean = |of: &dyn Fn(&Measured) -> f64| {
        gardens.iter().map(of).sum::<f64>() / gardens.len().max(1) as f64
    };
    let plans = [0, 1, 2].map(|i| 100.0 * mean(&|g| g.plans[i]));
    println!(
        "  keepers of 100 places: {:.1} by habit, {:.1} by forecasts, {:.1} by the truth",
        plans[0], plans[1], plans[2]
    );
    let picked = |of: fn(&Pair) -> f64| {
        let all: Vec<f64> =
            gardens.iter().flat_map(|g| &g.pairs).filter(|p| p.picked).map(of).collect();
        100.0 * all.iter().sum::<f64>() / all.len().max(1) as f64
    };
    println!(
        "  of the pairs picked {:.1} % were promised and {:.1} % are true; a fit took {:.2} s",
        picked(|p| p.forecast),
        picked(|p| p.truth),
        mean(&|g| g.seconds)
    );
}
