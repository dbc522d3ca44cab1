//! Parents looked up: words to plants, and plants to what a record says.

use super::{
    faults::{At, Faults},
    names::{Looked, Names, Sort, Who},
    parent_text::ParentText,
    value::shown,
};
use crate::book::{Book, Candidate, Parent, PlantId, Pollen};

/// A parent.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) enum Kin {
    #[default]
    Unknown,
    One(Who),
    /// Candidates with their weights.
    Several(Vec<(Who, f64)>),
}

/// Where the pollen came from.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum PollenKin {
    From(Kin),
    Selfed,
}

/// Both parents of a cross.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Pair {
    pub(super) seed: Kin,
    pub(super) pollen: PollenKin,
}

/// A pair as something that can be looked up: weights to a millionth.
pub(super) type Mark = (Vec<(Who, u64)>, Option<Vec<(Who, u64)>>);

impl Default for PollenKin {
    fn default() -> Self {
        Self::From(Kin::Unknown)
    }
}

impl Kin {
    /// The parent that a record of the book names; `None` where nobody bears the key.
    pub(super) fn of(parent: &Parent, book: &Book, names: &Names<'_>) -> Option<Self> {
        let who = |key: &str| book.by_key(key).map(|PlantId(id)| names.really(Who(id as usize)));
        match parent {
            Parent::Unknown => Some(Self::Unknown),
            Parent::Known(key) => who(key).map(Self::One),
            Parent::OneOf(list) => list
                .iter()
                .map(|c| who(&c.key).map(|plant| (plant, c.weight)))
                .collect::<Option<Vec<_>>>()
                .map(Self::Several),
        }
    }

    fn mark(&self) -> Vec<(Who, u64)> {
        let bits = |weight: f64| ((weight * 1e6).round() / 1e6).to_bits();
        let mut mark = match self {
            Self::Unknown => Vec::new(),
            Self::One(who) => vec![(*who, bits(1.0))],
            Self::Several(list) => list.iter().map(|&(who, w)| (who, bits(w))).collect(),
        };
        mark.sort_unstable();
        mark
    }

    /// Whether it is the same parent with the same weights.
    pub(super) fn is(&self, other: &Self) -> bool {
        self.mark() == other.mark()
    }

    /// What a record says of it.
    pub(super) fn to_parent(&self, names: &Names<'_>) -> Parent {
        let key = |who: &Who| Box::<str>::from(names.key(*who));
        match self {
            Self::Unknown => Parent::Unknown,
            Self::One(who) => Parent::Known(key(who)),
            Self::Several(list) => {
                let candidate =
                    |(who, weight): &(Who, f64)| Candidate { key: key(who), weight: *weight };
                let mut list: Vec<Candidate> = list.iter().map(candidate).collect();
                // The likeliest first, whatever the order in which they were written.
                list.sort_by(|a, b| b.weight.total_cmp(&a.weight).then_with(|| a.key.cmp(&b.key)));
                Parent::OneOf(list)
            }
        }
    }

    /// The parent as a person would write it.
    pub(super) fn shown(&self, names: &Names<'_>) -> String {
        match self {
            Self::Unknown => "?".to_owned(),
            Self::One(who) => names.label(*who).to_owned(),
            Self::Several(list) => {
                list.iter().map(|(who, _)| names.label(*who)).collect::<Vec<_>>().join("|")
            }
        }
    }
}

impl PollenKin {
    pub(super) fn is(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Selfed, Self::Selfed) => true,
            (Self::From(a), Self::From(b)) => a.is(b),
            _ => false,
        }
    }

    pub(super) fn is_unknown(&self) -> bool {
        matches!(self, Self::From(Kin::Unknown))
    }

    pub(super) fn shown(&self, names: &Names<'_>) -> String {
        match self {
            Self::Selfed => "selfed".to_owned(),
            Self::From(kin) => kin.shown(names),
        }
    }
}

impl Pair {
    /// A pair; pollen of the seed parent itself makes a selfing.
    pub(super) fn new(seed: Kin, pollen: PollenKin) -> Self {
        let selfed =
            matches!((&seed, &pollen), (Kin::One(a), PollenKin::From(Kin::One(b))) if a == b);
        Self { pollen: if selfed { PollenKin::Selfed } else { pollen }, seed }
    }

    /// The parents that a cross of the book names; `None` where nobody bears a key.
    pub(super) fn of(
        seed: &Parent,
        pollen: &Pollen,
        book: &Book,
        names: &Names<'_>,
    ) -> Option<Self> {
        let pollen = match pollen {
            Pollen::Selfed => PollenKin::Selfed,
            Pollen::From(parent) => PollenKin::From(Kin::of(parent, book, names)?),
        };
        Some(Self::new(Kin::of(seed, book, names)?, pollen))
    }

    pub(super) fn mark(&self) -> Mark {
        let pollen = match &self.pollen {
            PollenKin::Selfed => None,
            PollenKin::From(kin) => Some(kin.mark()),
        };
        (self.seed.mark(), pollen)
    }

    pub(super) fn to_pollen(&self, names: &Names<'_>) -> Pollen {
        match &self.pollen {
            PollenKin::Selfed => Pollen::Selfed,
            PollenKin::From(kin) => Pollen::From(kin.to_parent(names)),
        }
    }

    /// Whether the pollen is known to be from one plant.
    pub(super) fn pollen_known(&self) -> bool {
        matches!(self.pollen, PollenKin::Selfed | PollenKin::From(Kin::One(_)))
    }
}

/// Looks the parent in a cell up. Whom nobody knows is added as a variety.
pub(super) fn look_up(
    text: &ParentText<'_>,
    at: At,
    names: &mut Names<'_>,
    faults: &mut Faults<'_>,
) -> Option<PollenKin> {
    let list = match text {
        ParentText::Unknown => return Some(PollenKin::From(Kin::Unknown)),
        ParentText::Selfed => return Some(PollenKin::Selfed),
        ParentText::OneOf(list) => list,
    };
    let mut kin: Vec<(Who, f64)> = Vec::with_capacity(list.len());
    for &(name, weight) in list {
        let who = match names.look_up(name) {
            Looked::One(who) => who,
            Looked::Nobody => names.add_parent(name),
            other => {
                nobody_certain(name, &other, at, names, faults);
                return None;
            }
        };
        if names.sort(who) == Sort::NewParent {
            names.spell(who, name);
        }
        if kin.iter().any(|(other, _)| *other == who) {
            faults.add(
                at,
                format!("{name} stands twice among the candidates."),
                "Name each candidate once.",
            );
            return None;
        }
        kin.push((who, weight));
    }
    Some(PollenKin::From(match kin[..] {
        [(who, weight)] if weight >= 1.0 => Kin::One(who),
        _ => Kin::Several(kin),
    }))
}

/// The fault of a word that means no plant for certain: several, or a key that nobody has.
pub(super) fn nobody_certain(
    word: &str,
    looked: &Looked,
    at: At,
    names: &Names<'_>,
    faults: &mut Faults<'_>,
) {
    let word = shown(word);
    if let Looked::Several(all) = looked {
        let all: Vec<String> = all.iter().map(|&who| names.unmistakable(who)).collect();
        faults.add(
            at,
            format!("\"{word}\" fits several plants."),
            format!("Write the one that is meant: {} …", all.join(", ")),
        );
    } else {
        faults.add(
            at,
            format!("No plant of the book has the key in \"{word}\" here."),
            "Write its number or name, or the key as it stands in the book after id:.",
        );
    }
}
