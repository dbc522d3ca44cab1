//! Writing down what a page or a cover wants written: kept on the disk first, then shown, then
//! said. And what is said where that cannot be.

use std::sync::Arc;

use super::{App, Wish};
use crate::book::{Book, Change, Spot, enter::Entered};
use crate::shelf::{Keeper, NotBroughtBack, NotKept, NotUndone, Undone, Version, WhyNot};
use crate::tui::{
    action::Action,
    basis::Edition,
    layer::Cover,
    page::{Input, Step},
    place::Place,
    said,
    settle::{Settle, Unwritten},
};
use crate::views::{Desk, Renewed, waits::Whose};

/// Where there is nobody who writes.
const ONLY_SHOWN: &str = "This book is only shown here; nothing can be written in it.";

impl App {
    /// Whether anything can be written, or could if the reason why not were gone.
    pub(super) fn writes(&self) -> bool {
        self.scene.keeper.is_some()
    }

    /// Lets the page on top write down what was begun on it, before it is left.
    pub(super) fn leave(&mut self) {
        let step = self.trail.top_mut().update(Input::Leave, &self.scene.around());
        if let Step::Write(entered) = step {
            self.write(*entered);
        }
    }

    /// Ends the program, unless something could not be written and nobody knows of it yet.
    pub(super) fn quit(&mut self) -> Wish {
        let is_known = matches!(self.covers.last(), Some(Cover::Unwritten(_)));
        if !is_known {
            self.leave();
            self.retry();
        }
        if is_known || !self.has_unsaved() { Wish::Quit } else { Wish::Draw }
    }

    fn has_unsaved(&self) -> bool {
        self.scene.keeper.as_ref().is_some_and(|keeper| keeper.unsaved().len() > 0)
    }

    /// Whether something stands in the way of writing.
    pub(super) fn is_stuck(&self) -> bool {
        self.scene
            .keeper
            .as_ref()
            .is_some_and(|keeper| keeper.read_only().is_some() || keeper.unsaved().len() > 0)
    }

    /// What stands in the way of writing, in a line that stays on the screen.
    pub(super) fn notice(&self) -> Option<String> {
        let keeper = self.scene.keeper.as_ref()?;
        if let Some(why) = keeper.read_only() {
            return Some(why.to_string());
        }
        match keeper.unsaved().len() {
            0 => None,
            1 => Some("1 change could not be written yet; it waits.".to_owned()),
            n => Some(format!("{} changes could not be written yet; they wait.", said::grouped(n))),
        }
    }

    /// Keeps what was entered. Returns whether it is on the disk.
    pub(super) fn write(&mut self, entered: Entered) -> bool {
        let doubt = entered.doubts.first().map(|doubt| doubt.message.clone());
        let what = entered.change.what.clone();
        if entered.change.is_nothing() {
            self.said = Some("Nothing has changed.".to_owned());
            return true;
        }
        let is_kept = self.keep(entered.change);
        if is_kept {
            let undo = self.key_of(Action::Undo);
            let odd = doubt.map(|doubt| {
                format!("{what}. But look: {} {undo} takes it back.", sentence(&doubt))
            });
            let wordings = [format!("{what}; {undo} takes it back."), format!("{what}.")];
            let room = self.scene.around().line_room();
            self.said = Some(odd.unwrap_or_else(|| said::fitting(wordings, room)));
        }
        is_kept
    }

    /// Keeps a change. Returns whether it is on the disk.
    pub(super) fn keep(&mut self, change: Change) -> bool {
        if self.only_reads() {
            return false;
        }
        let outcome = self.with_keeper(|keeper, book| keeper.keep(book, change));
        match outcome {
            None => {
                self.said = Some(ONLY_SHOWN.to_owned());
                false
            }
            Some((book, Ok(kept))) => {
                self.renew(book);
                if !kept.restored.is_empty() {
                    let files = kept.restored.join(", ");
                    self.said = Some(format!("{files} was gone, and is written again."));
                }
                self.trail.top_mut().update(Input::Kept, &self.scene.around());
                self.refresh();
                true
            }
            Some((book, Err(not_kept))) => {
                self.not_kept(book, not_kept);
                false
            }
        }
    }

