//! Plants named in a form: who is meant, and what is odd about them as parents.

use super::{Unfit, filled::Sheet};
use crate::book::{
    Book, Candidate, Cross, Fault, Found, Parent, Place, PlantId, PlantRecord, Pollen, Severity,
    find, fold,
};

impl Sheet<'_> {
    /// The plant that a field means.
    pub(super) fn plant(&self, field: &'static str) -> Result<PlantId, Unfit> {
        plant(self.book, field, self.needed(field)?)
    }
}

fn plant(book: &Book, field: &'static str, word: &str) -> Result<PlantId, Unfit> {
    match find(book, word) {
        Found::One(plant) => Ok(plant),
        Found::Several(plants) => {
            let ids: Vec<String> = plants
                .iter()
                .take(8)
                .map(|&plant| format!("id:{}", book.plant(plant).key()))
                .collect();
            Err(Sheet::unfit(
                field,
                format!("\"{word}\" fits {} plants.", plants.len()),
                format!("Write which: {}.", ids.join(", ")),
            ))
        }
        Found::None { near } => {
            let hint = if near.is_empty() {
                "Write its number, its name or its id; a variety that is new is taken in first."
                    .to_owned()
            } else {
                format!("Did you mean {}?", near.join(", or "))
            };
            Err(Sheet::unfit(field, format!("Nobody in this book is called \"{word}\"."), hint))
        }
    }
}

/// The parent that a field means; unknown where it is empty.
pub(super) fn parent(sheet: &Sheet<'_>, field: &'static str) -> Result<Parent, Unfit> {
    let Some(content) = sheet.get(field) else { return Ok(Parent::Unknown) };
    let words: Vec<&str> = content.split('|').map(str::trim).filter(|w| !w.is_empty()).collect();
    let key = |word: &str| {
        let plant = plant(sheet.book, field, word)?;
        Ok::<Box<str>, Unfit>(sheet.book.plant(plant).key().into())
    };
    match &words[..] {
        [] | ["?"] => Ok(Parent::Unknown),
        [one] => key(one).map(Parent::Known),
        several => {
            let weight = 1.0 / several.iter().map(|_| 1.0).sum::<f64>();
            let known = several.iter().filter(|word| **word != "?");
            let candidates = known.map(|word| Ok(Candidate { key: key(word)?, weight }));
            candidates.collect::<Result<_, Unfit>>().map(Parent::OneOf)
        }
    }
}

/// The pollen parent that a field means: the seed parent itself where it says so or names it.
pub(super) fn pollen(
    sheet: &Sheet<'_>,
    field: &'static str,
    seed: &Parent,
) -> Result<Pollen, Unfit> {
    let is_selfed = sheet.get(field).is_some_and(|word| ["self", "selfed"].contains(&&*fold(word)));
    if is_selfed {
        return Ok(Pollen::Selfed);
    }
    let pollen = parent(sheet, field)?;
    let is_same = seed.known().is_some() && seed == &pollen;
    Ok(if is_same { Pollen::Selfed } else { Pollen::From(pollen) })
}

/// What is odd about the parents of a new cross: one that sets no seed or gives no pollen, and
/// a selfing.
pub(super) fn doubts(book: &Book, cross: &Cross) -> Vec<Fault> {
    let variety = |parent: &Parent| match book.plant(book.by_key(parent.known()?)?) {
        PlantRecord::Variety(variety) => Some(variety.clone()),
        PlantRecord::Seedling(..) => None,
    };
    let odd = |field, message: String, hint: &str| Fault {
        at: Place::Cross(cross.code.clone()).field(field),
        severity: Severity::Warning,
        message,
        hint: hint.to_owned(),
    };
    let mut found = Vec::new();
    if let Some(seed) = variety(&cross.seed).filter(|seed| seed.gives_seed == Some(false)) {
        let message = format!("{} sets no seed, as far as is known.", seed.name);
        found.push(odd("seed", message, "If it does after all, write so in its record."));
    }
    let pollen = variety(cross.pollen_parent());
    if let Some(pollen) = pollen.filter(|pollen| pollen.gives_pollen == Some(false)) {
        let message = format!("{} gives no pollen, as far as is known.", pollen.name);
        found.push(odd("pollen", message, "If it does after all, write so in its record."));
    }
    if cross.pollen == Pollen::Selfed {
        let mut cautions = book.crop().cautions.iter();
        let caution = cautions.find(|c| c.at.iter().any(|at| &**at == "selfed"));
        let hint = caution.map_or("Look whether it is meant so.", |caution| &caution.says);
        found.push(odd("pollen", "This is a selfing.".to_owned(), hint));
    }
    found
}
