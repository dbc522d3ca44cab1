//! Parents: whether anybody bears their key, and whether they can have been parents then.

use super::{
    super::{Book, Cross, Found as Answer, Life, Parent, Place, PlantRecord, Pollen, When, find},
    Found,
};

/// Near names are looked for at most so many times: each look goes over every plant.
const MOST_LOOKS: usize = 50;

pub(super) fn check(book: &Book, is_elsewhere: &dyn Fn(&str) -> bool, found: &mut Found) {
    let mut sides = Sides { book, is_elsewhere, n_looks: 0, found };
    for variety in book.varieties() {
        let at = || Place::Variety(variety.id.clone(), None);
        sides.check(&variety.seed, "seed", at);
        sides.check(&variety.pollen, "pollen", at);
    }
    for cross in book.crosses() {
        let at = || Place::Cross(cross.code.clone());
        sides.check(&cross.seed, "seed", at);
        if let Pollen::From(parent) = &cross.pollen {
            sides.check(parent, "pollen", at);
        }
        check_selfing(cross, sides.found);
        check_time(book, cross, &cross.seed, "seed", sides.found);
        if let Pollen::From(parent) = &cross.pollen {
            check_time(book, cross, parent, "pollen", sides.found);
        }
    }
}

struct Sides<'a> {
    book: &'a Book,
    is_elsewhere: &'a dyn Fn(&str) -> bool,
    n_looks: usize,
    found: &'a mut Found,
}

impl Sides<'_> {
    fn check(&mut self, parent: &Parent, side: &'static str, at: impl Fn() -> Place) {
        for (n, (key, _)) in parent.candidates().enumerate() {
            let at = || match parent {
                Parent::OneOf(_) => at().item(side, n),
                _ => at().field(side),
            };
            if self.book.by_key(key).is_none() && !(self.is_elsewhere)(key) {
                let hint = self.way_out(key);
                self.found.error(
                    at(),
                    format!("The {side} parent \"{key}\" is nobody in this book."),
                    hint,
                );
            }
            if parent.candidates().take(n).any(|(other, _)| other == key) {
                self.found.warning(
                    at(),
                    format!("The candidate \"{key}\" is named twice."),
                    "Take one of the two out, and give the other both weights.",
                );
            }
        }
        if matches!(parent, Parent::OneOf(list) if list.is_empty()) {
            self.found.warning(
                at().field(side),
                "This list of candidates is empty.".to_owned(),
                "Write Unknown if nobody knows the parent.",
            );
        }
    }

    /// Who may have been meant by a key that nobody bears.
    fn way_out(&mut self, key: &str) -> String {
        self.n_looks += 1;
        let otherwise = "add it as a variety, or write Unknown";
        if self.n_looks > MOST_LOOKS {
            return format!("Write the id of a variety or the number of a seedling, {otherwise}.");
        }
        let key_of = |id| self.book.plant(id).key();
        match find(self.book, key) {
            Answer::One(id) => format!("Write \"{}\", by which others refer to it.", key_of(id)),
            Answer::Several(ids) => {
                let keys: Vec<String> =
                    ids.into_iter().map(|id| format!("\"{}\"", key_of(id))).collect();
                format!("Write which of these is meant: {}.", keys.join(", "))
            }
            Answer::None { near } => match near.first().map(|near| (near, find(self.book, near))) {
                Some((near, Answer::One(id))) if key_of(id) != near => {
                    format!("Did you mean {near}? Then write \"{}\".", key_of(id))
                }
                Some((near, _)) => format!("Did you mean \"{near}\"? Otherwise {otherwise}."),
                None => format!("Look how it is written, {otherwise}."),
            },
        }
    }
}

fn check_selfing(cross: &Cross, found: &mut Found) {
    if let (Parent::Known(seed), Pollen::From(Parent::Known(pollen))) = (&cross.seed, &cross.pollen)
        && seed == pollen
    {
        found.warning(
            Place::Cross(cross.code.clone()).field("pollen"),
            format!("The seed parent and the pollen parent are both \"{seed}\"."),
            "If it was pollinated with itself, write Selfed as its pollen; if not, one is wrong.",
        );
    }
}

/// Whether a parent can have been one in the season of the cross.
fn check_time(book: &Book, cross: &Cross, parent: &Parent, side: &'static str, found: &mut Found) {
    let (Some(season), Some(plant)) =
        (cross.season, parent.known().and_then(|key| book.by_key(key)))
    else {
        return;
    };
    let plant = book.plant(plant);
    let at = || Place::Cross(cross.code.clone()).field(side);
    if let PlantRecord::Seedling(of, _) = plant
        && of.season.is_some_and(|raised| raised > season)
    {
        found.error(
            at(),
            format!(
                "The {side} parent \"{}\" comes of the cross \"{}\", which was made later than \
                 this one.",
                plant.key(),
                of.code
            ),
            "Look whether the season of one of the two is wrong, or the parent.",
        );
    }
    if let Some((lost, _)) = Life::of(plant.diary()).lost
        && lost.last() < When::year(season).first()
    {
        found.warning(
            at(),
            format!(
                "The {side} parent \"{}\" was lost on {lost}, before this cross was made in \
                 {season}.",
                plant.key()
            ),
            "Look whether the season, the parent or the loss is wrong.",
        );
    }
}
