//! What a change that was cut short has still to do.

use super::{
    super::{disk::Touched, save::Shelf},
    journal::{Entry, Pages},
    pages::Subject,
    system::{System, read_if_there, sum},
};
use crate::book::{Book, Change};

/// The steps of a change whose files were not written yet. A file that holds what it was to hold
/// is done with; whether a step was done cannot always be told from the records.
pub(super) fn outstanding(
    system: &dyn System,
    shelf: &Shelf,
    entry: &Entry,
    change: Change,
) -> Change {
    let is_done = |touched: &Touched| {
        let there = read_if_there(system, &shelf.root.join(&*touched.file)).ok().flatten();
        there.map(|bytes| sum([&bytes[..]])).as_deref() == touched.new.as_deref()
    };
    let mut fates: Vec<(Subject, bool)> = Vec::new();
    let steps = change.steps.into_iter().filter(|step| {
        let subject = Subject::of_spot(&step.spot);
        if let Some((_, is_left)) = fates.iter().find(|(known, _)| *known == subject) {
            return *is_left;
        }
        let mut files = entry.files.iter();
        let touched = files.find(|touched| subject.is_in(&touched.file, &touched.key));
        let is_left = touched.is_some_and(|touched| !is_done(touched));
        fates.push((subject, is_left));
        is_left
    });
    let steps = steps.collect();
    Change { what: change.what, steps }
}

/// Does to a book in memory what was entered in the journal and not written to the files yet, so
/// that whoever only reads sees no change by half.
pub(in super::super) fn complete(system: &dyn System, shelf: &Shelf, book: &mut Book) {
    let Ok(pages) = Pages::of(system, &shelf.root) else { return };
    let Some(entry) = pages.entries.last().filter(|_| pages.is_unfinished) else { return };
    let Some(change) = entry.change() else { return };
    let left = outstanding(system, shelf, entry, change);
    // Where others changed the same meanwhile, it waits for somebody who may write.
    if let Ok(change) = book.rebase(&left) {
        book.apply(&change).ok();
    }
}
