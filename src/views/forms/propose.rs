//! What is proposed for a field, and the words that may stand in it.

use super::{Field, Form, Kind, List, Of, family, garden, run};
use crate::book::{Book, Life, Part, Season, Spot, State};

/// What is proposed for the fields of a form: the next code or number, the seeds that are there.
/// It stands in the form to be taken or written over.
pub fn propose(
    book: &Book,
    form: &Form,
    spot: &Spot,
    season: Season,
) -> Vec<(&'static str, String)> {
    let cross = spot.cross().and_then(|code| book.cross_with(code));
    let mut all = Vec::new();
    match (form.of, form.word, cross) {
        (Of::Garden, "cross", _) => {
            all.push(("by", "hand".to_owned()));
            all.push(("code", garden::next_cross(book, season).into()));
        }
        (_, "number", _) => {
            all.extend(run::numbers(book, season, None, 1).pop().map(|n| ("first", n.into())));
        }
        (Of::Cross, "packet", Some(cross)) => {
            let seeds = family::unpacked(cross);
            all.extend((seeds > 0).then(|| ("seeds", seeds.to_string())));
            all.push(("code", family::next_packet(book, cross).into()));
        }
        (Of::Cross, "plant-out", Some(cross)) => {
            let potted = |diary| Life::of(diary).state() == State::Potted;
            let n = cross.seedlings.iter().filter(|s| potted(&s.diary)).count();
            all.extend((n > 0).then(|| ("plants", n.to_string())));
        }
        (Of::Packet, "sown", Some(_)) => {
            if let Some(Part::Lot(lot)) = book.part(spot) {
                let left = lot.left().filter(|left| *left > 0);
                all.extend(left.map(|left| ("seeds", left.to_string())));
            }
        }
        (Of::Plant, "checked", _) => {
            let diary = match book.part(spot) {
                Some(Part::Seedling(seedling)) => seedling.diary,
                Some(Part::Variety(variety)) => variety.diary,
                _ => Vec::new(),
            };
            let life = Life::of(&diary);
            let sound = life.sound.or_else(|| life.lifted.and_then(|(_, tubers, _)| tubers));
            all.extend(sound.map(|sound| ("sound", sound.to_string())));
        }
        _ => {}
    }
    all
}

/// The words that may stand in a field; none where it is free or there are too many to list.
pub fn choices(book: &Book, field: &Field, spot: &Spot) -> Vec<String> {
    let crop = book.crop();
    match field.kind {
        Kind::Word(list) | Kind::Words(list) => match list {
            List::Groups => crop.groups.iter().map(|group| group.code.to_string()).collect(),
            List::Colours => {
                let words = crop.colours.iter().map(|colour| &colour.word).chain(&crop.markings);
                words.map(ToString::to_string).collect()
            }
            List::Faults => crop.faults.iter().map(ToString::to_string).collect(),
            List::Traits => crop.traits.iter().map(|scored| scored.name.to_string()).collect(),
        },
        Kind::Scores => crop.traits.iter().map(|scored| format!("{}=", scored.name)).collect(),
        Kind::Choice(words) => words.iter().map(|word| (*word).to_owned()).collect(),
        Kind::Packet => {
            let cross = spot.cross().and_then(|code| book.cross_with(code));
            let lots = cross.map_or(&[][..], |cross| &cross.lots);
            lots.iter().map(|lot| lot.code.to_string()).collect()
        }
        Kind::Text | Kind::Count | Kind::Size(_) | Kind::Place | Kind::Plant | Kind::Parent => {
            Vec::new()
        }
    }
}
