//! What can happen to a cross: heads pollinated, packets filled, plants numbered and planted.

use super::{
    Field, Form, Kind, Make, Of, Unfit,
    filled::Sheet,
    only,
    run::{self, NUMBER_FIELDS_OF_CROSS, PLANT_OUT_FIELDS, cross_at},
};
use crate::book::{
    Book, Change, Cross, Entry, Father, Head, HeadDeed, HeadState, Lot, Part, Spot, Step, When,
    enter::{self, Entered},
    fit_line, lot_letters,
};

const fn form(
    word: &'static str,
    says: &'static str,
    fields: &'static [Field],
    make: fn(&Sheet<'_>) -> Result<Entered, Unfit>,
) -> Form {
    Form { of: Of::Cross, word, says, fields, make: Make::Own(make) }
}

/// The words for the fathers of a packet.
const FATHERS: &[&str] = &["one", "each"];

/// More heads in one go are a slip of the finger.
const MOST_HEADS: usize = 500;

pub(super) const FORMS: &[Form] = &[
    form(
        "head",
        "heads of it pollinated",
        &[
            Field::may("heads", Kind::Count, "how many; empty is as many as there are tags")
                .behind(),
            Field::may("tag", Kind::Text, "what is on the tag; several with commas between"),
        ],
        heads,
    ),
    form(
        "packet",
        "a packet filled",
        &[
            Field::may("seeds", Kind::Count, "seeds in it; empty if not counted").behind(),
            Field::may("code", Kind::Text, "its code; empty is the next one"),
            Field::may("father", Kind::Choice(FATHERS), "one father for all, or each its own"),
        ],
        packet,
    ),
    form("number", "its plants get their numbers", &NUMBER_FIELDS_OF_CROSS, run::number),
    form("plant-out", "its plants planted out along the rows", &PLANT_OUT_FIELDS, run::plant_out),
    form("note", "a remark", &[Field::must("text", Kind::Text, "the remark").behind()], remark),
];

/// Heads pollinated on a day, with their tags.
pub(super) fn pollinated(sheet: &Sheet<'_>) -> Result<Vec<Head>, Unfit> {
    let tags = sheet.words("tag");
    let n = sheet.count("heads")?.unwrap_or(tags.len());
    if n > MOST_HEADS || n < tags.len() {
        return Err(Sheet::unfit(
            "heads",
            format!("{n} heads with {} tags cannot be.", tags.len()),
            format!("Write a number up to {MOST_HEADS}, and no more tags than heads."),
        ));
    }
    let diary = vec![Entry { on: sheet.filled.on, did: HeadDeed::Pollinated }];
    let tags = tags.into_iter().map(Some).chain(std::iter::repeat(None));
    Ok(tags.take(n).map(|tag| Head { tag, diary: diary.clone() }).collect())
}

fn heads(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let spot = only(sheet)?;
    let cross = cross_at(sheet, spot)?;
    let mut heads = pollinated(sheet)?;
    if heads.is_empty() {
        let diary = vec![Entry { on: sheet.filled.on, did: HeadDeed::Pollinated }];
        heads.push(Head { tag: None, diary });
    }
    for tag in heads.iter().filter_map(|head| head.tag.as_ref()) {
        let n_same = heads.iter().filter(|head| head.tag.as_ref() == Some(tag)).count();
        if n_same > 1 || cross.heads.iter().any(|head| head.tag.as_ref() == Some(tag)) {
            let hint = "Write another tag; two heads of a cross could not be told apart.";
            return Err(Sheet::unfit("tag", format!("The tag \"{tag}\" is in use."), hint));
        }
    }
    let tags: Vec<&str> = heads.iter().filter_map(|head| head.tag.as_deref()).collect();
    let tags = if tags.is_empty() { String::new() } else { format!(", tag {}", tags.join(", ")) };
    let n = super::words::many(u32::try_from(heads.len()).unwrap_or(u32::MAX), "head");
    let day = super::words::day(sheet.filled.on);
    let what = format!("{}: {n} pollinated{tags}, {day}", cross.code);
    let steps = heads.into_iter().enumerate().map(|(i, head)| Step {
        spot: Spot::Head(cross.code.clone(), cross.heads.len() + i),
        before: None,
        after: Some(Part::Head(head)),
    });
    Ok(enter::look_over(sheet.book, Change::new(what, steps.collect()), sheet.today)?)
}

fn packet(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let cross = cross_at(sheet, only(sheet)?)?;
    let code = sheet.get("code").map_or_else(|| next_packet(sheet.book, cross), fit_line);
    let father = sheet.choice("father", FATHERS)?;
    let lot = Lot {
        code,
        father: father.map(|word| if word == "one" { Father::One } else { Father::Each }),
        seeds: sheet.count("seeds")?,
        diary: Vec::new(),
    };
    Ok(enter::lot(sheet.book, &cross.code, lot, sheet.today)?)
}

/// The next code of a packet.
pub(super) fn next_packet(book: &Book, cross: &Cross) -> Box<str> {
    let codes = (cross.lots.len()..).map(|n| format!("{}-{}", cross.code, lot_letters(n)));
    let mut free =
        codes.filter(|code| book.crosses().iter().all(|other| other.lot(code).is_none()));
    free.next().unwrap_or_default().into()
}

/// Seeds threshed that are in no packet yet.
pub(super) fn unpacked(cross: &Cross) -> u32 {
    let threshed = cross.heads.iter().map(|head| match head.state() {
        HeadState::Ripe(seeds) => seeds,
        _ => 0,
    });
    let packed = cross.lots.iter().filter_map(|lot| lot.seeds).fold(0, u32::saturating_add);
    threshed.fold(0, u32::saturating_add).saturating_sub(packed)
}

fn remark(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let spot = only(sheet)?;
    let cross = cross_at(sheet, spot)?;
    let text = sheet.needed_note("text")?;
    let said = dated(sheet.filled.on, &text);
    let before = Part::cover(cross);
    let mut after = before.clone();
    if let Part::Cross(cover) = &mut after {
        cover.note = Some(match cover.note.take() {
            Some(note) => format!("{note}; {said}").into(),
            None => said.into(),
        });
    }
    let what = format!("{}: {text}", cross.code);
    let step = Step { spot: spot.clone(), before: Some(before), after: Some(after) };
    Ok(enter::look_over(sheet.book, Change::new(what, vec![step]), sheet.today)?)
}

/// A cross has one remark and no diary, so each addition says its day.
fn dated(on: When, text: &str) -> String {
    format!("{on}: {text}")
}
