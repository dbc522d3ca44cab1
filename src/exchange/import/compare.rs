//! What is told against what is known: the same, more, or something else.

use std::fmt::Display;

use crate::book::fold;

/// Two values that cannot both be right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Clash {
    /// Of what, by the name of the column.
    pub(super) what: String,
    pub(super) known: String,
    pub(super) told: String,
}

/// What came of taking something in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Came {
    /// It was known.
    Same,
    /// More became known of what the book had.
    More,
    /// A record was added.
    Added,
    /// It was left out, because something else wins over it.
    Outdone,
}

/// Compares one field after the other. Call it on a copy: a clash leaves it half filled.
#[derive(Debug, Default)]
pub(super) struct Compare {
    more: bool,
    clash: Option<Clash>,
}

impl Compare {
    /// What came of it: whether more is known now.
    pub(super) fn done(self) -> Result<Came, Clash> {
        match self.clash {
            Some(clash) => Err(clash),
            None if self.more => Ok(Came::More),
            None => Ok(Came::Same),
        }
    }

    pub(super) fn clash(&mut self, what: &str, known: impl Display, told: impl Display) {
        self.clash.get_or_insert_with(|| Clash {
            what: what.to_owned(),
            known: known.to_string(),
            told: told.to_string(),
        });
    }

    /// A field that may be filled once.
    pub(super) fn field<T: PartialEq + Clone + Display>(
        &mut self,
        what: &str,
        known: &mut Option<T>,
        told: Option<&T>,
    ) {
        self.field_if(what, known, told, |a, b| a == b);
    }

    /// A text; capitals and accents make no difference.
    pub(super) fn text(&mut self, what: &str, known: &mut Option<Box<str>>, told: Option<&str>) {
        let told = told.map(Box::from);
        self.field_if(what, known, told.as_ref(), |a, b| a == b || fold(a) == fold(b));
    }

    fn field_if<T: Clone + Display>(
        &mut self,
        what: &str,
        known: &mut Option<T>,
        told: Option<&T>,
        same: impl Fn(&T, &T) -> bool,
    ) {
        match (&*known, told) {
            (_, None) => {}
            (None, Some(told)) => {
                *known = Some(told.clone());
                self.more = true;
            }
            (Some(a), Some(b)) if same(a, b) => {}
            (Some(a), Some(b)) => self.clash(what, a, b),
        }
    }

    /// A list of words, of which none means that nothing was said.
    pub(super) fn words(&mut self, what: &str, known: &mut Vec<Box<str>>, told: &[Box<str>]) {
        if told.is_empty() {
            return;
        }
        if known.is_empty() {
            *known = told.to_vec();
            self.more = true;
        } else if known.len() != told.len()
            || known.iter().zip(told).any(|(a, b)| fold(a) != fold(b))
        {
            self.clash(what, known.join("|"), told.join("|"));
        }
    }
}
