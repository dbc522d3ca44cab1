//! The line and column of a value in a book's files.

use std::path::Path;

use super::{
    amiss::Step,
    read::text,
    tree::{Tree, line_and_column},
};

/// The line and column of the value at the end of a trail in a file; zeros if the file cannot be
/// read any more.
pub(super) fn spot(root: &Path, file: &str, trail: &[Step]) -> (usize, usize) {
    let mut bytes = Vec::new();
    text(&root.join(file), &mut bytes)
        .map(|text| line_and_column(text, Tree::of(text).find(trail)))
        .unwrap_or_default()
}
