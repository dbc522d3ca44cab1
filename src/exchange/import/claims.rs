//! What each row says of the cross that its plant is of.

use super::{
    column::Column as C,
    enrol::Enrolled,
    families::{Claim, Says},
    faults::{At, Faults},
    gather::Gathered,
    kin::{Kin, Pair, PollenKin, look_up},
    names::{Names, Sort, Who},
    row::Told,
};
use crate::book::{Book, Season};

/// The parents that one row names.
#[derive(Debug, Clone, Default)]
pub(super) struct Parents {
    pub(super) seed: Option<(Kin, At)>,
    pub(super) pollen: Option<(PollenKin, At)>,
}

/// Looks the parents of a row up, and adds those whom nobody knows.
pub(super) fn parents_of(
    told: &Told<'_, '_>,
    names: &mut Names<'_>,
    faults: &mut Faults<'_>,
) -> Parents {
    let mut parents = Parents::default();
    if let Some(text) = told.parent(C::SeedParent) {
        let at = told.at(C::SeedParent);
        match look_up(text, at, names, faults) {
            Some(PollenKin::From(kin)) => parents.seed = Some((kin, at)),
            Some(PollenKin::Selfed) => faults.add(
                at,
                "A seed parent cannot be selfed.",
                "Name the plant here, and write selfed under pollen_parent.",
            ),
            None => {}
        }
    }
    if let Some(text) = told.parent(C::PollenParent) {
        let at = told.at(C::PollenParent);
        parents.pollen = look_up(text, at, names, faults).map(|pollen| (pollen, at));
    }
    parents
}

/// The season of the cross as it follows from the first thing dated in the row, and what that is.
pub(super) fn worked_out(told: &Told<'_, '_>) -> Option<(Season, &'static str)> {
    const FROM: [(C, &str); 7] = [
        (C::Sown, "sowing"),
        (C::Planted, "planting"),
        (C::FirstBloom, "first bloom"),
        (C::LastSeenUnbloomed, "the day it was last seen unbloomed"),
        (C::LookOn, "the look"),
        (C::VerdictOn, "the verdict"),
        (C::LostOn, "the loss"),
    ];
    FROM.iter().find_map(|&(column, what)| Some((told.date(column)?.season().before(), what)))
}

/// The claims of all seedlings, in their order. A variety that is one plant with a seedling
/// speaks for its parents where the seedling's row does not.
pub(super) fn of_seedlings<'r>(
    book: &Book,
    gathered: &Gathered<'r, '_>,
    enrolled: &Enrolled,
    varieties: &[Parents],
    names: &mut Names<'_>,
    faults: &mut Faults<'_>,
) -> Vec<Claim<'r>> {
    let mut claims: Vec<Claim<'r>> = Vec::with_capacity(gathered.seedlings.len());
    for told in &gathered.seedlings {
        let Parents { seed, pollen } = parents_of(told, names, faults);
        claims.push(Claim {
            at: told.at,
            code: told.text(C::Cross),
            says: Says {
                seed,
                pollen,
                season: told.season(C::Season).map(|season| (season, told.at(C::Season))),
                by: told.by_whom().map(|by| (by, told.at(C::By))),
            },
            worked_out: worked_out(told).map(|(season, _)| season),
        });
    }
    let mut of: std::collections::HashMap<Who, usize> = std::collections::HashMap::new();
    for (n, who) in enrolled.seedlings.iter().enumerate() {
        of.extend(who.map(|who| (who, n)));
    }
    for (told, (who, parents)) in
        gathered.varieties.iter().zip(enrolled.varieties.iter().zip(varieties))
    {
        if let Some(n) = who.and_then(|who| of.get(&names.really(who))) {
            speak(&mut claims[*n], parents, told.at, names, faults);
        }
    }
    // Varieties of the book that were found to be seedlings.
    for who in names.all().take(book.varieties().len()) {
        let Some(&n) = of.get(&names.really(who)) else { continue };
        if names.sort(who) == Sort::OldVariety {
            let at = claims[n].at;
            let variety = &book.varieties()[who.0];
            let seed = Kin::of(&variety.seed, book, names).map(|kin| (kin, at));
            let pollen =
                Kin::of(&variety.pollen, book, names).map(|kin| (PollenKin::From(kin), at));
            speak(&mut claims[n], &Parents { seed, pollen }, at, names, faults);
        }
    }
    claims
}

/// Lets what is known of a variety speak for the seedling that it is.
fn speak(
    claim: &mut Claim<'_>,
    parents: &Parents,
    at: At,
    names: &Names<'_>,
    faults: &mut Faults<'_>,
) {
    let mut differ = |what: &str, other: At, one: String, two: String| {
        faults.add_with(
            other,
            &[at],
            format!("As a variety this plant has the {what} {one}, as a seedling {two}."),
            "A name that stands both as a variety and as a seedling is one plant; correct one of \
             the two, or give one another name.",
        );
    };
    if let Some((seed, at)) = parents.seed.as_ref().filter(|(seed, _)| *seed != Kin::Unknown) {
        match &claim.says.seed {
            Some((known, other)) if *known != Kin::Unknown => {
                if !known.is(seed) {
                    differ("seed parent", *other, seed.shown(names), known.shown(names));
                }
            }
            _ => claim.says.seed = Some((seed.clone(), *at)),
        }
    }
    if let Some((pollen, at)) = parents.pollen.as_ref().filter(|(p, _)| !p.is_unknown()) {
        let seed = claim.says.seed.as_ref().map(|(seed, _)| seed.clone()).unwrap_or_default();
        let pollen = Pair::new(seed.clone(), pollen.clone()).pollen;
        match &claim.says.pollen {
            Some((known, other)) if !known.is_unknown() => {
                if !Pair::new(seed, known.clone()).pollen.is(&pollen) {
                    differ("pollen parent", *other, pollen.shown(names), known.shown(names));
                }
            }
            _ => claim.says.pollen = Some((pollen, *at)),
        }
    }
}
