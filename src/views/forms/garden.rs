//! What happens in the garden that belongs to no plant, and what comes new into the book.

use super::{
    Field, Form, Kind, List, Make, Of, Unfit, family, filled::Sheet, only, parents, words,
};
use crate::book::{
    About, Book, By, Change, Codes, Cross, Entry, Frost, GardenDeed, Parent, Part, PlantDeed,
    Pollen, Season, Spot, Step, Variety,
    enter::{self, Entered, Refused},
    fit_line, slug,
};

const fn form(
    word: &'static str,
    says: &'static str,
    fields: &'static [Field],
    make: fn(&Sheet<'_>) -> Result<Entered, Unfit>,
) -> Form {
    Form { of: Of::Garden, word, says, fields, make: Make::Own(make) }
}

const HOW: &[&str] = &["hand", "bees"];
const YES: &[&str] = &["yes", "no"];

pub(super) const FORMS: &[Form] = &[
    form(
        "cross",
        "a cross is made",
        &[
            Field::must("seed", Kind::Parent, "seed parent; A|B if one of several, ? if unknown")
                .behind(),
            Field::may("pollen", Kind::Parent, "pollen parent; selfed if its own; empty, unknown"),
            Field::may("by", Kind::Choice(HOW), "hand or bees"),
            Field::may("heads", Kind::Count, "heads pollinated on that day"),
            Field::may("tag", Kind::Text, "what is on their tags, with commas between"),
            Field::may("code", Kind::Text, "its code; empty is the next one"),
            Field::may("from", Kind::Text, "of seed that was bought or given: from whom"),
            Field::may("note", Kind::Text, "a remark"),
        ],
        cross,
    ),
    form(
        "variety",
        "a variety comes into the garden",
        &[
            Field::must("name", Kind::Text, "its name").behind(),
            Field::may("from", Kind::Text, "from whom"),
            Field::may("group", Kind::Word(List::Groups), "flower group, by its code"),
            Field::may("bloom", Kind::Size("mm"), "usual diameter of the bloom in mm"),
            Field::may("height", Kind::Size("cm"), "usual height in cm"),
            Field::may("colour", Kind::Words(List::Colours), "colours, the main one first"),
            Field::may("raiser", Kind::Text, "who raised it"),
            Field::may("year", Kind::Count, "year of introduction"),
            Field::may("seed", Kind::Parent, "its seed parent"),
            Field::may("pollen", Kind::Parent, "its pollen parent"),
            Field::may("sets-seed", Kind::Choice(YES), "whether it sets seed"),
            Field::may("has-pollen", Kind::Choice(YES), "whether it gives pollen"),
            Field::may("note", Kind::Text, "a remark"),
        ],
        variety,
    ),
    form("first-frost", "the first frost of autumn, on that day", &[], |s| {
        frost(s, |frost, day| frost.first = Some(day))
    }),
    form("last-frost", "the last frost of spring, on that day", &[], |s| {
        frost(s, |frost, day| frost.last = Some(day))
    }),
    form(
        "weather",
        "what the weather did",
        &[Field::must("text", Kind::Text, "what it did").behind()],
        |s| write(s, GardenDeed::Weather(s.needed_text("text")?)),
    ),
    form(
        "fed",
        "fed, spread or dug in",
        &[Field::must("with", Kind::Text, "with what, and where").behind()],
        |s| write(s, GardenDeed::Fed(s.needed_text("with")?)),
    ),
    form("job", "a job done", &[Field::must("text", Kind::Text, "the job").behind()], |s| {
        write(s, GardenDeed::Job(s.needed_text("text")?))
    }),
    form("note", "a remark", &[Field::must("text", Kind::Text, "the remark").behind()], |s| {
        write(s, GardenDeed::Note(s.needed_note("text")?))
    }),
];

/// Changes the first page.
fn about(
    sheet: &Sheet<'_>,
    what: String,
    change: impl FnOnce(&mut About),
) -> Result<Entered, Unfit> {
    only(sheet)?;
    let before = sheet.book.about().clone();
    let mut after = before.clone();
    change(&mut after);
    let part = |about| Some(Part::About(Box::new(about)));
    let step = Step { spot: Spot::About, before: part(before), after: part(after) };
    Ok(enter::look_over(sheet.book, Change::new(what, vec![step]), sheet.today)?)
}

fn write(sheet: &Sheet<'_>, did: GardenDeed) -> Result<Entered, Unfit> {
    let on = sheet.filled.on;
    let what = format!("the garden: {}, {}", words::garden_deed(&did), words::day(on));
    about(sheet, what, |about| {
        let n = about.diary.iter().rposition(|e| !on.surely_before(e.on)).map_or(0, |n| n + 1);
        about.diary.insert(n, Entry { on, did });
    })
}

fn frost(
    sheet: &Sheet<'_>,
    set: impl FnOnce(&mut Frost, chrono::NaiveDate),
) -> Result<Entered, Unfit> {
    let on = sheet.filled.on;
    let Some(day) = on.exact() else {
        let hint = "Write the day of the frost, such as 2026-10-24.";
        return Err(Sheet::unfit("on", format!("{on} is not known to the day."), hint));
    };
    let season = on.season();
    let what = format!("the garden: {}, {}", sheet.form.says, words::day(on));
    let what = what.replace(", on that day", "");
    about(sheet, what, |about| {
        let n = about.frosts.partition_point(|frost| frost.season < season);
        if about.frosts.get(n).is_none_or(|frost| frost.season != season) {
            about.frosts.insert(n, Frost { season, last: None, first: None });
        }
        set(&mut about.frosts[n], day);
    })
}

fn cross(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    only(sheet)?;
    let season = sheet.filled.on.season();
    let by = sheet.choice("by", HOW)?;
    sheet.needed("seed")?;
    let seed = parents::parent(sheet, "seed")?;
    let pollen = parents::pollen(sheet, "pollen", &seed)?;
    let heads = family::pollinated(sheet)?;
    let cross = Cross {
        code: sheet.get("code").map_or_else(|| next_cross(sheet.book, season), fit_line),
        season: Some(season),
        seed,
        pollen,
        by: if by == Some("bees") { By::Bees } else { By::Hand },
        from: sheet.text("from"),
        note: sheet.text("note"),
        heads,
        ..Cross::default()
    };
    let odd = parents::doubts(sheet.book, &cross);
    let mut entered = enter::new_cross(sheet.book, cross, sheet.today)?;
    entered.doubts.extend(odd);
    Ok(entered)
}

/// The next code of a cross of a season.
pub(super) fn next_cross(book: &Book, season: Season) -> Box<str> {
    let taken = book.crosses().iter().map(|cross| cross.code.clone());
    Codes::new(&book.about().patterns.cross, taken.collect()).take(Some(season))
}

fn variety(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    only(sheet)?;
    let name = sheet.needed_text("name")?;
    let same = |variety: &&Variety| crate::book::fold(&variety.name) == crate::book::fold(&name);
    if let Some(other) = sheet.book.varieties().iter().find(same) {
        let key = other.name.clone();
        return Err(Refused::Taken { what: "variety", key }.into());
    }
    let yes = |field| Ok::<_, Unfit>(sheet.choice(field, YES)?.map(|word| word == "yes"));
    let pollen = match parents::pollen(sheet, "pollen", &Parent::Unknown)? {
        Pollen::From(parent) => parent,
        Pollen::Selfed => parents::parent(sheet, "seed")?,
    };
    let acquired = PlantDeed::Acquired { from: sheet.text("from") };
    let variety = Variety {
        id: free_id(sheet.book, &slug(&name)),
        name,
        seed: parents::parent(sheet, "seed")?,
        pollen,
        raiser: sheet.text("raiser"),
        year: sheet.count("year")?,
        group: sheet.text("group"),
        bloom_mm: sheet.size("bloom")?,
        height_cm: sheet.size("height")?,
        colours: sheet.words("colour"),
        gives_seed: yes("sets-seed")?,
        gives_pollen: yes("has-pollen")?,
        note: sheet.text("note"),
        diary: vec![Entry { on: sheet.filled.on, did: acquired }],
    };
    Ok(enter::new_variety(sheet.book, variety, sheet.today)?)
}

fn free_id(book: &Book, id: &str) -> Box<str> {
    let others = (2..).map(|n: u32| format!("{id}-{n}"));
    let mut ids = std::iter::once(id.to_owned()).chain(others);
    ids.find(|id| book.by_key(id).is_none()).unwrap_or_default().into()
}
