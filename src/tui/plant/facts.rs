//! What is said of a plant: one line at the head, the facts, and where it came from.

use crate::book::{By, PlantRecord, State, Verdict};
use crate::merit::traits::Passed;
use crate::tui::{
    facts::Fact,
    links::{self, Link},
    page::Around,
    place::Place,
    plants, said,
};
use crate::views::{
    Desk, Party,
    given::{Partner, WentOn},
    kin,
    parents::Role,
    plant::Page as Record,
    sibs, words,
};

/// The plant in one line.
pub(super) fn says(record: &Record, around: &Around<'_>) -> String {
    let desk = around.desk;
    let name = desk.label(record.plant);
    let number = match desk.book().plant(record.plant) {
        PlantRecord::Seedling(cross, seedling) if seedling.name().is_some() => {
            format!(" ({}, of cross {})", seedling.number, cross.code)
        }
        PlantRecord::Seedling(cross, _) => format!(" of cross {}", cross.code),
        PlantRecord::Variety(_) => String::new(),
    };
    said::fitting(
        [
            format!("{name}{number}: {}.", stands(record, desk, true)),
            format!("{name}{number}: {}.", stands(record, desk, false)),
            format!("{name}: {}.", stands(record, desk, false)),
        ],
        around.line_room(),
    )
}

/// How it stands, with the reason of the verdict if that is wanted.
fn stands(record: &Record, desk: &Desk, with_why: bool) -> String {
    let facts = &record.facts;
    if let PlantRecord::Variety(_) = desk.book().plant(record.plant) {
        let raised = facts.raiser.as_ref().map(|raiser| format!(", raised by {raiser}"));
        let year = facts.year.map(|year| format!(", {year}"));
        return format!("variety{}{}", raised.unwrap_or_default(), year.unwrap_or_default());
    }
    match (&facts.verdict, facts.state) {
        (Some((is, on, why)), state) => {
            let word = match (is, state) {
                (Verdict::Keep, _) => facts.stage.map_or("kept", words::stage),
                (Verdict::Hold, _) => "held",
                (Verdict::Discard, _) => "discarded",
            };
            let why =
                why.as_ref().filter(|_| with_why).map(|why| format!(", {why}")).unwrap_or_default();
            let lost =
                if state == State::Lost && *is != Verdict::Discard { ", since lost" } else { "" };
            format!("{word}, {}{why}{lost}", words::day(*on))
        }
        (None, State::Open) => "has bloomed, no word yet".to_owned(),
        (None, State::Unbloomed) => "not seen in bloom".to_owned(),
        (None, state) => words::state(state).to_owned(),
    }
}

/// The facts, the most telling first.
pub(super) fn of<'a>(record: &'a Record, around: &Around<'a>) -> Vec<Fact<'a>> {
    let facts = &record.facts;
    let desk = around.desk;
    let measured = |name| facts.measures.get(name);
    let mut all = Vec::new();
    let mm = measured(sibs::BLOOM_MM).map(|mm| format!("{mm:.0} mm"));
    let bloom: Vec<String> =
        [mm, facts.size.as_ref().map(ToString::to_string), group(record, desk)]
            .into_iter()
            .flatten()
            .collect();
    if !facts.colours.is_empty() || !bloom.is_empty() {
        all.push(Fact::Bloom(&facts.colours, desk.book().crop(), bloom.join(", ")));
    }
    let mut say = |name: &'static str, said: Option<String>| {
        if let Some(said) = said.filter(|said| !said.is_empty()) {
            all.push(Fact::Words(name, said));
        }
    };
    say("height", measured(sibs::HEIGHT_CM).map(|cm| format!("{cm:.0} cm")));
    say("scores", Some(plants::scores(around, record.plant)));
    say("opened", facts.first_bloom.map(words::day));
    let outlook = record.outlook.as_ref().map(words::outlook);
    say("in bud", outlook.map(|text| said::with_ends(&text, around.glyphs())));
    say("inbred", (record.inbreeding > 0.0).then(|| inbred(record, desk)));
    say("stands", facts.position.as_ref().map(ToString::to_string));
    say("gives", gives(record));
    if let Some(row) = &record.as_parent {
        say("as seed", role(row.as_seed, around));
        say("as pollen", role(row.as_pollen, around));
        say("passes on", passes_on(record, around));
        say("partners", partners(record, around));
        say("offspring", went_on(record));
    }
    say("note", facts.note.as_ref().map(ToString::to_string));
    all
}

fn inbred(record: &Record, desk: &Desk) -> String {
    words::inbreeding(record.inbreeding, kin::of_full_sibs(desk, record.inbreeding))
}

fn group(record: &Record, desk: &Desk) -> Option<String> {
    let code = record.facts.group.as_deref()?;
    let name = desk.book().crop().group(code).map(|group| group.name.to_string());
    Some(name.unwrap_or_else(|| code.to_owned()))
}

