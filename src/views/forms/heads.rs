//! What can happen to a pollinated head.

use super::{Field, Form, Kind, Make, Of, Unfit, filled::Sheet, note, only, words};
use crate::book::{
    Change, HeadDeed, Part, Step,
    enter::{self, Entered, Refused},
};

const fn form(
    word: &'static str,
    says: &'static str,
    fields: &'static [Field],
    make: fn(&Sheet<'_>) -> Result<Entered, Unfit>,
) -> Form {
    Form { of: Of::Head, word, says, fields, make: Make::Entry(make) }
}

pub(super) const FORMS: &[Form] = &[
    form("cut", "cut from the plant", &[], |s| write(s, HeadDeed::Cut)),
    form("in-water", "stood in water to ripen", &[], |s| write(s, HeadDeed::InWater)),
    form("hung", "hung up to dry", &[], |s| write(s, HeadDeed::Hung)),
    form(
        "threshed",
        "rubbed out and counted",
        &[Field::must("seeds", Kind::Count, "good seeds found; 0 is an empty pod").behind()],
        |s| write(s, HeadDeed::Threshed { seeds: s.needed_count("seeds")? }),
    ),
    form("rotted", "rotted before it was ripe", &[], |s| write(s, HeadDeed::Rotted)),
    form(
        "lost",
        "snapped, eaten, blown away",
        &[Field::must("cause", Kind::Text, "the cause").behind()],
        |s| write(s, HeadDeed::Lost(s.needed_text("cause")?)),
    ),
    Form {
        of: Of::Head,
        word: "tagged",
        says: "given a tag, or another one",
        fields: &[Field::must("tag", Kind::Text, "what is written on the tag").behind()],
        make: Make::Own(tagged),
    },
    form("pollinated", "pollen put on", &[], |s| write(s, HeadDeed::Pollinated)),
    form("note", "a remark", &[Field::must("text", Kind::Text, "the remark").behind()], |s| {
        write(s, HeadDeed::Note(s.needed_note("text")?))
    }),
];

fn write(sheet: &Sheet<'_>, did: HeadDeed) -> Result<Entered, Unfit> {
    let said = words::head_deed(&did);
    note(sheet, did, &said)
}

fn tagged(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let spot = only(sheet)?;
    let Some(Part::Head(before)) = sheet.book.part(spot) else {
        return Err(Refused::Gone(spot.clone()).into());
    };
    let tag = sheet.needed_text("tag")?;
    let heads = spot.cross().and_then(|code| sheet.book.cross_with(code)).map(|c| &*c.heads);
    if heads.unwrap_or_default().iter().any(|head| head.tag.as_ref() == Some(&tag)) {
        return Err(Refused::Taken { what: "head", key: tag }.into());
    }
    let what = format!("{}: tagged {tag}", super::name(sheet.book, spot));
    let mut after = before.clone();
    after.tag = Some(tag);
    let step = Step {
        spot: spot.clone(),
        before: Some(Part::Head(before)),
        after: Some(Part::Head(after)),
    };
    Ok(enter::look_over(sheet.book, Change::new(what, vec![step]), sheet.today)?)
}
