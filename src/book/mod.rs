//! The records: what a raiser writes down, and what follows from it.
//!
//! A record is who it is plus its diary; whatever can be worked out from the diary is a pure
//! function here and is stored nowhere. This room reads no files, prints nothing, and uses no
//! other room.

mod about;
mod change;
mod check;
mod codes;
mod counts;
mod crop;
mod cross;
mod diary;
pub mod enter;
mod fault;
mod find;
mod life;
mod look;
mod order;
mod parentage;
mod position;
mod roll;
mod season;
mod seedling;
mod tally;
mod text;
mod variety;
mod when;

pub use about::{
    About, Aim, Bed, Frost, Patterns, Want, equational_double_reduction, most_double_reduction,
};
pub use change::{Change, Clash, Conflict, Part, Side, Spot, Stale, Step};
pub use check::faults;
pub use codes::{Codes, lot_letters, slug};
pub use counts::{Counts, Figure, Figures};
pub use crop::{
    Caution, Colour, Crop, Days, Group, SizeClass, SizeTable, Trait, Usual, UsualDays, UsualRates,
};
pub use cross::{By, Cross, Father, Head, Lot, Totals};
pub use diary::{Entry, GardenDeed, HeadDeed, LotDeed, PlantDeed, Verdict};
pub use fault::{Fault, Place, Problem, Severity};
pub use find::{Found, find, find_cross, fold, near_words};
pub use life::{Life, Outcome, Stage, State, Word, first_sorting};
pub use look::Look;
pub use order::label_order;
pub use parentage::{Candidate, Parent, Pollen};
pub use position::Position;
pub use roll::{Book, CrossId, PlantId, PlantRecord};
pub use season::Season;
pub use seedling::Seedling;
pub use tally::HeadState;
pub use text::{first_unfit, fit_line, fit_note, is_fit_line, is_fit_note, without_unfit};
pub use variety::Variety;
pub use when::{Grain, NoSuchDate, When};
