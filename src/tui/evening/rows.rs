//! The lists of the evening: their columns, what stands in them, and how they are ordered.

use crate::book::{By, PlantId, Verdict, When};
use crate::tui::{
    due,
    page::Around,
    place::Place,
    said,
    theme::Role,
    widget::{
        listing::Key,
        range::{Scale, Spread},
        table::{Cell, Column},
    },
};
use crate::views::{
    Desk, Interval,
    evening::{Behind, Evening, Task, Waiting, Waits, Why, waiting_row},
    plant, words,
};

pub(super) const WAITING: &[Column] = &[
    Column::words("plant", 6, 14, 0),
    Column::words("colour", 10, 16, 2),
    Column::words("why", 8, 60, 1),
];

pub(super) const KEEPERS: &[Column] = &[
    Column::words("plant", 6, 14, 0),
    Column::words("colour", 10, 16, 2),
    Column::words("parents", 16, 44, 1),
    Column::figures("opened", 6, 3),
];

pub(super) const PAIRINGS: &[Column] = &[
    Column::words("pairing", 12, 42, 0),
    Column::counts("kept", 8, 1),
    Column::counts("ever", 9, 3),
    Column::words("", 10, 72, 2),
    Column::figures("chance", 12, 1),
];

pub(super) const DUE: &[Column] = &[
    Column::figures("number", 4, 0),
    Column::words("due", 12, 28, 0),
    Column::words("oldest", 24, 30, 1),
    Column::words("beside", 44, 70, 2),
];

/// Which column of [`PAIRINGS`] holds the ranges.
pub(super) const RANGE: usize = 3;

pub(super) fn waiting<'a>(around: &Around<'a>, waits: Waits, column: usize) -> Cell<'a> {
    let desk: &'a Desk = around.desk;
    let row = waiting_row(desk, waits);
    match column {
        0 => Cell::text(desk.label(row.plant)),
        1 => Cell::Bloom(row.colours, desk.book().crop()),
        _ => Cell::text(why(&row, around)),
    }
}

/// What is due.
pub(super) fn tasks(evening: &Evening) -> &[Task] {
    evening.due.as_ref().map_or(&[], |due| &due.tasks)
}

pub(super) fn task<'a>(around: &Around<'a>, task: &'a Task, column: usize) -> Cell<'a> {
    let n = task.things.len();
    match column {
        0 => Cell::Text(said::grouped(n).into(), Role::Strong),
        1 => Cell::text(task.what.says(n)),
        2 => Cell::quiet(task.age(around.desk.today())),
        _ => Cell::quiet(said::with_ends(&task.note, around.glyphs())),
    }
}

/// Why a plant waits, in a few words.
fn why(row: &Waiting<'_>, around: &Around<'_>) -> String {
    let day = |on| said::day(on, around.season);
    match (row.why, row.word, row.disagree) {
        (Why::Disagree, _, Some((of, a, b))) => format!("two looks disagree: {of} {a} and {b}"),
        (Why::Held, Some(word), _) if word.is == Verdict::Hold => match word.why {
            Some(why) => format!("held {}, {why}", day(word.on)),
            None => format!("held {}", day(word.on)),
        },
        (Why::Unopened, ..) => {
            let outlook = row.outlook.as_ref().map(words::outlook_in_short);
            let outlook = outlook.map(|text| said::with_ends(&text, around.glyphs()));
            let seen = row.seen_unbloomed.map(|on| format!("no bloom {}", day(on)));
            let told: Vec<String> = outlook.into_iter().chain(seen).collect();
            if told.is_empty() { "not seen in bloom".to_owned() } else { told.join("; ") }
        }
        (Why::NotLifted, ..) => "kept, not lifted yet".to_owned(),
        (Why::Undecided | Why::Disagree | Why::Held, ..) => match row.first_bloom {
            Some(on) => format!("opened {}", day(on)),
            None => "in bloom".to_owned(),
        },
    }
}

