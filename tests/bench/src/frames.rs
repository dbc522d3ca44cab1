//! Frames: how long a whole screen takes to draw, against the same screen of a small book.

use std::{sync::Arc, time::Duration};

use trug::{
    book::Book,
    tui::{Settings, Stage},
    views::Desk,
};

use crate::measure::{Target, busy, line, share, shown};

/// The screens and the keys that lead to them. The latest keeper has a longer line in a larger
/// book; the line of a variety that was used much fills the screen in both.
const SCREENS: [(&str, &str); 9] = [
    ("Evening", "1"),
    ("Bed", "2"),
    ("Crosses", "3"),
    ("Crosses, at the end", "3<end>"),
    ("Pairings", "4"),
    ("Line", "5"),
    ("Line of a variety", "/variety 60<enter>5"),
    ("a cross", "3<enter>"),
    ("help", "?"),
];

const ROUNDS: usize = 5;
const FRAMES: usize = 200;

fn stage(book: Book) -> Stage {
    let today = book.about().today.unwrap_or_default();
    let desk = Arc::new(Desk::new(Arc::new(book), today));
    Stage::new(desk, Settings::default(), (200, 60))
}

/// The 99th percentile and the median of the best of several rounds of frames.
struct Drawn {
    p99: Duration,
    median: Duration,
}

fn draw(stages: &mut [Stage; 2]) -> [Drawn; 2] {
    let mut best = [(); 2].map(|()| Drawn { p99: Duration::MAX, median: Duration::MAX });
    for _ in 0..ROUNDS {
        for (stage, best) in stages.iter_mut().zip(&mut best) {
            let mut times: Vec<Duration> = (0..FRAMES).map(|_| busy(|| stage.draw())).collect();
            times.sort_unstable();
            best.p99 = best.p99.min(times[FRAMES * 99 / 100]);
            best.median = best.median.min(times[FRAMES / 2]);
        }
    }
    best
}

/// The cells on which something stands. A frame of a book with more to draw takes longer, however
/// it is found.
fn filled(stage: &Stage) -> f64 {
    let cells = stage.buffer().content().iter();
    cells.filter(|cell| cell.symbol() != " ").count() as f64
}

/// Draws every screen at 200 × 60, on this book and on one whose lists fill the screen too.
pub fn measure(book: Book, small: Book, n_seedlings: usize) {
    let n_small = small.n_plants();
    let mut stages = [stage(book), stage(small)];
    for (name, keys) in SCREENS {
        let is_there = stages.iter_mut().all(|stage| stage.press(keys).is_some());
        assert!(is_there, "there are no keys {keys}");
        let [ours, theirs] = draw(&mut stages);
        let what = format!("{name}: p99 of a frame");
        let ratio = ours.p99.as_secs_f64() / 3e-3;
        line(&what, n_seedlings, [&shown(ours.p99), "3 ms"], ratio, Target::AtMost(1.0));
        if n_seedlings > n_small {
            let [cells, others] = [&stages[0], &stages[1]].map(filled);
            let what = format!("{name}: of 1,000 crosses, {:.2} of its cells", cells / others);
            share(&what, n_seedlings, [ours.median, theirs.median], 1.2);
        }
    }
}
