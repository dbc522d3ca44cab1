//! The kinds of garden, as their files have them.

use std::{fs, path::Path};

use serde::Deserialize;
use trug::{
    merit::liability::Spreads,
    sim::{Inheritance, Trial},
};

/// A kind of garden; what each figure means stands with [`Trial`].
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Kind {
    ploidy: usize,
    double_reduction: f64,
    kept: f64,
    parents: f64,
    pairings: f64,
    season_spread: f64,
    inbreeding: f64,
    lasting: f64,
    founders: u32,
    related: f64,
    pub seasons: i16,
    pub pairs: u32,
    pub seedlings: f64,
    uneven: f64,
    from_keepers: f64,
    again: f64,
    eye: f64,
    habit: f64,
    bees: f64,
    candidates: u32,
    stranger: f64,
    lost: f64,
    unbloomed: f64,
    held: f64,
    pub plan: Limits,
}

/// The limits of a plan.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Limits {
    /// Pairs at most.
    pub pairs: usize,
    /// Of these, with any one parent.
    pub per_parent: usize,
    /// Places of one pair at most, against an even share.
    pub most: f64,
}

/// Places on the chromosomes that matter.
const LOCI: usize = 40;

impl Kind {
    /// The kind of this name, from its file.
    pub(super) fn read(name: &str) -> Self {
        let kinds = Path::new(env!("CARGO_MANIFEST_DIR"));
        let here = kinds.join("kinds");
        let kinds = if here.is_dir() { here } else { kinds.join("tests/calibration/kinds") };
        let text = fs::read_to_string(kinds.join(format!("{name}.ron"))).expect("a kind");
        ron::from_str(&text).expect("a kind as its file should have it")
    }

    /// The spreads that the gardens are grown with.
    pub(super) fn spreads(&self) -> Spreads {
        Spreads { parents: self.parents, pairings: self.pairings, seasons: self.season_spread }
    }

    pub(super) fn trial(&self) -> Trial {
        Trial {
            inheritance: Inheritance {
                ploidy: self.ploidy,
                double_reduction: self.double_reduction,
                n_loci: LOCI,
            },
            kept: self.kept,
            parents: self.parents,
            pairings: self.pairings,
            season_spread: self.season_spread,
            inbreeding: self.inbreeding,
            lasting: self.lasting,
            founders: self.founders,
            related: self.related,
            seasons: self.seasons,
            pairs: self.pairs,
            seedlings: self.seedlings,
            uneven: self.uneven,
            from_keepers: self.from_keepers,
            again: self.again,
            eye: self.eye,
            habit: self.habit,
            bees: self.bees,
            candidates: self.candidates,
            stranger: self.stranger,
            lost: self.lost,
            unbloomed: self.unbloomed,
            held: self.held,
        }
    }
}

/// The names of the six kinds.
pub(super) const KINDS: [&str; 6] =
    ["young", "typical", "large", "rare", "strong_pair_effects", "strong_inbreeding_depression"];
