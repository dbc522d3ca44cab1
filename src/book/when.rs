//! When something happened, as exactly as it is remembered: a day, a month or a year.
//!
//! Old labels often keep only the year. A year that is known is worth more than a day that was
//! made up, so a date carries how fine it is.

use std::fmt;

use chrono::{Datelike, NaiveDate};
use thiserror::Error;

use super::Season;

/// How finely a date is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grain {
    /// The very day.
    Day,
    /// The month, not the day.
    Month,
    /// Only the year.
    Year,
}

/// A date known to the day, the month or the year; written `2025-08-14`, `2025-08` or `2025`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct When {
    first: NaiveDate,
    grain: Grain,
}

/// A text that is no date, or a day that the calendar does not have.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NoSuchDate {
    /// Not of the form `YYYY-MM-DD`, `YYYY-MM` or `YYYY`.
    #[error("\"{0}\" is not a date")]
    Form(String),
    /// Well formed, but not in the calendar: 30 February.
    #[error("there is no {0} in the calendar")]
    Calendar(String),
}

impl When {
    /// A date known to the day.
    pub fn day(day: NaiveDate) -> Self {
        Self { first: day, grain: Grain::Day }
    }

    /// A date of which only the year is known.
    pub fn year(season: Season) -> Self {
        let first = NaiveDate::from_ymd_opt(i32::from(season.0), 1, 1).unwrap_or(NaiveDate::MIN);
        Self { first, grain: Grain::Year }
    }

    /// The same date as somebody remembers it who knows no more than the month, or the year.
    #[must_use]
    pub fn blurred(self, grain: Grain) -> Self {
        let first = match grain.max(self.grain) {
            Grain::Day => Some(self.first),
            Grain::Month => self.first.with_day(1),
            Grain::Year => NaiveDate::from_ymd_opt(self.first.year(), 1, 1),
        };
        Self { first: first.unwrap_or(self.first), grain: grain.max(self.grain) }
    }

    /// Reads `YYYY-MM-DD`, `YYYY-MM` or `YYYY`.
    ///
    /// # Errors
    /// [`NoSuchDate`] when the text has another form or names a day that does not exist.
    pub fn parse(text: &str) -> Result<Self, NoSuchDate> {
        let form = || NoSuchDate::Form(text.to_owned());
        let mut parts = [0_u32; 3];
        let mut n_parts = 0;
        for piece in text.split('-') {
            let wide = if n_parts == 0 { 4 } else { 2 };
            if n_parts == 3 || piece.len() != wide || !piece.bytes().all(|b| b.is_ascii_digit()) {
                return Err(form());
            }
            parts[n_parts] = piece.parse().map_err(|_not_a_number| form())?;
            n_parts += 1;
        }
        let grain = match n_parts {
            3 => Grain::Day,
            2 => Grain::Month,
            _ => Grain::Year,
        };
        let month = if n_parts >= 2 { parts[1] } else { 1 };
        let day = if n_parts == 3 { parts[2] } else { 1 };
        let year = i32::try_from(parts[0]).map_err(|_too_large| form())?;
        NaiveDate::from_ymd_opt(year, month, day)
            .map(|first| Self { first, grain })
            .ok_or_else(|| NoSuchDate::Calendar(text.to_owned()))
    }

    /// How finely the date is known.
    pub fn grain(self) -> Grain {
        self.grain
    }

    /// The day, where it is known to the day.
    pub fn exact(self) -> Option<NaiveDate> {
        (self.grain == Grain::Day).then_some(self.first)
    }

    /// The earliest day it can have been.
    pub fn first(self) -> NaiveDate {
        self.first
    }

    /// The latest day it can have been.
    pub fn last(self) -> NaiveDate {
        let next = match self.grain {
            Grain::Day => return self.first,
            Grain::Month if self.first.month() < 12 => {
                self.first.with_month(self.first.month() + 1)
            }
            Grain::Month | Grain::Year => NaiveDate::from_ymd_opt(self.first.year() + 1, 1, 1),
        };
        next.and_then(|d| d.pred_opt()).unwrap_or(self.first)
    }

    /// The season it falls in.
    pub fn season(self) -> Season {
        Season(i16::try_from(self.first.year()).unwrap_or(i16::MAX))
    }

    /// Whether it was certainly before `other`: even its latest day is earlier than the
    /// earliest day of the other.
    pub fn surely_before(self, other: Self) -> bool {
        self.last() < other.first()
    }
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let d = self.first;
        match self.grain {
            Grain::Day => write!(f, "{:04}-{:02}-{:02}", d.year(), d.month(), d.day()),
            Grain::Month => write!(f, "{:04}-{:02}", d.year(), d.month()),
            Grain::Year => write!(f, "{:04}", d.year()),
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_read_and_written_as_finely_as_it_is_known() {
        for text in ["2025-08-14", "2025-08", "2025", "0001-01-01", "2024-02-29"] {
            assert_eq!(When::parse(text).unwrap().to_string(), text);
        }
    }

    #[test]
    fn days_that_do_not_exist_are_told_from_what_is_no_date() {
        assert!(matches!(When::parse("2025-02-29"), Err(NoSuchDate::Calendar(_))));
        assert!(matches!(When::parse("2025-13"), Err(NoSuchDate::Calendar(_))));
        for text in ["", "25-1-1", "2025-8-1", "2025-08-14-1", "soon", "2025/08/14", "−025"] {
            assert!(matches!(When::parse(text), Err(NoSuchDate::Form(_))), "{text}");
        }
    }

    #[test]
    fn a_blurred_date_is_never_finer_than_it_was() {
        let blurred = |t: &str, grain| When::parse(t).unwrap().blurred(grain).to_string();
        assert_eq!(blurred("2025-08-14", Grain::Day), "2025-08-14");
        assert_eq!(blurred("2025-08-14", Grain::Month), "2025-08");
        assert_eq!(blurred("2025-08-14", Grain::Year), "2025");
        assert_eq!(blurred("2025", Grain::Month), "2025");
    }

    #[test]
    fn a_month_and_a_year_end_on_their_last_day() {
        let last = |t: &str| When::parse(t).unwrap().last().to_string();
        assert_eq!(last("2024-02"), "2024-02-29");
        assert_eq!(last("2025-12"), "2025-12-31");
        assert_eq!(last("2025"), "2025-12-31");
        assert_eq!(last("2025-06-03"), "2025-06-03");
    }
}
