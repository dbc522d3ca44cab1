//! An evening as it stands in JSON.

use serde::Serialize;

use crate::book::PlantId;
use crate::cli::{
    crosses::HeadsRow,
    figures::{CountsRow, PlantName, RateRow, party},
    first_bloom,
};
use crate::views::{
    Desk, Levels,
    evening::{self, Along, Behind, Due, Evening, Step, Task, Thing, Why},
    plant,
};

#[derive(Debug, Serialize)]
pub(super) struct EveningRow<'a> {
    season: i16,
    today: String,
    steps: Vec<StepRow>,
    heads: HeadsRow,
    waiting: Vec<WaitingRow<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<DueRow<'a>>,
    keepers: Vec<KeeperRow<'a>>,
    pairings: Vec<BehindRow>,
    pairings_before: Vec<BehindRow>,
    first_bloom: first_bloom::CurvesRow,
}

#[derive(Debug, Serialize)]
struct StepRow {
    step: &'static str,
    n: u32,
    before: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    share: Option<RateRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    usual: Option<f64>,
}

#[derive(Debug, Serialize)]
struct WaitingRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    why: &'static str,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    colours: &'a [Box<str>],
    #[serde(skip_serializing_if = "Option::is_none")]
    first_bloom: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    last_seen_unbloomed: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict_on: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict_why: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    disagree: Option<DisagreeRow<'a>>,
    #[serde(flatten)]
    outlook: first_bloom::OutlookRow,
}

#[derive(Debug, Serialize)]
struct DisagreeRow<'a> {
    of: &'a str,
    scores: [f64; 2],
}

#[derive(Debug, Serialize)]
struct DueRow<'a> {
    tasks: Vec<TaskRow<'a>>,
    hanging: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    oldest_days: Option<u32>,
    packets: u32,
    seeds: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    oldest_years: Option<u16>,
}

#[derive(Debug, Serialize)]
struct TaskRow<'a> {
    what: &'static str,
    n: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    oldest: Option<String>,
    #[serde(skip_serializing_if = "str::is_empty")]
    note: &'a str,
    things: Vec<ThingRow<'a>>,
}

#[derive(Debug, Serialize)]
struct ThingRow<'a> {
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    name: Option<PlantName<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cross: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    head: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    packet: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    since: Option<String>,
}

#[derive(Debug, Serialize)]
struct KeeperRow<'a> {
    #[serde(flatten)]
    name: PlantName<'a>,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    colours: &'a [Box<str>],
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    first_bloom: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    planted: Option<String>,
}

#[derive(Debug, Serialize)]
struct BehindRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<String>,
    judged: u32,
    kept: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
    counts: CountsRow,
    shrunk: RateRow,
    #[serde(skip_serializing_if = "Option::is_none")]
    forecast: Option<RateRow>,
}

impl From<&Step> for StepRow {
    fn from(step: &Step) -> Self {
        Self {
            step: match step.along {
                Along::Sown => "sown",
                Along::CameUp => "up",
                Along::Planted => "planted",
                Along::Opened => "bloomed",
                Along::Judged => "judged",
                Along::Kept => "kept",
            },
            n: step.n,
            before: step.before,
            of: step.of,
            share: step.share.map(Into::into),
            usual: step.usual,
        }
    }
}

fn due_row<'a>(desk: &'a Desk, due: &'a Due) -> DueRow<'a> {
    let Due { tasks, hanging, oldest_days, packets, seeds, oldest_years } = due;
    DueRow {
        tasks: tasks.iter().map(|task| task_row(desk, task)).collect(),
        hanging: *hanging,
        oldest_days: *oldest_days,
        packets: *packets,
        seeds: *seeds,
        oldest_years: *oldest_years,
    }
}

fn task_row<'a>(desk: &'a Desk, task: &'a Task) -> TaskRow<'a> {
    let things = task.things.iter().map(|(thing, since)| {
        let mut row = ThingRow {
            name: None,
            cross: None,
            head: None,
            packet: None,
            since: since.map(|day| day.to_string()),
        };
        let cross = |id| desk.book().cross(id);
        match *thing {
            Thing::Plant(plant) => row.name = Some(PlantName::of(desk, plant)),
            Thing::Cross(id) => row.cross = Some(&cross(id).code),
            Thing::Packet(packet) => {
                row.cross = Some(&cross(packet.cross).code);
                row.packet = cross(packet.cross).lots.get(packet.lot).map(|lot| &*lot.code);
            }
            Thing::Head(id, n) => {
                let tag = cross(id).heads.get(n).and_then(|head| head.tag.as_deref());
                row.cross = Some(&cross(id).code);
                row.head = Some(tag.map_or_else(|| (n + 1).to_string(), str::to_owned));
            }
        }
        row
    });
    TaskRow {
        what: task.what.word(),
        n: task.things.len(),
        oldest: task.oldest().map(|day| day.to_string()),
        note: &task.note,
        things: things.collect(),
    }
}

pub(super) fn json<'a>(desk: &'a Desk, found: &'a Evening, levels: Levels) -> EveningRow<'a> {
    let waiting = found.waiting.iter().map(|&waits| {
        let row = evening::waiting_row(desk, waits);
        WaitingRow {
            name: PlantName::of(desk, row.plant),
            why: match row.why {
                Why::Undecided => "undecided",
                Why::Disagree => "disagree",
                Why::Held => "held",
                Why::Unopened => "unopened",
                Why::NotLifted => "not lifted",
            },
            colours: row.colours,
            first_bloom: row.first_bloom.map(|on| on.to_string()),
            last_seen_unbloomed: row.seen_unbloomed.map(|on| on.to_string()),
            verdict: row.word.map(|word| word.is.word()),
            verdict_on: row.word.map(|word| word.on.to_string()),
            verdict_why: row.word.and_then(|word| word.why),
            disagree: row.disagree.map(|(of, a, b)| DisagreeRow { of, scores: [a, b] }),
            outlook: row.outlook.into(),
        }
    });
    let behind = |list: &[Behind]| list.iter().map(|row| behind_row(desk, row)).collect();
    EveningRow {
        season: found.season.0,
        today: desk.today().to_string(),
        steps: found.steps.iter().map(Into::into).collect(),
        heads: found.heads.into(),
        waiting: waiting.collect(),
        due: found.due.as_ref().map(|due| due_row(desk, due)),
        keepers: found.keepers.iter().map(|&plant| keeper_row(desk, plant)).collect(),
        pairings: behind(&found.behind),
        pairings_before: behind(&found.behind_before),
        first_bloom: first_bloom::curves(desk, levels),
    }
}

fn keeper_row(desk: &Desk, plant: PlantId) -> KeeperRow<'_> {
    let brief = desk.brief(plant);
    let (seed, pollen) = desk.parents(plant);
    KeeperRow {
        name: PlantName::of(desk, plant),
        colours: plant::colours(desk, plant),
        seed_parent: party(desk, &seed),
        pollen_parent: party(desk, &pollen),
        first_bloom: brief.first_bloom.map(|on| on.to_string()),
        planted: brief.planted.map(|on| on.to_string()),
    }
}

fn behind_row(desk: &Desk, behind: &Behind) -> BehindRow {
    let pairing = &behind.record.pairing;
    BehindRow {
        seed_parent: party(desk, &pairing.seed),
        pollen_parent: party(desk, &pairing.pollen),
        judged: behind.judged,
        kept: behind.kept,
        rate: behind.rate.map(Into::into),
        counts: pairing.counts.into(),
        shrunk: behind.record.shrunk.into(),
        forecast: behind.record.forecast.map(Into::into),
    }
}
