//! Pedigrees in one line, as breeders of small grains write them: `A/B//C` is A × B, crossed with C.
//!
//! `/` is the first cross, `//` the second, `/3/` the third and so on; the higher a number, the
//! later the cross. The seed parent stands on the left. `A*3/B` is B crossed three times with A,
//! each time on the side on which A is written. Source: L. H. Purdy et al. 1968, Crop Sci.
//! 8:405–406.

use std::fmt;

use thiserror::Error;

/// A plant by its name, or what came of two.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notation {
    /// A plant.
    Plant(Box<str>),
    /// A cross: seed parent, pollen parent.
    Cross(Box<Notation>, Box<Notation>),
}

/// Why a line is no pedigree.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NotNotation {
    /// There is nothing to read.
    #[error("There is no pedigree in an empty line.")]
    Empty,
    /// Nothing stands on one side of a cross.
    #[error("The cross {cross} has no plant on one side.")]
    Missing {
        /// The cross as it is written.
        cross: String,
    },
    /// Which of two crosses was the later one is not said.
    #[error("The cross {cross} stands twice, and which was the later one is not said.")]
    Equal {
        /// The cross as it is written.
        cross: String,
    },
    /// Crosses are numbered from 1.
    #[error("{cross} is no cross: they are /, //, /3/, /4/ and so on.")]
    Order {
        /// What is written.
        cross: String,
    },
    /// A star without a number, or with one that cannot be.
    #[error("{name:?} is not a name with the times that it was used, as in A*3.")]
    Times {
        /// What is written.
        name: String,
    },
    /// A name of digits alone would be taken for the number of a cross.
    #[error("{name} is a number, and numbers say here which cross comes first.")]
    Number {
        /// What is written.
        name: String,
    },
    /// More plants than anybody writes in a line.
    #[error("More than {MOST} plants are too many for a line.")]
    TooMany,
}

/// Plants in a line at most, each as often as it was used.
const MOST: usize = 500;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Named<'t> {
    name: &'t str,
    times: Option<usize>,
}

/// A line taken apart: plants, and between each two of them a cross.
struct Line<'t> {
    plants: Vec<Option<Named<'t>>>,
    crosses: Vec<usize>,
}

impl Notation {
    /// Reads a line.
    pub fn parse(text: &str) -> Result<Self, NotNotation> {
        if text.trim().is_empty() {
            return Err(NotNotation::Empty);
        }
        let line = Line::read(text)?;
        line.tree(0, line.plants.len())
    }

    /// How late its last cross is; 0 of a plant.
    fn order(&self) -> usize {
        match self {
            Self::Plant(_) => 0,
            Self::Cross(seed, pollen) => 1 + seed.order().max(pollen.order()),
        }
    }
}

/// The shortest line without repeated plants drawn together, which reads back as the same.
impl fmt::Display for Notation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Plant(name) => f.write_str(name),
            Self::Cross(seed, pollen) => write!(f, "{seed}{}{pollen}", written(self.order())),
        }
    }
}

fn written(order: usize) -> String {
    match order {
        1 => "/".to_owned(),
        2 => "//".to_owned(),
        order => format!("/{order}/"),
    }
}

impl<'t> Line<'t> {
    fn read(text: &'t str) -> Result<Self, NotNotation> {
        let parts: Vec<&str> = text.split('/').map(str::trim).collect();
        let mut line = Self { plants: vec![named(parts[0])?], crosses: Vec::new() };
        let mut at = 1;
        let mut all = line.plants[0].map_or(0, Named::uses);
        while at < parts.len() {
            let numbered = parts.get(at).filter(|part| is_number(part) && at + 1 < parts.len());
            let (order, next) = if let Some(number) = numbered {
                let order = number.parse().ok().filter(|order| (1..=MOST).contains(order));
                let wrong = || NotNotation::Order { cross: format!("/{number}/") };
                (order.ok_or_else(wrong)?, at + 1)
            } else {
                let slashes = parts[at..].iter().take(2).take_while(|part| part.is_empty()).count();
                // An empty last part is a plant that is missing, not another slash.
                let slashes = slashes.min(parts.len() - 1 - at);
                (1 + slashes, at + slashes)
            };
            line.crosses.push(order);
            line.plants.push(named(parts[next])?);
            all += line.plants.last().copied().flatten().map_or(0, Named::uses);
            if all > MOST {
                return Err(NotNotation::TooMany);
            }
            at = next + 1;
        }
        Ok(line)
    }

