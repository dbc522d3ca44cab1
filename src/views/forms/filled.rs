//! What was filled in, and how it is read.

use std::str::FromStr;

use chrono::{Datelike, NaiveDate};

use super::{Form, fields::Kind};
use crate::book::{Book, Position, Spot, When, enter::Refused, fit_line, fit_note};

/// Days after which even 29 February has come again, but for a few centuries.
const MOST_BACK: usize = 366 + 3 * 365;

/// A form as it was filled in: the date, and what stands in the fields.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filled {
    /// When it happened.
    pub on: When,
    values: Vec<(&'static str, String)>,
}

/// Why a form cannot be taken.
#[derive(Debug, Clone, PartialEq)]
pub enum Unfit {
    /// What stands in a field, or that nothing does.
    Field {
        /// The field.
        field: &'static str,
        /// What is wrong: a sentence.
        message: String,
        /// The way out: a sentence.
        hint: String,
    },
    /// It cannot have been so.
    Refused(Refused),
}

impl From<Refused> for Unfit {
    fn from(refused: Refused) -> Self {
        Self::Refused(refused)
    }
}

impl Filled {
    /// An empty form of a day.
    pub fn new(on: When) -> Self {
        Self { on, values: Vec::new() }
    }

    /// Writes into a field, in place of what stood in it. Nothing but blanks leaves it empty.
    pub fn set(&mut self, field: &'static str, content: &str) {
        self.values.retain(|(name, _)| *name != field);
        if !content.trim().is_empty() {
            self.values.push((field, content.trim().to_owned()));
        }
    }

    /// The same form with something in a field.
    #[must_use]
    pub fn with(mut self, field: &'static str, content: &str) -> Self {
        self.set(field, content);
        self
    }

    /// What stands in a field.
    pub fn get(&self, field: &str) -> Option<&str> {
        self.values.iter().find(|(name, _)| *name == field).map(|(_, content)| &**content)
    }
}

/// A form being read: what it is about, what stands in it, and the book it goes into.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheet<'a> {
    pub(super) form: &'a Form,
    pub(super) book: &'a Book,
    pub(super) spots: &'a [Spot],
    pub(super) filled: &'a Filled,
    pub(super) today: NaiveDate,
}

impl<'a> Sheet<'a> {
    /// A complaint of a field.
    pub(super) fn unfit(
        field: &'static str,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) -> Unfit {
        Unfit::Field { field, message: message.into(), hint: hint.into() }
    }

