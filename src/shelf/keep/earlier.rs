//! Earlier versions of files: what was in a file before a change, kept for a while.
//!
//! They are plain copies, so that a gardener can find them without this program too. Their names
//! say before which change of the journal, and when.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

use chrono::{NaiveDateTime, TimeDelta};

use super::system::System;

/// Days for which versions are kept.
pub const DAYS_KEPT: i64 = 30;

/// So many of one file are kept however close together; of older ones the first of each day, so
/// that a long walk along the bed does not fill the disk.
const KEPT_CLOSE: usize = 50;

const TIME: &str = "%Y%m%dT%H%M%SZ";

/// What an earlier version is known by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Label {
    pub(super) at: NaiveDateTime,
    pub(super) n: u64,
}

/// An earlier version of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Version {
    /// The file it was, relative to the book.
    pub file: String,
    /// Where it lies, relative to the book.
    pub copy: String,
    /// The number of the change before which the file was so; absent for a copy that was put
    /// aside because of the comments in it.
    pub before: Option<u64>,
    /// When it was replaced, in UTC.
    pub until: Option<NaiveDateTime>,
}

/// Where the version of a file lies, relative to the book.
pub(super) fn path(file: &str, label: &Label) -> String {
    let stem = file.strip_suffix(".ron").unwrap_or(file);
    format!(".trug/earlier/{stem}~{}~{}.ron", label.n, label.at.format(TIME))
}

/// The version that lies there.
fn version(below: &str) -> Option<Version> {
    let copy = format!(".trug/earlier/{below}");
    let stem = below.strip_suffix(".ron")?;
    let (rest, last) = stem.rsplit_once('~')?;
    if let Ok(until) = NaiveDateTime::parse_from_str(last, TIME) {
        let (file, n) = rest.rsplit_once('~')?;
        let before = Some(n.parse().ok()?);
        return Some(Version { file: format!("{file}.ron"), copy, before, until: Some(until) });
    }
    last.parse::<u32>().ok()?;
    Some(Version { file: format!("{rest}.ron"), copy, before: None, until: None })
}

/// All earlier versions in a book, by file, newest first.
pub(super) fn versions(root: &Path) -> Vec<Version> {
    let mut found = Vec::new();
    let top = root.join(".trug").join("earlier");
    let mut folders = vec![(top, String::new())];
    while let Some((folder, below)) = folders.pop() {
        let Ok(entries) = fs::read_dir(&folder) else { continue };
        for entry in entries.flatten() {
            let name = entry.file_name().to_string_lossy().into_owned();
            if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                folders.push((entry.path(), format!("{below}{name}/")));
            } else {
                found.extend(version(&format!("{below}{name}")));
            }
        }
    }
    found.sort_by(|a, b| {
        a.file
            .cmp(&b.file)
            .then_with(|| (b.until, b.before, &b.copy).cmp(&(a.until, a.before, &a.copy)))
    });
    found
}

/// Looks once a day for versions that have been kept long enough.
pub(super) fn prune_daily(system: &dyn System, root: &Path, now: NaiveDateTime) {
    let stamp = root.join(".trug").join("pruned");
    let today = now.date().to_string();
    if fs::read_to_string(&stamp).is_ok_and(|last| last == today) {
        return;
    }
    prune(system, root, now);
    // Without it they are looked for once more than needed.
    fs::write(stamp, today).ok();
}

/// Takes away the versions that have been kept long enough. What cannot be taken away stays.
fn prune(system: &dyn System, root: &Path, now: NaiveDateTime) {
    let oldest = TimeDelta::try_days(DAYS_KEPT).and_then(|days| now.checked_sub_signed(days));
    let Some(oldest) = oldest else { return };
    let mut of_file: BTreeMap<String, Vec<(NaiveDateTime, PathBuf)>> = BTreeMap::new();
    for Version { file, copy, until, .. } in versions(root) {
        if let Some(until) = until {
            of_file.entry(file).or_default().push((until, root.join(copy)));
        }
    }
    for kept in of_file.values() {
        for (n, (until, copy)) in kept.iter().enumerate() {
            // The next older one is of the same day, so this is not the first of it.
            let is_first = kept.get(n + 1).is_none_or(|(older, _)| older.date() != until.date());
            if *until < oldest || (n >= KEPT_CLOSE && !is_first) {
                system.remove(copy).ok();
            }
        }
    }
}
