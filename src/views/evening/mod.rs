//! The season in review: what happened, what waits for the raiser, what is due, and which
//! pairings stand behind the keepers.

mod behind;
mod due;
mod funnel;
mod waiting;

pub use behind::{Behind, behind};
pub use due::{Due, Task, Thing, What};
pub use funnel::{Along, Step};
pub use waiting::{Waiting, Waits, Why};

use crate::book::{PlantId, Season, Verdict, When};

use super::{
    Desk, Levels,
    crosses::Heads,
    pairings::{self, Directions},
};

/// One season.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// The season.
    pub season: Season,
    /// The seed sown in it, step by step to the keepers, with the season before beside it.
    pub steps: Vec<Step>,
    /// The heads pollinated in it.
    pub heads: Heads,
    /// Plants that wait for the raiser, the most pressing first.
    pub waiting: Vec<Waits>,
    /// How many wait for each reason, the most pressing first; reasons without anyone are left
    /// out.
    pub by_reason: Vec<(Why, usize)>,
    /// What is due today; only beside the latest season.
    pub due: Option<Due>,
    /// Its keepers: plants that first bloomed in it and were kept at its end, in the order of
    /// the roll.
    pub keepers: Vec<PlantId>,
    /// How many of them were planted in an earlier season, so that they are not of its seed.
    pub older_keepers: usize,
    /// The pairings behind its keepers, the most keepers first.
    pub behind: Vec<Behind>,
    /// The same for the season before.
    pub behind_before: Vec<Behind>,
}

/// Reviews a season.
pub fn evening(desk: &Desk, season: Season, levels: Levels) -> Evening {
    let keepers = keepers(desk, season);
    let planted = |plant: &PlantId| desk.brief(*plant).planted.map(When::season);
    let older = |plant: &&PlantId| planted(plant).is_some_and(|planted| planted < season);
    let waiting = waiting::waiting(desk, season);
    // Whoever draws the waiting plants one by one should find it there.
    desk.first_bloom();
    Evening {
        season,
        steps: funnel::steps(desk, season, levels),
        heads: funnel::heads(desk, season),
        by_reason: waiting
            .chunk_by(|a, b| a.why == b.why)
            .map(|list| (list[0].why, list.len()))
            .collect(),
        due: (season >= desk.last_season()).then(|| due::due(desk, &waiting)),
        waiting,
        older_keepers: keepers.iter().filter(older).count(),
        keepers,
        behind: behind::behind(desk, season, levels),
        behind_before: behind::behind(desk, season.before(), levels),
    }
}

/// Puts in what is forecast of the pairings behind the keepers; nothing where the book has too
/// little for it.
pub fn forecast(desk: &Desk, evening: &mut Evening, levels: Levels) {
    let Some(forecasts) = desk.forecasts(Directions::Together) else { return };
    let rows: Vec<&mut Behind> =
        evening.behind.iter_mut().chain(&mut evening.behind_before).collect();
    let questions: Vec<_> =
        rows.iter().map(|row| pairings::question(desk, &row.record.pairing)).collect();
    for (row, chance) in rows.into_iter().zip(forecasts.answers(&questions, levels.shrunk)) {
        row.record.forecast = Some(chance);
    }
}

fn keepers(desk: &Desk, season: Season) -> Vec<PlantId> {
    desk.book()
        .plants()
        .skip(desk.book().varieties().len())
        .filter(|&plant| {
            let brief = desk.brief(plant);
            brief.season() == Some(season) && brief.sorting == Some(Verdict::Keep)
        })
        .collect()
}

/// What is due today of one sort; none where nothing is.
pub fn task(desk: &Desk, what: What) -> Option<Task> {
    let waiting = waiting::waiting(desk, desk.last_season());
    due::due(desk, &waiting).tasks.into_iter().find(|task| task.what == what)
}

/// The row of a plant that waits.
pub fn waiting_row(desk: &Desk, waits: Waits) -> Waiting<'_> {
    waiting::row(desk, waits)
}
