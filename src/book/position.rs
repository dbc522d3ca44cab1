//! Where a plant stands: bed, row, and place along the row.

use std::{fmt, str::FromStr};

use thiserror::Error;

/// One place in the garden, written `A/3/12`: bed A, row 3, twelfth place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// The bed's name.
    pub bed: Box<str>,
    /// The row in the bed, from 1.
    pub row: u16,
    /// The place along the row, from 1.
    pub place: u16,
}

/// A text that names no place.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("\"{0}\" is not a position")]
pub struct NotAPosition(pub String);

impl FromStr for Position {
    type Err = NotAPosition;

    fn from_str(text: &str) -> Result<Self, NotAPosition> {
        let wrong = || NotAPosition(text.to_owned());
        // From the right, so that a bed may have a slash in its name.
        let mut parts = text.rsplitn(3, '/');
        let place = parts.next().ok_or_else(wrong)?;
        let row = parts.next().ok_or_else(wrong)?;
        let bed = parts.next().ok_or_else(wrong)?.trim();
        let count = |t: &str| t.trim().parse::<u16>().ok().filter(|&n| n > 0).ok_or_else(wrong);
        if bed.is_empty() {
            return Err(wrong());
        }
        Ok(Self { bed: bed.into(), row: count(row)?, place: count(place)? })
    }
}

impl fmt::Display for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}/{}", self.bed, self.row, self.place)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn a_position_reads_back_as_written() {
        for text in ["A/3/12", "by the wall/1/1", "N/S/2/4"] {
            assert_eq!(text.parse::<Position>().unwrap().to_string(), text);
        }
        for text in ["", "A", "A/3", "A/0/1", "A/x/1", "/1/1", "A/1/70000"] {
            assert!(text.parse::<Position>().is_err(), "{text}");
        }
    }
}