    /// Takes the last change back.
    pub(super) fn undo(&mut self) {
        if self.only_reads() {
            return;
        }
        match self.with_keeper(Keeper::undo) {
            None => self.said = Some(ONLY_SHOWN.to_owned()),
            Some((book, Ok(undone))) => {
                self.renew(book);
                let change = match &undone {
                    Undone::Kept(kept) => &kept.change,
                    Undone::LetGo(change) => change,
                };
                let plant = change.steps.iter().find_map(|step| match &step.spot {
                    Spot::Seedling(_, key) | Spot::Variety(key) => Some(&**key),
                    _ => None,
                });
                if let Some(key) = plant {
                    self.trail.top_mut().update(Input::TakenBack(key), &self.scene.around());
                }
                let redo = self.key_of(Action::Redo);
                self.said = Some(match undone {
                    Undone::Kept(kept) => {
                        format!("Taken back: {}; {redo} does it again.", kept.change.what)
                    }
                    Undone::LetGo(change) => format!("Let go, never written: {}.", change.what),
                });
            }
            Some((book, Err(why))) => self.not_undone(book, why),
        }
    }

    /// Takes back the change of this number.
    pub(super) fn undo_one(&mut self, n: u64) {
        if self.only_reads() {
            return;
        }
        match self.with_keeper(|keeper, book| keeper.undo_one(book, n)) {
            None => self.said = Some(ONLY_SHOWN.to_owned()),
            Some((book, Ok(kept))) => {
                self.renew(book);
                self.said = Some(format!("Taken back: {}.", kept.change.what));
            }
            Some((book, Err(why))) => self.not_undone(book, why),
        }
    }

    /// Makes a file what it was in an earlier version.
    pub(super) fn bring_back(&mut self, version: &Version) {
        if self.only_reads() {
            return;
        }
        match self.with_keeper(|keeper, book| keeper.bring_back(book, version)) {
            None => self.said = Some(ONLY_SHOWN.to_owned()),
            Some((book, Ok(kept))) => {
                self.renew(book);
                let undo = self.key_of(Action::Undo);
                self.said = Some(format!("{}; {undo} takes it back.", kept.change.what));
            }
            Some((book, Err(NotBroughtBack::NotKept(not_kept)))) => self.not_kept(book, *not_kept),
            Some((_, Err(why))) => self.said = Some(format!("{why} {}", why.hint())),
        }
    }

    /// Does again what was taken back last.
    pub(super) fn redo(&mut self) {
        if self.only_reads() {
            return;
        }
        match self.with_keeper(Keeper::redo) {
            None => self.said = Some(ONLY_SHOWN.to_owned()),
            Some((book, Ok(kept))) => {
                self.renew(book);
                let undo = self.key_of(Action::Undo);
                let what = kept.change.what;
                self.said = Some(format!("Done again: {what}; {undo} takes it back."));
            }
            Some((book, Err(why))) => self.not_undone(book, why),
        }
    }

    /// Shows what stands in the way of writing, or tries whether it is gone.
    pub(super) fn try_again(&mut self) {
        if !self.only_reads() {
            self.retry();
        }
    }

    /// Whether the book is open for reading only, even now that it was tried again; and says so.
    fn only_reads(&mut self) -> bool {
        self.take_over();
        let why = self.scene.keeper.as_deref().and_then(Keeper::read_only);
        let Some(why) = why else { return false };
        // Why it is so stands at the head of the page.
        self.said = Some(format!("Nothing can be written here yet. {}", why.hint()));
        true
    }

    /// Tries once more to write what waits.
    pub(super) fn retry(&mut self) {
        if !self.has_unsaved() {
            return;
        }
        match self.with_keeper(Keeper::retry) {
            Some((book, Ok(()))) => {
                self.renew(book);
                self.said = Some("Everything is written now.".to_owned());
            }
            Some((book, Err(not_kept))) => self.not_kept(book, not_kept),
            None => {}
        }
    }

    /// Lets go of what could not be written.
    pub(super) fn let_go(&mut self) {
        match self.with_keeper(Keeper::let_go) {
            Some((book, Ok(changes))) => {
                self.renew(book);
                let what: Vec<&str> = changes.iter().map(|change| &*change.what).collect();
                self.said = Some(format!("Let go, never written: {}.", what.join("; ")));
            }
            Some((book, Err(not_kept))) => self.not_kept(book, not_kept),
            None => {}
        }
    }

    /// Takes the right to write, if it was somebody else's and is free now. The book is read anew
    /// then, as others have written in it.
    pub(super) fn take_over(&mut self) {
        let crops = self.crops.clone();
        let Some(keeper) = &mut self.scene.keeper else { return };
        if keeper.read_only().is_none() {
            return;
        }
        match keeper.try_again(crops.as_deref()) {
            Ok(Some(opened)) => {
                let today = self.desk().today();
                self.scene.problems = opened.problems_of(&opened.faults(today));
                self.scene.problems.extend_from_slice(&opened.problems);
                self.scene.problems.sort();
                self.renew(opened.book);
                self.said = Some("You can write in this book now.".to_owned());
            }
            Ok(None) => {}
            Err(why) => self.said = Some(format!("{why} {}", why.hint())),
        }
    }

