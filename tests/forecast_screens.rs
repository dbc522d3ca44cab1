//! Forecasts on the screens: the same figures as in the shell, and what stands until they are
//! there.

use std::sync::Arc;

use crate::{forecasts, sample};
use trug::{
    tui::{Settings, Shown, Stage, Start, place::Place, worker::Worker},
    views::{
        Desk, Levels, evening,
        pairings::{self, Directions, Row},
    },
};

fn stage(keys: &str, size: (u16, u16)) -> Stage {
    let mut stage = Stage::new(sample::desk(), Settings::default(), size);
    stage.press(keys).unwrap();
    stage
}

/// A screen on which nothing that may take long is ever done.
fn hasty(desk: Arc<Desk>, keys: &str) -> Stage {
    let start = Start::Book(Shown::only(desk, Vec::new()));
    let mut stage = Stage::with(start, Settings::default(), (120, 40), Worker::hasty());
    stage.press(keys).unwrap();
    stage
}

#[track_caller]
fn line(stage: &Stage, words: &str) -> String {
    let text = stage.text();
    let found = text.lines().find(|line| line.contains(words));
    found.unwrap_or_else(|| panic!("no {words:?} in\n{text}")).to_owned()
}

/// The first line that begins with these words.
#[track_caller]
fn row(stage: &Stage, words: &str) -> String {
    let text = stage.text();
    let found = text.lines().find(|line| line.starts_with(words));
    found.unwrap_or_else(|| panic!("nothing begins with {words:?} in\n{text}")).to_owned()
}

/// What the shell prints of all pairings, the best first.
fn of_the_shell(untried: bool) -> Vec<Row> {
    let (desk, levels) = (sample::desk(), Levels::default());
    let mut rows = pairings::rows(&desk, Directions::Together, untried, levels);
    pairings::forecast(&desk, &mut rows, Directions::Together, levels);
    rows.sort_by(|a, b| b.chance().p.total_cmp(&a.chance().p));
    rows
}

/// A chance with its range as the screens say it.
fn said(row: &Row) -> String {
    let chance = row.forecast.unwrap();
    let [p, low, high] = [chance.p, chance.low, chance.high].map(|share| share * 100.0);
    format!("{p:.0} %{:>7}", format!("{low:.0}–{high:.0}"))
}

/// The lines of the ranking, from the top.
fn ranking(stage: &Stage) -> Vec<String> {
    stage.text().lines().filter(|line| line.contains('├')).map(str::to_owned).collect()
}

#[test]
fn the_ranking_has_the_order_and_the_figures_of_the_shell() {
    let (shown, rows) = (ranking(&stage("4", (200, 60))), of_the_shell(false));
    assert!(shown.len() > 20);
    for (line, row) in shown.iter().zip(&rows) {
        assert!(line.contains(&said(row)), "{} is not in {line}", said(row));
        let counts = row.pairing.counts;
        let counted = if row.tried {
            format!("{} of {}", counts.kept, counts.judged)
        } else {
            "not yet".to_owned()
        };
        assert!(line.contains(&counted), "{counted} is not in {line}");
        let best = row.chance_best.unwrap() * 100.0;
        assert!(best < 0.5 || line.ends_with(&format!("{best:.0} %")), "{best} is not in {line}");
    }
}

#[test]
fn pairs_never_made_have_the_figures_of_the_shell() {
    let shown = ranking(&stage("4oooo", (200, 60)));
    let rows: Vec<Row> =
        of_the_shell(true).into_iter().filter(|row| row.pairing.crosses.is_empty()).collect();
    assert!(shown.len() > 20);
    for (line, row) in shown.iter().zip(&rows) {
        assert!(line.contains(&said(row)) && line.contains("untried"), "{line}");
    }
}

#[test]
fn the_evening_has_the_figures_of_the_shell() {
    let desk = sample::desk();
    let mut review = evening::evening(&desk, desk.last_season(), Levels::default());
    evening::forecast(&desk, &mut review, Levels::default());
    let shown = ranking(&stage("", (120, 40)));
    assert!(!shown.is_empty());
    for (line, behind) in shown.iter().zip(&review.behind) {
        assert!(line.contains(&said(&behind.record)), "{line}");
    }
}

