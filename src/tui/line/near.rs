//! How near of kin the plants of the picture are: asked of the worker, because in a large book it
//! takes longer than a frame may.

use std::collections::BTreeMap;

use crate::book::PlantId;
use crate::lineage::draw::{Picture, What};
use crate::tui::{page::Around, said, worker::Later};
use crate::views::{
    kin::{self, Loops},
    words,
};

/// What is known of it so far.
#[derive(Debug)]
pub(super) struct Near {
    /// The plants drawn that are inbred, each with its F as a share of what full sibs would give.
    inbred: Later<BTreeMap<PlantId, f64>>,
    /// The loops that are marked.
    loops: Later<Option<Loops>>,
    /// The plant under the cursor for which they were asked.
    asked_of: Option<PlantId>,
}

/// Ancestors named in a line before the others are counted.
const MOST_NAMED: usize = 4;

impl Near {
    pub(super) fn new() -> Self {
        Self { inbred: Later::Unasked, loops: Later::Unasked, asked_of: None }
    }

    /// Asks for the plants of a new picture.
    pub(super) fn ask(&mut self, around: &Around<'_>, picture: &Picture) {
        let plants: Vec<PlantId> =
            picture.cells.iter().filter_map(|cell| plant(cell.what)).collect();
        self.inbred = around.worker.ask(around.desk, move |desk, _| kin::inbred(desk, &plants));
        self.asked_of = None;
    }

    /// Asks for the loops behind what the cursor is on or, where there are none, behind the plant
    /// in the middle.
    pub(super) fn ask_of(&mut self, around: &Around<'_>, under: What, centre: Option<PlantId>) {
        let under = plant(under).or(centre);
        if under.is_none() || self.asked_of == under {
            return;
        }
        self.asked_of = under;
        self.loops = around.worker.ask(around.desk, move |desk, stop| {
            let mut wanted = [under, centre].into_iter().flatten().filter(|_| !stop.asked());
            wanted.find_map(|plant| kin::loops(desk, plant))
        });
    }

    /// Takes in what has come.
    pub(super) fn settle(&mut self) {
        self.inbred.settle();
        self.loops.settle();
    }

    pub(super) fn waits(&self) -> bool {
        matches!(self.inbred, Later::Asked(_)) || matches!(self.loops, Later::Asked(_))
    }

    /// The loops that are marked.
    pub(super) fn loops(&self) -> Option<&Loops> {
        self.loops.here()?.as_ref()
    }

    /// What stands beside a plant, the longest wording first: what the loops through it add, and how
    /// inbred it is itself.
    pub(super) fn beside(&self, what: What) -> Vec<(Option<String>, Option<String>)> {
        let Some(plant) = plant(what) else { return Vec::new() };
        let adds = self.loops().and_then(|loops| {
            let through = loops.through.iter();
            through.filter(|(top, _)| *top == Some(plant)).map(|(_, adds)| *adds).next()
        });
        let inbred = self.inbred.here().and_then(|inbred| inbred.get(&plant));
        let f = inbred.map(|share| format!("inbred {}", said::percent(*share)));
        let [full, short] = [
            adds.map(|adds| format!("loop {}", said::percent(adds))),
            adds.map(|_| "loop".to_owned()),
        ];
        let wordings = vec![(full.clone(), f), (full, None), (short, None)];
        wordings.into_iter().filter(|(adds, f)| adds.is_some() || f.is_some()).collect()
    }

    /// The loops in a sentence.
    pub(super) fn tells(&self, around: &Around<'_>) -> String {
        let Some(loops) = self.loops() else { return String::new() };
        let desk = around.desk;
        let who = desk.label(loops.plant);
        let name = |top: Option<PlantId>| top.map_or(words::ONE_FATHER, |plant| desk.label(plant));
        let mut parts: Vec<String> = loops
            .through
            .iter()
            .map(|&(top, adds)| format!("{} {}", name(top), said::percent(adds)))
            .collect();
        let n_more = parts.len().saturating_sub(MOST_NAMED);
        parts.truncate(MOST_NAMED);
        if n_more > 0 {
            parts.push(format!("{n_more} more"));
        }
        if !parts.is_empty() {
            parts[0].insert_str(0, "through ");
        }
        if loops.in_parents > 0.0 {
            parts.push(format!("in its parents already {}", said::percent(loops.in_parents)));
        }
        let near = words::closeness(loops.of_full_sibs);
        let ellipsis = around.glyphs().ellipsis;
        let first = |n: usize| {
            let end = if n < parts.len() { format!(" {ellipsis}") } else { ".".to_owned() };
            format!("{who}: {near}: {}{end}", parts[..n].join(", "))
        };
        let wordings = (1..=parts.len()).rev().map(first);
        said::fitting(wordings.chain([format!("{who}: {near}.")]), around.line_room())
    }
}

fn plant(what: What) -> Option<PlantId> {
    match what {
        What::Plant(plant) => Some(plant),
        _ => None,
    }
}