    /// Lets the keeper do something to a copy of the book, which costs little: families are
    /// shared. Returns the copy; none where there is no keeper.
    fn with_keeper<T>(
        &mut self,
        act: impl FnOnce(&mut Keeper, &mut Book) -> T,
    ) -> Option<(Book, T)> {
        let keeper = self.scene.keeper.as_deref_mut()?;
        let mut book = self.scene.desk.book().clone();
        let outcome = act(keeper, &mut book);
        Some((book, outcome))
    }

    fn not_undone(&mut self, book: Book, why: NotUndone) {
        if let NotUndone::NotKept(not_kept) = why {
            return self.not_kept(book, *not_kept);
        }
        let hint = why.hint();
        self.said = Some(if hint.is_empty() { why.to_string() } else { format!("{why} {hint}") });
    }

    /// Says why a change is not on the disk, and offers the way out.
    fn not_kept(&mut self, book: Book, not_kept: NotKept) {
        let NotKept { change, why, is_waiting, has_news, with_it } = not_kept;
        if is_waiting || has_news || !with_it.is_empty() {
            self.renew(book);
        }
        let hint = why.hint();
        match why {
            WhyNot::Conflict(conflict) => self.cover(Cover::settle(Settle::new(*conflict))),
            why if is_waiting => {
                let waiting = self.scene.keeper.as_deref().map(Keeper::unsaved);
                let waiting: Vec<String> =
                    waiting.into_iter().flatten().map(|c| c.what.to_string()).collect();
                self.covers.retain(|cover| !matches!(cover, Cover::Unwritten(_)));
                let why = if why.is_full_disk() {
                    "The disk is full.".to_owned()
                } else {
                    why.to_string()
                };
                self.cover(Cover::unwritten(Unwritten::new(why, hint, waiting)));
            }
            why => {
                let lost = if has_news { " What others changed is taken in." } else { "" };
                let what = change.what;
                self.said = Some(if what.is_empty() {
                    format!("{why} {hint}{lost}")
                } else {
                    format!("Not written: {what}. {why} {hint}{lost}")
                });
            }
        }
        self.refresh();
    }

    /// Shows the book as it is from now on.
    pub(super) fn renew(&mut self, book: Book) {
        let Renewed { desk, is_in_place } = self.scene.desk.renewed(Arc::new(book));
        let before = std::mem::replace(&mut self.scene.desk, Arc::new(desk));
        let Edition { changes, moves } = self.scene.edition;
        self.scene.edition =
            Edition { changes: changes + 1, moves: moves + u64::from(!is_in_place) };
        if !is_in_place {
            let now = &self.scene.desk;
            self.trail.moved(|place| moved(place, &before, now));
        }
        self.refresh();
    }

    fn key_of(&self, action: Action) -> String {
        self.keys.keys(action).next().map(|key| key.to_string()).unwrap_or_default()
    }
}

/// The same place in the book as it is now; none where it is gone.
fn moved(place: Place, before: &Desk, now: &Desk) -> Option<Place> {
    let plant = |id| now.book().by_key(before.book().plant(id).key());
    let cross = |id| now.book().cross_by_code(&before.book().cross(id).code);
    let pairing = |at: usize| {
        let one = cross(*before.pairings().get(at)?.crosses.first()?)?;
        now.pairings().iter().position(|p| p.crosses.contains(&one))
    };
    Some(match place {
        Place::Plant(id) => Place::Plant(plant(id)?),
        Place::Walk(id) => Place::Walk(plant(id)?),
        Place::Parent(id) => Place::Parent(plant(id)?),
        Place::Line(Some(id)) => Place::Line(Some(plant(id)?)),
        Place::Cross(id) => Place::Cross(cross(id)?),
        Place::Pairing(at) => Place::Pairing(pairing(at)?),
        Place::Blooms(Whose::Cross(id)) => Place::Blooms(Whose::Cross(cross(id)?)),
        Place::Blooms(Whose::Pairing(at)) => Place::Blooms(Whose::Pairing(pairing(at)?)),
        Place::Blooms(Whose::Parent(id)) => Place::Blooms(Whose::Parent(plant(id)?)),
        Place::Pair(seed, pollen) => Place::Pair(plant(seed)?, plant(pollen)?),
        other => other,
    })
}

/// With a full stop behind it.
fn sentence(text: &str) -> String {
    if text.ends_with('.') { text.to_owned() } else { format!("{text}.") }
}
