//! What is being recorded of the plant one stands before, until it is written down.

use crate::book::{
    Book, Crop, Entry, Look, PlantDeed, PlantId, Verdict, When,
    enter::{self, Entered, Refused},
};
use crate::views::{sibs, words};

/// A figure that can be typed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field {
    pub(super) name: Box<str>,
    pub(super) unit: &'static str,
    /// The highest score; none of a measurement.
    high: Option<f64>,
    /// What was typed, or stands.
    pub(super) typed: String,
}

/// A look under way.
#[derive(Debug, Clone, Default)]
pub(super) struct Draft {
    pub(super) fields: Vec<Field>,
    /// The field that digits go to.
    pub(super) at: usize,
    /// Whether the next digit begins the figure anew.
    is_fresh: bool,
    look: Look,
    /// A verdict to be written with it.
    verdict: Option<(Verdict, Option<Box<str>>)>,
    is_touched: bool,
    /// Where a look of today by the same person stands in the diary.
    of_today: Option<usize>,
}

impl Draft {
    /// The look of today by this person, or a new one.
    pub(super) fn of(book: &Book, plant: PlantId, who: Option<&str>, today: When) -> Self {
        let diary = book.plant(plant).diary();
        let of_today = diary.iter().rposition(|entry| {
            entry.on == today
                && matches!(&entry.did, PlantDeed::Look(look) if look.who.as_deref() == who)
        });
        let look = match of_today.map(|n| &diary[n].did) {
            Some(PlantDeed::Look(look)) => (**look).clone(),
            _ => Look { who: who.map(Into::into), ..Look::default() },
        };
        let fields = fields(book.crop(), &look);
        Self { fields, is_fresh: true, look, of_today, ..Self::default() }
    }

    /// Whether there is anything that is not written down yet.
    pub(super) fn is_touched(&self) -> bool {
        self.is_touched
    }

    /// What has been said of the look in words.
    pub(super) fn look(&self) -> &Look {
        &self.look
    }

    /// Takes a digit. A score is whole with one, and the next field comes by itself.
    pub(super) fn digit(&mut self, digit: char) {
        let fresh = std::mem::take(&mut self.is_fresh);
        let n = self.fields.len();
        let Some(field) = self.fields.get_mut(self.at) else { return };
        if fresh || field.high.is_some_and(|high| high < 10.0) {
            field.typed.clear();
        }
        if field.typed.len() < 5 {
            field.typed.push(digit);
        }
        let is_whole = field.high.is_some_and(|high| high < 10.0);
        self.is_touched = true;
        if is_whole && self.at + 1 < n {
            self.go(1);
        }
    }

    /// Takes back the last digit; where there is none, of the field before.
    pub(super) fn erase(&mut self) {
        if self.fields.get(self.at).is_some_and(|field| field.typed.is_empty()) && self.at > 0 {
            self.at -= 1;
        }
        if let Some(field) = self.fields.get_mut(self.at)
            && field.typed.pop().is_some()
        {
            self.is_touched = true;
            self.is_fresh = false;
        }
    }

    /// Goes on to another field.
    pub(super) fn go(&mut self, by: isize) {
        let n = self.fields.len().max(1);
        let by = by.rem_euclid(isize::try_from(n).unwrap_or(1));
        self.at = (self.at + usize::try_from(by).unwrap_or_default()) % n;
        self.is_fresh = true;
    }

    /// Takes in words beside the figures.
    pub(super) fn change(&mut self, change: impl FnOnce(&mut Look)) {
        change(&mut self.look);
        self.is_touched = true;
    }

    /// Adds a verdict, to be written together with the look.
    pub(super) fn judge(&mut self, is: Verdict, why: Option<Box<str>>) {
        self.verdict = Some((is, why));
    }

    /// Takes the verdict out again, as it was not written.
    pub(super) fn unjudge(&mut self) {
        self.verdict = None;
    }

    /// What is to be written, as a change to the plant's diary.
    pub(super) fn entered(
        &self,
        book: &Book,
        plant: PlantId,
        today: When,
    ) -> Result<Entered, Refused> {
        let mut entries = Vec::new();
        let mut what = Vec::new();
        if self.is_touched {
            let look = self.filled();
            let crop = book.crop();
            // A slip of the thumb is best mended where it was made.
            if look.bloom_mm.is_some_and(|mm| mm > crop.largest_bloom_mm) {
                return Err(Refused::Missing("No bloom of that size was ever grown."));
            }
            if look.height_cm.is_some_and(|cm| cm > crop.tallest_cm) {
                return Err(Refused::Missing("No plant of that height was ever grown."));
            }
            what.push(words::look(&look));
            let only_note =
                Look { who: look.who.clone(), note: look.note.clone(), ..Look::default() };
            let did = match look.note.clone() {
                Some(note) if look == only_note && look.who.is_none() => PlantDeed::Note(note),
                _ => PlantDeed::Look(Box::new(look)),
            };
            entries.push((self.of_today, Entry { on: today, did }));
        }
        if let Some((is, why)) = &self.verdict {
            let who = self.look.who.clone();
            let did = PlantDeed::Verdict { is: *is, why: why.clone(), who: who.clone() };
            what.push(words::plant_deed(&did));
            let diary = book.plant(plant).diary();
            let earlier = diary.iter().rposition(|entry| {
                entry.on == today
                    && matches!(&entry.did, PlantDeed::Verdict { who: by, .. } if *by == who)
            });
            entries.push((earlier, Entry { on: today, did }));
        }
        let what = format!("{}: {}", words::plant(book, plant), what.join("; "));
        enter::several(book, &book.spot_of(plant), &entries, &what, today.first())
    }

    /// The look with what was typed into the fields.
    fn filled(&self) -> Look {
        let mut look = self.look.clone();
        look.scores.retain(|(name, _)| !self.fields.iter().any(|field| field.name == *name));
        for field in &self.fields {
            let value = field.typed.parse::<f64>().ok();
            match &*field.name {
                "bloom" if field.high.is_none() => look.bloom_mm = value,
                "height" if field.high.is_none() => look.height_cm = value,
                name => look.scores.extend(value.map(|value| (name.into(), value))),
            }
        }
        look
    }
}

/// The figures that can be typed: the size of the bloom, the scores, and the height.
fn fields(crop: &Crop, look: &Look) -> Vec<Field> {
    let said = |value: Option<f64>| value.map_or_else(String::new, |value| value.to_string());
    let field =
        |name: &str, unit, high, value| Field { name: name.into(), unit, high, typed: said(value) };
    let mut all = vec![field("bloom", "mm", None, look.bloom_mm)];
    all.push(field("height", "cm", None, look.height_cm));
    for of in &crop.traits {
        let scored = look.scores.iter().find(|(name, _)| *name == of.name);
        all.push(field(&of.name, "", Some(of.high), scored.map(|(_, value)| *value)));
    }
    all
}

/// How a figure measured before is called among the fields.
pub(super) fn measure(field: &Field) -> &str {
    match (&*field.name, field.high) {
        ("bloom", None) => sibs::BLOOM_MM,
        ("height", None) => sibs::HEIGHT_CM,
        (name, _) => name,
    }
}
