//! `trug evening`: the season in review, and what is due.

use clap::Args;
use serde::Serialize;

use super::{
    crosses::HeadsRow,
    failure::Failure,
    figures::{
        CountsRow, PlantName, RateRow, k_of_n, pair_text, party, percent, plant_text, range_title,
        rate_cells,
    },
    first_bloom,
    sheet::{Sheet, Table},
    shell::Shell,
};
use crate::book::{Season, Verdict};
use crate::views::{
    Desk, Levels,
    evening::{self, Along, Behind, Due, Evening, Step, Waiting, Why},
    words,
};

/// Plants listed of those that wait, unless all are asked for.
const MOST_WAITING: usize = 12;

/// The season in review: what happened, what waits for a word, what is due
#[derive(Debug, Args)]
#[command(before_long_help = "\
Examples:
  trug evening
  trug evening --season 2025")]
pub(super) struct Ask {
    /// The season; else the last of which there is anything to tell
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
    /// List every plant that waits
    #[arg(long)]
    all: bool,
}

#[derive(Debug, Serialize)]
struct EveningRow<'a> {
    season: i16,
    today: String,
    steps: Vec<StepRow>,
    heads: HeadsRow,
    waiting: Vec<WaitingRow<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<DueRow>,
    pairings: Vec<BehindRow>,
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
struct DueRow {
    hanging: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    oldest_days: Option<u32>,
    packets: u32,
    seeds: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    oldest_years: Option<u16>,
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

impl From<Due> for DueRow {
    fn from(due: Due) -> Self {
        let Due { hanging, oldest_days, packets, seeds, oldest_years } = due;
        Self { hanging, oldest_days, packets, seeds, oldest_years }
    }
}

pub(super) fn run(ask: &Ask, shell: &Shell) -> Result<(), Failure> {
    let desk = shell.desk()?;
    let season = ask.season.map_or_else(|| desk.last_season(), Season);
    let found = evening::evening(&desk, season, shell.levels());
    let levels = shell.levels();
    shell.show(|| json(&desk, &found, levels), || sheet(&desk, &found, ask.all, levels))
}

fn json<'a>(desk: &'a Desk, found: &Evening, levels: Levels) -> EveningRow<'a> {
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
            disagree: row.disagree.map(|(of, a, b)| DisagreeRow { of, scores: [a, b] }),
            outlook: row.outlook.into(),
        }
    });
    let behind = found.behind.iter().map(|behind| {
        let pairing = &behind.record.pairing;
        BehindRow {
            seed_parent: party(desk, &pairing.seed),
            pollen_parent: party(desk, &pairing.pollen),
            judged: behind.judged,
            kept: behind.kept,
            rate: behind.rate.map(Into::into),
            counts: pairing.counts.into(),
            shrunk: behind.record.shrunk.into(),
        }
    });
    EveningRow {
        season: found.season.0,
        today: desk.today().to_string(),
        steps: found.steps.iter().map(Into::into).collect(),
        heads: found.heads.into(),
        waiting: waiting.collect(),
        due: found.due.map(Into::into),
        pairings: behind.collect(),
        first_bloom: first_bloom::curves(desk, levels),
    }
}

fn sheet(desk: &Desk, found: &Evening, all: bool, levels: Levels) -> Sheet {
    let garden = &desk.book().about().garden;
    let mut sheet = Sheet::titled(format!(
        "{garden}: season {}, seen on {}",
        found.season,
        words::day(crate::book::When::day(desk.today()))
    ));
    sheet.blank();
    sheet.table(steps(found, levels));
    let heads = &found.heads;
    if heads.pollinated > 0 {
        sheet.blank();
        sheet.line(format!(
            "heads pollinated in {}: {}, of which {} ripe with {}, {} empty, {} rotted, {} lost, \
             {} still hanging",
            found.season,
            heads.pollinated,
            heads.ripe,
            words::many(heads.seeds, "seed"),
            heads.empty,
            heads.rotted,
            heads.lost,
            heads.hanging
        ));
    }
    if let Some(due) = &found.due {
        sheet.line(due_text(due));
    }
    if !found.waiting.is_empty() {
        sheet.blank();
        let by_reason = found.waiting_by_reason().into_iter().map(|(why, n)| {
            let what = match why {
                Why::Undecided => "undecided",
                Why::Disagree => "with looks that disagree",
                Why::Held => "held",
                Why::Unopened => "not seen in bloom",
                Why::NotLifted => "kept and not lifted",
            };
            format!("{n} {what}")
        });
        sheet.line(format!(
            "waiting for a word from you: {}",
            by_reason.collect::<Vec<_>>().join(", ")
        ));
        sheet.table(waiting(desk, found, all));
        if let Some(more @ 1..) = found.waiting.len().checked_sub(MOST_WAITING).filter(|_| !all) {
            sheet.line(format!("… and {more} more; --all lists them"));
        }
    }
    if !found.behind.is_empty() {
        sheet.blank();
        sheet.line(format!("the pairings behind the keepers of {}", found.season));
        sheet.table(behind(desk, &found.behind, levels));
    }
    if found.due.is_some() {
        first_bloom::told(&mut sheet, desk, levels);
    }
    sheet
}

