//! Rounds, their best, and the table of targets.
//!
//! Whatever else the machine does can only make a round slower, so the best of several rounds,
//! taken in turn with the peer's, is the steadiest figure there is.

use std::time::{Duration, Instant};

use rustix::time::{ClockId, clock_gettime};

/// How long `work` takes.
pub fn time<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let done = work();
    (start.elapsed(), done)
}

/// How long this thread is at work on `work`, whatever else the machine does meanwhile: a
/// percentile would otherwise tell how often we were made to wait.
pub fn busy(work: impl FnOnce()) -> Duration {
    let now = || {
        let spent = clock_gettime(ClockId::ThreadCPUTime);
        Duration::try_from(spent).unwrap_or_default()
    };
    let start = now();
    work();
    now().saturating_sub(start)
}

/// Runs two ways of doing the same in turn, and returns the best time of each. Both may use
/// several threads.
pub fn side_by_side(
    rounds: usize,
    mut ours: impl FnMut(),
    mut theirs: impl FnMut(),
) -> (Duration, Duration) {
    (0..rounds).fold((Duration::MAX, Duration::MAX), |best, _| {
        (best.0.min(time(&mut ours).0), best.1.min(time(&mut theirs).0))
    })
}

/// Runs `work` as often as it takes to fill a hundredth of a second, so that the clock is fine
/// enough, and returns the best time of one.
pub fn best(rounds: usize, work: impl FnMut()) -> Duration {
    best_of(rounds, work, |batch| time(batch).0)
}

/// The same of work on one thread, by the time for which that thread is at work.
pub fn best_busy(rounds: usize, work: impl FnMut()) -> Duration {
    best_of(rounds, work, |batch| busy(batch))
}

fn best_of(
    rounds: usize,
    mut work: impl FnMut(),
    clock: impl Fn(&mut dyn FnMut()) -> Duration,
) -> Duration {
    let once = clock(&mut work).as_secs_f64().max(1e-9);
    let times = ((0.01 / once) as u32).clamp(1, 1_000_000);
    let mut batch = || (0..times).for_each(|_| work());
    (0..rounds).map(|_| clock(&mut batch)).min().unwrap_or_default() / times
}

/// What a ratio has to reach.
#[derive(Clone, Copy)]
pub enum Target {
    AtMost(f64),
    AtLeast(f64),
}

/// Prints the head of the table.
pub fn head() {
    row("what", "book", ["ours", "peer", "ratio", "target", ""]);
}

/// Prints the line of one target.
pub fn line(what: &str, book: usize, [ours, peer]: [&str; 2], ratio: f64, target: Target) {
    let (is_met, asked) = match target {
        Target::AtMost(most) => (ratio <= most, format!("<= {most}")),
        Target::AtLeast(least) => (ratio >= least, format!(">= {least}")),
    };
    let ratio = if ratio < 100.0 { format!("{ratio:.2}") } else { format!("{ratio:.0}") };
    let met = if is_met { "met" } else { "MISSED" };
    row(what, &book.to_string(), [ours, peer, &ratio, &asked, met]);
}

/// Prints a time against another, as a share of it.
pub fn share(what: &str, book: usize, [ours, peer]: [Duration; 2], most: f64) {
    let ratio = ours.as_secs_f64() / peer.as_secs_f64();
    line(what, book, [&shown(ours), &shown(peer)], ratio, Target::AtMost(most));
}

/// Prints how many times faster we are.
pub fn faster(what: &str, book: usize, [ours, peer]: [Duration; 2], least: f64) {
    let ratio = peer.as_secs_f64() / ours.as_secs_f64();
    line(what, book, [&shown(ours), &shown(peer)], ratio, Target::AtLeast(least));
}

/// A time with three figures.
pub fn shown(time: Duration) -> String {
    let s = time.as_secs_f64();
    let (number, unit) = match s {
        1.0.. => (s, "s"),
        1e-3.. => (s * 1e3, "ms"),
        1e-6.. => (s * 1e6, "us"),
        _ => (s * 1e9, "ns"),
    };
    let places = if number < 10.0 { 2 } else { usize::from(number < 100.0) };
    format!("{number:.places$} {unit}")
}

fn row(what: &str, book: &str, [ours, peer, ratio, target, met]: [&str; 5]) {
    println!("{what:<44}{book:>9}{ours:>10}{peer:>10}{ratio:>9}   {target:<9}{met}");
}
