//! What makes no sense inside a file that can be read as such.
//!
//! While records are taken from a file, [`Amiss`] knows the way to the value in hand, so that
//! whatever is wrong with it can be pointed at later.

use chrono::NaiveDate;

use super::disk::Date;
use crate::book::{
    NoSuchDate, Season, When, first_unfit, fit_line, fit_note, is_fit_line, is_fit_note,
};

/// One step on the way to a value in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    /// Into a field by name.
    Field(&'static str),
    /// To an item of a list, a map or a bracket without names; counted from 0.
    Item(usize),
}

/// One thing amiss.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Found {
    /// The way to the value.
    pub(super) trail: Vec<Step>,
    /// What is wrong: a sentence.
    pub(super) message: String,
    /// The way out: a sentence.
    pub(super) hint: String,
}

/// What was found amiss so far, and where we are.
#[derive(Debug, Default)]
pub(super) struct Amiss {
    trail: Vec<Step>,
    found: Vec<Found>,
}

impl Amiss {
    /// Everything that was found.
    pub(super) fn into_found(self) -> Vec<Found> {
        self.found
    }

    /// Does something one step further in.
    pub(super) fn at<T>(&mut self, step: Step, take: impl FnOnce(&mut Self) -> T) -> T {
        self.trail.push(step);
        let taken = take(self);
        self.trail.pop();
        taken
    }

    /// Notes that the value in hand is amiss.
    pub(super) fn say(&mut self, message: impl Into<String>, hint: impl Into<String>) {
        self.found.push(Found {
            trail: self.trail.clone(),
            message: message.into(),
            hint: hint.into(),
        });
    }

    /// Takes each item of a list.
    pub(super) fn each<D, R>(
        &mut self,
        field: &'static str,
        list: Vec<D>,
        take: impl Fn(D, &mut Self) -> R,
    ) -> Vec<R> {
        let mut taken = Vec::with_capacity(list.len());
        self.at(Step::Field(field), |amiss| {
            for (n, item) in list.into_iter().enumerate() {
                taken.push(amiss.at(Step::Item(n), |amiss| take(item, amiss)));
            }
        });
        taken
    }

    /// Takes a text that has to be one line.
    pub(super) fn line(&mut self, step: Step, text: Box<str>) -> Box<str> {
        if is_fit_line(&text) {
            return text;
        }
        self.at(step, |amiss| {
            amiss.say(
                unfit(&text, false),
                "Write the text again without it; line breaks and tabs belong in notes only.",
            );
        });
        fit_line(&text)
    }

    /// Takes a remark, which may have several lines. The line ends of another system are made
    /// ours without a word.
    pub(super) fn note(&mut self, step: Step, text: Box<str>) -> Box<str> {
        if is_fit_note(&text) {
            return text;
        }
        let text = text.replace("\r\n", "\n");
        if is_fit_note(&text) {
            return text.into();
        }
        self.at(step, |amiss| {
            amiss.say(unfit(&text, true), "Write the note again without it.");
        });
        fit_note(&text)
    }

    /// Takes a line that may be absent.
    pub(super) fn some_line(
        &mut self,
        field: &'static str,
        text: Option<Box<str>>,
    ) -> Option<Box<str>> {
        text.map(|text| self.line(Step::Field(field), text))
    }

    /// Takes a remark that may be absent.
    pub(super) fn some_note(
        &mut self,
        field: &'static str,
        text: Option<Box<str>>,
    ) -> Option<Box<str>> {
        text.map(|text| self.note(Step::Field(field), text))
    }

    /// Takes a list of lines.
    pub(super) fn lines(&mut self, field: &'static str, list: Vec<Box<str>>) -> Vec<Box<str>> {
        if list.iter().all(|text| is_fit_line(text)) {
            return list;
        }
        let lines = list.into_iter().enumerate();
        self.at(Step::Field(field), |amiss| {
            lines.map(|(n, text)| amiss.line(Step::Item(n), text)).collect()
        })
    }

    /// Takes a number; one without end, or that is none, is left out.
    pub(super) fn number(&mut self, step: Step, number: f64) -> Option<f64> {
        if number.is_finite() {
            return Some(number);
        }
        self.at(step, |amiss| {
            amiss.say(
                format!("{number} is not a number that can be used."),
                "Write an ordinary number, or take the field out if it is not known.",
            );
        });
        None
    }

    /// Takes a number that may be absent.
    pub(super) fn some_number(&mut self, field: &'static str, number: Option<f64>) -> Option<f64> {
        number.and_then(|number| self.number(Step::Field(field), number))
    }

    /// Takes a date.
    pub(super) fn when(&mut self, field: &'static str, Date(written): Date) -> Option<When> {
        match written {
            Ok(when) => Some(when),
            Err(text) => {
                self.at(Step::Field(field), |amiss| amiss.say_date(&text));
                None
            }
        }
    }

    /// Takes a date that has to be known to the day.
    pub(super) fn day(&mut self, field: &'static str, date: Date) -> Option<NaiveDate> {
        let when = self.when(field, date)?;
        if when.exact().is_none() {
            self.at(Step::Field(field), |amiss| {
                amiss.say(format!("{when} is not a day."), "This date needs its day: YYYY-MM-DD.");
            });
        }
        when.exact()
    }

    /// Takes a season.
    pub(super) fn season(&mut self, field: &'static str, year: i16) -> Option<Season> {
        if (1..=9999).contains(&year) {
            return Some(Season(year));
        }
        self.at(Step::Field(field), |amiss| {
            amiss.say(
                format!("{year} is not a year."),
                "Write the year with four digits, or take the field out if it is not known.",
            );
        });
        None
    }

    fn say_date(&mut self, text: &str) {
        match When::parse(text) {
            Err(wrong @ NoSuchDate::Calendar(_)) => self.say(
                sentence(&wrong.to_string()),
                "Write the day it was; YYYY-MM or YYYY will do where the day is not known.",
            ),
            _ => self.say(
                format!("\"{}\" is not a date.", fit_line(text)),
                "Write dates as YYYY-MM-DD, or YYYY-MM or YYYY where no more is known.",
            ),
        }
    }
}

/// Says which character of a text cannot be shown.
fn unfit(text: &str, is_note: bool) -> String {
    let code = first_unfit(text, is_note).map(u32::from).unwrap_or_default();
    format!("There is a control character, U+{code:04X}, in this text.")
}

/// Makes a sentence of a phrase.
fn sentence(phrase: &str) -> String {
    let mut letters = phrase.chars();
    letters
        .next()
        .map(|c| c.to_uppercase().chain(letters).collect::<String>() + ".")
        .unwrap_or_default()
}
