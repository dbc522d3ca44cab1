//! Whoever writes in a book: holds its lock, its journal, and what could not be written yet.

use std::{fmt, path::Path, sync::Arc};

use chrono::{NaiveDateTime, Utc};

use super::{
    super::{
        OpenError,
        disk::Did,
        open::{Opened, look_for_book, open_as_it_lies},
        save::{SaveError, Shelf},
    },
    History, NotKept, ReadOnly, WhyNot, earlier,
    journal::{Entry, Journal, Pages},
    lock::Lock,
    system::{Machine, System},
};
use crate::book::{Book, Change};

/// What a keeper works with.
#[derive(Clone)]
pub struct Tools {
    /// Who writes, for the history.
    pub who: Box<str>,
    /// The time, in UTC.
    pub clock: Arc<dyn Fn() -> NaiveDateTime + Send + Sync>,
    /// The machine.
    pub system: Arc<dyn System>,
}

/// Whoever writes in a book.
#[derive(Debug)]
pub struct Keeper {
    pub(super) shelf: Shelf,
    pub(super) tools: Tools,
    pub(super) hold: Result<(Lock, Journal), ReadOnly>,
    pub(super) waiting: Vec<Waiting>,
    pub(super) interrupted: Option<NotKept>,
}

/// A change that stands in the book and not yet on the disk.
#[derive(Debug, Clone)]
pub(super) struct Waiting {
    pub(super) change: Change,
    pub(super) did: Did,
    /// Its number, where the journal has it already.
    pub(super) entered: Option<u64>,
}

/// A change that is on the disk.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    /// Its number in the journal; 0 of a change that changes nothing.
    pub n: u64,
    /// The change as it was done: not as asked, where others had changed something meanwhile.
    pub change: Change,
    /// Whether something that others had changed was taken into the book.
    pub has_news: bool,
    /// Files that were gone and are there again.
    pub restored: Vec<String>,
}

impl Tools {
    /// The machine and its clock.
    pub fn of(who: impl Into<Box<str>>) -> Self {
        let clock = || Utc::now().naive_utc();
        Self { who: who.into(), clock: Arc::new(clock), system: Arc::new(Machine) }
    }
}

impl fmt::Debug for Tools {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Tools").field("who", &self.who).finish_non_exhaustive()
    }
}

impl Keeper {
    /// Opens a book to write in it. Where somebody else does, or its folder cannot be written in,
    /// it is open for reading only: see [`Keeper::read_only`]. A change that was cut short is
    /// finished first.
    ///
    /// # Errors
    /// [`OpenError`] where there is no book.
    pub fn open(
        root: &Path,
        crops: Option<&Path>,
        tools: Tools,
    ) -> Result<(Opened, Self), OpenError> {
        look_for_book(root)?;
        let now = (tools.clock)();
        let lock = Lock::take(root, &tools.who, now);
        let pages = lock.and_then(|lock| match Pages::of(&*tools.system, root) {
            Ok(pages) => Ok((lock, pages)),
            Err(SaveError::Io { source, .. }) => Err(ReadOnly::Folder(source)),
            Err(_) => Err(ReadOnly::Asked),
        });
        let (lock, pages) = match pages {
            Ok(held) => held,
            Err(why) => return Self::reading(root, crops, tools, why),
        };
        let mut opened = open_as_it_lies(root, crops)?;
        for left in &opened.leftovers {
            tools.system.remove(&root.join(&**left)).ok();
        }
        let journal = Journal::open(root, &pages);
        let mut keeper = Self {
            shelf: opened.shelf.clone(),
            tools,
            hold: Ok((lock, journal)),
            waiting: Vec::new(),
            interrupted: None,
        };
        if let Some(entry) = pages.entries.last().filter(|_| pages.is_unfinished) {
            let resumed = keeper.resume(&mut opened.book, entry, true);
            keeper.interrupted = resumed.err().filter(|not_kept| !not_kept.is_waiting);
        }
        earlier::prune_daily(&*keeper.tools.system, root, now);
        Ok((opened, keeper))
    }

    /// Opens a book for reading only.
    fn reading(
        root: &Path,
        crops: Option<&Path>,
        tools: Tools,
        why: ReadOnly,
    ) -> Result<(Opened, Self), OpenError> {
        let opened = super::super::open(root, crops)?;
        let keeper = Self {
            shelf: opened.shelf.clone(),
            tools,
            hold: Err(why),
            waiting: Vec::new(),
            interrupted: None,
        };
        Ok((opened, keeper))
    }

    /// Why nothing can be written; none where it can.
    pub fn read_only(&self) -> Option<&ReadOnly> {
        self.hold.as_ref().err()
    }

    /// Tries again to get the right to write. Where that succeeds, the book is read anew, as
    /// others have written in it: the keeper is then another one, for the book returned.
    ///
    /// # Errors
    /// [`OpenError`] where the book is gone.
    pub fn try_again(&mut self, crops: Option<&Path>) -> Result<Option<Opened>, OpenError> {
        if self.hold.is_ok() {
            return Ok(None);
        }
        let root = self.shelf.root().to_owned();
        match Lock::take(&root, &self.tools.who, (self.tools.clock)()) {
            Ok(free) => drop(free),
            Err(why) => {
                self.hold = Err(why);
                return Ok(None);
            }
        }
        let (opened, keeper) = Self::open(&root, crops, self.tools.clone())?;
        *self = keeper;
        Ok(self.hold.is_ok().then_some(opened))
    }

