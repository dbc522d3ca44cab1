//! Crop files: what is peculiar to a crop, as it lies on disk, and the crops that are built in.
//!
//! A crop is used whole or not at all, so any flaw in its file is a reason to refuse it. Texts
//! may be wrapped over several lines; they are read as one.

use serde::Deserialize;

use super::{
    amiss::{Amiss, Step},
    disk::Disk,
    read::record,
};
use crate::book::{self, Problem, fold};

/// The crops that are built in, by name.
const BUILT_IN: [(&str, &str); 1] = [("dahlia", include_str!("../../assets/crops/dahlia.ron"))];

/// The names of the crops that are built in.
pub fn builtin_names() -> impl Iterator<Item = &'static str> {
    BUILT_IN.iter().map(|(name, _)| *name)
}

/// The file of the crop of this name that is built in, for a raiser to start their own from.
pub fn builtin_text(name: &str) -> Option<&'static str> {
    BUILT_IN.iter().find(|(known, _)| *known == fold(name)).map(|(_, text)| *text)
}

/// The crop of this name that is built in.
pub fn builtin(name: &str) -> Option<book::Crop> {
    parse(builtin_text(name)?, name).ok()
}

/// Reads a crop file; `file` is what a person would call it.
///
/// # Errors
/// Everything that is wrong with it, by line and column.
pub fn parse(text: &str, file: &str) -> Result<book::Crop, Vec<Problem>> {
    let reading = record::<Crop>(text);
    match reading.record {
        Some(crop) if reading.flaws.is_empty() => Ok(crop),
        _ => Err(reading.flaws.into_iter().map(|flaw| flaw.in_file(file)).collect()),
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Crop {
    format: u32,
    name: Box<str>,
    plural: Box<str>,
    ploidy: u8,
    #[serde(default)]
    double_reduction: f64,
    ploidy_source: Box<str>,
    #[serde(default)]
    groups: Vec<Group>,
    #[serde(default)]
    sizes: Vec<SizeTable>,
    colours: Vec<Colour>,
    #[serde(default)]
    markings: Vec<Box<str>>,
    traits: Vec<Trait>,
    faults: Vec<Box<str>>,
    largest_bloom_mm: f64,
    tallest_cm: f64,
    rates: UsualRates,
    days: UsualDays,
    #[serde(default)]
    cautions: Vec<Caution>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    code: Box<str>,
    name: Box<str>,
    means: Box<str>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeTable {
    name: Box<str>,
    title: Box<str>,
    #[serde(default)]
    unsized_groups: Vec<Box<str>>,
    classes: Vec<SizeClass>,
    source: Box<str>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SizeClass {
    name: Box<str>,
    #[serde(default)]
    groups: Vec<Box<str>>,
    above: f64,
    up_to: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Colour {
    word: Box<str>,
    swatch: Box<str>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Trait {
    name: Box<str>,
    means: Box<str>,
    low: f64,
    high: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Caution {
    at: Vec<Box<str>>,
    says: Box<str>,
    source: Box<str>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Usual {
    value: f64,
    worth: f64,
    source: Box<str>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UsualRates {
    up_of_sown: Usual,
    planted_of_sown: Usual,
    bloomed_of_planted: Usual,
    kept_of_judged: Usual,
    held_over_kept: Usual,
    ripened_of_heads: Usual,
    seeds_of_head: Usual,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Days {
    from: u16,
    to: u16,
    source: Box<str>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct UsualDays {
    head_ripens: Days,
    head_dries: Days,
    sown_to_bloom: Days,
    seed_keeps_years: Days,
    #[serde(default)]
    first_frost: Option<Days>,
    #[serde(default)]
    sowing: Option<Days>,
    #[serde(default)]
    winter_check: Option<Days>,
    #[serde(default)]
    wake_up: Option<Days>,
}

impl Disk for Crop {
    type Record = book::Crop;

    fn format(&self) -> u32 {
        self.format
    }

    fn take(self, amiss: &mut Amiss) -> book::Crop {
        if self.ploidy == 0 || self.ploidy % 2 == 1 {
            amiss.at(Step::Field("ploidy"), |amiss| {
                amiss.say("Chromosomes come in pairs.", "Write an even number, such as 2 or 8.");
            });
        }
        let most = book::most_double_reduction(self.ploidy);
        if !(0.0..=most).contains(&self.double_reduction) {
            amiss.at(Step::Field("double_reduction"), |amiss| {
                let message =
                    format!("{} cannot be at ploidy {}.", self.double_reduction, self.ploidy);
                let hint = if most > 0.0 {
                    "Write a number from 0 to 0.166; 0 where it is not known."
                } else {
                    "Write 0: only plants with more than two sets can have any."
                };
                amiss.say(message, hint);
            });
        }
        above(amiss, "largest_bloom_mm", self.largest_bloom_mm, 0.0);
        above(amiss, "tallest_cm", self.tallest_cm, 0.0);
        let groups = amiss.each("groups", self.groups, Group::take);
        once(amiss, "groups", Some("code"), groups.iter().map(|g| &*g.code));
        let sizes = amiss.each("sizes", self.sizes, |table, amiss| table.take(&groups, amiss));
        once(amiss, "sizes", Some("name"), sizes.iter().map(|t| &*t.name));
        let colours = amiss.each("colours", self.colours, Colour::take);
        once(amiss, "colours", Some("word"), colours.iter().map(|c| &*c.word));
        let markings = amiss.lines("markings", self.markings);
        once(amiss, "markings", None, markings.iter().map(|m| &**m));
        let traits = amiss.each("traits", self.traits, Trait::take);
        once(amiss, "traits", Some("name"), traits.iter().map(|t| &*t.name));
        let faults = amiss.lines("faults", self.faults);
        once(amiss, "faults", None, faults.iter().map(|f| &**f));
        book::Crop {
            name: text(amiss, "name", &self.name),
            plural: text(amiss, "plural", &self.plural),
            ploidy: self.ploidy,
            double_reduction: self.double_reduction,
            ploidy_source: text(amiss, "ploidy_source", &self.ploidy_source),
            groups,
            sizes,
            colours,
            markings,
            traits,
            faults,
            largest_bloom_mm: self.largest_bloom_mm,
            tallest_cm: self.tallest_cm,
            rates: amiss.at(Step::Field("rates"), |amiss| self.rates.take(amiss)),
            days: amiss.at(Step::Field("days"), |amiss| self.days.take(amiss)),
            cautions: amiss.each("cautions", self.cautions, Caution::take),
        }
    }
}

impl Caution {
    fn take(self, amiss: &mut Amiss) -> book::Caution {
        book::Caution {
            at: amiss.lines("at", self.at),
            says: text(amiss, "says", &self.says),
            source: text(amiss, "source", &self.source),
        }
    }
}

impl Group {
    fn take(self, amiss: &mut Amiss) -> book::Group {
        book::Group {
            code: text(amiss, "code", &self.code),
            name: text(amiss, "name", &self.name),
            means: text(amiss, "means", &self.means),
        }
    }
}

impl SizeTable {
    fn take(self, groups: &[book::Group], amiss: &mut Amiss) -> book::SizeTable {
        known(amiss, "unsized_groups", &self.unsized_groups, groups);
        book::SizeTable {
            name: text(amiss, "name", &self.name),
            title: text(amiss, "title", &self.title),
            unsized_groups: self.unsized_groups,
            classes: amiss.each("classes", self.classes, |class, amiss| class.take(groups, amiss)),
            source: text(amiss, "source", &self.source),
        }
    }
}

impl SizeClass {
    fn take(self, groups: &[book::Group], amiss: &mut Amiss) -> book::SizeClass {
        known(amiss, "groups", &self.groups, groups);
        amiss.number(Step::Field("above"), self.above);
        if let Some(up_to) = self.up_to {
            above(amiss, "up_to", up_to, self.above);
        }
        book::SizeClass {
            name: text(amiss, "name", &self.name),
            groups: self.groups,
            above_mm: self.above,
            up_to_mm: self.up_to,
        }
    }
}

impl Colour {
    fn take(self, amiss: &mut Amiss) -> book::Colour {
        let swatch = swatch(&self.swatch).unwrap_or_else(|| {
            amiss.at(Step::Field("swatch"), |amiss| {
                let message = "A swatch is six digits of red, green and blue.";
                amiss.say(message, "Write it as on the web, such as \"#f5ae70\".");
            });
            [0; 3]
        });
        book::Colour { word: text(amiss, "word", &self.word), swatch }
    }
}

impl Trait {
    fn take(self, amiss: &mut Amiss) -> book::Trait {
        amiss.number(Step::Field("low"), self.low);
        above(amiss, "high", self.high, self.low);
        book::Trait {
            name: text(amiss, "name", &self.name),
            means: text(amiss, "means", &self.means),
            low: self.low,
            high: self.high,
        }
    }
}

impl UsualRates {
    fn take(self, amiss: &mut Amiss) -> book::UsualRates {
        let mut share = |field, usual: Usual| usual.take(field, 1.0, amiss);
        book::UsualRates {
            up_of_sown: share("up_of_sown", self.up_of_sown),
            planted_of_sown: share("planted_of_sown", self.planted_of_sown),
            bloomed_of_planted: share("bloomed_of_planted", self.bloomed_of_planted),
            kept_of_judged: share("kept_of_judged", self.kept_of_judged),
            held_over_kept: share("held_over_kept", self.held_over_kept),
            ripened_of_heads: share("ripened_of_heads", self.ripened_of_heads),
            seeds_of_head: self.seeds_of_head.take("seeds_of_head", f64::MAX, amiss),
        }
    }
}

impl Usual {
    fn take(self, field: &'static str, most: f64, amiss: &mut Amiss) -> book::Usual {
        amiss.at(Step::Field(field), |amiss| {
            above(amiss, "worth", self.worth, 0.0);
            // Neither end: a share that is certain beforehand could learn nothing from a book.
            if !(self.value > 0.0 && self.value < most) {
                let most = if most > 1.0 { "" } else { " and below 1" };
                amiss.at(Step::Field("value"), |amiss| {
                    amiss.say(
                        format!("{} cannot stand here.", self.value),
                        format!("Write a number above 0{most}."),
                    );
                });
            }
            book::Usual {
                value: self.value,
                worth: self.worth,
                source: text(amiss, "source", &self.source),
            }
        })
    }
}

impl UsualDays {
    fn take(self, amiss: &mut Amiss) -> book::UsualDays {
        let mut some = |field, days: Option<Days>| {
            days.map_or_else(book::Days::default, |days| {
                amiss.at(Step::Field(field), |amiss| days.take(amiss))
            })
        };
        book::UsualDays {
            first_frost: some("first_frost", self.first_frost),
            sowing: some("sowing", self.sowing),
            winter_check: some("winter_check", self.winter_check),
            wake_up: some("wake_up", self.wake_up),
            head_ripens: some("head_ripens", Some(self.head_ripens)),
            head_dries: some("head_dries", Some(self.head_dries)),
            sown_to_bloom: some("sown_to_bloom", Some(self.sown_to_bloom)),
            seed_keeps_years: some("seed_keeps_years", Some(self.seed_keeps_years)),
        }
    }
}

impl Days {
    fn take(self, amiss: &mut Amiss) -> book::Days {
        if self.to < self.from {
            amiss.at(Step::Field("to"), |amiss| {
                let message = format!("{} is less than {}.", self.to, self.from);
                amiss.say(message, "Write the longer time here and the shorter under from.");
            });
        }
        book::Days { from: self.from, to: self.to, source: text(amiss, "source", &self.source) }
    }
}

/// A text that may be wrapped, as one line.
fn text(amiss: &mut Amiss, field: &'static str, wrapped: &str) -> Box<str> {
    let words: Vec<&str> = wrapped.split_whitespace().collect();
    if words.is_empty() {
        amiss.at(Step::Field(field), |amiss| {
            amiss.say(format!("The field \"{field}\" says nothing."), "Write something in it.");
        });
    }
    amiss.line(Step::Field(field), words.join(" ").into())
}

/// Red, green and blue of `#rrggbb`.
fn swatch(written: &str) -> Option<[u8; 3]> {
    let digits = written.strip_prefix('#').filter(|d| d.len() == 6 && !d.starts_with('+'))?;
    let [_, red, green, blue] = u32::from_str_radix(digits, 16).ok()?.to_be_bytes();
    Some([red, green, blue])
}

fn above(amiss: &mut Amiss, field: &'static str, number: f64, floor: f64) {
    if !(number > floor && number.is_finite()) {
        amiss.at(Step::Field(field), |amiss| {
            amiss.say(
                format!("{number} cannot stand here."),
                format!("Write a number above {floor}."),
            );
        });
    }
}

/// Complains of words that stand in a list a second time, as people read them.
fn once<'a>(
    amiss: &mut Amiss,
    list: &'static str,
    field: Option<&'static str>,
    words: impl Iterator<Item = &'a str>,
) {
    let mut seen = Vec::new();
    for (n, word) in words.enumerate() {
        let folded = fold(word);
        if seen.contains(&folded) {
            let complain = |amiss: &mut Amiss| {
                amiss.say(format!("\"{word}\" stands here a second time."), "Take one out.");
            };
            amiss.at(Step::Field(list), |amiss| {
                amiss.at(Step::Item(n), |amiss| match field {
                    Some(field) => amiss.at(Step::Field(field), complain),
                    None => complain(amiss),
                });
            });
        }
        seen.push(folded);
    }
}

/// Complains of group codes that no group bears.
fn known(amiss: &mut Amiss, field: &'static str, codes: &[Box<str>], groups: &[book::Group]) {
    for (n, code) in codes.iter().enumerate() {
        if !groups.iter().any(|group| group.code == *code) {
            amiss.at(Step::Field(field), |amiss| {
                amiss.at(Step::Item(n), |amiss| {
                    amiss.say(
                        format!("There is no group \"{code}\" in this crop."),
                        "Write the code of one of its groups.",
                    );
                });
            });
        }
    }
}
