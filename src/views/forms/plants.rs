//! What can happen to a plant, seedling or variety.

use super::{Field, Form, Kind, List, Make, Of, Unfit, filled::Sheet, note, only, run, words};
use crate::book::{
    Look, PlantDeed, Verdict,
    enter::{self, Entered},
};

const BY: Field = Field::may("by", Kind::Text, "who judged or looked; empty is the raiser");
const WHY: Field = Field::may("why", Kind::Text, "why");

const fn form(
    word: &'static str,
    says: &'static str,
    fields: &'static [Field],
    make: fn(&Sheet<'_>) -> Result<Entered, Unfit>,
) -> Form {
    Form { of: Of::Plant, word, says, fields, make: Make::Entry(make) }
}

const fn own(form: Form) -> Form {
    let Make::Entry(work) = form.make else { return form };
    Form { make: Make::Own(work), ..form }
}

pub(super) const FORMS: &[Form] = &[
    form(
        "look",
        "looked at, measured, scored",
        &[
            Field::may("bloom", Kind::Size("mm"), "diameter of the bloom in mm"),
            Field::may("height", Kind::Size("cm"), "height of the plant in cm"),
            Field::may("group", Kind::Word(List::Groups), "flower group, by its code"),
            Field::may("colour", Kind::Words(List::Colours), "colours, the main one first"),
            Field::may("score", Kind::Scores, "scores, such as form=7"),
            Field::may("fault", Kind::Words(List::Faults), "faults seen"),
            Field::may("note", Kind::Text, "anything else").behind(),
            Field::may("photo", Kind::Text, "a picture, by its path from the book's folder"),
            BY,
        ],
        look,
    ),
    form("keep", "worth another season", &[WHY.behind(), BY], |s| verdict(s, Verdict::Keep)),
    form("hold", "undecided, look again", &[WHY.behind(), BY], |s| verdict(s, Verdict::Hold)),
    form("discard", "not worth the room", &[WHY.behind(), BY], |s| verdict(s, Verdict::Discard)),
    form("bloomed", "opened its first bloom", &[], |s| write(s, PlantDeed::FirstBloom)),
    form("unbloomed", "looked at, not in bloom", &[], |s| write(s, PlantDeed::SeenUnbloomed)),
    form(
        "planted",
        "planted out",
        &[Field::may("at", Kind::Place, "bed, row and place").behind()],
        planted,
    ),
    form(
        "lost",
        "died, rotted, was stolen or eaten",
        &[Field::must("cause", Kind::Text, "the cause").behind()],
        |s| write(s, PlantDeed::Lost(s.needed_text("cause")?)),
    ),
    form(
        "lifted",
        "lifted for winter",
        &[
            Field::may("tubers", Kind::Count, "tubers with an eye").behind(),
            Field::may("store", Kind::Text, "where they are stored"),
        ],
        |s| write(s, PlantDeed::Lifted { tubers: s.count("tubers")?, store: s.text("store") }),
    ),
    form(
        "checked",
        "looked over in winter",
        &[Field::must("sound", Kind::Count, "tubers still sound").behind()],
        |s| write(s, PlantDeed::Checked { sound: s.needed_count("sound")? }),
    ),
    form("woken", "brought into growth", &[], |s| write(s, PlantDeed::Woken)),
    form(
        "ailing",
        "pests, rot, a suspect leaf, or what a test said",
        &[Field::must("with", Kind::Text, "what was seen, or what was tested and found").behind()],
        |s| write(s, PlantDeed::Ailing(s.needed_text("with")?)),
    ),
    form(
        "treated",
        "sprayed or otherwise treated",
        &[Field::must("how", Kind::Text, "the treatment, as on the label").behind()],
        |s| write(s, PlantDeed::Treated(s.needed_text("how")?)),
    ),
    form(
        "given",
        "tubers given away, swapped or sold",
        &[
            Field::must("tubers", Kind::Count, "how many").behind(),
            Field::may("to", Kind::Text, "to whom"),
        ],
        |s| write(s, PlantDeed::Given { tubers: s.needed_count("tubers")?, to: s.text("to") }),
    ),
    form(
        "disposed",
        "got rid of",
        &[Field::must("where", Kind::Text, "where it went").behind()],
        |s| write(s, PlantDeed::Disposed(s.needed_text("where")?)),
    ),
    form("named", "given a name", &[Field::must("name", Kind::Text, "the name").behind()], |s| {
        write(s, PlantDeed::Named(s.needed_text("name")?))
    }),
    form(
        "acquired",
        "came into the garden",
        &[Field::may("from", Kind::Text, "from whom").behind()],
        |s| write(s, PlantDeed::Acquired { from: s.text("from") }),
    ),
    form("numbered", "given its number", &[], |s| write(s, PlantDeed::Numbered)),
    form("tag-lost", "its label is gone", &[], |s| write(s, PlantDeed::TagLost)),
    form("note", "a remark", &[Field::must("text", Kind::Text, "the remark").behind()], |s| {
        write(s, PlantDeed::Note(s.needed_note("text")?))
    }),
    own(form(
        "moved",
        "belongs to another cross after all",
        &[
            Field::must("cross", Kind::Text, "the code of that cross").behind(),
            Field::may("packet", Kind::Text, "the packet it came from"),
            WHY,
        ],
        moved,
    )),
    own(form(
        "same-as",
        "one plant that bore two numbers",
        &[Field::must("other", Kind::Plant, "the number that goes").behind()],
        same_as,
    )),
];

fn write(sheet: &Sheet<'_>, did: PlantDeed) -> Result<Entered, Unfit> {
    let said = words::plant_deed(&did);
    note(sheet, did, &said)
}

fn planted(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let place = sheet.place("at")?;
    let odd = run::crowded(sheet, place.as_slice());
    let mut entered = write(sheet, PlantDeed::Planted(place))?;
    entered.doubts.extend(odd);
    Ok(entered)
}

fn verdict(sheet: &Sheet<'_>, is: Verdict) -> Result<Entered, Unfit> {
    write(sheet, PlantDeed::Verdict { is, why: sheet.text("why"), who: sheet.text("by") })
}

fn look(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let look = Look {
        who: sheet.text("by"),
        bloom_mm: sheet.size("bloom")?,
        height_cm: sheet.size("height")?,
        group: sheet.text("group"),
        colours: sheet.words("colour"),
        scores: sheet.scores("score")?,
        faults: sheet.words("fault"),
        note: sheet.text("note"),
        photo: sheet.text("photo"),
    };
    write(sheet, PlantDeed::Look(Box::new(look)))
}

fn moved(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let cross = sheet.needed("cross")?;
    if sheet.book.cross_with(cross).is_none() {
        let hint = "Write its code, letter for letter.";
        return Err(Sheet::unfit("cross", format!("There is no cross \"{cross}\"."), hint));
    }
    let why = sheet.text("why");
    let (to, when) = ((cross, sheet.get("packet")), (sheet.filled.on, why.as_deref()));
    Ok(enter::move_to(sheet.book, only(sheet)?, to, when, sheet.today)?)
}

fn same_as(sheet: &Sheet<'_>) -> Result<Entered, Unfit> {
    let other = sheet.plant("other")?;
    let goes = sheet.book.spot_of(other);
    Ok(enter::join(sheet.book, (only(sheet)?, &goes), sheet.filled.on, sheet.today)?)
}
