//! What is due, worked out from the diaries, the crop's usual times and the frosts of the book.
//!
//! A task is told only while something can be done about it: heads before the end of the season,
//! seed in sowing time, tubers from lifting until they are woken.

mod end;
mod heads;
mod tubers;

use chrono::{Datelike, NaiveDate};

use crate::book::{CrossId, HeadState, PlantId, When};
use crate::views::{Desk, Levels, first_bloom, seed, seed::PacketId, words};

use super::{Waits, Why};
use end::End;

/// What is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    /// Heads ripe, or before the frost: to be cut.
    Cut,
    /// Heads that have dried long enough: to be rubbed out.
    Thresh,
    /// Crosses with seed that is in no packet.
    Pack,
    /// Plants that have bloomed and wait for a verdict.
    Decide,
    /// Plants not in flower by the frost.
    Bud,
    /// Plants to be lifted.
    Lift,
    /// Stored tubers to be looked over.
    Check,
    /// Stored tubers to be woken.
    Wake,
    /// Packets to be sown.
    Sow,
}

impl What {
    /// All of them, the most pressing first.
    pub const ALL: [Self; 9] = [
        Self::Cut,
        Self::Thresh,
        Self::Pack,
        Self::Decide,
        Self::Bud,
        Self::Lift,
        Self::Check,
        Self::Wake,
        Self::Sow,
    ];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Thresh => "thresh",
            Self::Pack => "pack",
            Self::Decide => "decide",
            Self::Bud => "bud",
            Self::Lift => "lift",
            Self::Check => "check",
            Self::Wake => "wake",
            Self::Sow => "sow",
        }
    }

    /// What it is, to follow a number.
    pub fn says(self, n: usize) -> &'static str {
        let one = n == 1;
        match self {
            Self::Cut if one => "head to cut",
            Self::Cut => "heads to cut",
            Self::Thresh if one => "head dry enough to rub out",
            Self::Thresh => "heads dry enough to rub out",
            Self::Pack if one => "cross with seed in no packet",
            Self::Pack => "crosses with seed in no packet",
            Self::Decide if one => "plant to decide on",
            Self::Decide => "plants to decide on",
            Self::Bud if one => "plant not in flower",
            Self::Bud => "plants not in flower",
            Self::Lift if one => "plant to lift",
            Self::Lift => "plants to lift",
            Self::Check if one => "stored plant to look over",
            Self::Check => "stored plants to look over",
            Self::Wake if one => "stored plant to wake",
            Self::Wake => "stored plants to wake",
            Self::Sow if one => "packet to sow",
            Self::Sow => "packets to sow",
        }
    }
}

/// One of the things concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    /// A plant.
    Plant(PlantId),
    /// A head of a cross, counted from 0.
    Head(CrossId, usize),
    /// A packet.
    Packet(PacketId),
    /// A cross.
    Cross(CrossId),
}

/// Something to be done.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// What.
    pub what: What,
    /// The things concerned, each with the day since which it waits, the oldest first.
    pub things: Vec<(Thing, Option<NaiveDate>)>,
    /// What there is to say beside their number and their age; empty where there is nothing.
    pub note: String,
}

/// What is due.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Due {
    /// What is to be done, the most pressing first.
    pub tasks: Vec<Task>,
    /// Heads on the plant or drying.
    pub hanging: u32,
    /// Days since the oldest of them was pollinated.
    pub oldest_days: Option<u32>,
    /// Packets with seed left in the tin.
    pub packets: u32,
    /// Seeds in those of them that were counted.
    pub seeds: u32,
    /// Years since the oldest of those was crossed.
    pub oldest_years: Option<u16>,
}

impl Task {
    /// The day since which the oldest waits.
    pub fn oldest(&self) -> Option<NaiveDate> {
        self.things.iter().find_map(|(_, since)| *since)
    }

    /// The age of the oldest, in a few words; empty where it is not known.
    pub fn age(&self, today: NaiveDate) -> String {
        let Some(oldest) = self.oldest() else { return String::new() };
        let days = u32::try_from((today - oldest).num_days()).unwrap_or_default();
        let since = match self.what {
            What::Cut => "pollinated",
            What::Thresh => "cut",
            What::Pack => "threshed",
            What::Decide => "opened",
            What::Bud => "planted",
            // They were all planted in the spring.
            What::Lift => return String::new(),
            What::Check => "looked at",
            What::Wake => "in store for",
            What::Sow => "crossed",
        };
        let age = match days {
            0 => return "since today".to_owned(),
            700.. => words::many(days / 365, "year"),
            _ => words::many(days, "day"),
        };
        let ago = if self.what == What::Wake { "" } else { " ago" };
        format!("oldest {since} {age}{ago}")
    }
}

