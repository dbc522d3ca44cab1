//! Opening a book against reading the same files with one thread of plain `ron`.

use std::{
    error::Error,
    fs,
    hint::black_box,
    path::{Path, PathBuf},
};

use crate::{
    measure::{side_by_side, target},
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

/// Opens the book at `root` and reads its crosses with the peer, in turn.
pub fn measure(root: &Path) -> Result<(), Box<dyn Error>> {
    let mut crosses = Vec::new();
    files(&root.join("crosses"), &mut crosses)?;
    let mut all = Vec::new();
    files(root, &mut all)?;
    let bytes: u64 = all.iter().map(|f| fs::metadata(f).map_or(0, |m| m.len())).sum();

    let before = resident();
    let opened = trug::shelf::open(root, None)?;
    let held = resident().saturating_sub(before);
    let ratio = held as f64 / bytes as f64;
    target("memory of an open book, times its bytes on disk", ratio, "<= 3", ratio <= 3.0);
    assert!(opened.problems.is_empty(), "{:?}", opened.problems.first());
    drop(opened);

    let rounds = if bytes > 100_000_000 { 3 } else { 11 };
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
    let ratio = ours.as_secs_f64() / theirs.as_secs_f64();
    println!("  (open {ours:.0?}, plain ron on one thread {theirs:.0?}, {bytes} bytes)");
    target("open, as a share of plain ron on one thread", ratio, "<= 0.65", ratio <= 0.65);
    Ok(())
}