    /// The book's folder, and where each record lies.
    pub fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// Changes that stand in the book and could not be written yet, oldest first.
    pub fn unsaved(&self) -> impl ExactSizeIterator<Item = &Change> {
        self.waiting.iter().map(|waiting| &waiting.change)
    }

    /// A change that was cut short before this book was opened and could not be finished, as the
    /// same was changed since.
    pub fn interrupted(&self) -> Option<&NotKept> {
        self.interrupted.as_ref()
    }

    /// Does a change to the book and writes it to the disk. When this returns [`Kept`], it is
    /// there, and stays there whatever happens to the machine's power.
    ///
    /// The cost is that of the files it touches, whatever the size of the book.
    ///
    /// # Errors
    /// [`NotKept`], with the change in it. Where the disk is the reason, the change stands in the
    /// book and waits; it is tried again before the next one. Otherwise the book is as it was.
    pub fn keep(&mut self, book: &mut Book, change: Change) -> Result<Kept, NotKept> {
        self.keep_as(book, change, Did::Change)
    }

    pub(super) fn keep_as(
        &mut self,
        book: &mut Book,
        change: Change,
        did: Did,
    ) -> Result<Kept, NotKept> {
        if let Err(why) = &self.hold {
            return Err(NotKept::refused(change, WhyNot::ReadOnly(why.into())));
        }
        if change.is_nothing() && did == Did::Change {
            return Ok(Kept { n: 0, change, has_news: false, restored: Vec::new() });
        }
        if !self.waiting.is_empty()
            && let Err(mut earlier) = self.retry(book)
        {
            if let Err(stale) = book.apply(&change) {
                return Err(NotKept::refused(change, stale.into()));
            }
            self.waiting.push(Waiting { change: change.clone(), did, entered: None });
            if earlier.is_waiting {
                earlier.change = change;
            }
            return Err(earlier);
        }
        self.write_down(book, Waiting { change, did, entered: None })
    }

    /// Tries once more to write what could not be written.
    ///
    /// # Errors
    /// [`NotKept`] with the first change that cannot be.
    pub fn retry(&mut self, book: &mut Book) -> Result<(), NotKept> {
        if let Err(why) = &self.hold {
            let nothing = Change::new("", Vec::new());
            return Err(NotKept::refused(nothing, WhyNot::ReadOnly(why.into())));
        }
        let mut waiting = std::mem::take(&mut self.waiting).into_iter();
        let all: Vec<&Change> = waiting.as_slice().iter().map(|one| &one.change).collect();
        for change in all.into_iter().rev() {
            // It stands in the book, so it can be taken out.
            book.apply(&change.reversed()).ok();
        }
        let mut has_news = false;
        while let Some(next) = waiting.next() {
            let outcome = match next.entered.and_then(|n| self.entry(n)) {
                Some(entry) => self.resume(book, &entry, false),
                None => self.write_down(book, next),
            };
            match outcome {
                Ok(kept) => has_news |= kept.has_news,
                Err(mut not_kept) => {
                    not_kept.has_news |= has_news;
                    for other in waiting {
                        match book.apply(&other.change) {
                            Ok(()) => self.waiting.push(other),
                            Err(_) => not_kept.with_it.push(other.change),
                        }
                    }
                    return Err(not_kept);
                }
            }
        }
        Ok(())
    }

    /// What the journal holds under a number.
    fn entry(&self, n: u64) -> Option<Entry> {
        let pages = Pages::of(&*self.tools.system, self.shelf.root()).ok()?;
        pages.entries.into_iter().find(|entry| entry.n == n)
    }

    /// Lets go of what could not be written: it is taken out of the book, and returned.
    ///
    /// # Errors
    /// [`NotKept`] where the first of them is in the journal already, so that it will be finished
    /// when the book is opened next.
    pub fn let_go(&mut self, book: &mut Book) -> Result<Vec<Change>, NotKept> {
        if self.waiting.iter().any(|waiting| waiting.entered.is_some()) {
            self.retry(book)?;
        }
        self.mend_journal()?;
        let waiting = std::mem::take(&mut self.waiting);
        for one in waiting.iter().rev() {
            book.apply(&one.change.reversed()).ok();
        }
        Ok(waiting.into_iter().map(|one| one.change).collect())
    }

    /// Sees to it that the journal holds nothing of a change that could not be entered: it would
    /// be done at the next opening.
    pub(super) fn mend_journal(&mut self) -> Result<(), NotKept> {
        let Ok((_, journal)) = &mut self.hold else { return Ok(()) };
        journal.mend(&*self.tools.system).map_err(|error| {
            let change = self.waiting.last().map(|waiting| waiting.change.clone());
            let change = change.unwrap_or_else(|| Change::new("", Vec::new()));
            let is_waiting = !self.waiting.is_empty();
            NotKept { is_waiting, ..NotKept::refused(change, WhyNot::Save(error)) }
        })
    }

    /// Every change made to the book, and what can be undone and redone.
    ///
    /// # Errors
    /// [`SaveError`] where the journal cannot be read.
    pub fn history(&self) -> Result<History, SaveError> {
        Pages::of(&*self.tools.system, self.shelf.root()).map(History::of)
    }

    /// The earlier versions of files, by file, newest first.
    pub fn earlier(&self) -> Vec<earlier::Version> {
        earlier::versions(self.shelf.root())
    }
}

impl NotKept {
    pub(super) fn refused(change: Change, why: WhyNot) -> Self {
        Self { change, why, is_waiting: false, has_news: false, with_it: Vec::new() }
    }
}
