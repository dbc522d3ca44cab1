//! The first frame of the demo garden, against a program that only says hello.

use std::{
    env,
    error::Error,
    io::Read,
    path::{Path, PathBuf},
    process::Command,
    time::{Duration, Instant},
};

use portable_pty::{CommandBuilder, PtySize, native_pty_system};

use crate::measure::share;

/// The argument that makes this very program the peer.
pub const HELLO: &str = "hello";

/// A phrase that stands at the end of the first frame.
const SHOWN: &str = "keys";

const ROUNDS: usize = 25;

/// The program to start: the one in `TRUG_BIN`, or else one built for the purpose.
fn program() -> Result<PathBuf, Box<dyn Error>> {
    if let Some(named) = env::var_os("TRUG_BIN") {
        return Ok(named.into());
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let built = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
        .args(["build", "--release", "--locked", "--bin", "trug"])
        .current_dir(&root)
        .status()?;
    if !built.success() {
        return Err("trug could not be built; name a program in TRUG_BIN".into());
    }
    let target = env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), Into::into);
    Ok(target.join("release/trug"))
}

/// From starting a program in a terminal until it has shown a phrase.
fn until_shown(program: &Path, args: &[&str], phrase: &str) -> Result<Duration, Box<dyn Error>> {
    let size = PtySize { rows: 60, cols: 200, pixel_width: 0, pixel_height: 0 };
    let pair = native_pty_system().openpty(size)?;
    let mut command = CommandBuilder::new(program);
    command.args(args);
    command.env("TERM", "xterm-256color");
    let mut reader = pair.master.try_clone_reader()?;
    let start = Instant::now();
    let mut child = pair.slave.spawn_command(command)?;
    drop(pair.slave);
    let (mut seen, mut chunk) = (Vec::new(), [0_u8; 65_536]);
    let took = loop {
        // A terminal whose program has gone gives an error in place of an end.
        let n = reader.read(&mut chunk).unwrap_or(0);
        seen.extend_from_slice(&chunk[..n]);
        if seen.windows(phrase.len()).any(|w| w == phrase.as_bytes()) {
            break start.elapsed();
        }
        if n == 0 {
            return Err(format!("{} never showed \"{phrase}\"", program.display()).into());
        }
    };
    child.kill().ok();
    child.wait()?;
    Ok(took)
}

/// Starts both in turn.
pub fn measure() -> Result<(), Box<dyn Error>> {
    let trug = program()?;
    let dir = tempfile::tempdir()?;
    let garden = dir.path().join("garden");
    trug::shelf::lay_out(&garden)?;
    let garden = garden.to_string_lossy().into_owned();
    let n_seedlings = trug::shelf::open(Path::new(&garden), None)?.book.n_plants();
    let own = env::current_exe()?;
    let mut best = [Duration::MAX; 2];
    for _ in 0..ROUNDS {
        best[0] = best[0].min(until_shown(&trug, &["--book", &garden], SHOWN)?);
        best[1] = best[1].min(until_shown(&own, &[HELLO], HELLO)?);
    }
    share("first frame of the demo, a hello-world", n_seedlings, best, 10.0);
    Ok(())
}
