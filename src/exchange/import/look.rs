//! What somebody saw, from the columns that say it.

use super::{column::Column, compare::Compare, remarks::Remarks, row::Told};
use crate::book::{Crop, Look, Trait};

/// The look that a row tells of, in the words of the crop file where it has them. `None` where
/// nothing was seen.
pub(super) fn look_of(
    told: &Told<'_, '_>,
    crop: &Crop,
    traits: &[Box<str>],
    remarks: &mut Remarks,
) -> Option<Look> {
    let look = Look {
        who: told.boxed(Column::Who),
        bloom_mm: size_of(told, Column::BloomMm, crop, remarks),
        height_cm: size_of(told, Column::HeightCm, crop, remarks),
        group: group_of(told, crop, remarks),
        colours: colours_of(told, crop, remarks),
        scores: scores_of(told, crop, traits, remarks),
        faults: faults_of(told, crop),
        note: told.boxed(Column::Note),
        photo: None,
    };
    let nothing = Look { who: look.who.clone(), ..Look::default() };
    (look != nothing).then_some(look)
}

/// A measurement; one that is larger than any known is taken, with a remark.
pub(super) fn size_of(
    told: &Told<'_, '_>,
    column: Column,
    crop: &Crop,
    remarks: &mut Remarks,
) -> Option<f64> {
    let size = told.number(column)?;
    let (most, what) = match column {
        Column::BloomMm => (crop.largest_bloom_mm, "A bloom larger than any known, in mm"),
        _ => (crop.tallest_cm, "A plant taller than any known, in cm"),
    };
    if most > 0.0 && size > most {
        remarks.add(&format!("{what}; look whether it is right"), told.at(column));
    }
    Some(size)
}

/// The code of the flower group, from its code or its name.
pub(super) fn group_of(
    told: &Told<'_, '_>,
    crop: &Crop,
    remarks: &mut Remarks,
) -> Option<Box<str>> {
    let written = told.text(Column::Group)?;
    let by_name = || crop.groups.iter().find(|g| g.name.eq_ignore_ascii_case(written));
    if let Some(group) = crop.group(written).or_else(by_name) {
        return Some(group.code.clone());
    }
    let what = "The crop file has no such flower group; kept as written";
    remarks.add(what, told.at(Column::Group));
    Some(written.into())
}

/// Colour words, the main one first.
pub(super) fn colours_of(told: &Told<'_, '_>, crop: &Crop, remarks: &mut Remarks) -> Vec<Box<str>> {
    let mut colours = told.list(Column::Colours);
    let mut strange = false;
    for word in &mut colours {
        match crop.colour(word) {
            Some(colour) => *word = colour.word.clone(),
            None => strange = true,
        }
    }
    if strange {
        let what = "The crop file has no such colour word; kept as written";
        remarks.add(what, told.at(Column::Colours));
    }
    colours
}

fn faults_of(told: &Told<'_, '_>, crop: &Crop) -> Vec<Box<str>> {
    let known = |word: &str| crop.faults.iter().find(|fault| fault.eq_ignore_ascii_case(word));
    told.list(Column::Faults)
        .into_iter()
        .map(|word| known(&word).cloned().unwrap_or(word))
        .collect()
}

fn scores_of(
    told: &Told<'_, '_>,
    crop: &Crop,
    traits: &[Box<str>],
    remarks: &mut Remarks,
) -> Vec<(Box<str>, f64)> {
    let mut scores = Vec::new();
    for cell in told.cells() {
        let Column::Score(n) = cell.column else { continue };
        let Some(name) = traits.get(usize::from(n)) else { continue };
        let Some(score) = told.number(cell.column) else { continue };
        match crop.scored(name) {
            None => remarks
                .add(&format!("The crop file has no trait {name}; its scores are kept"), cell.at),
            Some(Trait { low, high, .. }) if !(*low..=*high).contains(&score) => {
                let scale = format!("{low} to {high}");
                let what =
                    format!("A score for {name} off its scale, {scale}; look whether it is right");
                remarks.add(&what, cell.at);
            }
            Some(_) => {}
        }
        scores.push((name.clone(), score));
    }
    // By name, since the columns of several files have no common order.
    scores.sort_by(|a, b| a.0.cmp(&b.0));
    scores
}

/// Compares what one look tells with another of the same plant, and takes in what is more.
pub(super) fn compare(known: &mut Look, told: &Look) -> Compare {
    let mut compare = Compare::default();
    compare.field("bloom_mm", &mut known.bloom_mm, told.bloom_mm.as_ref());
    compare.field("height_cm", &mut known.height_cm, told.height_cm.as_ref());
    compare.text("group", &mut known.group, told.group.as_deref());
    compare.words("colours", &mut known.colours, &told.colours);
    for (name, score) in &told.scores {
        let column = format!("score:{name}");
        let place = known.scores.iter_mut().find(|(other, _)| other.eq_ignore_ascii_case(name));
        let mut value = place.as_ref().map(|(_, score)| *score);
        compare.field(&column, &mut value, Some(score));
        if place.is_none() {
            known.scores.push((name.clone(), *score));
        }
    }
    compare.words("faults", &mut known.faults, &told.faults);
    compare.text("note", &mut known.note, told.note.as_deref());
    compare
}
