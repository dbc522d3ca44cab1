//! A cross as text.

use super::{
    diary::diary,
    ron::{Fields, Sheet, Word},
};
use crate::book::{By, Cross, Father, Head, Lot, Seedling, Totals, label_order};

/// The content of a cross's file, its seedlings in order of number.
pub(in super::super) fn cross(cross: &Cross) -> String {
    let mut seedlings: Vec<&Seedling> = cross.seedlings.iter().collect();
    seedlings.sort_by(|a, b| label_order(&a.number, &b.number));
    let by = match cross.by {
        By::Hand => "Hand",
        By::Bees => "Bees",
    };
    let mut sheet = Sheet::new();
    sheet
        .put("code", &cross.code)
        .some("season", cross.season.as_ref())
        .put("seed", &cross.seed)
        .put("pollen", &cross.pollen)
        .put("by", &Word(by))
        .some("from", cross.from.as_ref())
        .some("note", cross.note.as_ref())
        .lines("heads", cross.heads.iter(), head)
        .lines("lots", cross.lots.iter(), lot)
        .lines("seedlings", seedlings.into_iter(), seedling);
    if let Some(known) = &cross.totals {
        sheet.with("totals", |out| totals(out, known));
    }
    sheet.close()
}

pub(super) fn head(out: &mut String, head: &Head) {
    let mut fields = Fields::open(out, "");
    fields.some("tag", head.tag.as_ref());
    diary(&mut fields, 2, &head.diary);
    fields.close();
}

pub(super) fn lot(out: &mut String, lot: &Lot) {
    let father = lot.father.map(|father| {
        Word(match father {
            Father::One => "One",
            Father::Each => "Each",
        })
    });
    let mut fields = Fields::open(out, "");
    fields.put("code", &lot.code).some("father", father.as_ref()).some("seeds", lot.seeds.as_ref());
    diary(&mut fields, 2, &lot.diary);
    fields.close();
}

pub(super) fn seedling(out: &mut String, seedling: &Seedling) {
    let mut fields = Fields::open(out, "");
    fields
        .put("number", &seedling.number)
        .some("id", seedling.id.as_ref())
        .some("lot", seedling.lot.as_ref());
    diary(&mut fields, 2, &seedling.diary);
    fields.close();
}

fn totals(out: &mut String, totals: &Totals) {
    let mut fields = Fields::open(out, "");
    fields
        .some("heads", totals.heads.as_ref())
        .some("seeds", totals.seeds.as_ref())
        .some("sown", totals.sown.as_ref())
        .some("up", totals.up.as_ref())
        .some("planted", totals.planted.as_ref())
        .some("bloomed", totals.bloomed.as_ref())
        .some("judged", totals.judged.as_ref())
        .some("kept", totals.kept.as_ref())
        .some("judged_season", totals.judged_season.as_ref());
    fields.close();
}
