//! Words and measures of the crop: groups, colours, traits, faults, sizes.

use super::{
    super::{Book, Crop, Look, Place, PlantDeed},
    Found, did_you_mean, plants,
};

pub(super) fn check(book: &Book, found: &mut Found) {
    let mut eye = Eye { crop: book.crop(), found };
    for variety in book.varieties() {
        let at = || Place::Variety(variety.id.clone(), None);
        if let Some(group) = &variety.group {
            eye.group(group, || at().field("group"));
        }
        for (n, colour) in variety.colours.iter().enumerate() {
            eye.colour(colour, || at().item("colours", n));
        }
        eye.bloom(variety.bloom_mm, || at().field("bloom_mm"));
        eye.height(variety.height_cm, || at().field("height_cm"));
    }
    for plant in plants(book) {
        for (n, entry) in plant.diary.iter().enumerate() {
            if let PlantDeed::Look(look) = &entry.did {
                eye.look(look, || plant.owner.at_entry(n));
            }
        }
    }
}

struct Eye<'a> {
    crop: &'a Crop,
    found: &'a mut Found,
}

impl Eye<'_> {
    fn look(&mut self, look: &Look, at: impl Fn() -> Place) {
        if let Some(group) = &look.group {
            self.group(group, &at);
        }
        for colour in &look.colours {
            self.colour(colour, &at);
        }
        for (name, score) in &look.scores {
            self.score(name, *score, &at);
        }
        for fault in &look.faults {
            self.fault(fault, &at);
        }
        self.bloom(look.bloom_mm, &at);
        self.height(look.height_cm, &at);
    }

    fn unknown<'a>(
        &mut self,
        at: Place,
        what: &str,
        word: &str,
        known: impl Iterator<Item = &'a str>,
    ) {
        self.found.warning(
            at,
            format!("The crop has no {what} \"{word}\" in its list."),
            format!(
                "{}Write a word of the crop file, or add this one to it.",
                did_you_mean(word, known)
            ),
        );
    }

    fn group(&mut self, code: &str, at: impl Fn() -> Place) {
        let groups = &self.crop.groups;
        if !groups.is_empty() && self.crop.group(code).is_none() {
            self.unknown(at(), "flower group", code, groups.iter().map(|g| &*g.code));
        }
    }

    fn colour(&mut self, word: &str, at: impl Fn() -> Place) {
        let colours = &self.crop.colours;
        if !colours.is_empty() && !self.crop.knows_colour(word) {
            let known = colours.iter().map(|c| &*c.word);
            let markings = self.crop.markings.iter().map(|m| &**m);
            self.unknown(at(), "colour", word, known.chain(markings));
        }
    }

    fn fault(&mut self, word: &str, at: impl Fn() -> Place) {
        let faults = &self.crop.faults;
        if !faults.is_empty() && !faults.iter().any(|f| f.eq_ignore_ascii_case(word)) {
            self.unknown(at(), "fault", word, faults.iter().map(|f| &**f));
        }
    }

    fn score(&mut self, name: &str, score: f64, at: impl Fn() -> Place) {
        match self.crop.scored(name) {
            None if self.crop.traits.is_empty() => {}
            None => {
                self.unknown(at(), "trait", name, self.crop.traits.iter().map(|t| &*t.name));
            }
            Some(scored) if score < scored.low || score > scored.high => self.found.warning(
                at(),
                format!(
                    "A score of {score} for {name} is off the scale, which goes from {} to {}.",
                    scored.low, scored.high
                ),
                "Look whether the score is right.",
            ),
            Some(_) => {}
        }
    }

    fn bloom(&mut self, mm: Option<f64>, at: impl Fn() -> Place) {
        self.measure(mm, self.crop.largest_bloom_mm, ("bloom", "mm"), at);
    }

    fn height(&mut self, cm: Option<f64>, at: impl Fn() -> Place) {
        self.measure(cm, self.crop.tallest_cm, ("height", "cm"), at);
    }

    fn measure(
        &mut self,
        size: Option<f64>,
        most: f64,
        (what, unit): (&str, &str),
        at: impl Fn() -> Place,
    ) {
        let Some(size) = size else { return };
        if size <= 0.0 {
            self.found.error(
                at(),
                format!("A {what} of {size} {unit} cannot be."),
                "Write what was measured, or take the field out.",
            );
        } else if most > 0.0 && size > most {
            self.found.warning(
                at(),
                format!("A {what} of {size} {unit} is larger than any known; the most is {most}."),
                format!("Look whether it is right; it is meant in {unit}."),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::book::{About, Colour, Cross, Entry, Seedling, Severity, Trait, Variety, When};

    /// What is said of one look, in a book of a crop with a few words of its own.
    fn said_of(look: Look) -> Vec<(Severity, String)> {
        let crop = Crop {
            colours: vec![Colour { word: "apricot".into(), swatch: [0; 3] }],
            markings: vec!["tipped".into()],
            traits: vec![Trait { name: "form".into(), means: "".into(), low: 1.0, high: 9.0 }],
            faults: vec!["open centre".into()],
            largest_bloom_mm: 400.0,
            tallest_cm: 250.0,
            ..Crop::default()
        };
        let entry =
            Entry { on: When::year(crate::book::Season(2026)), did: PlantDeed::Look(look.into()) };
        let seedling = Seedling { number: "1".into(), diary: vec![entry], ..Seedling::default() };
        let cross = Cross { seedlings: vec![seedling], ..Cross::default() };
        let book = Book::new(About::default(), Arc::new(crop), Vec::<Variety>::new(), vec![cross]);
        let mut found = Found { faults: Vec::new() };
        check(&book, &mut found);
        found
            .faults
            .into_iter()
            .map(|fault| (fault.severity, fault.message + " " + &fault.hint))
            .collect()
    }

    fn colours(words: &[&str]) -> Vec<(Severity, String)> {
        said_of(Look {
            colours: words.iter().map(|&word| word.into()).collect(),
            ..Look::default()
        })
    }

    #[test]
    fn a_colour_that_the_crop_lacks_is_odd_and_a_marking_is_not() {
        assert!(colours(&["apricot", "Tipped"]).is_empty());
        let said = colours(&["apricto"]);
        assert!(matches!(&said[..], [(Severity::Warning, text)] if text.contains("\"apricot\"")));
        let said = colours(&["apricot", "tiped"]);
        assert!(matches!(&said[..], [(Severity::Warning, text)] if text.contains("\"tipped\"")));
    }

    #[test]
    fn words_and_scores_off_the_lists_of_the_crop_are_odd() {
        let look = Look {
            scores: vec![("form".into(), 10.0), ("stem".into(), 5.0)],
            faults: vec!["Open Centre".into(), "weak neck".into()],
            ..Look::default()
        };
        let said = said_of(look);
        assert!(said.iter().all(|(how, _)| *how == Severity::Warning), "{said:?}");
        let said: Vec<&str> = said.iter().map(|(_, text)| &**text).collect();
        for (text, part) in
            said.iter().zip(["10 for form", "trait \"stem\"", "fault \"weak neck\""])
        {
            assert!(text.contains(part), "{text}");
        }
        assert_eq!(said.len(), 3);
    }

    #[test]
    fn a_bloom_larger_than_any_is_odd_and_one_of_nothing_cannot_be() {
        let bloom = |mm| said_of(Look { bloom_mm: Some(mm), ..Look::default() });
        assert!(bloom(400.0).is_empty());
        assert!(matches!(&bloom(401.0)[..], [(Severity::Warning, text)] if text.contains("400")));
        assert!(matches!(&bloom(0.0)[..], [(Severity::Error, _)]));
        let tall = said_of(Look { height_cm: Some(251.0), ..Look::default() });
        assert!(matches!(&tall[..], [(Severity::Warning, text)] if text.contains("height")));
    }
}