/// What is due today, from what waits for the raiser, the heads, the packets and the tubers.
pub(super) fn due(desk: &Desk, waiting: &[Waits]) -> Due {
    let end = End::of(desk);
    let mut tasks: Vec<Task> = Vec::new();
    let mut add = |what, mut things: Vec<(Thing, Option<NaiveDate>)>, note: String| {
        things.sort_by_key(|(thing, since)| (since.is_none(), *since, *thing));
        if !things.is_empty() {
            tasks.push(Task { what, things, note });
        }
    };
    add(What::Cut, heads::to_cut(desk, end), end.says());
    add(What::Thresh, heads::to_thresh(desk), String::new());
    add(What::Pack, heads::to_pack(desk), String::new());
    let is_over = end.is_past(desk.today());
    let plants = |is: &dyn Fn(Why) -> bool, since: &dyn Fn(PlantId) -> Option<NaiveDate>| {
        let those = waiting.iter().filter(|waits| is(waits.why));
        those.map(|waits| (Thing::Plant(waits.plant), since(waits.plant))).collect::<Vec<_>>()
    };
    let bloomed = |plant| desk.brief(plant).first_bloom.map(When::first);
    let planted = |plant| desk.brief(plant).planted.map(When::first);
    let is_undecided =
        |why| matches!(why, Why::Undecided | Why::Disagree) || why == Why::Held && is_over;
    add(What::Decide, plants(&is_undecided, &bloomed), String::new());
    if end.is_near(desk.today()) {
        let note = bud_note(desk, waiting);
        add(What::Bud, plants(&|why| why == Why::Unopened, &planted), note);
    }
    add(What::Lift, plants(&|why| why == Why::NotLifted, &planted), end.says());
    let (check, wake) = tubers::in_store(desk);
    add(What::Check, check, String::new());
    add(What::Wake, wake, String::new());
    let (sow, seeds) = to_sow(desk);
    add(What::Sow, sow, words::many(seeds, "seed"));
    in_the_tin(desk, Due { tasks, ..Due::default() })
}

/// What a plant that is not in flower has before it, from the record of the book: the chance of
/// the one with the best of it, or what is kept of those that are held over.
fn bud_note(desk: &Desk, waiting: &[Waits]) -> String {
    let outlooks = waiting.iter().filter(|waits| waits.why == Why::Unopened);
    let outlooks =
        outlooks.filter_map(|waits| first_bloom::outlook(desk, waits.plant, Levels::default()));
    let best = outlooks.max_by(|a, b| chance(a).total_cmp(&chance(b)));
    match best {
        Some(outlook @ first_bloom::Outlook::Opens { .. }) => {
            format!("likeliest {}", words::outlook(&outlook))
        }
        Some(outlook) => words::outlook(&outlook),
        None => String::new(),
    }
}

fn chance(outlook: &first_bloom::Outlook) -> f64 {
    match outlook {
        first_bloom::Outlook::Opens { chance, .. } => 1.0 + chance.p,
        first_bloom::Outlook::HeldOver { chance, .. } => chance.p,
        first_bloom::Outlook::NotKnown => -1.0,
    }
}

/// Packets never sown, in sowing time, and the seeds in them.
fn to_sow(desk: &Desk) -> (Vec<(Thing, Option<NaiveDate>)>, u32) {
    let usual = &desk.book().crop().days.sowing;
    let day = desk.today().ordinal();
    // A fortnight before the usual time until two months after it.
    let is_time = usual.to > 0
        && (day + 14 >= u32::from(usual.from) && day <= u32::from(usual.to).saturating_add(60));
    if !is_time {
        return (Vec::new(), 0);
    }
    let mut seeds: u32 = 0;
    let mut things = Vec::new();
    for packet in seed::list(desk, false) {
        let cross = desk.book().cross(packet.cross);
        let lot = &cross.lots[packet.lot];
        if lot.first_sown().is_none() {
            seeds = seeds.saturating_add(lot.left().unwrap_or_default());
            let made =
                cross.season.and_then(|season| NaiveDate::from_ymd_opt(i32::from(season.0), 8, 15));
            things.push((Thing::Packet(packet), made));
        }
    }
    (things, seeds)
}

fn in_the_tin(desk: &Desk, mut due: Due) -> Due {
    let heads = desk.book().crosses().iter().flat_map(|cross| &cross.heads);
    for head in heads.filter(|head| head.state() == HeadState::Hanging) {
        due.hanging += 1;
        let days = head
            .pollinated()
            .and_then(When::exact)
            .and_then(|on| u32::try_from((desk.today() - on).num_days()).ok());
        due.oldest_days = due.oldest_days.max(days);
    }
    for packet in seed::list(desk, false) {
        let cross = desk.book().cross(packet.cross);
        due.packets += 1;
        due.seeds = due.seeds.saturating_add(cross.lots[packet.lot].left().unwrap_or_default());
        let age = cross.season.map(|made| desk.season().0.saturating_sub(made.0));
        due.oldest_years = due.oldest_years.max(age.and_then(|age| u16::try_from(age).ok()));
    }
    due
}
