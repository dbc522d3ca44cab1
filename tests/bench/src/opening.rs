//! Opening a book against reading its crosses with one thread of plain `ron`.

use std::{
    env,
    error::Error,
    fs,
    hint::black_box,
    path::{Path, PathBuf},
    process::Command,
    sync::Arc,
};

use trug::views::Desk;

use crate::{
    measure::{Target, best, line, share, side_by_side},
    peer,
};

fn files(dir: &Path, found: &mut Vec<PathBuf>) -> std::io::Result<()> {
    for entry in fs::read_dir(dir)? {
        let path = entry?.path();
        if path.is_dir() {
            files(&path, found)?;
        } else if path.extension().is_some_and(|e| e == "ron") {
            found.push(path);
        }
    }
    Ok(())
}

/// Resident memory of this process, in bytes.
fn resident() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmRSS:")).unwrap_or_default();
    let kb: u64 = line.split_whitespace().nth(1).and_then(|n| n.parse().ok()).unwrap_or(0);
    kb * 1024
}

/// The argument that makes this program [`hold`] a book.
pub const HOLD: &str = "hold";

/// Opens a book and prints by how much that has made the program grow.
pub fn hold(root: &Path) -> Result<(), Box<dyn Error>> {
    let before = resident();
    let opened = trug::shelf::open(root, None)?;
    println!("{}", resident().saturating_sub(before));
    drop(opened);
    Ok(())
}

/// Opens the book at `root` and reads its crosses with the peer, in turn; then works out of it
/// what the screens need.
pub fn measure(root: &Path, n_seedlings: usize) -> Result<(), Box<dyn Error>> {
    let mut crosses = Vec::new();
    files(&root.join("crosses"), &mut crosses)?;
    let bytes: u64 = crosses.iter().map(|f| fs::metadata(f).map_or(0, |m| m.len())).sum();

    // A process of its own has no room left over from other measurements.
    let holding = Command::new(env::current_exe()?).arg(HOLD).arg(root).output()?;
    let held: u64 = String::from_utf8(holding.stdout)?.trim().parse()?;
    let shown = |bytes: u64| format!("{:.1} MB", bytes as f64 / 1e6);
    let ratio = held as f64 / bytes as f64;
    let sizes = [&*shown(held), &*shown(bytes)];
    line("memory of an open book, bytes on disk", n_seedlings, sizes, ratio, Target::AtMost(3.0));

    let rounds = if n_seedlings > 100_000 { 3 } else { 15 };
    let (ours, theirs) = side_by_side(
        rounds,
        || {
            black_box(trug::shelf::open(root, None).is_ok());
        },
        || {
            for path in &crosses {
                let text = fs::read_to_string(path).unwrap_or_default();
                let read: peer::Cross = peer::read(&text).unwrap_or_else(|error| {
                    panic!("the peer cannot read {}: {error}", path.display())
                });
                black_box(read);
            }
        },
    );
    share("opening a book, plain ron on one thread", n_seedlings, [ours, theirs], 0.65);

    let opened = trug::shelf::open(root, None)?;
    assert!(opened.problems.is_empty(), "{:?}", opened.problems.first());
    let today = opened.book.about().today.unwrap_or_default();
    let book = Arc::new(opened.book);
    let desk = best(rounds, || {
        black_box(Desk::new(Arc::clone(&book), today));
    });
    share("what the screens need, opening the book", n_seedlings, [desk, ours], 0.5);
    Ok(())
}
