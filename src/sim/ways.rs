//! What an invented garden is like: everything about it that can be chosen, in plain structs.

use chrono::NaiveDate;

use super::{Inheritance, Liking};

use crate::book::Bed;

/// A garden's ways: how its plants inherit, what befalls them, what its raiser is in the habit
/// of doing.
#[derive(Debug, Clone, PartialEq)]
pub struct Ways {
    /// How genes are handed down.
    pub inheritance: Inheritance,
    /// What makes a plant liked.
    pub liking: Liking,
    /// What befalls seed and plants.
    pub luck: Luck,
    /// What the raiser does.
    pub habits: Habits,
    /// The beds; seedlings fill them from the first on, older plants from the last back.
    pub beds: Vec<Bed>,
}

/// Shares of what befalls seed and plants, between 0 and 1 unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Luck {
    /// Heads that hold no seed, of those that neither rot nor are lost, on a parent that sets
    /// seed as well as most.
    pub empty: f64,
    /// Heads lost to wind, mice and hasty fingers.
    pub heads_lost: f64,
    /// Seeds in a head with seed, by hand.
    pub seeds_by_hand: f64,
    /// The same by bees.
    pub seeds_by_bees: f64,
    /// Fresh seed that comes up; each further year takes a fifth of it.
    pub comes_up: f64,
    /// Plants that die between planting and bloom.
    pub dies_first: f64,
    /// Plants that die later in the season.
    pub dies_later: f64,
}

/// What the raiser is in the habit of doing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habits {
    /// Parents taken from the raiser's own keepers where the choice is free.
    pub from_keepers: f64,
    /// Pairings made again, where the choice is free.
    pub again: f64,
    /// How strongly a keeper's looks draw the raiser to it as a parent.
    pub eye: f64,
    /// How near to the line between keep and discard a plant must be to be held.
    pub doubt: f64,
    /// How much higher the bar is in the second season.
    pub second_bar: f64,
    /// Unbloomed plants lifted and given another season.
    pub held_over: f64,
    /// Seeds sown for one plant wanted.
    pub oversow: f64,
}

/// One season as the sky and the raiser made it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Year {
    /// The season.
    pub season: i16,
    /// The last frost of spring.
    pub last_frost: NaiveDate,
    /// The first frost of autumn.
    pub first_frost: NaiveDate,
    /// What it adds to the liking of every plant; drawn where absent.
    pub adds: Option<f64>,
    /// Days by which blooms come later than usual.
    pub late: f64,
    /// Heads that rot before they are ripe.
    pub heads_rot: f64,
    /// Tubers lost in the winter after it.
    pub winter: f64,
    /// Seedlings wanted in the beds.
    pub wanted: u32,
    /// The day on which lifting begins; verdicts are given by then.
    pub lifts: NaiveDate,
    /// Places at the front of the last bed that are kept for varieties.
    pub for_varieties: u32,
}

/// A parent as the raiser thinks of it when the season's crosses are planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Who {
    /// A variety, by id.
    Variety(&'static str),
    /// The raiser's favourite among the living plants of a cross, or the next after so many.
    Keeper(&'static str, usize),
    /// Whoever catches the eye.
    Free,
}

/// How a cross is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Way {
    /// By hand.
    Hand(Who, Who),
    /// By hand, with pollen of its own.
    Selfed(Who),
    /// By hand, with pollen of several mixed.
    Mixed(Who, &'static [(Who, f64)]),
    /// The pair of an earlier cross again, by its code.
    Again(&'static str),
    /// By bees, with the raiser's guesses at the pollen parent; what is left of 1 is anybody.
    Bees(Who, &'static [(Who, f64)]),
    /// Seed that came in a packet from somebody else.
    Bought(&'static str, u32),
}

/// A cross to be made: its code, how, and of how many heads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    /// Its code.
    pub code: &'static str,
    /// The season whose heads it is of; bought-in seed is sown in the same season.
    pub season: i16,
    /// How.
    pub way: Way,
    /// Heads.
    pub n_heads: u32,
    /// What the pairing adds beyond its parents, where that is not left to chance.
    pub adds: Option<f64>,
    /// Plants of it that somebody else raised; above 0 none of its seed is sown here.
    pub away: u32,
}
