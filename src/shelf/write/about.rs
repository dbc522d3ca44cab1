//! The first page of a book as text.

use super::{
    diary::entry,
    ron::{Fields, Ron, Sheet},
};
use crate::book::{About, Aim, Bed, Frost, Patterns, Want};

/// The content of `book.ron`.
pub(in super::super) fn about(about: &About) -> String {
    let mut sheet = Sheet::new();
    sheet
        .put("garden", &about.garden)
        .some("raiser", about.raiser.as_ref())
        .put("crop", &about.crop)
        .some("ploidy", about.ploidy.as_ref())
        .some("double_reduction", about.double_reduction.as_ref())
        .some("sizes", about.sizes.as_ref())
        .some("today", about.today.as_ref())
        .lines("beds", about.beds.iter(), bed)
        .lines("frosts", about.frosts.iter(), frost)
        .lines("aims", about.aims.iter(), aim)
        .with("patterns", |out| patterns(out, &about.patterns))
        .some("note", about.note.as_ref())
        .lines("diary", about.diary.iter(), entry);
    sheet.close()
}

fn bed(out: &mut String, bed: &Bed) {
    let mut fields = Fields::open(out, "");
    fields.put("name", &bed.name).put("rows", &bed.rows).put("places", &bed.places);
    fields.close();
}

fn frost(out: &mut String, frost: &Frost) {
    let mut fields = Fields::open(out, "");
    fields
        .put("season", &frost.season)
        .some("last", frost.last.as_ref())
        .some("first", frost.first.as_ref());
    fields.close();
}

fn aim(out: &mut String, aim: &Aim) {
    let mut fields = Fields::open(out, "");
    fields.put("of", &aim.of).put("want", &aim.want).put("weight", &aim.weight);
    fields.close();
}

fn patterns(out: &mut String, patterns: &Patterns) {
    let mut fields = Fields::open(out, "");
    fields.put("cross", &patterns.cross).put("seedling", &patterns.seedling);
    fields.close();
}

impl Ron for Want {
    fn ron(&self, out: &mut String) {
        match self {
            Self::More => out.push_str("More"),
            Self::Less => out.push_str("Less"),
            Self::Between(low, high) => {
                out.push_str("Between");
                (*low, *high).ron(out);
            }
        }
    }
}
