//! A form being filled in: any of them, field by field.

use super::choosing::Choice;
use crate::book::enter::{Entered, Refused};
use crate::book::fold;
use crate::tui::{action::Action, keys::Key, page::Around, widget::field::Field as Line};
use crate::views::forms::{self, Field, Filled, Kind, Unfit};

/// Words offered for a field at most.
const MOST_OFFERED: usize = 40;

/// One line of the form: the date, or a field.
#[derive(Debug)]
pub(super) struct Entry {
    /// `None` is the date.
    pub(super) field: Option<&'static Field>,
    pub(super) line: Line,
    /// Whether what stands in it was proposed and nobody has touched it: the first letter typed
    /// takes its place.
    is_fresh: bool,
    /// The words that may stand in it.
    words: Vec<String>,
}

/// The form.
#[derive(Debug)]
pub(in crate::tui) struct Filling {
    pub(super) choice: Choice,
    pub(super) entries: Vec<Entry>,
    pub(super) at: usize,
    /// What is wrong: the line, the sentence and the way out.
    pub(super) wrong: Option<(usize, String, String)>,
    pub(super) cautions: Vec<String>,
}

impl Entry {
    /// The name of the line.
    pub(super) fn name(&self) -> &'static str {
        self.field.map_or("on", |field| field.name)
    }

    /// What is to be written into it.
    pub(super) fn says(&self) -> &'static str {
        self.field.map_or("when: a day, a month or a year; 14 is the last 14th", |f| f.says)
    }

    /// The part of the line that is being typed: behind the last comma or stroke.
    fn typed(&self) -> String {
        let content = self.line.content();
        let last = match self.field.map(|field| field.kind) {
            Some(Kind::Words(_) | Kind::Scores) => content.rsplit(',').next(),
            Some(Kind::Parent) => content.rsplit('|').next(),
            _ => None,
        };
        last.unwrap_or(&content).trim().to_owned()
    }

    /// The words that go on from what is typed.
    pub(super) fn offers(&self) -> Vec<&str> {
        let letters = fold(&self.typed());
        let begins = |word: &&String| fold(word).starts_with(&letters);
        let has =
            |word: &&String| !fold(word).starts_with(&letters) && fold(word).contains(&letters);
        let first = self.words.iter().filter(begins);
        let then = self.words.iter().filter(has);
        let all = first.chain(then).map(String::as_str);
        if self.is_of_plants() && letters.is_empty() {
            return Vec::new();
        }
        all.take(MOST_OFFERED).collect()
    }

    fn is_of_plants(&self) -> bool {
        self.field.is_some_and(|field| matches!(field.kind, Kind::Plant | Kind::Parent))
    }

    /// Takes the first word offered in place of what was begun. Returns whether there was one.
    fn complete(&mut self) -> bool {
        let typed = self.typed();
        let Some(word) = self.offers().first().map(|word| (*word).to_owned()) else {
            return false;
        };
        if typed.is_empty() || word == typed {
            return false;
        }
        let content = self.line.content();
        let stem = content.trim_end().strip_suffix(typed.as_str()).unwrap_or_default().to_owned();
        self.line = Line::holding(&format!("{stem}{word}"));
        true
    }
}

impl Filling {
    pub(super) fn of(choice: Choice, around: &Around<'_>) -> Self {
        let desk = around.desk;
        let book = desk.book();
        let spot = &choice.spots[0];
        let mut proposed = forms::propose(book, choice.form, spot, desk.season());
        proposed.extend(choice.known.iter().cloned());
        let plants = || {
            let labels = book.plants().filter(|id| desk.brief(*id).is_alive());
            labels.map(|id| desk.label(id).to_owned()).collect::<Vec<_>>()
        };
        let fields = choice.form.fields.iter().map(|field| {
            let known = proposed.iter().rev().find(|(name, _)| *name == field.name);
            Entry {
                field: Some(field),
                line: Line::holding(known.map_or("", |(_, content)| content)),
                is_fresh: known.is_some(),
                words: match field.kind {
                    Kind::Plant | Kind::Parent => plants(),
                    _ => forms::choices(book, field, spot),
                },
            }
        });
        let date = Entry {
            field: None,
            line: Line::holding(&desk.today().to_string()),
            is_fresh: true,
            words: Vec::new(),
        };
        let entries: Vec<Entry> = fields.chain([date]).collect();
        let cautions = choice.form.cautions(book).map(str::to_owned).collect();
        Self { choice, entries, at: 0, wrong: None, cautions }
    }

    pub(super) fn says(&self) -> String {
        format!("{}: {}.", self.choice.name, self.choice.form.says)
    }

    pub(super) fn key(&mut self, key: Key) -> bool {
        let entry = &mut self.entries[self.at];
        if entry.is_fresh && key.typed().is_some() {
            entry.line = Line::default();
        }
        entry.is_fresh = false;
        let is_changed = entry.line.take(key);
        if is_changed {
            self.wrong = None;
        }
        is_changed
    }

    pub(super) fn paste(&mut self, content: &str) {
        let entry = &mut self.entries[self.at];
        if std::mem::take(&mut entry.is_fresh) {
            entry.line = Line::default();
        }
        entry.line.paste(content);
        self.wrong = None;
    }

    pub(super) fn go(&mut self, line: usize) {
        self.at = line.min(self.entries.len().saturating_sub(1));
    }

    pub(super) fn act(&mut self, action: Action) {
        let n = self.entries.len();
        match action {
            // What was begun is completed first.
            Action::NextList if self.entries[self.at].complete() => self.wrong = None,
            Action::NextList | Action::Down => self.at = (self.at + 1) % n,
            Action::ListBefore | Action::Up => self.at = (self.at + n - 1) % n,
            Action::First => self.at = 0,
            Action::Last => self.at = n - 1,
            _ => {}
        }
    }

    /// What comes of the form; where it cannot be taken, what is wrong is shown at its field.
    pub(super) fn enter(&mut self, around: &Around<'_>) -> Option<Entered> {
        match self.entered(around) {
            Ok(entered) => Some(entered),
            Err(unfit) => {
                let (field, message, hint) = told(unfit);
                let at = self.entries.iter().position(|entry| Some(entry.name()) == field);
                self.at = at.unwrap_or(self.at);
                self.wrong = Some((self.at, message, hint));
                None
            }
        }
    }

    fn entered(&self, around: &Around<'_>) -> Result<Entered, Unfit> {
        let today = around.desk.today();
        let date = self.entries.iter().find(|entry| entry.field.is_none());
        let on = forms::when(&date.map_or(String::new(), |date| date.line.content()), today)?;
        let mut filled = Filled::new(on);
        for entry in &self.entries {
            if let Some(field) = entry.field {
                filled.set(field.name, &entry.line.content());
            }
        }
        self.choice.form.enter(around.desk.book(), &self.choice.spots, &filled, today)
    }
}

fn told(unfit: Unfit) -> (Option<&'static str>, String, String) {
    match unfit {
        Unfit::Field { field, message, hint } => (Some(field), message, hint),
        Unfit::Refused(Refused::CannotBe(faults)) => {
            let first = faults.into_iter().next();
            let (message, hint) =
                first.map_or_else(Default::default, |fault| (fault.message, fault.hint));
            (None, message, hint)
        }
        Unfit::Refused(other) => (None, other.to_string(), String::new()),
    }
}
