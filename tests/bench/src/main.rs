//! Measures `trug` against its peers in one run and prints each target as a ratio.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml -- [PLANTS …]`; without numbers it
//! takes books of 20,000 and of 1,000,000 seedlings. Every figure is the median of several
//! interleaved rounds, so that what else the machine does falls on both sides alike.

mod frames;
mod lineage;
mod measure;
mod opening;
mod peer;

use std::{error::Error, path::Path, sync::Arc};

use trug::book::Book;

const SEED: u64 = 20_260_101;

fn main() -> Result<(), Box<dyn Error>> {
    // The peer of the first frame: this very program, saying only this.
    if std::env::args().nth(1).as_deref() == Some("hello") {
        println!("hello");
        return Ok(());
    }
    let sizes: Vec<usize> =
        std::env::args().skip(1).map(|n| n.parse()).collect::<Result<_, _>>()?;
    let sizes = if sizes.is_empty() { vec![20_000, 1_000_000] } else { sizes };
    for n in sizes {
        println!("\na book of {n} seedlings");
        let dir = tempfile::tempdir()?;
        let crop = trug::shelf::crop_file::builtin("dahlia").ok_or("no such crop")?;
        let crop = Arc::new(crop);
        let book: Book = trug::sim::book_of(n, Arc::clone(&crop), SEED);
        trug::shelf::write_book(dir.path(), &book)?;
        opening::measure(dir.path())?;
        lineage::measure(&book)?;
        frames::measure(book, trug::sim::book_of(1000, crop, SEED));
    }
    println!("\nthe demo garden");
    match std::env::var_os("TRUG_BIN") {
        Some(trug) => frames::first_frame(Path::new(&trug))?,
        None => println!("  name the program to start in TRUG_BIN to measure its first frame"),
    }
    Ok(())
}
