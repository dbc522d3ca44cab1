//! A small version of the calibration: forecasts against the truth of invented gardens.
//!
//! The large one is a package of its own, `tests/calibration`, whose kinds of garden and measures
//! are used here.

#![allow(dead_code, reason = "the package prints more than is held here")]

#[path = "calibration/src/kind.rs"]
mod kind;
#[path = "calibration/src/measure.rs"]
mod measure;
#[path = "calibration/src/report.rs"]
mod report;

use std::sync::Arc;

use kind::{KINDS, Kind};
use measure::{Measured, Pair, measure};
use report::figures;

const SEED: u64 = 20_261_125;
const GARDENS: u64 = 6;

#[test]
fn every_kind_of_garden_can_be_read() {
    for name in KINDS {
        let kind = Kind::read(name);
        assert!(kind.plan.pairs > 0 && kind.trial().seasons > 0, "{name}");
    }
}

#[test]
fn ranges_hold_the_truth_and_forecasts_order_pairs_better_than_rates_do() {
    let crop = Arc::new(trug::shelf::crop_file::builtin("dahlia").unwrap());
    let kind = Kind::read("young");
    let gardens: Vec<Measured> =
        (0..GARDENS).map(|garden| measure(&kind, &crop, SEED + garden)).collect();
    let tried = figures(&gardens, Pair::is_tried);
    let untried = figures(&gardens, |pair| !pair.is_tried());
    assert!(tried.n > 40 && untried.n > 200, "{} {}", tried.n, untried.n);
    for of in [&tried, &untried] {
        // 90 % is meant; so few gardens miss it by more than a large number does.
        assert!(of.within > 0.80, "{of:?}");
        assert!(of.width < 0.6, "a range as wide as anything holds every truth: {of:?}");
    }
    let [forecast, raw, steadied, ..] = tried.rank;
    assert!(forecast > raw && forecast > steadied, "{:?}", tried.rank);
    assert!(tried.loss[0] < tried.loss[1] && tried.loss[0] < tried.loss[2], "{:?}", tried.loss);
    let [untried, _, _, by_true_spreads, by_parents] = untried.rank;
    assert!(untried > 0.25, "pairs never made are ordered too: {untried}");
    assert!(untried > by_true_spreads - 0.1, "not knowing the spreads costs little: {untried}");
    assert!(untried < by_parents, "who knows the parents knows more: {untried} {by_parents}");
    let [habit, ours, best] =
        [0, 1, 2].map(|way| gardens.iter().map(|garden| garden.plans[way]).sum::<f64>());
    assert!(habit < ours && ours < best, "{habit} {ours} {best}");
}
