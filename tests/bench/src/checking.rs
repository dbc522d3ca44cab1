//! Looking all records over, as is done before every answer in the shell, against opening the
//! book.

use std::{error::Error, hint::black_box, path::Path};

use trug::{lineage::loop_faults, shelf};

use crate::measure::{share, side_by_side};

/// Opens the book at `root` and looks it over, in turn.
pub fn measure(root: &Path, n_seedlings: usize) -> Result<(), Box<dyn Error>> {
    let opened = shelf::open(root, None)?;
    let today = opened.book.about().today.ok_or("it has a day")?;
    let rounds = if n_seedlings > 100_000 { 3 } else { 15 };
    let (ours, opening) = side_by_side(
        rounds,
        || {
            black_box(opened.faults(today).len() + loop_faults(&opened.book).len());
        },
        || {
            black_box(shelf::open(root, None).is_ok());
        },
    );
    share("looking all records over, opening the book", n_seedlings, [ours, opening], 0.25);
    Ok(())
}
