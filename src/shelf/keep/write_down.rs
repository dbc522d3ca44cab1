//! Writing one change down: looked at, laid beside, entered in the journal, put in its place.

use super::{
    super::save::SaveError,
    Keeper, Kept, NotKept, WhyNot, earlier,
    journal::Entry,
    keeper::Waiting,
    pages::{Laid, Looked, Page, Subject, look},
};
use crate::book::{Book, Change};

/// A change that is done to the book, and the files that are to follow.
struct Ready {
    change: Change,
    pages: Vec<Page>,
    restored: Vec<String>,
}

/// Where putting files in their places broke off.
struct Broken {
    error: SaveError,
    /// The number of the change, where the journal has it and could not be told otherwise.
    entered: Option<u64>,
}

impl Keeper {
    /// Does a change to the book and writes it to the disk.
    pub(super) fn write_down(
        &mut self,
        book: &mut Book,
        waiting: Waiting,
    ) -> Result<Kept, NotKept> {
        let mut has_news = false;
        let ready = match self.make_ready(book, &waiting, &mut has_news) {
            Ok(ready) => ready,
            Err(why) => {
                return Err(NotKept { has_news, ..NotKept::refused(waiting.change, why) });
            }
        };
        let Ready { change, pages, restored } = ready;
        let waiting = Waiting { change, ..waiting };
        match self.put(&pages, &waiting) {
            Ok(n) => {
                for page in pages.iter().filter(|page| page.new.is_none()) {
                    page.subject.forget(&mut self.shelf);
                }
                Ok(Kept { n, change: waiting.change, has_news, restored })
            }
            Err(Broken { error, entered }) => {
                let change = waiting.change.clone();
                self.waiting.push(Waiting { entered: waiting.entered.or(entered), ..waiting });
                let why = WhyNot::Save(error);
                Err(NotKept { is_waiting: true, has_news, ..NotKept::refused(change, why) })
            }
        }
    }

    /// Takes into the book what others did, and then the change.
    fn make_ready(
        &mut self,
        book: &mut Book,
        waiting: &Waiting,
        has_news: &mut bool,
    ) -> Result<Ready, WhyNot> {
        let change = &waiting.change;
        let mut looked = Vec::new();
        for subject in Subject::all_of(change) {
            looked.push(look(&*self.tools.system, &mut self.shelf, book, change, subject)?);
        }
        let mut meanwhile = Vec::new();
        let mut pages = Vec::with_capacity(looked.len());
        let mut restored = Vec::new();
        for Looked { page, meanwhile: steps, is_gone } in looked {
            meanwhile.extend(steps);
            if is_gone {
                restored.push(page.file.to_string());
            }
            pages.push(page);
        }
        let change = if meanwhile.is_empty() && waiting.entered.is_none() {
            change.clone()
        } else {
            if !meanwhile.is_empty() {
                book.apply(&Change { what: "".into(), steps: meanwhile })?;
                *has_news = true;
            }
            book.rebase(change).map_err(Box::new)?
        };
        book.apply(&change)?;
        for page in &mut pages {
            page.new = page.subject.text(book);
        }
        pages.retain(Page::differs);
        Ok(Ready { change, pages, restored })
    }

    /// Writes the files of a change that stands in the book.
    fn put(&mut self, pages: &[Page], waiting: &Waiting) -> Result<u64, Broken> {
        let Ok((_, journal)) = &mut self.hold else {
            let error = SaveError::Protected { file: "book.ron".to_owned() };
            return Err(Broken { error, entered: None });
        };
        let system = &*self.tools.system;
        let early = |error| Broken { error, entered: None };
        let now = (self.tools.clock)();
        let n = waiting.entered.unwrap_or(journal.next());
        let label = earlier::Label { at: now, n };
        for page in pages {
            page.keep_old(system, &self.shelf.root, &label).map_err(early)?;
        }
        let laid = Laid::beside(system, pages, n).map_err(early)?;
        let began = journal.length();
        if waiting.entered.is_none() {
            let files = pages.iter().map(Page::touched).collect();
            let entry = Entry::new(&waiting.change, waiting.did, &self.tools.who, now, files);
            if let Err(error) = journal.enter(system, entry) {
                laid.clear();
                // Should this fail too, it is tried again before anything else is entered.
                journal.mend(system).ok();
                return Err(early(error));
            }
        }
        // From here on the change counts, whatever happens to the power.
        if let Err((n_placed, error)) = laid.place() {
            let is_back = laid.take_back(n_placed, n).is_ok()
                && waiting.entered.is_none()
                && journal.retract(system, began).is_ok();
            return Err(Broken { error, entered: (!is_back).then_some(n) });
        }
        journal.finish(system, n);
        Ok(n)
    }
}
