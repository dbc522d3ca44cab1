//! What a change that was cut short has still to do.

use super::{
    super::{
        disk::Touched,
        save::{SaveError, Shelf},
    },
    Keeper, Kept, NotKept, WhyNot,
    journal::{Entry, Pages},
    keeper::Waiting,
    pages::Subject,
    system::{System, read_if_there, sum},
};
use crate::book::{Book, Change};

/// The steps of a change whose files were not written yet, and those whose files were. A file that
/// holds what it was to hold is done with; whether a step was done cannot always be told from the
/// records.
fn split(system: &dyn System, shelf: &Shelf, entry: &Entry, change: Change) -> (Change, Change) {
    let is_done = |touched: &Touched| {
        let there = read_if_there(system, &shelf.root.join(&*touched.file)).ok().flatten();
        there.map(|bytes| sum([&bytes[..]])).as_deref() == touched.new.as_deref()
    };
    let mut fates: Vec<(Subject, bool)> = Vec::new();
    let (left, done) = change.steps.into_iter().partition(|step| {
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
    (Change { what: change.what.clone(), steps: left }, Change { what: change.what, steps: done })
}

impl Keeper {
    /// Goes on with a change that stands in the journal and was cut short. `is_read` says whether
    /// the book was read from the files since.
    pub(super) fn resume(
        &mut self,
        book: &mut Book,
        entry: &Entry,
        is_read: bool,
    ) -> Result<Kept, NotKept> {
        let system = self.tools.system.clone();
        // What nobody can read, nobody can do.
        let whole = entry.change().unwrap_or_else(|| Change::new(entry.what.clone(), Vec::new()));
        let (left, done) = split(&*system, &self.shelf, entry, whole.clone());
        if !is_read {
            // Its files hold it already.
            book.apply(&done).ok();
        }
        let waiting = Waiting { change: left, did: entry.did, entered: Some(entry.n) };
        if !waiting.change.is_nothing() {
            return self.write_down(book, waiting);
        }
        // They may have been put in their places, and their names not be on the disk yet.
        for touched in &entry.files {
            let path = self.shelf.root.join(&*touched.file);
            let folder = path.parent().unwrap_or(&self.shelf.root);
            let synced = if folder.exists() { system.sync_folder(folder) } else { Ok(()) };
            if let Err(error) = synced {
                let why = WhyNot::Save(SaveError::io(folder)(error));
                self.waiting.push(waiting);
                return Err(NotKept { is_waiting: true, ..NotKept::refused(whole, why) });
            }
        }
        if let Ok((_, journal)) = &mut self.hold {
            journal.finish(&*system, entry.n);
        }
        Ok(Kept { n: entry.n, change: whole, has_news: false, restored: Vec::new() })
    }
}

/// Does to a book in memory what was entered in the journal and not written to the files yet, so
/// that whoever only reads sees no change by half.
pub(in super::super) fn complete(system: &dyn System, shelf: &Shelf, book: &mut Book) {
    let Ok(pages) = Pages::of(system, &shelf.root) else { return };
    let Some(entry) = pages.entries.last().filter(|_| pages.is_unfinished) else { return };
    let Some(change) = entry.change() else { return };
    let (left, _) = split(system, shelf, entry, change);
    // Where others changed the same meanwhile, it waits for somebody who may write.
    if let Ok(change) = book.rebase(&left) {
        book.apply(&change).ok();
    }
}
