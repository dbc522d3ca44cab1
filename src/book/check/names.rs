//! Keys, numbers, codes and names: each has to say who is meant.

use hashbrown::{HashMap, hash_map::Entry};

use super::{
    super::{Book, Place, PlantId, PlantRecord, fold},
    Found, Owner,
};

pub(super) fn check(book: &Book, found: &mut Found) {
    for id in book.plants() {
        check_key(book, id, found);
    }
    check_codes(book, found);
    check_names(book, found);
}

fn place_of(book: &Book, id: PlantId) -> Place {
    match (book.plant(id), book.cross_of(id)) {
        (PlantRecord::Seedling(cross, _), Some(of)) => {
            let first = book.family(of).next().map_or(0, PlantId::index);
            Owner::Seedling(&cross.code, id.index() - first).place()
        }
        (plant, _) => Owner::Variety(plant.key()).place(),
    }
}

fn check_key(book: &Book, id: PlantId, found: &mut Found) {
    let plant = book.plant(id);
    let key = plant.key();
    if key.is_empty() {
        found.error(
            place_of(book, id),
            "This plant has neither a number nor an id.".to_owned(),
            "Give it one, so that others can refer to it.",
        );
        return;
    }
    let Some(first) = book.by_key(key).filter(|&first| first != id) else { return };
    let other = match book.plant(first) {
        PlantRecord::Variety(_) => "a variety".to_owned(),
        PlantRecord::Seedling(cross, _) => format!("a seedling of the cross \"{}\"", cross.code),
    };
    let hint = match plant {
        PlantRecord::Variety(_) => format!("Give one of the two another id than \"{key}\"."),
        PlantRecord::Seedling(cross, _) => format!(
            "If they are two plants, give this one an id of its own, such as id: \"{key} of {}\".",
            cross.code
        ),
    };
    found.error(
        place_of(book, id),
        format!("There is another plant called \"{key}\" already, {other}."),
        hint,
    );
}

fn check_codes(book: &Book, found: &mut Found) {
    let mut crosses = HashMap::new();
    let mut lots: HashMap<&str, &str> = HashMap::new();
    for cross in book.crosses() {
        let at = || Place::Cross(cross.code.clone()).field("code");
        if cross.code.is_empty() {
            found.error(at(), "This cross has no code.".to_owned(), "Give it one.");
        } else if crosses.insert(&*cross.code, ()).is_some() {
            found.error(
                at(),
                format!("There is another cross with the code \"{}\" already.", cross.code),
                "Give one of the two another code.",
            );
        }
        for (n, lot) in cross.lots.iter().enumerate() {
            match lots.entry(&*lot.code) {
                Entry::Vacant(free) => {
                    free.insert(&*cross.code);
                }
                Entry::Occupied(taken) => found.error(
                    Owner::Lot(&cross.code, n).place(),
                    format!(
                        "There is another packet with the code \"{}\" already, of the cross \
                         \"{}\".",
                        lot.code,
                        taken.get()
                    ),
                    "Give one of the two another code.",
                ),
            }
        }
    }
}

/// Two plants of one name are mostly one plant written down twice.
fn check_names(book: &Book, found: &mut Found) {
    let mut names = HashMap::new();
    for id in book.plants() {
        let plant = book.plant(id);
        let name = match plant {
            PlantRecord::Variety(variety) => Some(&*variety.name),
            PlantRecord::Seedling(_, seedling) => seedling.name(),
        };
        let Some(name) = name.filter(|name| !name.is_empty()) else { continue };
        match names.entry(fold(name)) {
            Entry::Vacant(free) => {
                free.insert(plant.key());
            }
            Entry::Occupied(taken) => found.warning(
                place_of(book, id),
                format!("Both this plant and \"{}\" are named {name} here.", taken.get()),
                "A seedling that was named needs no variety beside it: one plant, one record.",
            ),
        }
    }
}
