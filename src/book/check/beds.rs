//! Positions: one plant at one place, and places that the beds have.

use hashbrown::{HashMap, hash_map::Entry};

use super::{
    super::{Book, Life, PlantDeed, Position, Season, When},
    Found, Plant, did_you_mean, plants,
};

pub(super) fn check(book: &Book, found: &mut Found) {
    let mut taken: HashMap<(&Position, Season), (&str, Option<When>)> = HashMap::new();
    for Plant { owner, label, diary } in plants(book) {
        let life = Life::of(diary);
        let gone = life.lost.map(|(on, _)| on);
        for (n, entry) in diary.iter().enumerate() {
            let PlantDeed::Planted(Some(position)) = &entry.did else { continue };
            check_bed(book, position, || owner.at_entry(n), found);
            match taken.entry((position, entry.on.season())) {
                Entry::Vacant(free) => {
                    free.insert((label, gone));
                }
                Entry::Occupied(mut there) => {
                    let (other, other_gone) = *there.get();
                    // A place is free again once its plant is lost.
                    let was_free = other_gone.is_some_and(|gone| gone.first() <= entry.on.last());
                    if other != label && !was_free {
                        found.warning(
                            owner.at_entry(n),
                            format!(
                                "{other} was planted at {position} too in {}.",
                                entry.on.season()
                            ),
                            "Look whether one of the two stands elsewhere.",
                        );
                    }
                    there.insert((label, gone));
                }
            }
        }
    }
}

fn check_bed(book: &Book, position: &Position, at: impl Fn() -> super::Place, found: &mut Found) {
    let beds = &book.about().beds;
    if beds.is_empty() {
        return;
    }
    match beds.iter().find(|bed| bed.name == position.bed) {
        None => found.warning(
            at(),
            format!("There is no bed \"{}\" on the first page of the book.", position.bed),
            format!(
                "{}Write it the same in both places, or add the bed.",
                did_you_mean(&position.bed, beds.iter().map(|bed| &*bed.name))
            ),
        ),
        Some(bed) if position.row > bed.rows || position.place > bed.places => found.warning(
            at(),
            format!(
                "The bed \"{}\" has {} rows of {} places, so there is no {position} in it.",
                bed.name, bed.rows, bed.places
            ),
            "Look whether the position is right, or make the bed larger in book.ron.",
        ),
        Some(_) => {}
    }
}
