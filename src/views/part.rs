//! A part of a book in plain lines, so that two states of it can be laid side by side.

use crate::book::{Entry, Parent, Part, Pollen, Spot};

use super::words;

/// What a part of the book is called.
pub fn name(spot: &Spot) -> String {
    match spot {
        Spot::About => "the first page of the book".to_owned(),
        Spot::Variety(id) => format!("the variety {id}"),
        Spot::Cross(code) => format!("the cross {code}"),
        Spot::Head(code, n) => format!("head {} of the cross {code}", n + 1),
        Spot::Lot(code, n) => format!("packet {} of the cross {code}", n + 1),
        Spot::Seedling(_, key) => format!("the plant {key}"),
    }
}

/// The lines in which two states of a part differ: what only the first says, and what only the
/// second says.
pub fn differences(first: Option<&Part>, second: Option<&Part>) -> [Vec<String>; 2] {
    let [a, b] = [first, second].map(lines);
    let only = |of: &[String], others: &[String]| {
        of.iter().filter(|line| !others.contains(line)).cloned().collect()
    };
    [only(&a, &b), only(&b, &a)]
}

/// Everything that a part says, line by line.
fn lines(part: Option<&Part>) -> Vec<String> {
    let Some(part) = part else { return vec!["not in the book".to_owned()] };
    let mut all = Vec::new();
    match part {
        Part::About(about) => {
            all.push(format!("garden: {}", about.garden));
            say(&mut all, "raiser", about.raiser.as_deref());
            say(&mut all, "note", about.note.as_deref());
            all.extend(about.beds.iter().map(|bed| {
                format!("bed {}: {} rows of {} places", bed.name, bed.rows, bed.places)
            }));
            all.extend(diary(&about.diary, words::garden_deed));
        }
        Part::Variety(variety) => {
            all.push(format!("name: {}", variety.name));
            all.push(format!("seed parent: {}", parent(&variety.seed)));
            all.push(format!("pollen parent: {}", parent(&variety.pollen)));
            say(&mut all, "raiser", variety.raiser.as_deref());
            say(&mut all, "group", variety.group.as_deref());
            say(&mut all, "note", variety.note.as_deref());
            all.extend(diary(&variety.diary, words::plant_deed));
        }
        Part::Cross(cross) => {
            if let Some(season) = cross.season {
                all.push(format!("season: {season}"));
            }
            all.push(format!("seed parent: {}", parent(&cross.seed)));
            all.push(match &cross.pollen {
                Pollen::Selfed => "selfed".to_owned(),
                Pollen::From(from) => format!("pollen parent: {}", parent(from)),
            });
            say(&mut all, "note", cross.note.as_deref());
        }
        Part::Head(head) => {
            say(&mut all, "tag", head.tag.as_deref());
            all.extend(diary(&head.diary, words::head_deed));
        }
        Part::Lot(lot) => {
            all.push(format!("packet {}", lot.code));
            all.extend(lot.seeds.map(|n| words::many(n, "seed")));
            all.extend(diary(&lot.diary, words::lot_deed));
        }
        Part::Seedling(seedling) => {
            all.push(format!("number: {}", seedling.number));
            say(&mut all, "packet", seedling.lot.as_deref());
            all.extend(diary(&seedling.diary, words::plant_deed));
        }
    }
    all
}

fn say(all: &mut Vec<String>, what: &str, text: Option<&str>) {
    all.extend(text.map(|text| format!("{what}: {text}")));
}

fn diary<D>(entries: &[Entry<D>], words: impl Fn(&D) -> String) -> impl Iterator<Item = String> {
    entries.iter().map(move |entry| format!("{}: {}", words::day(entry.on), words(&entry.did)))
}

fn parent(parent: &Parent) -> String {
    let mut candidates: Vec<&str> = parent.candidates().map(|(key, _)| key).collect();
    candidates.dedup();
    if candidates.is_empty() { "unknown".to_owned() } else { candidates.join(" or ") }
}