pub(super) fn keeper<'a>(around: &Around<'a>, id: PlantId, column: usize) -> Cell<'a> {
    let desk: &'a Desk = around.desk;
    match column {
        0 => Cell::text(desk.label(id)),
        1 => Cell::Bloom(plant::colours(desk, id), desk.book().crop()),
        2 => Cell::text(parents(around, id)),
        _ => match desk.brief(id).first_bloom {
            Some(on) => Cell::quiet(said::day(on, around.season)),
            None => Cell::Blank,
        },
    }
}

fn parents(around: &Around<'_>, id: PlantId) -> String {
    if let Some(cross) = around.desk.book().cross_of(id) {
        return said::cross(around.desk, cross, around.glyphs());
    }
    let (seed, pollen) = around.desk.parents(id);
    said::pair(around.desk, (&seed, &pollen), By::Hand, around.glyphs())
}

pub(super) fn pairing<'a>(
    around: &Around<'a>,
    behind: &Behind,
    scale: Scale,
    column: usize,
) -> Cell<'a> {
    let counts = behind.record.pairing.counts;
    let chance = chance(around, behind);
    match column {
        0 => Cell::text(said::pairing(around.desk, behind.pairing, around.glyphs())),
        1 => Cell::Text(said::of(behind.kept, behind.judged).into(), Role::Strong),
        2 => Cell::quiet(said::of(counts.kept, counts.judged)),
        RANGE => {
            let spread = Spread { at: chance.p, low: chance.low, high: chance.high };
            Cell::Range(spread, scale)
        }
        _ => said::share_cell(&chance, around.glyphs()),
    }
}

/// The chance of a new seedling to be kept: the forecast or, as long as there is none, the
/// steadied rate.
fn chance(around: &Around<'_>, behind: &Behind) -> Interval {
    let forecast = around.forecasts().of(behind.pairing);
    forecast.map_or(behind.record.shrunk, |forecast| forecast.chance)
}

/// The scale on which every range of the list has its place.
pub(super) fn scale(around: &Around<'_>, behind: &[Behind]) -> Scale {
    Scale::reaching(behind.iter().map(|b| chance(around, b).high).fold(0.0, f64::max))
}

/// The pairings of one of the two lists of them.
pub(super) fn behind(evening: &Evening, list: usize) -> &[Behind] {
    if list == super::PAIRINGS { &evening.behind } else { &evening.behind_before }
}

/// What one list opens at a row.
pub(super) fn place(evening: &Evening, list: usize, row: usize) -> Option<Place> {
    match list {
        0 => evening.waiting.get(row).map(|waits| Place::Plant(waits.plant)),
        1 => evening.keepers.get(row).map(|plant| Place::Plant(*plant)),
        super::DUE => tasks(evening).get(row).map(|task| match task.things[..] {
            [(thing, _)] => due::place(thing),
            _ => Place::Due(task.what),
        }),
        _ => behind(evening, list).get(row).map(|behind| Place::Pairing(behind.pairing)),
    }
}

/// The words of a row that a filter looks at.
pub(super) fn letters(around: &Around<'_>, evening: &Evening, list: usize, row: usize) -> String {
    let desk = around.desk;
    let said = match list {
        0 => evening.waiting.get(row).map(|waits| {
            let row = waiting_row(desk, *waits);
            let colours = row.colours.join(" ");
            format!("{} {colours} {}", desk.label(row.plant), why(&row, around))
        }),
        1 => evening.keepers.get(row).map(|id| {
            let colours = plant::colours(desk, *id).join(" ");
            format!("{} {colours} {}", desk.label(*id), parents(around, *id))
        }),
        super::DUE => {
            tasks(evening).get(row).map(|task| task.what.says(task.things.len()).to_owned())
        }
        _ => {
            behind(evening, list).get(row).map(|b| said::pairing(desk, b.pairing, around.glyphs()))
        }
    };
    said.unwrap_or_default()
}

