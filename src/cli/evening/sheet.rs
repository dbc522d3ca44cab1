//! An evening as it is printed.

use crate::book::{Verdict, When};
use crate::cli::{
    figures::{k_of_n, many, pair_text, percent, plant_text, range_title, rate_cells},
    first_bloom,
    sheet::{Sheet, Table},
};
use crate::views::{
    Desk, Levels,
    evening::{self, Along, Behind, Due, Evening, Waiting, Why},
    plant, words,
};

/// Plants in a list, unless all are asked for.
const MOST_LISTED: usize = 12;

pub(super) fn sheet(desk: &Desk, found: &Evening, all: bool, levels: Levels) -> Sheet {
    let garden = &desk.book().about().garden;
    let mut sheet = Sheet::titled(format!(
        "{garden}: season {}, seen on {}",
        found.season,
        words::day(When::day(desk.today()))
    ));
    if let Some(due) = found.due.as_ref().filter(|due| !due.tasks.is_empty()) {
        sheet.blank();
        sheet.table(tasks(desk, due));
    }
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
        sheet.line(waits(found));
        listed(&mut sheet, waiting(desk, found, most(all)), found.waiting.len(), all);
    }
    sheet.blank();
    sheet.line(kept(found));
    listed(&mut sheet, keepers(desk, found, most(all)), found.keepers.len(), all);
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

/// How many wait, and why: the undecided are only some of them.
fn waits(found: &Evening) -> String {
    let by_reason = found.by_reason.iter().map(|(why, n)| {
        let what = match why {
            Why::Undecided => "undecided",
            Why::Disagree => "with looks that disagree",
            Why::Held => "held",
            Why::Unopened => "not seen in bloom",
            Why::NotLifted => "kept and not lifted",
        };
        format!("{n} {what}")
    });
    let wait = if found.waiting.len() == 1 { "waits" } else { "wait" };
    format!(
        "{} {wait} for you: {}",
        many(found.waiting.len(), "plant"),
        by_reason.collect::<Vec<_>>().join(", ")
    )
}

/// The keepers of a season, and how many of them are not of its seed: only the others are among
/// those counted along the way from seed to keeper.
fn kept(found: &Evening) -> String {
    let older = match found.older_keepers {
        0 => String::new(),
        n => format!(", {n} of them planted in an earlier season"),
    };
    match found.keepers.len() {
        0 => "no numbered plant was kept for the first time".to_owned(),
        n => format!("{} kept for the first time{older}", many(n, "numbered plant")),
    }
}

fn most(all: bool) -> usize {
    if all { usize::MAX } else { MOST_LISTED }
}

/// A list that may have been cut, and how much of it is left out.
fn listed(sheet: &mut Sheet, table: Table, n: usize, all: bool) {
    sheet.table(table);
    if let Some(more @ 1..) = n.checked_sub(most(all)) {
        sheet.line(format!("… and {more} more; --all lists them"));
    }
}

fn steps(found: &Evening, levels: Levels) -> Table {
    let mut table = Table::new()
        .text(format!("the seed of {}", found.season))
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

/// What is to be done, a line each.
fn tasks(desk: &Desk, due: &Due) -> Table {
    let mut table = Table::new().number("due").text("").text("").spare("");
    for task in &due.tasks {
        let n = task.things.len();
        table.row([
            n.to_string(),
            task.what.says(n).to_owned(),
            task.age(desk.today()),
            task.note.clone(),
        ]);
    }
    table
}

fn due_text(due: &Due) -> String {
    let mut text = format!("{} hanging", words::many(due.hanging, "head"));
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

fn waiting(desk: &Desk, found: &Evening, most: usize) -> Table {
    let mut table = Table::new().text("plant").text("colour").text("why");
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

fn keepers(desk: &Desk, found: &Evening, most: usize) -> Table {
    let mut table = Table::new()
        .text("plant")
        .text("colour")
        .text("seed parent × pollen parent")
        .text("opened")
        .spare("planted");
    for &plant in found.keepers.iter().take(most) {
        let brief = desk.brief(plant);
        let (seed, pollen) = desk.parents(plant);
        table.row([
            plant_text(desk, plant),
            plant::colours(desk, plant).join(", "),
            pair_text(desk, &seed, &pollen),
            brief.first_bloom.map_or_else(String::new, words::day),
            brief.planted.map_or_else(String::new, words::day),
        ]);
    }
    table
}

fn behind(desk: &Desk, rows: &[Behind], levels: Levels) -> Table {
    let has_forecasts = rows.iter().any(|row| row.record.forecast.is_some());
    let mut table = Table::new()
        .text("pairing")
        .number("kept of judged")
        .number("in all seasons")
        .number(if has_forecasts { "forecast" } else { "steadied" })
        .number(range_title(levels.shrunk));
    for row in rows {
        let pairing = &row.record.pairing;
        let [rate, range] = rate_cells(Some(row.record.chance()));
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
