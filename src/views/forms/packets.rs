//! What can happen to a packet of seed.

use super::{
    Field, Form, Kind, Make, Of, Unfit,
    filled::Sheet,
    note,
    run::{self, NUMBER_FIELDS},
    words,
};
use crate::book::{LotDeed, enter::Entered};

const fn form(
    word: &'static str,
    says: &'static str,
    fields: &'static [Field],
    make: fn(&Sheet<'_>) -> Result<Entered, Unfit>,
) -> Form {
    Form { of: Of::Packet, word, says, fields, make: Make::Entry(make) }
}

pub(super) const FORMS: &[Form] = &[
    form(
        "sown",
        "seed of it sown",
        &[Field::may("seeds", Kind::Count, "how many; empty if not counted").behind()],
        |s| write(s, LotDeed::Sown { seeds: s.count("seeds")? }),
    ),
    form(
        "up",
        "seedlings came up",
        &[Field::must("seedlings", Kind::Count, "how many are new").behind()],
        |s| write(s, LotDeed::Up(s.needed_count("seedlings")?)),
    ),
    form(
        "pricked-out",
        "seedlings pricked out into pots",
        &[Field::must("seedlings", Kind::Count, "how many").behind()],
        |s| write(s, LotDeed::PrickedOut(s.needed_count("seedlings")?)),
    ),
    Form {
        of: Of::Packet,
        word: "number",
        says: "its plants get their numbers",
        fields: &NUMBER_FIELDS,
        make: Make::Own(run::number),
    },
    form(
        "given",
        "seed given away",
        &[
            Field::must("seeds", Kind::Count, "how many").behind(),
            Field::may("to", Kind::Text, "to whom"),
        ],
        |s| write(s, LotDeed::Given { seeds: s.needed_count("seeds")?, to: s.text("to") }),
    ),
    form(
        "gone",
        "what was left is spoilt or thrown out",
        &[Field::must("cause", Kind::Text, "the cause").behind()],
        |s| write(s, LotDeed::Gone(s.needed_text("cause")?)),
    ),
    form("note", "a remark", &[Field::must("text", Kind::Text, "the remark").behind()], |s| {
        write(s, LotDeed::Note(s.needed_note("text")?))
    }),
];

fn write(sheet: &Sheet<'_>, did: LotDeed) -> Result<Entered, Unfit> {
    let said = words::lot_deed(&did);
    note(sheet, did, &said)
}