#[test]
fn the_page_of_a_pairing_says_where_its_forecast_comes_from() {
    let stage = stage("4<enter>", (120, 40));
    let best = &of_the_shell(false)[0];
    let forecast = row(&stage, "  forecast ");
    let chance = best.forecast.unwrap();
    assert!(forecast.contains(&format!("{:.0} %  ", chance.p * 100.0)), "{forecast}");
    line(&stage, "kept 6 of 9");
    let among = line(&stage, "the best");
    let share = format!("{:.0} %, among the 27 pairings made", best.chance_best.unwrap() * 100.0);
    assert!(among.contains(&share), "{among}");
    line(&stage, "  why ");
    line(&stage, "by its own seedlings");
    line(&stage, "not inbred, as far as the book knows");
}

#[test]
fn a_pair_never_made_is_reached_from_its_square_and_back() {
    let mut stage = stage("4<tab>h", (170, 40));
    let told = line(&stage, "  never made");
    assert!(told.starts_with(" 22-211 × 22-411 "), "{told}");
    line(&stage, "a new seedling would be kept: ");
    stage.press("<enter>").unwrap();
    assert!(matches!(stage.place(), Place::Pair(..)));
    line(&stage, "22-211 × 22-411: never made.");
    assert!(row(&stage, "  forecast ").contains('├'));
    line(&stage, "pairs that were made or could be");
    line(&stage, "by what its parents");
    line(&stage, "No cross of the two has been made.");
    stage.press("a").unwrap();
    assert!(matches!(stage.place(), Place::Plant(_)));
    stage.press("<backspace><backspace>").unwrap();
    assert_eq!(line(&stage, "  never made"), told);
}

#[test]
fn squares_are_shaded_by_kin_in_figures_as_well() {
    let mut stage = stage("4jjjjj<tab>", (170, 40));
    assert!(line(&stage, "22-411 selfed").contains("3 of 8"));
    let by_chance = stage.text();
    stage.press("i").unwrap();
    line(&stage, "as inbred as offspring of full sibs");
    let row = row(&stage, " 22-411 ");
    assert!(row.contains("██ 200"), "a selfing: {row}");
    assert!(row.contains(" 0 ·"), "no kin, never made: {row}");
    stage.press("i").unwrap();
    assert_eq!(stage.text(), by_chance);
}

#[test]
fn until_forecasts_are_there_the_steadied_rates_stand_and_it_says_so() {
    let mut stage = hasty(sample::unweighed_desk(), "4");
    line(&stage, "steadied");
    line(&stage, "forecasts on their way");
    assert!(!stage.text().contains("passes on"));
    assert!(line(&stage, "Ferry Lantern × Saltmarsh").contains('├'));
    stage.press("<enter>").unwrap();
    row(&stage, "  steadied ");
    stage.press("1").unwrap();
    line(&stage, "steadied");
}

#[test]
fn a_weighing_that_is_stopped_leaves_nothing_behind() {
    let desk = forecasts::book(vec![
        forecasts::family("a", "b", 2020, 3, 10),
        forecasts::family("c", "b", 2020, 1, 10),
    ]);
    let desk = Desk::new(Arc::new(desk), chrono::NaiveDate::default());
    desk.weigh(&|_| false);
    assert!(desk.weighed().is_none());
    desk.weigh(&|stage| !matches!(stage, trug::views::weighed::Stage::Telling(_)));
    assert!(desk.weighed().is_none());
    desk.weigh(&|_| true);
    let weighed = desk.weighed().unwrap().unwrap();
    assert_eq!(weighed.made.len(), 2);
    assert_eq!(weighed.untried.len(), 1, "a × c");
}

#[test]
fn what_an_older_book_forecast_is_not_shown_of_a_newer_one() {
    let desk = sample::desk();
    desk.weigh(&|_| true);
    assert!(desk.weighed().is_some());
    let renewed = desk.renewed(desk.share_book()).desk;
    assert!(renewed.weighed().is_none());
    line(&hasty(Arc::new(renewed), "4"), "on their way");
}
