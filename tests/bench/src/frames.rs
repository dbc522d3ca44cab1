//! Frames: how long a whole screen takes to draw, and how soon the first one stands.

use std::{
    error::Error,
    hint::black_box,
    io::{BufReader, Read},
    path::Path,
    sync::Arc,
    time::{Duration, Instant},
};

use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use trug::{
    book::Book,
    tui::{Settings, Stage},
    views::Desk,
};

use crate::measure::{median, p99, target, time};

/// The screens by their keys.
const SCREENS: [&str; 5] = ["1", "2", "3", "4", "5"];

fn stage(book: Book) -> Stage {
    let today = book.about().today.unwrap_or_default();
    let desk = Arc::new(Desk::new(Arc::new(book), today));
    Stage::new(desk, Settings::default(), (200, 60))
}

fn draws(stage: &mut Stage) -> Vec<Duration> {
    (0..200).map(|_| time(|| black_box(stage.draw())).0).collect()
}

/// Draws every screen at 200 × 60, on this book and on one of a thousand seedlings.
pub fn measure(book: Book, small: Book) {
    let (mut large, mut small) = (stage(book), stage(small));
    for key in SCREENS {
        large.press(key);
        small.press(key);
        let (ours, theirs) = (draws(&mut large), draws(&mut small));
        let worst = p99(ours.clone()).as_secs_f64() * 1e3;
        target(&format!("screen {key}: a frame of 200 × 60, ms, p99"), worst, "<= 3", worst <= 3.0);
        let ratio = median(ours).as_secs_f64() / median(theirs).as_secs_f64();
        target(&format!("screen {key}: against 1,000 seedlings"), ratio, "<= 1.2", ratio <= 1.2);
    }
}

/// From starting a program in a terminal until it has shown a word.
fn until_shown(program: &Path, args: &[&str], word: &str) -> Result<Duration, Box<dyn Error>> {
    let size = PtySize { rows: 40, cols: 120, pixel_width: 0, pixel_height: 0 };
    let pair = native_pty_system().openpty(size)?;
    let mut command = CommandBuilder::new(program);
    command.args(args);
    command.env("TERM", "xterm-256color");
    let mut reader = BufReader::new(pair.master.try_clone_reader()?);
    let start = Instant::now();
    let mut child = pair.slave.spawn_command(command)?;
    let (mut seen, mut chunk) = (Vec::new(), [0_u8; 4096]);
    let took = loop {
        let n = reader.read(&mut chunk)?;
        seen.extend_from_slice(&chunk[..n]);
        if seen.windows(word.len()).any(|w| w == word.as_bytes()) {
            break start.elapsed();
        }
        if n == 0 {
            return Err(format!("{} never showed \"{word}\"", program.display()).into());
        }
    };
    child.kill().ok();
    child.wait()?;
    Ok(took)
}

/// The first frame of the demo garden against a program that only says hello.
pub fn first_frame(trug: &Path) -> Result<(), Box<dyn Error>> {
    let dir = tempfile::tempdir()?;
    let garden = dir.path().join("garden");
    trug::shelf::lay_out(&garden)?;
    let garden = garden.to_string_lossy().into_owned();
    let own = std::env::current_exe()?;
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..15 {
        ours.push(until_shown(trug, &["--book", &garden], "keepers of")?);
        theirs.push(until_shown(&own, &["hello"], "hello")?);
    }
    let (ours, theirs) = (median(ours), median(theirs));
    println!("  (first frame {ours:.1?}, hello {theirs:.1?})");
    let ratio = ours.as_secs_f64() / theirs.as_secs_f64();
    target("first frame of the demo, times a hello-world", ratio, "<= 10", ratio <= 10.0);
    Ok(())
}
