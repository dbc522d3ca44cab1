//! Lists of links: one line each, saying what something is to what the page is of, its name, and
//! where Enter goes.

use super::{
    page::Around,
    place::Place,
    said,
    widget::table::{Cell, Column},
};
use crate::book::{By, PlantId};
use crate::views::{Party, plant, words};

/// The columns of a list of links.
pub(super) const COLUMNS: &[Column] = &[
    Column::words("", 13, 16, 0),
    Column::words("", 12, 56, 0),
    Column::words("", 1, 1, 1),
    Column::words("", 8, 24, 2),
];

/// One line.
#[derive(Debug, Clone)]
pub(super) struct Link {
    /// What it is to what the page is of.
    pub(super) role: String,
    /// Its name.
    pub(super) name: String,
    /// A few words about it.
    pub(super) note: String,
    /// Where Enter goes; nowhere for what nobody knows.
    pub(super) place: Option<Place>,
}

/// Lines for one parent: one where it is known, one for each where it may be one of several.
pub(super) fn parent(around: &Around<'_>, role: &str, party: &Party, by: By) -> Vec<Link> {
    let plants: Vec<PlantId> = party.plants().collect();
    if plants.is_empty() {
        let name = said::party(around.desk, party, by);
        return vec![Link { role: role.to_owned(), name, note: String::new(), place: None }];
    }
    let is_sure = party.plant().is_some();
    let roles = (0..plants.len()).map(|i| match (is_sure, i) {
        (true, _) => role.to_owned(),
        (false, 0) => format!("{role}?"),
        (false, _) => "  or".to_owned(),
    });
    roles.zip(plants).map(|(role, id)| of_plant(around, role, id)).collect()
}

/// A line for a plant.
pub(super) fn of_plant(around: &Around<'_>, role: String, id: PlantId) -> Link {
    let desk = around.desk;
    let is_seedling = desk.book().cross_of(id).is_some();
    let note = if is_seedling { words::state(desk.brief(id).state) } else { "variety" };
    Link {
        role,
        name: desk.label(id).to_owned(),
        note: note.to_owned(),
        place: Some(Place::Plant(id)),
    }
}

/// A line for a pairing, with its record. Who its parents are stands on the lines before.
pub(super) fn of_pairing(around: &Around<'_>, at: usize) -> Option<Link> {
    let pairing = around.desk.pairings().get(at)?;
    let counts = pairing.counts;
    Some(Link {
        role: "pairing".to_owned(),
        name: format!("kept {}", said::of(counts.kept, counts.judged)),
        note: said::many(pairing.crosses.len(), "cross", "crosses"),
        place: Some(Place::Pairing(at)),
    })
}

/// The words of a line that a filter looks at.
pub(super) fn letters(link: &Link) -> String {
    format!("{} {} {}", link.role, link.name, link.note)
}

/// What stands in a line.
pub(super) fn cell<'a>(around: &Around<'a>, link: &Link, column: usize) -> Cell<'a> {
    match column {
        0 => Cell::quiet(link.role.clone()),
        1 if link.place.is_some() => Cell::text(link.name.clone()),
        1 => Cell::quiet(link.name.clone()),
        2 => match link.place {
            Some(Place::Plant(id)) => {
                let colour = plant::colours(around.desk, id).first().map(|word| &**word);
                Cell::Swatch(colour, around.desk.book().crop())
            }
            _ => Cell::Blank,
        },
        _ => Cell::quiet(link.note.clone()),
    }
}
