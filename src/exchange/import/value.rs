//! One cell to one value, or to a sentence about what is wrong with it.

use std::borrow::Cow;

use super::{column::Holds, parent_text::ParentText};
use crate::book::{
    By, Father, NoSuchDate, Position, Verdict, When, first_unfit, fit_line, fold, is_fit_line,
};

/// What a cell says.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value<'s> {
    Text(Cow<'s, str>),
    List(Vec<&'s str>),
    Date(When),
    Year(i16),
    Number(f64),
    Count(u32),
    YesNo(bool),
    Parent(ParentText<'s>),
    By(By),
    Father(Father),
    Verdict(Verdict),
    Position(Position),
}

impl Value<'_> {
    /// Whether both say the same; in text, capitals and accents make no difference.
    pub(super) fn same(&self, other: &Self) -> bool {
        let alike = |a: &str, b: &str| a == b || fold(a) == fold(b);
        match (self, other) {
            (Self::Text(a), Self::Text(b)) => alike(a, b),
            (Self::List(a), Self::List(b)) => {
                a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b))
            }
            (Self::Parent(ParentText::OneOf(a)), Self::Parent(ParentText::OneOf(b))) => {
                a.len() == b.len()
                    && a.iter().zip(b).all(|((a, v), (b, w))| v.total_cmp(w).is_eq() && alike(a, b))
            }
            (a, b) => a == b,
        }
    }
}

/// What is wrong with a cell, and the way out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wrong {
    pub(super) message: String,
    pub(super) hint: String,
}

pub(super) fn wrong(message: impl Into<String>, hint: impl Into<String>) -> Wrong {
    Wrong { message: message.into(), hint: hint.into() }
}

/// Reads a cell; `text` has no blanks around it and is not empty.
pub(super) fn read(text: &str, holds: Holds) -> Result<Value<'_>, Wrong> {
    let value = match holds {
        Holds::Text => Value::Text(Cow::Borrowed(one_line(text)?)),
        Holds::Reason => Value::Text(reason(text)?),
        Holds::Note => Value::Text(Cow::Borrowed(note(text)?)),
        Holds::List => Value::List(list(one_line(text)?)),
        Holds::Date => Value::Date(date(text)?),
        Holds::Year => Value::Year(year(text)?),
        Holds::Length => Value::Number(length(text)?),
        Holds::Score => Value::Number(number(text)?),
        Holds::Count => Value::Count(count(text)?),
        Holds::YesNo => Value::YesNo(word(text, &[("yes", true), ("no", false)])?),
        Holds::Parent => Value::Parent(ParentText::read(one_line(text)?)?),
        Holds::By => Value::By(word(text, &[("hand", By::Hand), ("bees", By::Bees)])?),
        Holds::Father => {
            Value::Father(word(text, &[("one", Father::One), ("each", Father::Each)])?)
        }
        Holds::Verdict => Value::Verdict(word(
            text,
            &[Verdict::Keep, Verdict::Hold, Verdict::Discard].map(|v| (v.word(), v)),
        )?),
        Holds::Position => Value::Position(one_line(text)?.parse().map_err(|e| {
            wrong(format!("{e}."), "Write bed, row and place with strokes between, as in A/3/12.")
        })?),
    };
    Ok(value)
}

/// A cell as a message may show it: on one line, without control characters, not too long.
pub(super) fn shown(text: &str) -> String {
    const MOST: usize = 60;
    let mut shown: String = fit_line(text).chars().take(MOST + 1).collect();
    if shown.chars().count() > MOST {
        shown.pop();
        shown.push('…');
    }
    shown
}

fn one_line(text: &str) -> Result<&str, Wrong> {
    match first_unfit(text, false) {
        None => Ok(text),
        Some('\n') => Err(wrong(
            format!("\"{}\" runs over more than one line.", shown(text)),
            "Take the line break out; only remarks and reasons may have one.",
        )),
        Some(c) => Err(unfit(text, c)),
    }
}

fn note(text: &str) -> Result<&str, Wrong> {
    first_unfit(text, true).map_or(Ok(text), |c| Err(unfit(text, c)))
}

/// A reason keeps its words and loses its line breaks: in a diary it stands on one line.
fn reason(text: &str) -> Result<Cow<'_, str>, Wrong> {
    if is_fit_line(text) {
        return Ok(Cow::Borrowed(text));
    }
    let words: Vec<&str> = note(text)?.split_whitespace().collect();
    Ok(Cow::Owned(words.join(" ")))
}

fn unfit(text: &str, c: char) -> Wrong {
    wrong(
        format!("\"{}\" holds the control character U+{:04X}.", shown(text), u32::from(c)),
        "Type the cell again.",
    )
}

/// Several words, split by `|` or `;`.
fn list(text: &str) -> Vec<&str> {
    text.split(['|', ';']).map(str::trim).filter(|word| !word.is_empty()).collect()
}

fn date(text: &str) -> Result<When, Wrong> {
    When::parse(text).map_err(|e| match e {
        NoSuchDate::Form(_) => wrong(
            format!("\"{}\" is not a date.", shown(text)),
            "Write a day as 2026-09-14; where only the month or the year is known, 2026-09 or 2026.",
        ),
        NoSuchDate::Calendar(_) => wrong(
            format!("There is no {} in the calendar.", shown(text)),
            "Correct the date, or give only the month or the year.",
        ),
    })
}

fn year(text: &str) -> Result<i16, Wrong> {
    let digits = text.len() == 4 && text.bytes().all(|b| b.is_ascii_digit());
    text.parse().ok().filter(|_| digits).ok_or_else(|| {
        wrong(format!("\"{}\" is not a year.", shown(text)), "Write four digits, as in 2025.")
    })
}

/// A decimal number, written with a point. The words that a computer also takes for numbers are
/// none here.
fn number(text: &str) -> Result<f64, Wrong> {
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let plain = unsigned.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    text.parse().ok().filter(|n: &f64| plain && n.is_finite()).ok_or_else(|| {
        wrong(
            format!("\"{}\" is not a number.", shown(text)),
            "Write digits only, with a point before decimals and no unit.",
        )
    })
}

fn length(text: &str) -> Result<f64, Wrong> {
    let length = number(text)?;
    if length > 0.0 {
        return Ok(length);
    }
    Err(wrong(
        format!("{} is no length.", shown(text)),
        "Correct it, or leave the cell empty where nobody measured.",
    ))
}

/// A whole number. Spreadsheets like to write 12 as 12.0.
fn count(text: &str) -> Result<u32, Wrong> {
    let whole = match text.split_once('.') {
        Some((whole, decimals)) if decimals.bytes().all(|b| b == b'0') => whole,
        _ => text,
    };
    let digits = whole.bytes().all(|b| b.is_ascii_digit());
    whole.parse().ok().filter(|_| digits).ok_or_else(|| {
        wrong(
            format!("\"{}\" is not a count.", shown(text)),
            "Write a whole number in digits, or leave the cell empty where nobody counted.",
        )
    })
}

fn word<T: Copy>(text: &str, words: &[(&str, T)]) -> Result<T, Wrong> {
    let found = words.iter().find(|(word, _)| word.eq_ignore_ascii_case(text));
    found.map(|(_, value)| *value).ok_or_else(|| {
        let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let (last, before) = words.split_last().unwrap_or((&"", &[]));
        wrong(
            format!("\"{}\" means nothing here.", shown(text)),
            format!("Write {} or {last}, or leave the cell empty.", before.join(", ")),
        )
    })
}