    /// The plants from `first` up to `end` as a tree: the latest cross parts them.
    fn tree(&self, first: usize, end: usize) -> Result<Notation, NotNotation> {
        let crosses = &self.crosses[first..end - 1];
        let Some(&last) = crosses.iter().max() else {
            return match self.plants[first] {
                Some(Named { name, times: None | Some(1) }) => Ok(Notation::Plant(name.into())),
                Some(Named { name, .. }) => Err(NotNotation::Times { name: name.to_owned() }),
                None => Err(NotNotation::Empty),
            };
        };
        let cross = written(last);
        if crosses.iter().filter(|&&order| order == last).count() > 1 {
            return Err(NotNotation::Equal { cross });
        }
        let place = crosses.iter().position(|&order| order == last).unwrap_or_default();
        let middle = first + place + 1;
        let side = |from: usize, to: usize| self.plants[from].filter(|_| to == from + 1);
        let is_missing = |from: usize, to: usize| to == from + 1 && self.plants[from].is_none();
        if is_missing(first, middle) || is_missing(middle, end) {
            return Err(NotNotation::Missing { cross });
        }
        let repeated = |of: Option<Named<'t>>| of.filter(|named| named.uses() > 1);
        let plant = |named: Named<'t>| Box::new(Notation::Plant(named.name.into()));
        match [repeated(side(first, middle)), repeated(side(middle, end))] {
            [Some(seed), Some(_)] => Err(NotNotation::Times { name: seed.name.to_owned() }),
            [Some(seed), None] => {
                let once = self.tree(middle, end)?;
                let cross = |with, _| Notation::Cross(plant(seed), Box::new(with));
                Ok((0..seed.uses()).fold(once, cross))
            }
            [None, Some(pollen)] => {
                let once = self.tree(first, middle)?;
                let cross = |with, _| Notation::Cross(Box::new(with), plant(pollen));
                Ok((0..pollen.uses()).fold(once, cross))
            }
            [None, None] => {
                let [seed, pollen] = [self.tree(first, middle)?, self.tree(middle, end)?];
                Ok(Notation::Cross(Box::new(seed), Box::new(pollen)))
            }
        }
    }
}

fn is_number(part: &str) -> bool {
    !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit())
}

impl Named<'_> {
    fn uses(self) -> usize {
        self.times.unwrap_or(1)
    }
}

/// A name, with the times it was used on one side of it. None where there is nothing.
fn named(part: &str) -> Result<Option<Named<'_>>, NotNotation> {
    if part.is_empty() {
        return Ok(None);
    }
    let number = |name: &str| NotNotation::Number { name: name.to_owned() };
    let Some((left, right)) = part.split_once('*') else {
        return if is_number(part) {
            Err(number(part))
        } else {
            Ok(Some(Named { name: part, times: None }))
        };
    };
    let (left, right) = (left.trim(), right.trim());
    let times = |text: &str| text.parse().ok().filter(|times| (1..=MOST).contains(times));
    let found = match (times(left), times(right)) {
        (Some(times), _) => (right, times),
        (None, Some(times)) => (left, times),
        (None, None) => ("", 0),
    };
    match found {
        (name, _) if is_number(name) => Err(number(name)),
        (name, times) if !name.is_empty() && !name.contains('*') => {
            Ok(Some(Named { name, times: Some(times) }))
        }
        _ => Err(NotNotation::Times { name: part.to_owned() }),
    }
}
