//! Measures `trug` against its peers in one run, and prints a table of the targets.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml -- [PART …] [SEEDLINGS …]`: the
//! parts are `opening`, `checking`, `saving`, `lineage`, `values`, `kinship`, `frames` and
//! `first`, and without any all are measured; the books have 20,000 and 1,000,000 seedlings
//! unless other numbers are given.

mod breeding_values;
mod checking;
mod first;
mod frames;
mod kinship;
mod lineage;
mod measure;
mod meuwissen;
mod opening;
mod peer;
mod saving;

use std::{env, error::Error, sync::Arc};

const PARTS: [&str; 8] =
    ["opening", "checking", "saving", "lineage", "values", "kinship", "frames", "first"];
const SEED: u64 = 20_260_101;

fn main() -> Result<(), Box<dyn Error>> {
    let mut asked: Vec<String> = env::args().skip(1).collect();
    match asked.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [first::HELLO] => {
            println!("hello");
            return Ok(());
        }
        [opening::HOLD, book] => return opening::hold(book.as_ref()),
        _ => {}
    }
    let mut sizes: Vec<usize> = asked.iter().filter_map(|word| word.parse().ok()).collect();
    asked.retain(|word| word.parse::<usize>().is_err());
    if let Some(unknown) = asked.iter().find(|part| !PARTS.contains(&part.as_str())) {
        return Err(format!("there is no part {unknown}; there are {}", PARTS.join(", ")).into());
    }
    if sizes.is_empty() {
        sizes = vec![20_000, 1_000_000];
    }
    let wants = |part: &str| asked.is_empty() || asked.iter().any(|word| word == part);
    let crop = Arc::new(trug::shelf::crop_file::builtin("dahlia").ok_or("there are no dahlias")?);
    let book_of = |n| trug::sim::book_of(n, Arc::clone(&crop), SEED);

    measure::head();
    for n in sizes {
        if wants("opening") {
            let dir = tempfile::tempdir()?;
            trug::shelf::write_book(dir.path(), &book_of(n))?;
            opening::measure(dir.path(), n)?;
        }
        if wants("checking") {
            let dir = tempfile::tempdir()?;
            trug::shelf::write_book(dir.path(), &book_of(n))?;
            checking::measure(dir.path(), n)?;
        }
        if wants("saving") {
            let (large, small) = (tempfile::tempdir()?, tempfile::tempdir()?);
            trug::shelf::write_book(large.path(), &book_of(n))?;
            trug::shelf::write_book(small.path(), &book_of(1000))?;
            saving::measure(large.path(), small.path(), n)?;
        }
        if wants("lineage") {
            lineage::measure(&book_of(n), n)?;
        }
        if wants("values") {
            breeding_values::measure(&book_of(n), n)?;
        }
        if wants("frames") {
            frames::measure(book_of(n), book_of(25_000), n);
        }
    }
    if wants("kinship") {
        kinship::measure()?;
    }
    if wants("first") {
        first::measure()?;
    }
    Ok(())
}
