//! What a plant gave as a parent in JSON, as part of `trug parents`: partners, kin, families, what
//! its offspring went on to do.

use std::collections::BTreeMap;

use serde::Serialize;

use super::figures::{RateRow, party, plant_text};
use crate::book::PlantId;
use crate::merit::{liability::Outcome, traits::Estimate};
use crate::views::{
    Desk, Levels,
    given::{self, Partner},
    parent::{self, FamilyRow, Kin, Seeds},
};

/// As many of its kin are listed.
const MOST_KIN: usize = 10;

/// Everything about one parent that is not in its counts.
#[derive(Debug, Serialize)]
pub(super) struct GivenRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    blooms: Option<RateRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    kept_again: Option<RateRow>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seeds_a_head: Option<SeedsRow>,
    partners: Vec<PartnerRow>,
    kin: Vec<KinRow>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    families: Vec<FamilyJson>,
    went_on: WentOnRow,
}

#[derive(Debug, Serialize)]
struct SeedsRow {
    heads: u32,
    mean: f64,
    low: f64,
    high: f64,
}

#[derive(Debug, Serialize)]
struct PartnerRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    partner: Option<String>,
    kept: u32,
    judged: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    rate: Option<RateRow>,
    shrunk: RateRow,
}

#[derive(Debug, Serialize)]
struct KinRow {
    plant: String,
    relationship: f64,
    offspring_of_full_sib_mating: f64,
}

/// An estimate with its standard error.
#[derive(Debug, Serialize)]
pub(super) struct EstimateRow {
    value: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    se: Option<f64>,
}

#[derive(Debug, Serialize)]
struct FamilyJson {
    of: Box<str>,
    with: String,
    plants: u32,
    mean: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    mid_parent: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    specific: Option<EstimateRow>,
}

#[derive(Debug, Serialize)]
struct WentOnRow {
    seedlings: u32,
    bloomed: u32,
    judged: u32,
    kept: u32,
    kept_again: u32,
    named: Vec<String>,
    parents: Vec<String>,
}

impl From<Estimate> for EstimateRow {
    fn from(estimate: Estimate) -> Self {
        Self { value: estimate.value, se: estimate.se }
    }
}

impl From<Seeds> for SeedsRow {
    fn from(seeds: Seeds) -> Self {
        let Seeds { heads, mean, low, high } = seeds;
        Self { heads, mean, low, high }
    }
}

/// The partners of every parent, put together once.
pub(super) struct Given<'a> {
    desk: &'a Desk,
    levels: Levels,
    partners: BTreeMap<PlantId, Vec<Partner>>,
}

impl<'a> Given<'a> {
    pub(super) fn of(desk: &'a Desk, levels: Levels) -> Self {
        Self { desk, levels, partners: given::all_partners(desk, levels) }
    }

    /// One parent.
    pub(super) fn row(&self, plant: PlantId) -> GivenRow {
        let (desk, levels) = (self.desk, self.levels);
        let name = |plant: PlantId| plant_text(desk, plant);
        let names = |plants: &[PlantId]| plants.iter().copied().map(name).collect();
        let went_on = given::went_on(desk, plant);
        let chance = |outcome| parent::outcome(desk, plant, outcome, levels).map(RateRow::from);
        GivenRow {
            blooms: chance(Outcome::Bloomed),
            kept_again: chance(Outcome::KeptAgain),
            seeds_a_head: parent::seeds(desk, plant).map(Into::into),
            partners: self
                .partners
                .get(&plant)
                .into_iter()
                .flatten()
                .map(|p| self.with(p))
                .collect(),
            kin: parent::kin(desk, plant, MOST_KIN)
                .into_iter()
                .map(|Kin { plant, relationship, of_full_sibs }| KinRow {
                    plant: name(plant),
                    relationship,
                    offspring_of_full_sib_mating: of_full_sibs,
                })
                .collect(),
            families: parent::families(desk, plant)
                .into_iter()
                .map(|FamilyRow { name: of, with, family }| FamilyJson {
                    of,
                    with: name(with),
                    plants: family.n,
                    mean: family.mean,
                    mid_parent: family.mid_parent,
                    specific: family.specific.map(Into::into),
                })
                .collect(),
            went_on: WentOnRow {
                seedlings: went_on.seedlings,
                bloomed: went_on.bloomed,
                judged: went_on.judged,
                kept: went_on.kept,
                kept_again: went_on.kept_again,
                named: names(&went_on.named),
                parents: names(&went_on.parents),
            },
        }
    }

    fn with(&self, partner: &Partner) -> PartnerRow {
        PartnerRow {
            partner: party(self.desk, &partner.with),
            kept: partner.kept,
            judged: partner.judged,
            rate: partner.rate.map(Into::into),
            shrunk: partner.shrunk.into(),
        }
    }
}
