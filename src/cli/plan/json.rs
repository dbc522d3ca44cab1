//! A plan as JSON.

use serde::Serialize;

use super::Told;
use crate::plan::{Keepers, Limit, Needed, Planned};
use crate::views::plan;

#[derive(Debug, Serialize)]
struct LimitsRow {
    places: u32,
    pairs: u32,
    per_parent: u32,
    least: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    most: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    max_inbreeding: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    max_kinship: Option<f64>,
    daring: f64,
}

#[derive(Debug, Serialize)]
struct NeededRow {
    lucky: u32,
    sure: u32,
}

#[derive(Debug, Serialize)]
struct PairRow {
    seed_parent: String,
    pollen_parent: String,
    seedlings: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    heads: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    heads_range: Option<NeededRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seeds: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seeds_range: Option<NeededRow>,
    expected_keepers: f64,
    low: f64,
    high: f64,
    inbreeding: f64,
    why: String,
}

#[derive(Debug, Serialize)]
struct LeftRow {
    seed_parent: String,
    pollen_parent: String,
    why: String,
}

#[derive(Debug, Serialize)]
pub(super) struct PlanRow {
    limits: LimitsRow,
    pairs: Vec<PairRow>,
    left_out: Vec<LeftRow>,
    expected_keepers: f64,
    low: f64,
    high: f64,
    objective: f64,
    bound: f64,
    optimal: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    mean_coancestry: Option<f64>,
    from: &'static str,
}

impl Told<'_> {
    pub(super) fn json(&self) -> PlanRow {
        let asked = &self.next.asked;
        let Keepers { mean, low, high } = self.next.keepers;
        let left = |&(pair, limit): &(usize, Limit)| {
            let [seed, pollen] = self.names(pair);
            LeftRow {
                seed_parent: seed.to_owned(),
                pollen_parent: pollen.to_owned(),
                why: plan::left_out(self.desk, self.field, pair, limit),
            }
        };
        PlanRow {
            limits: LimitsRow {
                places: asked.places,
                pairs: asked.pairs,
                per_parent: asked.per_parent,
                least: asked.least,
                most: asked.most,
                max_inbreeding: asked.max_inbreeding,
                max_kinship: asked.max_kinship,
                daring: asked.daring,
            },
            pairs: self.next.planned.iter().map(|planned| self.pair_row(planned)).collect(),
            left_out: self.next.left_out.iter().map(left).collect(),
            expected_keepers: mean,
            low,
            high,
            objective: self.next.objective,
            bound: self.next.bound,
            optimal: self.next.is_optimal,
            mean_coancestry: self.next.kinship,
            from: if self.source.is_forecast() { "forecast" } else { "steadied" },
        }
    }

    fn pair_row(&self, planned: &Planned) -> PairRow {
        let [seed, pollen] = self.names(planned.pair);
        let range = |needed: Needed| NeededRow { lucky: needed.lucky, sure: needed.sure };
        PairRow {
            seed_parent: seed.to_owned(),
            pollen_parent: pollen.to_owned(),
            seedlings: planned.seedlings,
            heads: planned.heads.map(|heads| heads.usual),
            heads_range: planned.heads.map(range),
            seeds: planned.seeds.map(|seeds| seeds.usual),
            seeds_range: planned.seeds.map(range),
            expected_keepers: planned.keepers.mean,
            low: planned.keepers.low,
            high: planned.keepers.high,
            inbreeding: self.field.pairs[planned.pair].inbreeding,
            why: plan::why(self.desk, self.field, self.next, planned.pair, self.source),
        }
    }
}
