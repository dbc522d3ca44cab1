//! From the plants that somebody asks about to sums of unknowns.

use crate::book::{CrossId, PlantId, Season};
use crate::kinship::{Column, Kinship};

use super::{
    belief::{Asked, Leaf},
    families::with_rest,
    layout::{Layout, Offspring, Term},
};

/// One side of a pairing: the plants that may stand there, with their probabilities. What is left
/// of 1 is a plant that nobody knows.
pub type Side = Vec<(PlantId, f64)>;

/// Whose seedlings are asked about.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// Of two plants, whether they were crossed before or not.
    Pair(PlantId, PlantId),
    /// Of a seed parent and a pollen parent, where it is not sure which plants they are.
    Sides(Side, Side),
    /// More of what came of these crosses, which have the same parents. This is the question
    /// where nobody knows a parent: it is the same unknown plant again.
    Crosses(Vec<CrossId>),
}

/// What is needed to turn plants into sums.
#[derive(Debug)]
pub(super) struct Asking<'f> {
    pub(super) layout: &'f Layout,
    pub(super) kinship: &'f Kinship,
    /// Plants of which the answer was yes, that never became parents.
    pub(super) liked: &'f [(PlantId, Season)],
    column: Option<Column<'f>>,
}

impl<'f> Asking<'f> {
    pub(super) fn new(
        layout: &'f Layout,
        kinship: &'f Kinship,
        liked: &'f [(PlantId, Season)],
    ) -> Self {
        Self { layout, kinship, liked, column: None }
    }

    /// The seedlings asked about, in an average season. Questions with the same seed parent one
    /// after another cost least.
    pub(super) fn question(&mut self, question: &Question) -> Asked {
        match question {
            Question::Pair(seed, pollen) => self.pairing(&[(*seed, 1.0)], &[(*pollen, 1.0)]),
            Question::Sides(seed, pollen) => self.pairing(seed, pollen),
            Question::Crosses(crosses) => self.crosses(crosses),
        }
    }

    /// Crosses of which nothing was counted are of parents that nobody knows.
    fn crosses(&mut self, crosses: &[CrossId]) -> Asked {
        let mut counted: Vec<&Term> =
            self.layout.terms.iter().filter(|term| crosses.contains(&term.seen.cross)).collect();
        counted.retain(|term| term.seen.plant.is_none());
        counted.dedup_by_key(|term| term.seen.cross);
        if counted.is_empty() {
            return self.pairing(&[], &[]);
        }
        let mut asked = Asked::default();
        let each = (counted.len() as f64).recip();
        for sum in counted.iter().flat_map(|term| &term.sums) {
            let weight = each * sum.weight;
            asked.values.extend(sum.values.iter().map(|&(at, x)| (at, weight * x)));
            asked.pairings.extend(sum.pairing.map(|at| (at, weight)));
            asked.nameless.extend(sum.shared.map(|(at, sides)| (at, weight, sides)));
            asked.inbreeding += weight * sum.inbreeding;
            asked.sampling += weight * sum.genetic;
            asked.mixed_pairings += if sum.mixed_pairings { weight } else { 0.0 };
        }
        for list in [&mut asked.values, &mut asked.pairings] {
            merge(list);
        }
        asked
    }

    pub(super) fn pairing(&mut self, seed: &[(PlantId, f64)], pollen: &[(PlantId, f64)]) -> Asked {
        let mut asked = Asked::default();
        for (a, weight_a) in with_rest(seed) {
            for (b, weight_b) in with_rest(pollen) {
                self.add(&mut asked, a, b, weight_a * weight_b);
            }
        }
        for list in [&mut asked.values, &mut asked.pairings] {
            merge(list);
        }
        asked
    }

    fn add(&mut self, asked: &mut Asked, a: Option<PlantId>, b: Option<PlantId>, weight: f64) {
        if self.column.as_ref().map(Column::plant) != a {
            self.column = a.map(|plant| self.kinship.column(plant));
        }
        let offspring = Offspring::of(self.kinship, self.column.as_ref(), b);
        asked.inbreeding += weight * offspring.inbreeding;
        asked.sampling += weight * offspring.sampling;
        for plant in [a, b] {
            match plant {
                Some(plant) => self.plant(asked, plant, 0.5 * weight),
                None => asked.fresh += 0.25 * weight * weight,
            }
        }
        let known = a.zip(b).and_then(|(a, b)| self.layout.pairing(a, b));
        match known {
            Some(pairing) => asked.pairings.push((pairing, weight)),
            None => asked.fresh_pairings += weight * weight,
        }
    }

    /// Adds a share of a plant's breeding value.
    pub(super) fn plant(&self, asked: &mut Asked, plant: PlantId, share: f64) {
        if let Some(value) = self.layout.value(plant) {
            asked.values.push((value, share));
            return;
        }
        let mut own = Asked::default();
        let descent = self.kinship.descent([plant]);
        let Some(place) = descent.place(plant) else { return };
        let mut strangers = 0.0;
        let mut parents = Vec::new();
        for &(parent, part) in &descent.parents()[place] {
            match descent.plants()[parent].and_then(|parent| self.value_of(parent)) {
                Some((value, parent)) => {
                    own.values.push((value, part));
                    parents.push(parent);
                }
                // An unnamed father of a lot in which nothing became a parent.
                None => strangers += part * part,
            }
        }
        asked.values.extend(own.values.iter().map(|&(value, part)| (value, share * part)));
        let sampling = descent.sampling()[place] + strangers;
        let liked = self.liked.binary_search_by_key(&plant, |&(liked, _)| liked).ok();
        let liked = liked.map(|at| {
            own.seasons =
                self.layout.season(self.liked[at].1).map(|at| (at, 1.0)).into_iter().collect();
            own.inbreeding =
                self.kinship.inbreeding(plant) / self.kinship.rules().full_sib_mating();
            if let [a, b] = parents[..] {
                own.pairings = self.layout.pairing(a, b).map(|at| (at, 1.0)).into_iter().collect();
            }
            Box::new(own)
        });
        asked.leaves.push(Leaf { share, sampling, liked });
    }

    fn value_of(&self, plant: PlantId) -> Option<(usize, PlantId)> {
        Some((self.layout.value(plant)?, plant))
    }
}

fn merge(list: &mut Vec<(usize, f64)>) {
    list.sort_unstable_by_key(|&(at, _)| at);
    list.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
}
