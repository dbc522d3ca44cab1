//! Who or what the shell's words mean.

use crate::book::{Book, CrossId, Found, PlantId, PlantRecord, find, find_cross};
use crate::views::Desk;

use super::failure::Failure;
use super::figures::pair_text;

/// Most plants that are listed where several fit.
const MOST_LISTED: usize = 20;

/// The plant that a word means.
pub(super) fn plant(desk: &Desk, word: &str) -> Result<PlantId, Failure> {
    match find(desk.book(), word) {
        Found::One(plant) => Ok(plant),
        Found::Several(plants) => Err(several(desk, word, &plants)),
        Found::None { near } => Err(nobody("nobody in this book is called", word, &near)),
    }
}

/// The cross that a word means.
pub(super) fn cross(book: &Book, word: &str) -> Result<CrossId, Failure> {
    match find_cross(book, word) {
        Found::One(cross) => Ok(cross),
        Found::Several(crosses) => {
            let list: Vec<&str> = crosses.iter().map(|&id| &*book.cross(id).code).collect();
            Err(Failure::Usage(
                format!("\"{word}\" fits several crosses."),
                format!("Say which, letter for letter: {}", list.join(", ")),
            ))
        }
        Found::None { near } => Err(nobody("no cross of this book is called", word, &near)),
    }
}

/// The plant or, failing that, the cross that a word means.
pub(super) fn plant_or_cross(desk: &Desk, word: &str) -> Result<Result<PlantId, CrossId>, Failure> {
    match (find(desk.book(), word), find_cross(desk.book(), word)) {
        (Found::None { .. }, Found::One(cross)) => Ok(Err(cross)),
        (Found::None { near }, Found::None { near: other }) => {
            let near: Vec<String> = near.into_iter().chain(other).collect();
            Err(nobody("no plant and no cross of this book is called", word, &near))
        }
        (Found::None { .. }, Found::Several(_)) => cross(desk.book(), word).map(Err),
        (Found::One(_) | Found::Several(_), _) => plant(desk, word).map(Ok),
    }
}

fn nobody(sentence: &str, word: &str, near: &[String]) -> Failure {
    let hint = if near.is_empty() {
        "A plant is called by its number, its name or its id; `trug crosses` lists the crosses."
            .to_owned()
    } else {
        format!("Did you mean {}?", near.join(", or "))
    };
    Failure::Usage(format!("{sentence} \"{word}\"."), hint)
}

fn several(desk: &Desk, word: &str, plants: &[PlantId]) -> Failure {
    let listed = plants.iter().take(MOST_LISTED).map(|&plant| {
        let record = desk.book().plant(plant);
        let what = match record {
            PlantRecord::Variety(_) => "a variety".to_owned(),
            PlantRecord::Seedling(cross, _) => {
                let (seed, pollen) = desk.parents(plant);
                format!("of cross {}, {}", cross.code, pair_text(desk, &seed, &pollen))
            }
        };
        format!("  id:{} is {}, {what}", record.key(), record.label())
    });
    let mut lines = vec!["Say which, as it stands here:".to_owned()];
    lines.extend(listed);
    if let Some(more @ 1..) = plants.len().checked_sub(MOST_LISTED) {
        lines.push(format!("  … and {more} more"));
    }
    Failure::Usage(format!("\"{word}\" fits {} plants.", plants.len()), lines.join("\n"))
}
