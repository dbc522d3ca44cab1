//! What can be seen of a plant: size, colour, form, worked out from its genes and its luck.

use crate::sim::{Dice, Plant, Trait, dice::whole};

/// What a plant looks like, the same at every look but for the hand that holds the rule.
#[derive(Debug, Clone)]
pub(super) struct Seen {
    /// Diameter in mm.
    pub bloom_mm: f64,
    /// Height in cm.
    pub height_cm: f64,
    /// Colour words, the main one first.
    pub colours: Vec<&'static str>,
    /// Flower group.
    pub group: &'static str,
    /// Shapeliness, as a deviate.
    pub form: f64,
    /// Strength of stem, as a deviate.
    pub stem: f64,
    /// Fullness, as a deviate.
    pub full: f64,
}

/// Ground from white to yellow across, red laid over it down.
const COLOURS: [[&str; 4]; 4] = [
    ["white", "cream", "straw", "yellow"],
    ["lavender", "pink", "apricot", "yellow"],
    ["dark pink", "pink", "orange", "bronze"],
    ["purple", "dark red", "red", "flame"],
];

/// What tips and blends go with a main colour.
const SECOND: [(&str, &str); 12] = [
    ("white", "lavender"),
    ("straw", "pink"),
    ("yellow", "red"),
    ("lavender", "white"),
    ("pink", "yellow"),
    ("apricot", "pink"),
    ("orange", "yellow"),
    ("bronze", "red"),
    ("purple", "white"),
    ("dark red", "white"),
    ("red", "yellow"),
    ("flame", "yellow"),
];

impl Seen {
    /// A plant as it turned out.
    pub(super) fn of(plant: &Plant, dice: &mut Dice) -> Self {
        let mut turned_out = |of: Trait, luck: f64| plant.values[of.index()] + luck * dice.normal();
        let yellow = turned_out(Trait::Yellow, 0.4);
        let red = turned_out(Trait::Red, 0.4);
        let full = turned_out(Trait::Full, 0.6);
        let roll = turned_out(Trait::Roll, 0.4);
        let form = turned_out(Trait::Form, 0.8);
        let stem = turned_out(Trait::Stem, 0.8);
        let bloom_mm = (120.0 * (0.3 * turned_out(Trait::Bloom, 0.3)).exp()).clamp(35.0, 280.0);
        let height_cm = (112.0 + 18.0 * turned_out(Trait::Height, 0.5)).clamp(45.0, 195.0);
        let column = |x: f64, steps: [f64; 3]| steps.iter().filter(|&&s| x > s).count();
        let main = COLOURS[column(red, [-0.5, 0.3, 1.0])][column(yellow, [-0.5, 0.2, 0.9])];
        let second = SECOND.iter().find(|(of, _)| *of == main).filter(|_| dice.chance(0.22));
        let colours = std::iter::once(main).chain(second.map(|(_, second)| *second)).collect();
        let group = group(full, roll, bloom_mm);
        Self { bloom_mm, height_cm, colours, group, form, stem, full }
    }

    /// Faults that are noted of it, if anybody troubles to.
    pub(super) fn faults(&self, dice: &mut Dice) -> Vec<Box<str>> {
        let tall = (self.height_cm - 130.0) / 20.0;
        let likely = [
            ("open centre", 0.1 - self.full),
            ("weak stem", -0.5 - self.stem),
            ("nods", -0.8 - self.stem),
            ("lopsided", -0.7 - self.form),
            ("gaps", -1.0 - self.form),
            ("hides in foliage", tall),
        ];
        let mut seen: Vec<Box<str>> = Vec::new();
        for (fault, how_bad) in likely {
            if how_bad > 0.0 && seen.len() < 2 && dice.chance(0.45) {
                seen.push(fault.into());
            }
        }
        seen
    }

    /// A score for a deviate by somebody who likes the plant so well.
    pub(super) fn score(deviate: f64, liking: f64, dice: &mut Dice) -> f64 {
        let score = 5.2 + 0.8 * deviate + 0.8 * liking + 0.5 * dice.normal();
        f64::from(whole(score.clamp(1.0, 9.0)))
    }
}

fn group(full: f64, roll: f64, bloom_mm: f64) -> &'static str {
    match (full, roll) {
        (f, r) if f < -1.0 => {
            if r < -1.0 {
                "SinO"
            } else {
                "Sin"
            }
        }
        (f, r) if f < -0.6 => {
            if r < 0.3 {
                "Col"
            } else {
                "Anem"
            }
        }
        (f, _) if f < -0.2 => "P",
        (_, r) if r < -0.9 => {
            if bloom_mm <= 55.0 {
                "Pom"
            } else {
                "Ba"
            }
        }
        (f, r) if r < 0.5 => {
            if f < 0.4 {
                "WL"
            } else {
                "D"
            }
        }
        (_, r) => {
            if r < 1.1 {
                "S-c"
            } else {
                "C"
            }
        }
    }
}