    /// A field as it was filled in.
    pub(super) fn get(&self, field: &'static str) -> Option<&'a str> {
        self.filled.get(field)
    }

    /// A field that must be filled in.
    pub(super) fn needed(&self, field: &'static str) -> Result<&'a str, Unfit> {
        self.get(field).ok_or_else(|| {
            let says = self.form.fields.iter().find(|f| f.name == field).map_or("", |f| f.says);
            Self::unfit(
                field,
                format!("\"{}\" needs something more: {says}.", self.form.word),
                format!("Fill in the field \"{field}\"."),
            )
        })
    }

    /// A line of text.
    pub(super) fn text(&self, field: &'static str) -> Option<Box<str>> {
        self.get(field).map(fit_line)
    }

    /// A line of text that must be there.
    pub(super) fn needed_text(&self, field: &'static str) -> Result<Box<str>, Unfit> {
        self.needed(field).map(fit_line)
    }

    /// A remark that must be there.
    pub(super) fn needed_note(&self, field: &'static str) -> Result<Box<str>, Unfit> {
        self.needed(field).map(fit_note)
    }

    /// A whole number.
    pub(super) fn count<N: FromStr>(&self, field: &'static str) -> Result<Option<N>, Unfit> {
        self.get(field).map(|content| count(field, content)).transpose()
    }

    /// A whole number that must be there.
    pub(super) fn needed_count<N: FromStr>(&self, field: &'static str) -> Result<N, Unfit> {
        count(field, self.needed(field)?)
    }

    /// A measurement.
    pub(super) fn size(&self, field: &'static str) -> Result<Option<f64>, Unfit> {
        let Some(content) = self.get(field) else { return Ok(None) };
        let unit = self.form.fields.iter().find_map(|f| match f.kind {
            Kind::Size(unit) if f.name == field => Some(unit),
            _ => None,
        });
        let unit = unit.unwrap_or_default();
        // As people write it: with the unit behind, or with a comma for the point.
        let figure = content.strip_suffix(unit).unwrap_or(content).trim().replace(',', ".");
        let size = figure.parse::<f64>().ok().filter(|size| size.is_finite() && *size > 0.0);
        size.map(Some).ok_or_else(|| {
            Self::unfit(
                field,
                format!("\"{content}\" is no size."),
                format!("Write a number above 0; it is meant in {unit}."),
            )
        })
    }

    /// Words with commas between.
    pub(super) fn words(&self, field: &'static str) -> Vec<Box<str>> {
        let words = self.get(field).unwrap_or_default().split(',').map(fit_line);
        words.filter(|word| !word.trim().is_empty()).map(|word| word.trim().into()).collect()
    }

    /// Scores, such as `form=7, stem=5`.
    pub(super) fn scores(&self, field: &'static str) -> Result<Vec<(Box<str>, f64)>, Unfit> {
        let each = self.words(field).into_iter().map(|word| {
            let wrong = || {
                let message = format!("\"{word}\" is no score.");
                Self::unfit(field, message, "Write it as form=7, with commas between several.")
            };
            let at = word.find(['=', ' ']).ok_or_else(wrong)?;
            let (name, score) = word.split_at(at);
            let score = score.trim_start_matches(['=', ' ']).parse::<f64>().ok();
            let score = score.filter(|score| score.is_finite()).ok_or_else(wrong)?;
            Ok((name.trim().into(), score))
        });
        each.collect()
    }

    /// A place in a bed.
    pub(super) fn place(&self, field: &'static str) -> Result<Option<Position>, Unfit> {
        self.get(field).map(|content| place(field, content)).transpose()
    }

    /// One of the words that a field offers, or one that begins like it.
    pub(super) fn choice(
        &self,
        field: &'static str,
        words: &'static [&'static str],
    ) -> Result<Option<&'static str>, Unfit> {
        let Some(content) = self.get(field) else { return Ok(None) };
        let folded = crate::book::fold(content);
        let same = words.iter().find(|word| **word == folded);
        let found = same.or_else(|| words.iter().find(|word| word.starts_with(&folded)));
        found.map(|word| Some(*word)).ok_or_else(|| {
            Self::unfit(
                field,
                format!("\"{content}\" is none of the words for this."),
                format!("Write one of: {}.", words.join(", ")),
            )
        })
    }
}

fn count<N: FromStr>(field: &'static str, content: &str) -> Result<N, Unfit> {
    content.parse().map_err(|_not_a_number| {
        Sheet::unfit(
            field,
            format!("\"{content}\" is no number that can stand here."),
            "Write a whole number in digits.",
        )
    })
}

/// A place in a bed.
pub(super) fn place(field: &'static str, content: &str) -> Result<Position, Unfit> {
    content
        .parse()
        .map_err(|err| Sheet::unfit(field, format!("{err}."), "Write bed, row and place: A/3/12."))
}

/// A date as it is written in a form: a day, a month or a year; or the day alone, or month and
/// day, of the last such date up to today.
pub fn when(content: &str, today: NaiveDate) -> Result<When, Unfit> {
    let content = content.trim();
    if content.is_empty() {
        return Ok(When::day(today));
    }
    let parts: Vec<u32> = content.split('-').map_while(|part| part.parse().ok()).collect();
    let short = |is: &dyn Fn(NaiveDate) -> bool| {
        let days = std::iter::successors(Some(today), NaiveDate::pred_opt);
        days.take(MOST_BACK).find(|day| is(*day))
    };
    let found = match parts[..] {
        [day] if content.len() <= 2 => short(&|on| on.day() == day),
        [month, day] if content.len() <= 5 => short(&|on| on.month() == month && on.day() == day),
        _ => None,
    };
    match found {
        Some(day) => Ok(When::day(day)),
        None => When::parse(content).map_err(|err| {
            Sheet::unfit("on", format!("{err}."), "Write a day such as 2026-09-14, 9-14 or 14.")
        }),
    }
}