fn steps(found: &Evening, levels: Levels) -> Table {
    let mut table = Table::new()
        .text("seed of the year")
        .number("plants")
        .number("share")
        .number(range_title(levels.rate))
        .number("usual")
        .number(found.season.before().to_string());
    for step in &found.steps {
        let [share, range] = rate_cells(step.share);
        table.row([
            match step.along {
                Along::Sown => "seeds sown",
                Along::CameUp => "came up, of those sown",
                Along::Planted => "planted, of those sown",
                Along::Opened => "opened, of those planted",
                Along::Judged => "judged, of those opened",
                Along::Kept => "kept, of those judged",
            }
            .to_owned(),
            step.n.to_string(),
            share,
            range,
            step.usual.map_or_else(String::new, percent),
            step.before.to_string(),
        ]);
    }
    table
}

fn due_text(due: &Due) -> String {
    let mut text = format!("due: {} hanging", words::many(due.hanging, "head"));
    if let Some(days) = due.oldest_days {
        text.extend([", the oldest ", &words::many(days, "day")]);
    }
    text.extend([
        "; ",
        &words::many(due.packets, "packet"),
        " in the tin with ",
        &words::many(due.seeds, "seed"),
    ]);
    if let Some(years) = due.oldest_years {
        text.extend([", the oldest ", &words::many(years.into(), "year")]);
    }
    text
}

fn waiting(desk: &Desk, found: &Evening, all: bool) -> Table {
    let mut table = Table::new().text("plant").text("colour").text("why");
    let most = if all { usize::MAX } else { MOST_WAITING };
    for &waits in found.waiting.iter().take(most) {
        let row = evening::waiting_row(desk, waits);
        table.row([plant_text(desk, row.plant), row.colours.join(", "), why(&row)]);
    }
    table
}

fn why(row: &Waiting<'_>) -> String {
    let bloomed = row
        .first_bloom
        .map_or_else(|| "bloomed".to_owned(), |on| format!("bloomed {}", words::day(on)));
    match (row.why, row.word, row.disagree) {
        (Why::Disagree, _, Some((of, a, b))) => format!("two looks disagree: {of} {a} and {b}"),
        (Why::Held, Some(word), _) if word.is == Verdict::Hold => {
            let because = word.why.map_or_else(String::new, |why| format!(": {why}"));
            format!("{bloomed}, held {}{because}", words::day(word.on))
        }
        (Why::Unopened, ..) => {
            let seen = row.seen_unbloomed.map_or_else(
                || "not seen in bloom".to_owned(),
                |on| format!("not in bloom on {}", words::day(on)),
            );
            let outlook = row.outlook.as_ref().map(words::outlook);
            [seen].into_iter().chain(outlook).collect::<Vec<_>>().join("; ")
        }
        (Why::NotLifted, ..) => "kept, and not lifted yet".to_owned(),
        (Why::Undecided | Why::Disagree | Why::Held, ..) => format!("{bloomed}, no verdict yet"),
    }
}

fn behind(desk: &Desk, rows: &[Behind], levels: Levels) -> Table {
    let mut table = Table::new()
        .text("pairing")
        .number("kept of judged")
        .number("in all seasons")
        .number("steadied")
        .number(range_title(levels.shrunk));
    for row in rows {
        let pairing = &row.record.pairing;
        let [rate, range] = rate_cells(Some(row.record.shrunk));
        table.row([
            pair_text(desk, &pairing.seed, &pairing.pollen),
            k_of_n(row.kept, row.judged),
            k_of_n(pairing.counts.kept, pairing.counts.judged),
            rate,
            range,
        ]);
    }
    table
}
