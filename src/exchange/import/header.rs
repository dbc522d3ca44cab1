//! The header of a file: which kind it is, and what each column means.

use super::{
    column::{Column, FAULT_COLUMN, Holds, Kind, SCORE},
    faults::{At, Faults},
    sheet::RawCell,
    value::shown,
};
use crate::book::{Crop, fold, near_words};

/// What a column of one file means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meaning {
    /// This.
    Column(Column, Holds),
    /// Passed over, whatever it holds.
    Passed,
    /// It has no name, and so may hold nothing.
    Nameless,
}

/// A header that was understood.
#[derive(Debug)]
pub(super) struct Header {
    pub(super) kind: Kind,
    pub(super) columns: Vec<Meaning>,
}

/// A name as headers are compared: case-blind, and a blank is as good as a line below.
fn plain(text: &str) -> String {
    text.trim().to_lowercase().replace([' ', '-'], "_")
}

/// Reads a header. Traits that are scored are added to `traits`, by their name in the crop where
/// it has them.
pub(super) fn read(
    cells: &[RawCell<'_>],
    file: usize,
    crop: &Crop,
    traits: &mut Vec<Box<str>>,
    faults: &mut Faults<'_>,
) -> Option<Header> {
    let names: Vec<String> = cells.iter().map(|cell| plain(&cell.text)).collect();
    let start = At { file, line: cells.first()?.line, column: 1, row: None };
    let kind = kind_of(&names, start, faults)?;
    let mut columns = Vec::with_capacity(cells.len());
    for (cell, name) in cells.iter().zip(&names) {
        let at = At { file, line: cell.line, column: cell.column, row: None };
        let meaning = meaning_of(cell, name, kind, crop, traits).unwrap_or_else(|hint| {
            let message =
                format!("A {} file has no column \"{}\".", kind.word(), shown(cell.text.trim()));
            faults.add(at, message, hint);
            Meaning::Passed
        });
        if matches!(meaning, Meaning::Column(..)) && columns.contains(&meaning) {
            faults.add(
                at,
                format!("The column {} stands here for the second time.", shown(name)),
                "Take one of them out, or give it another name.",
            );
        }
        columns.push(meaning);
    }
    for required in kind.required().iter().filter(|r| !names.iter().any(|name| name == *r)) {
        faults.add(
            start,
            format!("The column {required} is missing, and a {} file needs it.", kind.word()),
            format!(
                "Add it to the header; a {} file must have {}.",
                kind.word(),
                and(kind.required())
            ),
        );
    }
    if kind == Kind::Counts
        && !columns.iter().any(|m| matches!(m, Meaning::Column(_, Holds::Count)))
    {
        faults.add(
            start,
            "No column of this counts file has a count.",
            "Add one of heads, seeds, sown, up, planted, bloomed, judged, kept.",
        );
    }
    Some(Header { kind, columns })
}

fn meaning_of(
    cell: &RawCell<'_>,
    name: &str,
    kind: Kind,
    crop: &Crop,
    traits: &mut Vec<Box<str>>,
) -> Result<Meaning, String> {
    if name.is_empty() {
        return Ok(Meaning::Nameless);
    }
    if name == FAULT_COLUMN {
        return Ok(Meaning::Passed);
    }
    if let Some(spec) = kind.columns().find(|spec| spec.name == name) {
        return Ok(Meaning::Column(spec.column, spec.holds));
    }
    if kind.has_scores() && name.starts_with(SCORE) {
        let written = cell.text.split_once(':').map_or("", |(_, rest)| rest.trim());
        if written.is_empty() || written.chars().any(char::is_control) {
            return Err("Write the trait after the colon, as in score:form.".to_owned());
        }
        let name = crop.scored(written).map_or(written, |t| &t.name);
        let known = traits.iter().position(|t| fold(t) == fold(name));
        let n = known.unwrap_or_else(|| {
            traits.push(name.into());
            traits.len() - 1
        });
        let n = u16::try_from(n).map_err(|_too_many| "There are too many traits.".to_owned())?;
        return Ok(Meaning::Column(Column::Score(n), Holds::Score));
    }
    let names = kind.columns().map(|spec| spec.name);
    let names = names.chain(kind.has_scores().then_some("score:form"));
    Err(match near_words(name, names).first() {
        Some(near) => format!("Did you mean {near}? Otherwise take the column out."),
        None => format!(
            "Take it out, or name it as one of {}.",
            kind.columns().map(|spec| spec.name).collect::<Vec<_>>().join(", ")
        ),
    })
}

/// Tells the kind of a file by the column that only this kind has.
fn kind_of(names: &[String], at: At, faults: &mut Faults<'_>) -> Option<Kind> {
    const TELLING: [(&str, Kind); 3] =
        [("variety", Kind::Varieties), ("seedling", Kind::Seedlings), ("plant", Kind::Looks)];
    let has = |name: &str| names.iter().any(|n| n == name);
    let told: Vec<_> = TELLING.into_iter().filter(|(name, _)| has(name)).collect();
    match told[..] {
        [(_, kind)] => return Some(kind),
        [(one, _), (other, _), ..] => {
            faults.add(
                at,
                format!("This file has both a column {one} and a column {other}."),
                "Split it in two: each kind of plant has its own file.",
            );
            return None;
        }
        [] => {}
    }
    let counts = Kind::Counts.columns().any(|spec| spec.holds == Holds::Count && has(spec.name));
    if has("seed_parent") && (counts || has("pollen_parent")) {
        return Some(Kind::Counts);
    }
    let near =
        names.iter().find_map(|name| near_words(name, TELLING.iter().map(|(n, _)| *n)).pop());
    let hint = if let [only] = names
        && only.contains([';', '\t'])
    {
        "The columns must be split by commas; save the sheet again as CSV with commas.".to_owned()
    } else if let Some(near) = near {
        format!(
            "Did you mean {near}? A varieties file has a column variety, a seedlings file seedling, a looks file plant."
        )
    } else {
        "A varieties file has a column variety, a seedlings file seedling, a looks file plant; a \
         counts file has seed_parent, pollen_parent and season."
            .to_owned()
    };
    faults.add(at, "The header does not tell what this file holds.", hint);
    None
}

fn and(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}
