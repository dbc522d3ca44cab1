//! A variety's own fields.

use super::{
    column::Column,
    compare::{Came, Clash, Compare},
    deeds::{Known, Setting},
    diary::Deed,
    faults::At,
    look::{colours_of, group_of, size_of},
    remarks::Remarks,
    row::Told,
};
use crate::book::{Entry, Look, PlantDeed, Season, Variety, When};

/// Fills the fields of a variety that a row tells of; parents are not among them. On a clash the
/// variety is left as it was.
pub(super) fn fill(
    variety: &mut Variety,
    told: &Told<'_, '_>,
    setting: &Setting<'_>,
    remarks: &mut Remarks,
) -> Result<Came, Clash> {
    let mut filled = variety.clone();
    let mut compare = Compare::default();
    compare.text("raiser", &mut filled.raiser, told.text(Column::Raiser));
    compare.field("year", &mut filled.year, told.year(Column::Year).as_ref());
    let group = group_of(told, setting.crop, remarks);
    compare.text("group", &mut filled.group, group.as_deref());
    let mut size = |column| size_of(told, column, setting.crop, remarks);
    compare.field("bloom_mm", &mut filled.bloom_mm, size(Column::BloomMm).as_ref());
    compare.field("height_cm", &mut filled.height_cm, size(Column::HeightCm).as_ref());
    compare.words("colours", &mut filled.colours, &colours_of(told, setting.crop, remarks));
    for (what, known, column) in [
        ("gives_seed", &mut filled.gives_seed, Column::GivesSeed),
        ("gives_pollen", &mut filled.gives_pollen, Column::GivesPollen),
    ] {
        match (*known, told.yes(column)) {
            (Some(a), Some(b)) if a != b => compare.clash(what, yes(a), yes(b)),
            (None, Some(b)) => compare.field(what, known, Some(&b)),
            _ => {}
        }
    }
    compare.text("note", &mut filled.note, told.text(Column::Note));
    let came = compare.done()?;
    *variety = filled;
    Ok(came)
}

fn yes(yes: bool) -> &'static str {
    if yes { "yes" } else { "no" }
}

/// Notes what a row says of a variety that a seedling's record has no room for.
pub(super) fn remark_unkept(told: &Told<'_, '_>, remarks: &mut Remarks) {
    for (column, what) in [
        (Column::Raiser, "The raiser of a plant that is a seedling of the book; left out"),
        (Column::Year, "The year of a plant that is a seedling of the book; left out"),
        (Column::GivesSeed, "Whether a seedling of the book gives seed; left out"),
        (Column::GivesPollen, "Whether a seedling of the book gives pollen; left out"),
    ] {
        if let Some(cell) = told.cell(column) {
            remarks.add(what, cell.at);
        }
    }
}

/// What the record of a variety holds that can stand in the diary of the seedling that it was
/// found to be: its own diary, and its looks and remark dated by the season best known.
pub(super) fn into_deeds(
    variety: &Variety,
    known: Known,
    at: At,
    remarks: &mut Remarks,
) -> Vec<Deed> {
    let Variety { diary, raiser, year, gives_seed, gives_pollen, .. } = variety;
    if raiser.is_some() || year.is_some() || gives_seed.is_some() || gives_pollen.is_some() {
        remarks.add(
            "Raiser, year or whether it gives seed and pollen, of a variety found to be a seedling; \
             left out",
            at,
        );
    }
    let own = diary.iter().map(|Entry { on, did }| Deed {
        on: *on,
        assumed: false,
        did: did.clone(),
        at,
    });
    let season = known.season.or(known.crossed.map(Season::next)).or(year.map(Season));
    let look = Look {
        bloom_mm: variety.bloom_mm,
        height_cm: variety.height_cm,
        group: variety.group.clone(),
        colours: variety.colours.clone(),
        ..Look::default()
    };
    let seen = (look != Look::default()).then(|| PlantDeed::Look(Box::new(look)));
    let note = variety.note.clone().map(PlantDeed::Note);
    let undated = [seen, note].into_iter().flatten();
    let dated = season.into_iter().flat_map(|season| {
        let on = When::year(season);
        undated.clone().map(move |did| Deed { on, assumed: true, did, at })
    });
    if season.is_none() && undated.clone().next().is_some() {
        remarks.add("What was noted of a variety found to be a seedling has no date; left out", at);
    }
    own.chain(dated).collect()
}
