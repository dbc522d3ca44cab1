//! The dated events of one head, lot or plant.
//!
//! A diary is a list of entries in the order in which they are to be understood, oldest first.
//! Where two entries speak of the same thing, the later in the list stands.

use super::{Look, Position, When};

/// One line of a diary.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry<D> {
    /// When it happened.
    pub on: When,
    /// What happened.
    pub did: D,
}

/// What can happen to a pollinated flower head.
#[derive(Debug, Clone, PartialEq)]
pub enum HeadDeed {
    /// Pollen put on, or bees let in.
    Pollinated,
    /// Cut from the plant.
    Cut,
    /// Stood in water to ripen.
    InWater,
    /// Hung up to dry.
    Hung,
    /// Rotted before it was ripe.
    Rotted,
    /// Gone for another reason: snapped, eaten, blown away.
    Lost(Box<str>),
    /// Rubbed out and counted; 0 is an empty pod.
    Threshed {
        /// Good seeds found.
        seeds: u32,
    },
    /// A remark.
    Note(Box<str>),
}

/// What can happen to a packet of seed.
#[derive(Debug, Clone, PartialEq)]
pub enum LotDeed {
    /// Some of the seed sown.
    Sown {
        /// Seeds sown this time; absent where nobody counted them.
        seeds: Option<u32>,
    },
    /// So many came up, of the sowing before.
    Up(u32),
    /// So many pricked out into pots.
    PrickedOut(u32),
    /// Seed given away.
    Given {
        /// Seeds given.
        seeds: u32,
        /// To whom.
        to: Option<Box<str>>,
    },
    /// What was left was thrown out or spoilt.
    Gone(Box<str>),
    /// A remark.
    Note(Box<str>),
}

/// A word on a plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Verdict {
    /// Worth another season.
    Keep,
    /// Undecided: look again.
    Hold,
    /// Not worth the room.
    Discard,
}

/// What can happen to a plant, seedling or variety.
#[derive(Debug, Clone, PartialEq)]
pub enum PlantDeed {
    /// Came into the garden: bought, swapped or given.
    Acquired {
        /// From whom.
        from: Option<Box<str>>,
    },
    /// Given its number.
    Numbered,
    /// Planted out; the place where it is known.
    Planted(Option<Position>),
    /// Looked at, and not in flower yet.
    SeenUnbloomed,
    /// Opened its first bloom.
    FirstBloom,
    /// Looked at.
    Look(Box<Look>),
    /// A verdict given.
    Verdict {
        /// What was decided.
        is: Verdict,
        /// Why.
        why: Option<Box<str>>,
        /// By whom; absent means the raiser.
        who: Option<Box<str>>,
    },
    /// Its label is gone; who it is rests on the bed plan.
    TagLost,
    /// Died, rotted, was stolen or eaten. Never a verdict.
    Lost(Box<str>),
    /// Lifted for winter.
    Lifted {
        /// Tubers with an eye.
        tubers: Option<u16>,
        /// Where they are stored.
        store: Option<Box<str>>,
    },
    /// Looked over in winter; so many tubers still sound.
    Checked {
        /// Sound tubers.
        sound: u16,
    },
    /// Brought into growth in spring.
    Woken,
    /// Seen ailing: pests, rot, a suspect leaf.
    Ailing(Box<str>),
    /// Sprayed, dusted or otherwise treated.
    Treated(Box<str>),
    /// Found to belong to another cross and moved here.
    MovedFrom {
        /// The cross it stood in before.
        cross: Box<str>,
        /// How the mix-up came to light.
        why: Option<Box<str>>,
    },
    /// Tubers given away, swapped or sold.
    Given {
        /// How many.
        tubers: u16,
        /// To whom.
        to: Option<Box<str>>,
    },
    /// Got rid of after it was discarded or lost: where it went.
    Disposed(Box<str>),
    /// Given a name.
    Named(Box<str>),
    /// A remark.
    Note(Box<str>),
}

/// What can happen in the garden that belongs to no plant.
#[derive(Debug, Clone, PartialEq)]
pub enum GardenDeed {
    /// What the weather did.
    Weather(Box<str>),
    /// What was fed, spread or dug in.
    Fed(Box<str>),
    /// A job done.
    Job(Box<str>),
    /// A remark.
    Note(Box<str>),
}

impl Verdict {
    /// The word on screen, in files and on paper.
    pub fn word(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::Hold => "hold",
            Self::Discard => "discard",
        }
    }
}
