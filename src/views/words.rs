//! The words for what stands in a diary and for how a thing stands, so that screen, table and
//! page say the same.

use std::borrow::Cow;

use crate::book::{
    Book, GardenDeed, Grain, HeadDeed, HeadState, Look, LotDeed, PlantDeed, PlantId, PlantRecord,
    Seedling, Stage, State, Verdict, When,
};
use crate::merit::HeldOver;

use super::{Interval, first_bloom::Outlook};

/// What a plant is called so that it cannot be taken for another: its name or number, with its
/// id where others bear the same number.
pub fn plant(book: &Book, plant: PlantId) -> Cow<'_, str> {
    let record = book.plant(plant);
    let label = record.label();
    match record {
        PlantRecord::Seedling(_, Seedling { id: Some(id), .. }) if id.starts_with(label) => {
            Cow::Borrowed(id)
        }
        PlantRecord::Seedling(_, Seedling { id: Some(id), .. }) => {
            Cow::Owned(format!("{label} ({id})"))
        }
        _ => Cow::Borrowed(label),
    }
}

/// How a seedling stands, in a word.
pub fn state(state: State) -> &'static str {
    match state {
        State::Potted => "potted",
        State::Unbloomed => "unbloomed",
        State::Open => "open",
        State::Held => "held",
        State::Kept => "kept",
        State::Named => "named",
        State::Discarded => "discarded",
        State::Lost => "lost",
    }
}

/// How a plant stands, in a word: of a variety that is neither judged nor lost, only that it is
/// grown here.
pub fn standing(book: &Book, plant: PlantId, state: State) -> &'static str {
    match (book.plant(plant), state) {
        (PlantRecord::Variety(_), State::Potted | State::Unbloomed | State::Open) => "grown",
        (_, state) => self::state(state),
    }
}

/// How far a keeper has come.
pub fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::FirstYear => "first-year keeper",
        Stage::SecondSeason => "second-season keeper",
        Stage::Named => "named",
    }
}

/// How a head stands.
pub fn head_state(state: HeadState) -> String {
    match state {
        HeadState::Hanging => "hanging".to_owned(),
        HeadState::Rotted => "rotted".to_owned(),
        HeadState::Lost => "lost".to_owned(),
        HeadState::Ripe(seeds) => many(seeds, "seed"),
        HeadState::Empty => "empty".to_owned(),
    }
}

/// What stands for a father who was one of several, the same for a whole packet.
pub const ONE_FATHER: &str = "one unnamed father";

/// How inbred a plant is, to follow "inbred": F, and what it comes to beside the offspring of a
/// full brother and sister, 1 being just as much.
pub fn inbreeding(f: f64, of_full_sibs: f64) -> String {
    if f <= 0.0 {
        return "not at all, as far as is known".to_owned();
    }
    format!(
        "{} as much as the offspring of a full brother and sister (F {f:.3})",
        whole_percent(of_full_sibs)
    )
}

/// How inbred a plant is, or the offspring of a pairing, against those of full sibs.
pub fn closeness(of_full_sibs: f64) -> String {
    format!("{} as inbred as offspring of full sibs", whole_percent(of_full_sibs))
}

/// What a plant that has not bloomed has before it, with the range and what it rests on.
pub fn outlook(outlook: &Outlook) -> String {
    match outlook {
        Outlook::Opens { chance, watched } => {
            format!("opens before frost: {}, by {}", with_range(chance), many(*watched, "plant"))
        }
        Outlook::NotKnown => "whether it opens before frost is not known".to_owned(),
        Outlook::HeldOver { chance, record: HeldOver { n: 0, .. } } => {
            format!("held over, {} are kept, as usual", with_range(chance))
        }
        Outlook::HeldOver { chance, record } => {
            let HeldOver { n, kept } = record;
            format!("held over, {} are kept, here {kept} of {n}", with_range(chance))
        }
    }
}

/// The same where there is little room: the figure first, so that it is never cut from its range.
pub fn outlook_in_short(outlook: &Outlook) -> String {
    match outlook {
        Outlook::Opens { chance, .. } => format!("{} to open by frost", with_range(chance)),
        Outlook::NotKnown => "not known if it opens".to_owned(),
        Outlook::HeldOver { chance, .. } => format!("{} kept if held over", with_range(chance)),
    }
}

fn with_range(chance: &Interval) -> String {
    let (low, high) = (chance.low * 100.0, chance.high * 100.0);
    format!("{} ({low:.0}–{high:.0})", whole_percent(chance.p))
}

/// A share in whole percent.
pub fn whole_percent(share: f64) -> String {
    let hundred = share * 100.0;
    if hundred > 0.0 && hundred < 0.5 { "<1 %".to_owned() } else { format!("{hundred:.0} %") }
}

/// A count with its noun: `1 seed`, `23 seeds`, `2 crosses`, `2 varieties`.
pub fn many(n: u32, noun: &str) -> String {
    match noun.strip_suffix('y') {
        _ if n == 1 => format!("1 {noun}"),
        Some(stem) if !stem.ends_with(['a', 'e', 'o', 'u']) => format!("{n} {stem}ies"),
        _ if noun.ends_with('s') => format!("{n} {noun}es"),
        _ => format!("{n} {noun}s"),
    }
}

/// A date as a gardener says it: `14 Sep 2026`, `Sep 2026`, `2026`.
pub fn day(when: When) -> String {
    let first = when.first();
    match when.grain() {
        Grain::Day => first.format("%-d %b %Y").to_string(),
        Grain::Month => first.format("%b %Y").to_string(),
        Grain::Year => first.format("%Y").to_string(),
    }
}