fn gives(record: &Record) -> Option<String> {
    let said = |gives: Option<bool>, what: &str| {
        gives.map(|yes| format!("{}{what}", if yes { "" } else { "no " }))
    };
    let facts = &record.facts;
    let parts: Vec<String> = [said(facts.gives_seed, "seed"), said(facts.gives_pollen, "pollen")]
        .into_iter()
        .flatten()
        .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// What it gave in one of its two roles.
fn role(role: Role, around: &Around<'_>) -> Option<String> {
    if role.crosses == 0 {
        return None;
    }
    let crosses = said::many(role.crosses as usize, "cross", "crosses");
    Some(match role.rate {
        Some(rate) => format!(
            "kept {} in {crosses}, {} ({})",
            said::of(role.counts.kept, role.counts.judged),
            said::percent(rate.p),
            said::ends(&rate, around.glyphs())
        ),
        None => format!("{crosses}, nothing judged"),
    })
}

/// The mean of its seedlings with an average partner, trait by trait.
fn passes_on(record: &Record, around: &Around<'_>) -> Option<String> {
    let dash = around.glyphs().to;
    let one = |name: &str, passed: &Passed| {
        // Scores run from 1 to 9 or so and need a digit more than millimetres do.
        let digits = usize::from(passed.value.abs() < 20.0);
        let Passed { value, low, high, .. } = passed;
        let name = match name {
            sibs::BLOOM_MM => "bloom",
            sibs::HEIGHT_CM => "height",
            score => score,
        };
        let unit = match name {
            "bloom" => " mm",
            "height" => " cm",
            _ => "",
        };
        format!("{name} {value:.digits$}{unit} ({low:.digits$}{dash}{high:.digits$})")
    };
    // Where a trait shows no difference between parents there is nothing to say of this one.
    let told = record.passed_on.iter().filter(|(_, passed)| passed.reliability > 0.0);
    let told: Vec<String> = told.map(|(name, passed)| one(name, passed)).collect();
    (!told.is_empty()).then(|| told.join(", "))
}

/// The partners at both ends of the list.
fn partners(record: &Record, around: &Around<'_>) -> Option<String> {
    let one = |partner: &Partner| {
        let with = if partner.with.plant() == Some(record.plant) {
            "itself".to_owned()
        } else {
            said::party(around.desk, &partner.with, By::Hand)
        };
        format!("{with}, kept {}", said::of(partner.kept, partner.judged))
    };
    match &record.partners[..] {
        [] => None,
        [only] => Some(format!("only {}", one(only))),
        [best, .., worst] => Some(format!("best {}; worst {}", one(best), one(worst))),
    }
}

/// What its offspring went on to do.
fn went_on(record: &Record) -> Option<String> {
    let WentOn { seedlings, bloomed, kept_again, named, parents, .. } = &record.went_on;
    (*seedlings > 0).then(|| {
        format!(
            "{}: {bloomed} bloomed, {kept_again} kept again, {} named, {} became parents",
            said::many(*seedlings as usize, "seedling", "seedlings"),
            named.len(),
            parents.len()
        )
    })
}

/// Parents and grandparents, the cross and the pairing, each a step away.
pub(super) fn from(record: &Record, around: &Around<'_>) -> Vec<Link> {
    let desk = around.desk;
    let cross = record.cross;
    let by = cross.map_or(By::Hand, |id| desk.book().cross(id).by);
    let mut all = Vec::new();
    if cross.is_none() && record.seed == Party::Unknown && record.pollen == Party::Unknown {
        return all;
    }
    for (role, party, by) in
        [("seed parent", &record.seed, By::Hand), ("pollen parent", &record.pollen, by)]
    {
        all.extend(links::parent(around, role, party, by));
        let Some(parent) = party.plant() else { continue };
        let (seed, pollen) = desk.parents(parent);
        let by = desk.book().cross_of(parent).map_or(By::Hand, |id| desk.book().cross(id).by);
        // Of a variety nobody's parents may be known, and a line that says so is no use.
        for (role, party, by) in [("  its seed", &seed, By::Hand), ("  its pollen", &pollen, by)] {
            if party.plants().next().is_some() {
                all.extend(links::parent(around, role, party, by));
            }
        }
    }
    if let Some(id) = cross {
        let made = desk.book().cross(id).season;
        all.push(Link {
            role: "cross".to_owned(),
            name: desk.book().cross(id).code.to_string(),
            note: made.map_or_else(String::new, |season| format!("made in {season}")),
            place: Some(Place::Cross(id)),
        });
        let pairing = desk.pairings().iter().position(|pairing| pairing.crosses.contains(&id));
        all.extend(pairing.and_then(|at| links::of_pairing(around, at)));
    }
    all
}
