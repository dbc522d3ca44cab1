//! The record of every pairing: the same two parents over all seasons.

use std::collections::BTreeMap;

use crate::book::{Book, Counts, CrossId, PlantId, PlantRecord, Season};
use crate::lineage::Link;
use crate::merit::{
    Prior,
    liability::{Question, Sources},
};

use super::{Desk, Interval, Levels, Party};

/// Two parents and the crosses made between them.
#[derive(Debug, Clone, PartialEq)]
pub struct Pairing {
    /// The seed parent, in the direction first made.
    pub seed: Party,
    /// The pollen parent.
    pub pollen: Party,
    /// Its crosses, in the order made.
    pub crosses: Vec<CrossId>,
    /// The seasons in which they were made, oldest first.
    pub seasons: Vec<Season>,
    /// Counts over all of them.
    pub counts: Counts,
}

/// What is done with `A × B` and `B × A`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Directions {
    /// They are one pairing, under the direction first made.
    #[default]
    Together,
    /// They are two.
    Apart,
}

/// One line of the record.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The pairing.
    pub pairing: Pairing,
    /// Whether anything of it has been judged.
    pub tried: bool,
    /// Kept of judged.
    pub rate: Option<Interval>,
    /// The same, steadied by what the other pairings do.
    pub shrunk: Interval,
    /// The chance that a new seedling is kept, from everything that the book knows; put in by
    /// [`forecast`].
    pub forecast: Option<Interval>,
    /// The chance that no other of the rows has a better one.
    pub chance_best: Option<f64>,
}

/// The crosses of a book, put together by parents. Where a parent is not known, the two
/// directions stay apart: nobody can tell that it was the same plant.
pub(super) fn pooled(
    book: &Book,
    parties: &[(Party, Party)],
    counts: &[Counts],
    directions: Directions,
) -> Vec<Pairing> {
    let mut order: Vec<CrossId> = book.cross_ids().collect();
    order.sort_by_key(|&id| {
        let season = book.cross(id).season;
        (season.is_none(), season)
    });
    let mut place: BTreeMap<(Party, Party), usize> = BTreeMap::new();
    let mut pairings: Vec<Pairing> = Vec::new();
    for id in order {
        let (seed, pollen) = parties[id.index()].clone();
        let together = directions == Directions::Together
            && seed != Party::Unknown
            && pollen != Party::Unknown;
        let key = if together && pollen < seed {
            (pollen.clone(), seed.clone())
        } else {
            (seed.clone(), pollen.clone())
        };
        let at = *place.entry(key).or_insert(pairings.len());
        if at == pairings.len() {
            pairings.push(Pairing {
                seed,
                pollen,
                crosses: Vec::new(),
                seasons: Vec::new(),
                counts: Counts::default(),
            });
        }
        let pairing = &mut pairings[at];
        pairing.crosses.push(id);
        pairing.counts += counts[id.index()];
        if let Some(season) = book.cross(id).season
            && pairing.seasons.last() != Some(&season)
        {
            pairing.seasons.push(season);
        }
    }
    pairings
}

/// The record of every pairing in the order first made and, where `untried` says so, after them
/// the pairs that were never made.
pub fn rows(desk: &Desk, directions: Directions, untried: bool, levels: Levels) -> Vec<Row> {
    let (made, prior) = match directions {
        Directions::Together => (desk.pairings().to_vec(), *desk.prior()),
        Directions::Apart => {
            let made = desk.pooled(directions);
            let prior = prior(desk.book(), &made);
            (made, prior)
        }
    };
    // Pairings are many, but few counts differ, and a range takes long to work out.
    let mut ranges: BTreeMap<(u32, u32), Interval> = BTreeMap::new();
    let mut row = |pairing: Pairing| {
        let Counts { kept, judged, .. } = pairing.counts;
        let shrunk = ranges
            .entry((kept, judged))
            .or_insert_with(|| prior.shrunk(&pairing.counts, levels.shrunk));
        Row::of(pairing, *shrunk, levels)
    };
    let mut rows: Vec<Row> = made.into_iter().map(&mut row).collect();
    if untried {
        rows.extend(untried_pairs(desk, directions).map(|(a, b)| row(Pairing::untried(a, b))));
    }
    rows
}

/// Puts in what is forecast of each row, and its chance of being the best among them. Nothing is
/// put in where the book has too little for forecasts; the steadied rates stand for them then.
pub fn forecast(desk: &Desk, rows: &mut [Row], directions: Directions, levels: Levels) {
    let Some(forecasts) = desk.forecasts(directions) else { return };
    let questions: Vec<Question> = rows.iter().map(|row| question(desk, &row.pairing)).collect();
    let chances = forecasts.answers(&questions, levels.shrunk);
    let best = forecasts.chance_best(&questions);
    for ((row, chance), best) in rows.iter_mut().zip(chances).zip(best) {
        (row.forecast, row.chance_best) = (Some(chance), Some(best));
    }
}

