//! Which deed is likely next for a thing, as it stands: what is proposed first.

use chrono::NaiveDate;

use super::{Form, Of, family, named};
use crate::book::{Book, Cross, HeadState, Life, PlantRecord, Spot, State};

/// The deeds that are likely next, the likeliest first, each with what it is about.
pub fn likely(book: &Book, spot: &Spot, today: NaiveDate) -> Vec<(Spot, &'static Form)> {
    let word = |of, word, at: &Spot| Some((at.clone(), named(of, word)?));
    match spot {
        Spot::Variety(key) | Spot::Seedling(_, key) => {
            let Some(plant) = book.by_key(key) else { return Vec::new() };
            let words = of_plant(book.plant(plant), today);
            words.iter().filter_map(|w| word(Of::Plant, w, spot)).collect()
        }
        Spot::Head(code, n) => {
            let head = book.cross_with(code).and_then(|cross| cross.heads.get(*n));
            let is_cut = head.is_some_and(|head| head.cut().is_some());
            let first = if is_cut { "threshed" } else { "cut" };
            [first, "rotted"].into_iter().filter_map(|w| word(Of::Head, w, spot)).collect()
        }
        Spot::Lot(code, n) => {
            let Some(cross) = book.cross_with(code) else { return Vec::new() };
            word(Of::Packet, of_packet(cross, *n), spot).into_iter().collect()
        }
        Spot::Cross(code) => {
            let Some(cross) = book.cross_with(code) else { return Vec::new() };
            of_cross(book, cross, spot, today)
        }
        Spot::About => Vec::new(),
    }
}

fn of_plant(plant: PlantRecord<'_>, today: NaiveDate) -> &'static [&'static str] {
    let life = Life::of(plant.diary());
    if let PlantRecord::Variety(_) = plant {
        return &["note", "lifted", "planted"];
    }
    let this_year = |on: Option<crate::book::When>| {
        on.is_some_and(|on| on.season() == crate::book::When::day(today).season())
    };
    let is_lifted = life
        .lifted
        .is_some_and(|(on, ..)| life.planted_last.is_none_or(|planted| !on.surely_before(planted)));
    match life.state() {
        State::Potted => &["planted", "lost"],
        State::Unbloomed | State::Held | State::Kept | State::Named if is_lifted => {
            &["checked", "woken", "planted"]
        }
        State::Unbloomed => &["bloomed", "unbloomed", "look", "lost"],
        State::Open => &["keep", "hold", "discard", "look"],
        State::Held => &["look", "keep", "discard", "lifted"],
        State::Kept | State::Named if this_year(life.planted_last) => &["lifted", "look", "lost"],
        State::Kept | State::Named => &["planted", "look", "lost"],
        State::Discarded | State::Lost => &["disposed", "note"],
    }
}

fn of_packet(cross: &Cross, n: usize) -> &'static str {
    let Some(lot) = cross.lots.get(n) else { return "note" };
    let numbered = cross.seedlings.iter().filter(|s| s.lot.as_ref() == Some(&lot.code)).count();
    match (lot.first_sown(), usize::try_from(lot.up()).unwrap_or(usize::MAX)) {
        (None, _) => "sown",
        (Some(_), 0) => "up",
        (Some(_), up) if numbered < up => "number",
        _ if lot.left().is_some_and(|left| left > 0) => "sown",
        _ => "note",
    }
}

fn of_cross(
    book: &Book,
    cross: &Cross,
    spot: &Spot,
    today: NaiveDate,
) -> Vec<(Spot, &'static Form)> {
    let mut all: Vec<(Spot, &'static Form)> = Vec::new();
    let code = &cross.code;
    let hanging = cross.heads.iter().enumerate().filter(|(_, h)| h.state() == HeadState::Hanging);
    for (n, _) in hanging {
        all.extend(likely(book, &Spot::Head(code.clone(), n), today).into_iter().take(1));
    }
    // What can be rubbed out before what is to be cut.
    all.sort_by_key(|(_, form)| form.word != "threshed");
    let mut say = |word| all.extend(named(Of::Cross, word).map(|form| (spot.clone(), form)));
    if family::unpacked(cross) > 0 {
        say("packet");
    }
    if cross.seedlings.iter().any(|s| Life::of(&s.diary).state() == State::Potted) {
        say("plant-out");
    }
    for n in 0..cross.lots.len() {
        let next = likely(book, &Spot::Lot(code.clone(), n), today);
        all.extend(next.into_iter().filter(|(_, form)| form.word != "note"));
    }
    let is_this_year = cross.season == Some(crate::book::When::day(today).season());
    if is_this_year || all.is_empty() {
        all.extend(named(Of::Cross, "head").map(|form| (spot.clone(), form)));
    }
    all
}
