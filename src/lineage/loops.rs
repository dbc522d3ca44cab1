//! Loops: plants that stand among their own ancestors.
//!
//! Nothing of the kind grows, so a loop is a slip of the pen. It is named as a fault, and every
//! other question is still answered, loop or not.

use std::collections::{BTreeMap, VecDeque};

use crate::book::{Book, Fault, Parent, Place, PlantId, PlantRecord, Severity};

use super::{Pedigree, order::knots};

/// As many steps of a loop as a sentence holds.
const MOST_STEPS: usize = 8;

impl Pedigree {
    /// One loop for every knot of plants that are ancestors of each other: the shortest one
    /// through the plant that stands first on the roll. Each plant of a loop is followed by one
    /// of its parents, and the last by the first.
    pub fn loops(&self) -> Vec<Vec<PlantId>> {
        let links = self.used().iter().map(|&plant| self.links_of(self.family_of(plant)));
        let knots = knots(links).into_iter();
        let mut loops: Vec<Vec<PlantId>> = knots.filter_map(|knot| self.loop_in(&knot)).collect();
        loops.sort();
        loops
    }

    /// The shortest loop through the first plant of a knot.
    fn loop_in(&self, knot: &[u32]) -> Option<Vec<PlantId>> {
        let start = *knot.first()?;
        let mut came_from = BTreeMap::new();
        let mut queue = VecDeque::from([start]);
        while let Some(at) = queue.pop_front() {
            for link in self.above(at) {
                if link.used == start {
                    return Some(self.way_back(at, &came_from));
                }
                if knot.binary_search(&link.used).is_ok() && !came_from.contains_key(&link.used) {
                    came_from.insert(link.used, at);
                    queue.push_back(link.used);
                }
            }
        }
        None
    }

    fn way_back(&self, last: u32, came_from: &BTreeMap<u32, u32>) -> Vec<PlantId> {
        let mut way = vec![last];
        while let Some(&before) = way.last().and_then(|at| came_from.get(at)) {
            way.push(before);
        }
        way.reverse();
        way.into_iter().map(|used| self.used()[used as usize]).collect()
    }

    fn is_certain_parent(&self, child: PlantId, parent: PlantId) -> bool {
        self.parents(child).all().any(|link| link.plant == parent && link.is_certain())
    }
}

/// A fault for every loop, in a sentence that names it, at the parent that cannot be one.
pub fn loop_faults(book: &Book) -> Vec<Fault> {
    let pedigree = Pedigree::of(book);
    pedigree.loops().iter().filter_map(|ring| fault(book, &pedigree, ring)).collect()
}

fn fault(book: &Book, pedigree: &Pedigree, ring: &[PlantId]) -> Option<Fault> {
    let first = *ring.first()?;
    let label = |plant| book.plant(plant).label();
    let parents = ring.iter().cycle().skip(1);
    let mut certain = true;
    let mut steps = Vec::with_capacity(ring.len());
    for (&child, &parent) in ring.iter().zip(parents) {
        let sure = pedigree.is_certain_parent(child, parent);
        certain &= sure;
        let came = if sure { "came" } else { "may have come" };
        steps.push(format!("{} {came} from {}", label(child), label(parent)));
    }
    if steps.len() > MOST_STEPS {
        let left_out = steps.len() - MOST_STEPS;
        steps.splice(MOST_STEPS - 1..steps.len() - 1, [format!("so on for {left_out} more")]);
    }
    let message = format!(
        "{} {} its own {}: {} {}, which cannot be.",
        label(first),
        if certain { "is" } else { "would be" },
        forebear(ring.len()),
        steps.join(", and "),
        if ring.len() > 1 { "again" } else { "itself" }
    );
    Some(Fault {
        at: place_in_time(book, ring)?,
        severity: Severity::Error,
        message,
        hint: "One of these parents is written wrongly; find it and put it right. Until then \
               the lineage of these plants goes round in a ring."
            .to_owned(),
    })
}

/// Where the ring may best be broken: where a plant has a parent raised later than itself or,
/// failing that, where its last plant names its first.
fn place_in_time(book: &Book, ring: &[PlantId]) -> Option<Place> {
    let season = |plant| book.cross_of(plant).and_then(|cross| book.cross(cross).season);
    let last = [*ring.last()?, *ring.first()?];
    let mut steps = ring.windows(2).map(|step| [step[0], step[1]]).chain([last]);
    let late = steps.find(|&[child, parent]| {
        matches!((season(child), season(parent)), (Some(own), Some(older)) if own < older)
    });
    let [child, parent] = late.unwrap_or(last);
    Some(place_of_parent(book, child, parent))
}

/// Where it is written that one plant is a parent of another.
fn place_of_parent(book: &Book, child: PlantId, parent: PlantId) -> Place {
    let record = book.plant(child);
    let at = match record {
        PlantRecord::Variety(variety) => Place::Variety(variety.id.clone(), None),
        PlantRecord::Seedling(cross, _) => Place::Cross(cross.code.clone()),
    };
    for (side, written) in [("seed", record.seed_parent()), ("pollen", record.pollen_parent())] {
        let nth = written.candidates().position(|(key, _)| book.by_key(key) == Some(parent));
        match (nth, written) {
            (Some(n), Parent::OneOf(_)) => return at.item(side, n),
            (Some(_), _) => return at.field(side),
            (None, _) => {}
        }
    }
    at
}

/// What a plant so many generations back is called.
fn forebear(generations: usize) -> String {
    match generations {
        1 => "parent".to_owned(),
        2 => "grandparent".to_owned(),
        3 => "great-grandparent".to_owned(),
        n => format!("ancestor {n} generations back"),
    }
}