/// Where the forecast of a pairing comes from. None where there are no forecasts, or the parents
/// are not sure. This takes a moment.
pub fn sources(desk: &Desk, pairing: &Pairing, levels: Levels) -> Option<Sources> {
    let (seed, pollen) = (pairing.seed.plant()?, pairing.pollen.plant()?);
    Some(desk.forecasts(Directions::Together)?.sources(seed, pollen, levels.shrunk))
}

/// What is asked of the forecasts for a pairing.
pub(super) fn question(desk: &Desk, pairing: &Pairing) -> Question {
    if let (Some(seed), Some(pollen)) = (pairing.seed.plant(), pairing.pollen.plant()) {
        return Question::Pair(seed, pollen);
    }
    let links = pairing.crosses.first().map(|&cross| {
        let parents = desk.pedigree().parents_of(desk.pedigree().family_of_cross(cross));
        [parents.seed, parents.pollen]
    });
    match links {
        Some([seed, pollen]) if !seed.is_empty() && !pollen.is_empty() => {
            let side = |side: &[Link]| side.iter().map(|link| (link.plant, link.weight)).collect();
            Question::Sides(side(seed), side(pollen))
        }
        _ => Question::Crosses(pairing.crosses.clone()),
    }
}

/// The line of one of [`Desk::pairings`].
pub fn row(desk: &Desk, pairing: &Pairing, levels: Levels) -> Row {
    Row::of(pairing.clone(), desk.prior().shrunk(&pairing.counts, levels.shrunk), levels)
}

/// How the keep rates of pairings lie.
pub(super) fn prior(book: &Book, pairings: &[Pairing]) -> Prior {
    Prior::of(pairings.iter().map(|pairing| pairing.counts), &book.crop().rates.kept_of_judged)
}

impl Row {
    /// The chance that a new seedling is kept: the forecast or, without one, the steadied rate.
    pub fn chance(&self) -> Interval {
        self.forecast.unwrap_or(self.shrunk)
    }

    fn of(pairing: Pairing, shrunk: Interval, levels: Levels) -> Self {
        let Counts { judged, kept, .. } = pairing.counts;
        Self {
            tried: judged > 0,
            rate: levels.rate(kept, judged),
            shrunk,
            forecast: None,
            chance_best: None,
            pairing,
        }
    }
}

impl Pairing {
    /// Two plants that were never put to each other.
    pub fn untried(seed: PlantId, pollen: PlantId) -> Self {
        Self {
            seed: Party::Plant(seed),
            pollen: Party::Plant(pollen),
            crosses: Vec::new(),
            seasons: Vec::new(),
            counts: Counts::default(),
        }
    }
}

/// Pairs of parents still alive between which no cross was ever made: plants that have been
/// used in a cross before, each pair once unless directions are apart, and in a direction that
/// can set seed. Selfings are not among them.
fn untried_pairs(desk: &Desk, directions: Directions) -> impl Iterator<Item = (PlantId, PlantId)> {
    let mut parents: Vec<PlantId> = desk
        .book()
        .cross_ids()
        .flat_map(|id| {
            let (seed, pollen) = desk.parties(id);
            seed.plants().chain(pollen.plants())
        })
        .filter(|&id| desk.brief(id).is_alive())
        .collect();
    parents.sort_unstable();
    parents.dedup();
    let mut made: Vec<(PlantId, PlantId)> = desk
        .pairings()
        .iter()
        .filter_map(|pairing| Some((pairing.seed.plant()?, pairing.pollen.plant()?)))
        .flat_map(|(a, b)| [(a, b), (b, a)])
        .collect();
    if directions == Directions::Apart {
        made = desk
            .book()
            .cross_ids()
            .filter_map(|id| {
                let (seed, pollen) = desk.parties(id);
                Some((seed.plant()?, pollen.plant()?))
            })
            .collect();
    }
    made.sort_unstable();
    let can = move |seed, pollen| gives_seed(desk, seed) && gives_pollen(desk, pollen);
    let n = parents.len();
    (0..n).flat_map(move |i| (0..n).map(move |j| (i, j))).filter_map(move |(i, j)| {
        let (seed, pollen) = (parents[i], parents[j]);
        let wanted = match directions {
            Directions::Apart => i != j && can(seed, pollen),
            Directions::Together if i < j => can(seed, pollen),
            Directions::Together => i > j && can(seed, pollen) && !can(pollen, seed),
        };
        (wanted && made.binary_search(&(seed, pollen)).is_err()).then_some((seed, pollen))
    })
}

fn gives_seed(desk: &Desk, plant: PlantId) -> bool {
    match desk.book().plant(plant) {
        PlantRecord::Variety(v) => v.gives_seed != Some(false),
        PlantRecord::Seedling(..) => true,
    }
}

fn gives_pollen(desk: &Desk, plant: PlantId) -> bool {
    match desk.book().plant(plant) {
        PlantRecord::Variety(v) => v.gives_pollen != Some(false),
        PlantRecord::Seedling(..) => true,
    }
}
