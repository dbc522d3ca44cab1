//! What can be written down of a thing and of all that belongs to it, the likeliest first.

use super::filling::Filling;
use crate::book::{Book, HeadState, Spot, fold};
use crate::tui::{
    action::Action,
    keys::Key,
    page::Around,
    place::Place,
    widget::{field::Field, listing::Listing},
};
use crate::views::{
    Desk,
    forms::{self, Form, Of},
};

/// Rows above the list: the field and a blank.
pub(super) const ABOVE: u16 = 2;

/// A deed of one thing, or of several at once.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    pub(super) spots: Vec<Spot>,
    pub(super) name: String,
    pub(super) form: &'static Form,
    /// What the place that was gone out from says already.
    pub(super) known: Vec<(&'static str, String)>,
}

/// The list.
#[derive(Debug)]
pub(in crate::tui) struct Choosing {
    pub(super) field: Field,
    pub(super) all: Vec<Choice>,
    /// Which of them have the letters.
    pub(super) shown: Vec<usize>,
    pub(super) listing: Listing,
}

impl Choosing {
    pub(super) fn of(place: Option<Place>, on: Option<&Spot>, around: &Around<'_>) -> Self {
        let mut all = choices(around.desk, place);
        if let Some(on) = on {
            all.sort_by_key(|choice| choice.spots != [on.clone()]);
        }
        let mut choosing =
            Self { field: Field::default(), all, shown: Vec::new(), listing: Listing::default() };
        choosing.sift();
        choosing
    }

    /// Shows what has every word that was typed.
    fn sift(&mut self) {
        let letters = fold(&self.field.content());
        let has_all = |choice: &Choice| {
            let said = fold(&format!("{} {} {}", choice.name, choice.form.word, choice.form.says));
            letters.split(' ').all(|word| is_in(word, &said))
        };
        // A deed whose own word begins so is meant before one that only speaks of it.
        let is_meant = |choice: &Choice| {
            let mut words = letters.split(' ').filter(|word| !word.is_empty());
            words.any(|word| choice.form.word.starts_with(word))
        };
        let rows = self.all.iter().enumerate().filter(|(_, choice)| has_all(choice));
        let (meant, others): (Vec<_>, Vec<_>) = rows.partition(|(_, choice)| is_meant(choice));
        self.shown = meant.into_iter().chain(others).map(|(n, _)| n).collect();
        self.listing = Listing::of(self.shown.len());
    }

    pub(super) fn key(&mut self, key: Key) -> bool {
        let is_changed = self.field.take(key);
        if is_changed {
            self.sift();
        }
        is_changed
    }

    pub(super) fn paste(&mut self, content: &str) {
        self.field.paste(content);
        self.sift();
    }

    pub(super) fn act(&mut self, action: Action, height: u16) {
        self.listing.moved(action, height.saturating_sub(ABOVE));
    }

    pub(super) fn scroll(&mut self, notches: i16, height: u16) {
        self.listing.scroll(notches, height.saturating_sub(ABOVE));
    }

    pub(super) fn press(&mut self, line: usize) -> bool {
        self.listing.put_cursor(line)
    }

    /// The form of what is under the cursor.
    pub(super) fn chosen(&self, around: &Around<'_>) -> Option<Filling> {
        let choice = self.all.get(*self.shown.get(self.listing.row()?)?)?;
        Some(Filling::of(choice.clone(), around))
    }
}

/// Whether a word was typed of a text: the beginning of one of its words or, of longer ones, any
/// part. A short one in the middle would mean too much: `1` would be in `26X01`.
fn is_in(word: &str, said: &str) -> bool {
    let is_long = word.chars().nth(2).is_some();
    is_long && said.contains(word) || said.split(' ').any(|other| other.starts_with(word))
}

/// Everything that can be written down at a place.
fn choices(desk: &Desk, place: Option<Place>) -> Vec<Choice> {
    let book = desk.book();
    let mut all: Vec<Choice> = Vec::new();
    match place {
        Some(Place::Plant(plant)) => {
            likely(&mut all, desk, &book.spot_of(plant));
            every(&mut all, book, &[book.spot_of(plant)]);
        }
        Some(Place::Cross(id)) => {
            let cross = book.cross(id);
            let code = &cross.code;
            likely(&mut all, desk, &Spot::Cross(code.clone()));
            every(&mut all, book, &[Spot::Cross(code.clone())]);
            for n in 0..cross.lots.len() {
                every(&mut all, book, &[Spot::Lot(code.clone(), n)]);
            }
            let hanging = |n: &usize| cross.heads[*n].state() == HeadState::Hanging;
            let hanging: Vec<usize> = (0..cross.heads.len()).filter(hanging).collect();
            let spots: Vec<Spot> = hanging.iter().map(|n| Spot::Head(code.clone(), *n)).collect();
            if spots.len() > 1 {
                every(&mut all, book, &spots);
            }
            let (first, rest): (Vec<usize>, Vec<usize>) =
                (0..cross.heads.len()).partition(|n| hanging.contains(n));
            for n in first.into_iter().chain(rest) {
                every(&mut all, book, &[Spot::Head(code.clone(), n)]);
            }
        }
        Some(Place::Pairing(at)) => all.extend(again(desk, at)),
        _ => {}
    }
    every(&mut all, book, &[Spot::About]);
    all
}

fn likely(all: &mut Vec<Choice>, desk: &Desk, spot: &Spot) {
    let book = desk.book();
    all.extend(forms::likely(book, spot, desk.today()).into_iter().map(|(spot, form)| Choice {
        name: forms::name(book, &spot),
        spots: vec![spot],
        form,
        known: Vec::new(),
    }));
}

/// Every deed of some things that is not in the list yet.
fn every(all: &mut Vec<Choice>, book: &Book, spots: &[Spot]) {
    let [first, ..] = spots else { return };
    let name = match (spots, first.cross()) {
        ([_], _) | (_, None) => forms::name(book, first),
        (several, Some(code)) => format!("{code}, all {} hanging heads", several.len()),
    };
    for form in forms::of(Of::at(first)) {
        let is_there = all.iter().any(|c| std::ptr::eq(c.form, form) && c.spots == spots);
        if !is_there && (spots.len() == 1 || form.is_for_several()) {
            let name = name.clone();
            all.push(Choice { spots: spots.to_vec(), name, form, known: Vec::new() });
        }
    }
}

/// A pairing made again, with its parents filled in.
fn again(desk: &Desk, at: usize) -> Option<Choice> {
    let book = desk.book();
    let pairing = desk.pairings().get(at)?;
    let form = forms::named(Of::Garden, "cross")?;
    let key = |plant| format!("id:{}", book.plant(plant).key());
    let mut known: Vec<(&'static str, String)> = Vec::new();
    known.extend(pairing.seed.plant().map(|plant| ("seed", key(plant))));
    known.extend(pairing.pollen.plant().map(|plant| ("pollen", key(plant))));
    let name = "this pairing, again".to_owned();
    Some(Choice { spots: vec![Spot::About], name, form, known })
}