/// What happened to a plant.
pub fn plant_deed(deed: &PlantDeed) -> String {
    match deed {
        PlantDeed::Acquired { from: Some(from) } => format!("came from {from}"),
        PlantDeed::Acquired { from: None } => "came into the garden".to_owned(),
        PlantDeed::Numbered => "given its number".to_owned(),
        PlantDeed::Planted(Some(position)) => format!("planted at {position}"),
        PlantDeed::Planted(None) => "planted out".to_owned(),
        PlantDeed::SeenUnbloomed => "looked at, not in bloom yet".to_owned(),
        PlantDeed::FirstBloom => "first bloom".to_owned(),
        PlantDeed::Look(seen) => look(seen),
        PlantDeed::Verdict { is, why, who } => {
            joined([Some(is.word().to_owned()), text(why.as_deref()), by(who.as_deref())])
        }
        PlantDeed::TagLost => "label lost".to_owned(),
        PlantDeed::Lost(why) => format!("lost: {why}"),
        PlantDeed::Lifted { tubers, store } => joined([
            Some("lifted".to_owned()),
            tubers.map(|n| many(n.into(), "tuber")),
            text(store.as_deref()),
        ]),
        PlantDeed::Checked { sound } => {
            format!("looked over, {} sound", many((*sound).into(), "tuber"))
        }
        PlantDeed::Woken => "brought into growth".to_owned(),
        PlantDeed::Ailing(what) => format!("ailing: {what}"),
        PlantDeed::Treated(with) => format!("treated: {with}"),
        PlantDeed::MovedFrom { cross, why } => {
            joined([Some(format!("moved here from cross {cross}")), text(why.as_deref())])
        }
        PlantDeed::Given { tubers, to } => given(&many((*tubers).into(), "tuber"), to.as_deref()),
        PlantDeed::Disposed(how) => format!("got rid of: {how}"),
        PlantDeed::Named(name) => format!("named {name}"),
        PlantDeed::Note(note) => note.to_string(),
    }
}

/// What happened to a head.
pub fn head_deed(deed: &HeadDeed) -> String {
    match deed {
        HeadDeed::Pollinated => "pollinated".to_owned(),
        HeadDeed::Cut => "cut".to_owned(),
        HeadDeed::InWater => "stood in water".to_owned(),
        HeadDeed::Hung => "hung up to dry".to_owned(),
        HeadDeed::Rotted => "rotted".to_owned(),
        HeadDeed::Lost(why) => format!("lost: {why}"),
        HeadDeed::Threshed { seeds: 0 } => "threshed, empty".to_owned(),
        HeadDeed::Threshed { seeds } => format!("threshed, {}", many(*seeds, "seed")),
        HeadDeed::Note(note) => note.to_string(),
    }
}

/// What happened to a packet.
pub fn lot_deed(deed: &LotDeed) -> String {
    match deed {
        LotDeed::Sown { seeds: Some(seeds) } => format!("{} sown", many(*seeds, "seed")),
        LotDeed::Sown { seeds: None } => "sown".to_owned(),
        LotDeed::Up(n) => format!("{n} came up"),
        LotDeed::PrickedOut(n) => format!("{n} pricked out"),
        LotDeed::Given { seeds, to } => given(&many(*seeds, "seed"), to.as_deref()),
        LotDeed::Gone(why) => format!("gone: {why}"),
        LotDeed::Note(note) => note.to_string(),
    }
}

/// What happened in the garden.
pub fn garden_deed(deed: &GardenDeed) -> String {
    match deed {
        GardenDeed::Weather(text) => format!("weather: {text}"),
        GardenDeed::Fed(with) => format!("fed: {with}"),
        GardenDeed::Job(job) => format!("done: {job}"),
        GardenDeed::Note(note) => note.to_string(),
    }
}

fn given(what: &str, to: Option<&str>) -> String {
    match to {
        Some(to) => format!("{what} given away to {to}"),
        None => format!("{what} given away"),
    }
}

/// What somebody saw.
pub fn look(look: &Look) -> String {
    let scores = look.scores.iter().map(|(of, score)| format!("{of} {score}"));
    let parts = [
        (!look.colours.is_empty()).then(|| look.colours.join(" and ")),
        text(look.group.as_deref()),
        look.bloom_mm.map(|mm| format!("{mm} mm")),
        look.height_cm.map(|cm| format!("{cm} cm tall")),
    ];
    let faults = (!look.faults.is_empty()).then(|| format!("faults: {}", look.faults.join(", ")));
    let rest = [
        faults,
        text(look.note.as_deref()),
        look.photo.as_ref().map(|path| format!("photo {path}")),
    ];
    let seen = joined(
        parts.into_iter().chain(scores.map(Some)).chain(rest).chain([by(look.who.as_deref())]),
    );
    if seen.is_empty() { "looked at".to_owned() } else { seen }
}

/// The verdict in the past tense, as a keeper is called afterwards.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Keep => "kept",
        Verdict::Hold => "held",
        Verdict::Discard => "discarded",
    }
}

fn by(who: Option<&str>) -> Option<String> {
    who.map(|who| format!("by {who}"))
}

fn text(text: Option<&str>) -> Option<String> {
    text.map(str::to_owned)
}

fn joined(parts: impl IntoIterator<Item = Option<String>>) -> String {
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::many;

    #[test]
    fn nouns_are_counted_as_people_count_them() {
        for (n, noun, said) in [
            (1, "cross", "1 cross"),
            (0, "seed", "0 seeds"),
            (2, "cross", "2 crosses"),
            (2, "variety", "2 varieties"),
            (2, "day", "2 days"),
        ] {
            assert_eq!(many(n, noun), said);
        }
    }
}
