//! Rounds, medians and the line of a target.

use std::time::{Duration, Instant};

/// How long `work` takes.
pub fn time<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let done = work();
    (start.elapsed(), done)
}

/// The median; zero of nothing.
pub fn median(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

/// The 99th percentile; zero of nothing.
pub fn p99(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times
        .get((times.len() * 99 / 100).min(times.len().saturating_sub(1)))
        .copied()
        .unwrap_or_default()
}

/// Runs two ways of doing the same in turn, and returns the median of each.
pub fn side_by_side(
    rounds: usize,
    mut ours: impl FnMut(),
    mut theirs: impl FnMut(),
) -> (Duration, Duration) {
    let (mut a, mut b) = (Vec::new(), Vec::new());
    for _ in 0..rounds {
        a.push(time(&mut ours).0);
        b.push(time(&mut theirs).0);
    }
    (median(a), median(b))
}

/// Prints one target: what it is, the ratio reached, the ratio asked for.
pub fn target(what: &str, reached: f64, asked: &str, met: bool) {
    let word = if met { "met" } else { "MISSED" };
    println!("  {what:<58} {reached:>10.2}   {asked:<9} {word}");
}
