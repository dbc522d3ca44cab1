//! The search for the spreads that make the records likeliest, and how sure it is of them.

use super::{
    super::{dense, minimise},
    NotFitted,
};

/// A share of the residual spread below this counts as none, if it fits no worse.
const NEARLY_NONE: f64 = 1e-2;
/// Above this many times the residual spread nothing is left for the residuals.
const NEARLY_ALL: f64 = 1e4;

/// The θ at which the deviance is lowest. A bound of 0 is an answer.
pub(super) fn lowest(
    deviance: impl Fn(&[f64]) -> f64,
    start: &[f64],
    bounds: &[f64],
) -> Result<Vec<f64>, NotFitted> {
    let lowest = minimise::minimise(&deviance, start, bounds);
    let mut theta = lowest.at;
    for i in 0..theta.len() {
        if bounds[i] == 0.0 && theta[i] < NEARLY_NONE {
            let nearly = std::mem::take(&mut theta[i]);
            if deviance(&theta) > lowest.value + 1e-8 {
                theta[i] = nearly;
            }
        }
    }
    if !lowest.settled || theta.iter().any(|x| x.abs() > NEARLY_ALL) {
        return Err(NotFitted::NotSettled);
    }
    Ok(theta)
}

/// The same where no spread may be more than `most` times that of the residuals. Each starts
/// at 1.
pub(super) fn lowest_below(
    deviance: impl Fn(&[f64]) -> f64,
    n: usize,
    most: f64,
) -> Result<Vec<f64>, NotFitted> {
    // A spread means the same whatever its sign, so that only one side needs a bound.
    let lowest = minimise::minimise(&deviance, &vec![-1.0; n], &vec![-most; n]);
    if !lowest.settled {
        return Err(NotFitted::NotSettled);
    }
    let size = |x: f64| if x.abs() < NEARLY_NONE { 0.0 } else { x.abs() };
    Ok(lowest.at.into_iter().map(size).collect())
}

/// The standard error of a function of θ, where the deviance is lowest: by the curvature of the
/// likelihood. A spread of 0 has none; where the curvature tells nothing neither has the function.
pub(super) fn error_of(
    of: impl Fn(&[f64]) -> f64,
    theta: &[f64],
    deviance: impl Fn(&[f64]) -> f64,
) -> Option<f64> {
    let slope = |i: usize| {
        let step = 1e-5 * theta[i].abs().max(1.0);
        let mut there = [theta.to_vec(), theta.to_vec()];
        there[0][i] += step;
        there[1][i] -= step;
        let [up, down] = there.map(|theta| of(&theta));
        (up - down) / (2.0 * step)
    };
    let moved: Vec<usize> = (0..theta.len()).filter(|&i| theta[i] != 0.0).collect();
    if moved.is_empty() {
        return None;
    }
    let moved_deviance = |some: &[f64]| {
        let mut theta = theta.to_vec();
        for (&i, &x) in moved.iter().zip(some) {
            theta[i] = x;
        }
        deviance(&theta)
    };
    let at: Vec<f64> = moved.iter().map(|&i| theta[i]).collect();
    let curvature = minimise::curvature(moved_deviance, &at);
    let factor = dense::Factor::of(&curvature, at.len());
    if factor.rank() < at.len() {
        return None;
    }
    let slopes: Vec<f64> = moved.iter().map(|&i| slope(i)).collect();
    // The deviance is −2 ln likelihood.
    let variance = 2.0 * dense::dot(&slopes, &factor.solve(&slopes));
    (variance.is_finite() && variance > 0.0).then(|| variance.sqrt())
}
