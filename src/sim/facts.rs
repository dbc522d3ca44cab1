//! What truly happened to each cross and plant of an invented garden, before anybody writes it
//! down.

use chrono::NaiveDate;

use super::{Genome, Values};

use crate::book::{By, Position, Totals};

/// A head, from pollination to whatever became of it.
#[derive(Debug, Clone, PartialEq)]
pub struct HeadFacts {
    /// The day of pollination.
    pub pollinated: NaiveDate,
    /// The day it was cut, if it got so far.
    pub cut: Option<NaiveDate>,
    /// What became of it.
    pub end: HeadEnd,
}

/// What became of a head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeadEnd {
    /// It rotted.
    Rotted(NaiveDate),
    /// It was lost in some other way.
    Lost(NaiveDate),
    /// It was rubbed out, with so many seeds.
    Threshed(NaiveDate, u32),
}

/// One sowing of a packet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sowing {
    /// The day.
    pub on: NaiveDate,
    /// Seeds sown.
    pub seeds: u32,
    /// Seedlings that came up.
    pub up: u32,
    /// Of those, planted out.
    pub planted: u32,
}

/// A cross and what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Its code.
    pub code: String,
    /// The season; bought-in seed has that of sowing.
    pub season: i16,
    /// The seed parent, an index into the plants; absent for bought-in seed.
    pub seed: Option<usize>,
    /// Who may have given the pollen, as the raiser believes; alone if known. What is left of 1
    /// is anybody.
    pub pollen: Vec<(usize, f64)>,
    /// By hand or by bees.
    pub by: By,
    /// Where bought-in seed came from.
    pub from: Option<&'static str>,
    /// The heads.
    pub heads: Vec<HeadFacts>,
    /// Seeds in all.
    pub seeds: u32,
    /// Sowings.
    pub sowings: Vec<Sowing>,
    /// Plants, as indices.
    pub plants: Vec<usize>,
    /// What came of it where it was raised by somebody else.
    pub totals: Option<Totals>,
}

/// What the raiser made of a plant at the end of a season.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// Kept.
    Kept,
    /// Put off.
    Held,
    /// Thrown out after it bloomed.
    Discarded,
    /// Thrown out unbloomed.
    Thrown,
    /// Unbloomed, and given another season.
    HeldOver,
    /// Died, on this day.
    Died(NaiveDate),
}

/// One season in a plant's life.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantYear {
    /// The season.
    pub season: i16,
    /// Where it stood.
    pub position: Position,
    /// When it was planted.
    pub planted: NaiveDate,
    /// When its first bloom of the season opened, whether or not it lived to.
    pub opens: NaiveDate,
    /// Whether it opened before it died and before the frost.
    pub opened: bool,
    /// How well it was liked this season.
    pub liking: f64,
    /// What was made of it.
    pub fate: Fate,
    /// Tubers lifted.
    pub tubers: u32,
    /// Tubers sound in spring.
    pub sound: u32,
}

/// A plant.
#[derive(Debug, Clone, PartialEq)]
pub struct Plant {
    /// Its key: a variety's id, or a seedling's number.
    pub key: String,
    /// Its family; absent for a variety.
    pub family: Option<usize>,
    /// Its genes.
    pub genome: Genome,
    /// Its breeding values.
    pub values: Values,
    /// What its genes make of it in an average season.
    pub worth: f64,
    /// Its own lasting chance.
    pub lasting: f64,
    /// Who truly gave the pollen, where that was a plant of the garden.
    pub father: Option<usize>,
    /// Whether it sets seed.
    pub gives_seed: bool,
    /// Whether it gives pollen.
    pub gives_pollen: bool,
    /// Whether it has been used in a cross; such a plant is looked after.
    pub is_parent: bool,
    /// The season in which a variety came.
    pub since: i16,
    /// Later seasons in which the garden was without it.
    pub without: Vec<i16>,
    /// Its seasons.
    pub years: Vec<PlantYear>,
}

impl Plant {
    /// Whether it is in the garden after its last season.
    pub fn lives(&self) -> bool {
        self.years.last().is_none_or(|y| match y.fate {
            Fate::Kept | Fate::Held | Fate::HeldOver => y.sound > 0,
            Fate::Discarded | Fate::Thrown | Fate::Died(_) => false,
        })
    }

    /// Whether a variety stood in the garden in a season.
    pub fn stood_in(&self, season: i16) -> bool {
        self.since <= season && !self.without.contains(&season)
    }

    /// How well the raiser thinks of it, from all that was seen of it.
    pub fn esteem(&self) -> f64 {
        let seen: Vec<f64> = self.years.iter().filter(|y| y.opened).map(|y| y.liking).collect();
        if seen.is_empty() {
            f64::NEG_INFINITY
        } else {
            seen.iter().sum::<f64>() / seen.len() as f64
        }
    }

    /// Its season of this year.
    pub fn year(&self, season: i16) -> Option<&PlantYear> {
        self.years.iter().find(|y| y.season == season)
    }
}
