//! When the season ends: the first frost, as written down or as it usually comes.

use chrono::{Datelike, Days, NaiveDate};

use crate::book::{Book, Season, When};
use crate::views::{Desk, words};

/// Days before the usual frost from which its coming is reckoned with.
const NEAR: u64 = 14;

/// The end of a season.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct End {
    /// The day of the first frost; the usual one while none is written down.
    day: NaiveDate,
    /// Whether it is written down.
    is_written: bool,
    /// Whether the usual day is from frosts of this book.
    is_own: bool,
}

impl End {
    /// The end of the season that today is in.
    pub(super) fn of(desk: &Desk) -> Self {
        let (book, season) = (desk.book(), desk.season());
        let written = book.about().frosts.iter().find(|frost| frost.season == season);
        if let Some(day) = written.and_then(|frost| frost.first) {
            return Self { day, is_written: true, is_own: true };
        }
        let (day, is_own) = usual(book, season);
        Self { day, is_written: false, is_own }
    }

    /// Whether it has come.
    pub(super) fn is_past(self, today: NaiveDate) -> bool {
        self.day <= today
    }

    /// Whether it has come or may come within a fortnight.
    pub(super) fn is_near(self, today: NaiveDate) -> bool {
        today.checked_add_days(Days::new(NEAR)).is_none_or(|soon| self.day <= soon)
    }

    /// When the frost came, or usually comes.
    pub(super) fn says(self) -> String {
        let day = words::day(When::day(self.day));
        let short = day.rsplit_once(' ').map_or(&*day, |(day, _)| day);
        match (self.is_written, self.is_own) {
            (true, _) => format!("the frost came on {short}"),
            (false, true) => format!("the frost comes about {short} here"),
            (false, false) => format!("the frost usually comes about {short}"),
        }
    }
}

/// The day on which the frost usually comes: the middle of the book's own or, where it has none,
/// of the crop's usual time. The last day of the season where nothing is known.
fn usual(book: &Book, season: Season) -> (NaiveDate, bool) {
    let own = book.about().frosts.iter().filter_map(|frost| frost.first);
    let mut days: Vec<u32> = own.map(|day| day.ordinal()).collect();
    days.sort_unstable();
    let crop = &book.crop().days.first_frost;
    let day = match days.get(days.len() / 2) {
        Some(day) => *day,
        None if crop.to > 0 => u32::from(u16::midpoint(crop.from, crop.to)),
        None => return (When::year(season).last(), false),
    };
    let day = NaiveDate::from_yo_opt(i32::from(season.0), day);
    (day.unwrap_or_else(|| When::year(season).last()), !days.is_empty())
}
