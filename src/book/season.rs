//! A season: the calendar year in which things happen in the garden.

use std::fmt;

/// A calendar year, from 1 January to 31 December.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Season(pub i16);

impl Season {
    /// The season after this one.
    #[must_use]
    pub fn next(self) -> Self {
        Self(self.0.saturating_add(1))
    }

    /// The season before this one.
    #[must_use]
    pub fn before(self) -> Self {
        Self(self.0.saturating_sub(1))
    }
}

impl fmt::Display for Season {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}
