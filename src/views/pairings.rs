//! The record of every pairing: the same two parents over all seasons.

use std::collections::BTreeMap;

use crate::book::{Counts, CrossId, PlantId, PlantRecord, Season};

use super::{Desk, Levels, Party, Rate};

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
    pub rate: Option<Rate>,
    /// The same, drawn towards what the other pairings do.
    pub shrunk: Option<Rate>,
}

/// The crosses of a book, put together by parents. Where a parent is not known, the two
/// directions stay apart: nobody can tell that it was the same plant.
pub fn pooled(desk: &Desk, directions: Directions) -> Vec<Pairing> {
    let mut order: Vec<CrossId> = desk.book().cross_ids().collect();
    order.sort_by_key(|&id| {
        let season = desk.book().cross(id).season;
        (season.is_none(), season)
    });
    let mut place: BTreeMap<(Party, Party), usize> = BTreeMap::new();
    let mut pairings: Vec<Pairing> = Vec::new();
    for id in order {
        let (seed, pollen) = desk.parties(id).clone();
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
        pairing.counts += desk.counts(id);
        if let Some(season) = desk.book().cross(id).season
            && pairing.seasons.last() != Some(&season)
        {
            pairing.seasons.push(season);
        }
    }
    pairings
}

/// The record, in the order first made.
pub fn rows(desk: &Desk, directions: Directions, levels: Levels) -> Vec<Row> {
    let pairings = match directions {
        Directions::Together => desk.pairings().to_vec(),
        Directions::Apart => pooled(desk, directions),
    };
    pairings.into_iter().map(|pairing| row(desk, pairing, levels)).collect()
}

/// The line of one pairing.
pub fn row(_desk: &Desk, pairing: Pairing, levels: Levels) -> Row {
    let Counts { judged, kept, .. } = pairing.counts;
    let rate = levels.rate(kept, judged);
    Row { tried: judged > 0, rate, shrunk: rate, pairing }
}

/// Pairs of parents still alive between which no cross was ever made: plants that have been
/// used in a cross before, either way round once, each pair in a direction that can set seed.
pub fn untried(desk: &Desk, directions: Directions) -> impl Iterator<Item = (PlantId, PlantId)> {
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
