//! The sign, the look and the word of each way in which a plant can stand on the plan, and which
//! of them are asked for.

use crate::book::State;
use crate::tui::{
    glyphs::{Glyphs, Plants},
    theme::Role,
};

/// The states in the order of the legend.
pub(super) const STATES: [State; 8] = [
    State::Kept,
    State::Named,
    State::Held,
    State::Open,
    State::Unbloomed,
    State::Discarded,
    State::Lost,
    State::Potted,
];

/// Which plants stand out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Choice {
    /// Every plant.
    #[default]
    All,
    /// In bloom, held or without a word.
    Waiting,
    /// Kept or named.
    Keepers,
    /// Not seen in bloom.
    Unbloomed,
}

impl Choice {
    pub(super) fn next(self) -> Self {
        match self {
            Self::All => Self::Waiting,
            Self::Waiting => Self::Keepers,
            Self::Keepers => Self::Unbloomed,
            Self::Unbloomed => Self::All,
        }
    }

    /// The choice after this one, in a word or two.
    pub(super) fn next_words(self) -> &'static str {
        match self.next() {
            Self::All => "all plants",
            Self::Waiting => "undecided",
            Self::Keepers => "keepers",
            Self::Unbloomed => "no bloom",
        }
    }

    pub(super) fn takes(self, state: State) -> bool {
        match self {
            Self::All => true,
            Self::Waiting => matches!(state, State::Open | State::Held),
            Self::Keepers => matches!(state, State::Kept | State::Named),
            Self::Unbloomed => matches!(state, State::Unbloomed | State::Potted),
        }
    }

    /// What is asked for, in words.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::All => "all plants",
            Self::Waiting => "undecided plants",
            Self::Keepers => "keepers",
            Self::Unbloomed => "plants not seen in bloom",
        }
    }
}

pub(super) fn sign(state: State, glyphs: &Glyphs) -> &'static str {
    let Plants { unbloomed, open, held, kept, named, discarded, lost, .. } = glyphs.plants;
    match state {
        State::Potted | State::Unbloomed => unbloomed,
        State::Open => open,
        State::Held => held,
        State::Kept => kept,
        State::Named => named,
        State::Discarded => discarded,
        State::Lost => lost,
    }
}

pub(super) fn role(state: State) -> Role {
    match state {
        State::Named | State::Kept => Role::Good,
        State::Held | State::Open => Role::Warn,
        State::Potted | State::Unbloomed => Role::Text,
        State::Discarded | State::Lost => Role::Quiet,
    }
}

/// The word of the legend.
pub(super) fn word(state: State) -> &'static str {
    match state {
        State::Open => "no word yet",
        State::Unbloomed => "no bloom",
        state => crate::views::words::state(state),
    }
}