/// What a row of a list is ordered by.
pub(super) fn key(
    around: &Around<'_>,
    evening: &Evening,
    (list, column): (usize, usize),
    row: usize,
) -> Key {
    let desk = around.desk;
    let colour = |id| plant::colours(desk, id).first().map_or(Key::Missing, |c| Key::label(&**c));
    match (list, column) {
        (super::WAITING, _) => match (evening.waiting[row], column) {
            (waits, 0) => Key::label(desk.label(waits.plant)),
            (waits, 1) => colour(waits.plant),
            (waits, _) => Key::label(why(&waiting_row(desk, waits), around)),
        },
        (super::KEEPERS, 0) => Key::label(desk.label(evening.keepers[row])),
        (super::KEEPERS, 1) => colour(evening.keepers[row]),
        (super::KEEPERS, 2) => Key::label(parents(around, evening.keepers[row])),
        (super::DUE, 0) => {
            Key::count(u32::try_from(tasks(evening)[row].things.len()).unwrap_or(u32::MAX))
        }
        (super::DUE, 1) => Key::label(tasks(evening)[row].what.says(2)),
        (super::DUE, _) => Key::day(tasks(evening)[row].oldest().map(When::day)),
        (super::KEEPERS, _) => Key::day(desk.brief(evening.keepers[row]).first_bloom),
        _ => {
            let behind = &behind(evening, list)[row];
            match column {
                0 => Key::label(said::pairing(desk, behind.pairing, around.glyphs())),
                1 => Key::count(behind.kept),
                2 => Key::count(behind.record.pairing.counts.kept),
                _ => Key::Number(chance(around, behind).p),
            }
        }
    }
}

/// What happened in a season, in a line.
pub(super) fn says(evening: &Evening, around: &Around<'_>) -> String {
    let season = evening.season;
    if around.desk.book().plants().next().is_none() {
        return said::fitting(
            [
                "This book is still empty: `trug import FILE.csv` brings your spreadsheets in."
                    .to_owned(),
                "Still empty: `trug import FILE.csv` fills it.".to_owned(),
            ],
            around.line_room(),
        );
    }
    let older = evening.older_keepers;
    let (kept, kept_short) = match (evening.keepers.len(), older) {
        (0, _) => ("no plant kept for the first time".to_owned(), "none kept".to_owned()),
        (n, 0) => {
            let plants = said::many(n, "plant", "plants");
            (format!("{plants} kept for the first time"), format!("{n} kept for the first time"))
        }
        (n, older) => {
            let plants = said::many(n, "plant", "plants");
            let first = format!("{n} kept for the first time");
            (
                format!("{plants} kept for the first time, {older} of them planted earlier"),
                format!("{first}, {older} of them older"),
            )
        }
    };
    let (waits, waits_short) = match evening.waiting.len() {
        0 => ("nothing waits for you".to_owned(), "nothing waits for you".to_owned()),
        1 => ("1 plant waits for you".to_owned(), "1 waits for you".to_owned()),
        n => {
            let n = said::grouped(n);
            (format!("{n} plants wait for you"), format!("{n} wait for you"))
        }
    };
    let reasons: Vec<String> =
        evening.by_reason.iter().map(|&(why, n)| format!("{n} {}", reason(why))).collect();
    let told =
        if reasons.is_empty() { waits.clone() } else { format!("{waits}: {}", reasons.join(", ")) };
    said::fitting(
        [
            format!("Season {season}: {kept}; {told}."),
            format!("Season {season}: {kept}; {waits}."),
            format!("Season {season}: {kept_short}; {waits_short}."),
            format!("{season}: {kept_short}; {waits_short}."),
            format!("{season}: {waits_short}."),
        ],
        around.line_room(),
    )
}

/// Why they wait, in a word or two.
fn reason(why: Why) -> &'static str {
    match why {
        Why::Undecided => "undecided",
        Why::Disagree => "looks disagree",
        Why::Held => "held",
        Why::Unopened => "not opened",
        Why::NotLifted => "to lift",
    }
}
