//! The fields of a form: what each is called and what may stand in it.

/// Words of the crop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum List {
    /// Flower groups, by their codes.
    Groups,
    /// Colours, and how they lie.
    Colours,
    /// Faults.
    Faults,
    /// Scored traits.
    Traits,
}

/// What may stand in a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Any text in a line.
    Text,
    /// A whole number.
    Count,
    /// A measurement in this unit.
    Size(&'static str),
    /// A word of the crop.
    Word(List),
    /// Words of the crop, with commas between.
    Words(List),
    /// Scores, such as `form=7, stem=5`.
    Scores,
    /// A place in a bed, such as `A/3/12`.
    Place,
    /// A plant, by number, name or id.
    Plant,
    /// A parent: a plant, several with `|` between, or `?`.
    Parent,
    /// The code of a packet of the cross.
    Packet,
    /// One of these words.
    Choice(&'static [&'static str]),
}

/// A field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// Its name, in small letters.
    pub name: &'static str,
    /// What is to be written into it.
    pub says: &'static str,
    /// What may stand in it.
    pub kind: Kind,
    /// Whether it must be filled in.
    pub is_needed: bool,
    /// Whether it is the one that needs no name in the shell: what stands behind the word.
    pub is_behind: bool,
}

impl Field {
    /// A field that may stay empty.
    pub(super) const fn may(name: &'static str, kind: Kind, says: &'static str) -> Self {
        Self { name, says, kind, is_needed: false, is_behind: false }
    }

    /// A field that must be filled in.
    pub(super) const fn must(name: &'static str, kind: Kind, says: &'static str) -> Self {
        Self { is_needed: true, ..Self::may(name, kind, says) }
    }

    /// The same field, behind the word.
    pub(super) const fn behind(self) -> Self {
        Self { is_behind: true, ..self }
    }

    /// Whether several answers may stand in it.
    pub fn takes_several(&self) -> bool {
        matches!(self.kind, Kind::Words(_) | Kind::Scores)
    }
}
