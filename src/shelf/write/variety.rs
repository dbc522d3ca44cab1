//! A variety as text.

use super::{diary::entry, ron::Sheet};
use crate::book::{Parent, Variety};

/// The content of a variety's file.
pub(in super::super) fn variety<'a>(variety: &'a Variety) -> String {
    let known = |parent: &'a Parent| Some(parent).filter(|parent| **parent != Parent::Unknown);
    let colours = Some(&variety.colours[..]).filter(|colours| !colours.is_empty());
    let mut sheet = Sheet::new();
    sheet
        .put("id", &variety.id)
        .put("name", &variety.name)
        .some("seed", known(&variety.seed))
        .some("pollen", known(&variety.pollen))
        .some("raiser", variety.raiser.as_ref())
        .some("year", variety.year.as_ref())
        .some("group", variety.group.as_ref())
        .some("bloom_mm", variety.bloom_mm.as_ref())
        .some("height_cm", variety.height_cm.as_ref())
        .some("colours", colours)
        .some("gives_seed", variety.gives_seed.as_ref())
        .some("gives_pollen", variety.gives_pollen.as_ref())
        .some("note", variety.note.as_ref())
        .lines("diary", variety.diary.iter(), entry);
    sheet.close()
}
