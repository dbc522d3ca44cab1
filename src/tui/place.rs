//! Places: what a page is of. The trail is a list of them.

use super::{glyphs::Glyphs, said};
use crate::book::{By, CrossId, PlantId};
use crate::views::{Desk, Party, evening::What, waits::Whose};

/// What sort of page it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// What happened, what waits.
    Evening,
    /// What stands where.
    Bed,
    /// What became of each cross.
    Crosses,
    /// Which pairs give keepers.
    Pairings,
    /// Where a plant came from.
    Line,
    /// One plant.
    Plant,
    /// Walking past plants.
    Walk,
    /// One cross.
    Cross,
    /// One pairing.
    Pairing,
    /// One plant as a parent.
    Parent,
    /// How long plants wait for their first bloom.
    Blooms,
    /// Something that is due.
    Due,
    /// What was changed.
    History,
    /// Earlier versions of files.
    Earlier,
    /// What is wrong with the book.
    Problems,
    /// Where there is no book.
    Welcome,
}

impl Kind {
    /// The screens that have a key of their own, in the order of those keys.
    pub const SCREENS: [Self; 5] =
        [Self::Evening, Self::Bed, Self::Crosses, Self::Pairings, Self::Line];

    /// Every sort of page.
    pub const ALL: [Self; 16] = [
        Self::Evening,
        Self::Bed,
        Self::Crosses,
        Self::Pairings,
        Self::Line,
        Self::Plant,
        Self::Walk,
        Self::Cross,
        Self::Pairing,
        Self::Parent,
        Self::Blooms,
        Self::Due,
        Self::History,
        Self::Earlier,
        Self::Problems,
        Self::Welcome,
    ];

    /// The name on the screen.
    pub fn title(self) -> &'static str {
        match self {
            Self::Evening => "Evening",
            Self::Bed => "Bed",
            Self::Crosses => "Crosses",
            Self::Pairings => "Pairings",
            Self::Line => "Line",
            Self::Plant => "Plant",
            Self::Walk => "Walk",
            Self::Cross => "Cross",
            Self::Pairing => "Pairing",
            Self::Parent => "Parent",
            Self::Blooms => "First bloom",
            Self::Due => "Due",
            Self::History => "History",
            Self::Earlier => "Earlier versions",
            Self::Problems => "Problems",
            Self::Welcome => "Welcome",
        }
    }
}

/// A page, by what it is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// The season in review.
    Evening,
    /// The beds.
    Bed,
    /// The crosses.
    Crosses,
    /// The pairings.
    Pairings,
    /// The lineage, of this plant if one is named.
    Line(Option<PlantId>),
    /// A plant.
    Plant(PlantId),
    /// A walk past plants, before this one of them.
    Walk(PlantId),
    /// A cross.
    Cross(CrossId),
    /// A pairing, by its place in [`Desk::pairings`].
    Pairing(usize),
    /// Two plants that were never put to each other, the one that would bear the seed first.
    Pair(PlantId, PlantId),
    /// A plant as a parent.
    Parent(PlantId),
    /// How long plants wait for their first bloom.
    Blooms(Whose),
    /// Something that is due.
    Due(What),
    /// What was changed.
    History,
    /// Earlier versions of files.
    Earlier,
    /// What is wrong with the book.
    Problems,
    /// Where there is no book.
    Welcome,
}

impl Place {
    /// What sort of page it is.
    pub fn kind(self) -> Kind {
        match self {
            Self::Evening => Kind::Evening,
            Self::Bed => Kind::Bed,
            Self::Crosses => Kind::Crosses,
            Self::Pairings => Kind::Pairings,
            Self::Line(_) => Kind::Line,
            Self::Plant(_) => Kind::Plant,
            Self::Walk(_) => Kind::Walk,
            Self::Cross(_) => Kind::Cross,
            Self::Pairing(_) | Self::Pair(..) => Kind::Pairing,
            Self::Parent(_) => Kind::Parent,
            Self::Blooms(_) => Kind::Blooms,
            Self::Due(_) => Kind::Due,
            Self::History => Kind::History,
            Self::Earlier => Kind::Earlier,
            Self::Problems => Kind::Problems,
            Self::Welcome => Kind::Welcome,
        }
    }

    /// Its name on the trail.
    pub fn name(self, desk: &Desk, glyphs: &Glyphs) -> String {
        match self {
            Self::Line(Some(plant)) => format!("{} {}", Kind::Line.title(), desk.label(plant)),
            Self::Plant(plant) => desk.label(plant).to_owned(),
            Self::Parent(plant) => format!("{} as a parent", desk.label(plant)),
            Self::Cross(cross) => desk.book().cross(cross).code.to_string(),
            Self::Pairing(at) => said::pairing(desk, at, glyphs),
            Self::Pair(seed, pollen) => {
                let parties = [seed, pollen].map(Party::Plant);
                said::pair(desk, (&parties[0], &parties[1]), By::Hand, glyphs)
            }
            Self::Due(what) => what.says(2).to_owned(),
            _ => self.kind().title().to_owned(),
        }
    }

    /// Seed and pollen parent of what the page is of.
    pub fn parents(self, desk: &Desk) -> Option<(Party, Party)> {
        match self {
            Self::Plant(plant) | Self::Walk(plant) | Self::Parent(plant) => {
                Some(desk.parents(plant))
            }
            Self::Cross(cross) => Some(desk.parties(cross).clone()),
            Self::Pairing(at) => {
                desk.pairings().get(at).map(|p| (p.seed.clone(), p.pollen.clone()))
            }
            Self::Pair(seed, pollen) => Some((Party::Plant(seed), Party::Plant(pollen))),
            _ => None,
        }
    }

    /// The plant it is of.
    pub fn plant(self) -> Option<PlantId> {
        match self {
            Self::Plant(plant) | Self::Walk(plant) | Self::Parent(plant) => Some(plant),
            Self::Line(plant) => plant,
            _ => None,
        }
    }
}
