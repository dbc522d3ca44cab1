//! The first page: ploidy, beds, frosts and aims.

use chrono::NaiveDate;

use super::{
    super::{Aim, Book, Frost, Place, Want, equational_double_reduction, most_double_reduction},
    Found, did_you_mean, season_of,
};

/// Measurements that an aim can be about although no crop file names them.
const MEASURED: [&str; 2] = ["bloom_mm", "height_cm"];

/// The ploidies for which anything can be worked out.
const PLOIDIES: [u8; 4] = [2, 4, 6, 8];

pub(super) fn check(book: &Book, today: NaiveDate, found: &mut Found) {
    let about = book.about();
    if let Some(ploidy) = about.ploidy
        && !PLOIDIES.contains(&ploidy)
    {
        found.error(
            Place::About.field("ploidy"),
            format!("A ploidy of {ploidy} cannot be reckoned with."),
            "Write 2, 4, 6 or 8, or take the field out to use that of the crop.",
        );
    }
    let ploidy = about.ploidy.unwrap_or(book.crop().ploidy);
    check_double_reduction(about.double_reduction, ploidy, found);
    if let Some(name) = &about.sizes
        && !book.crop().sizes.is_empty()
        && !book.crop().sizes.iter().any(|table| table.name == *name)
    {
        let known = book.crop().sizes.iter().map(|table| &*table.name);
        found.warning(
            Place::About.field("sizes"),
            format!("The crop has no size table called \"{name}\", so its first one is used."),
            format!("{}The tables are: {}.", did_you_mean(name, known.clone()), joined(known)),
        );
    }
    for (n, bed) in about.beds.iter().enumerate() {
        if about.beds[..n].iter().any(|other| other.name == bed.name) {
            found.warning(
                Place::About.item("beds", n),
                format!("The bed \"{}\" stands here a second time.", bed.name),
                "Give one of the two another name, or take it out.",
            );
        }
    }
    for (n, entry) in about.diary.iter().enumerate() {
        if entry.on.first() > today {
            found.error(
                Place::About.item("diary", n),
                format!("{} has not come yet; today is {today}.", entry.on),
                "Look whether the date is right.",
            );
        }
    }
    for (n, frost) in about.frosts.iter().enumerate() {
        check_frost(n, frost, today, found);
    }
    for (n, aim) in about.aims.iter().enumerate() {
        check_aim(book, n, aim, found);
    }
}

fn check_double_reduction(rate: Option<f64>, ploidy: u8, found: &mut Found) {
    let Some(rate) = rate else { return };
    let at = || Place::About.field("double_reduction");
    let (most, likely) = (most_double_reduction(ploidy), equational_double_reduction(ploidy));
    if !(0.0..=most).contains(&rate) {
        found.error(
            at(),
            format!("A double reduction of {rate} cannot be at ploidy {ploidy}."),
            if most > 0.0 {
                let most = round_down(most);
                format!("Write a number from 0 to {most}, or take the field out.")
            } else {
                "Take the field out: only plants with more than two sets can have any.".to_owned()
            },
        );
    } else if rate > likely {
        found.warning(
            at(),
            format!(
                "A double reduction of {rate} is much at ploidy {ploidy}, where more than \
                 {likely:.3} is not known to come about."
            ),
            "It is the probability for two alleles of a gamete, not for a gamete.",
        );
    }
}

/// To three digits, so that what is offered will be taken.
fn round_down(most: f64) -> f64 {
    (most * 1000.0).floor() / 1000.0
}

fn check_frost(n: usize, frost: &Frost, today: NaiveDate, found: &mut Found) {
    let at = || Place::About.item("frosts", n);
    for day in [frost.last, frost.first].into_iter().flatten() {
        if season_of(day) != frost.season {
            found.error(
                at(),
                format!("The frost of {day} does not lie in the season {}.", frost.season),
                "Write the last frost of spring and the first of autumn of the same year.",
            );
        }
        if day > today {
            found.error(
                at(),
                format!("The frost of {day} has not come yet; today is {today}."),
                "Look whether the date is right.",
            );
        }
    }
    if let (Some(last), Some(first)) = (frost.last, frost.first)
        && first <= last
    {
        found.error(
            at(),
            format!("The first frost of autumn, {first}, is not after the last of spring, {last}."),
            "Look whether the two are swapped.",
        );
    }
}

fn check_aim(book: &Book, n: usize, aim: &Aim, found: &mut Found) {
    let at = || Place::About.item("aims", n);
    let is_known = MEASURED.contains(&&*aim.of) || book.crop().scored(&aim.of).is_some();
    if !is_known && !book.crop().traits.is_empty() {
        let known = MEASURED.into_iter().chain(book.crop().traits.iter().map(|t| &*t.name));
        found.warning(
            at(),
            format!("The crop has no trait called \"{}\" to aim at.", aim.of),
            format!("{}The traits are: {}.", did_you_mean(&aim.of, known.clone()), joined(known)),
        );
    }
    if aim.weight < 0.0 {
        found.error(
            at(),
            format!("An aim cannot matter less than nothing, as {} says.", aim.weight),
            "Write Less for a trait that you want little of, and a weight above 0.",
        );
    }
    if let Want::Between(low, high) = aim.want
        && low > high
    {
        found.error(
            at(),
            format!("There is nothing between {low} and {high}."),
            "Write the smaller value first.",
        );
    }
}

fn joined<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(", ")
}
