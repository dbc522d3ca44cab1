//! The lowest point of a smooth function of a few numbers, some of which may not fall below a
//! bound.
//!
//! Method: quasi-Newton steps (BFGS) with slopes by central differences, projected onto the
//! bounds. Source: J. Nocedal & S. J. Wright 2006, *Numerical Optimization*, chapters 6 and 16.

use super::dense::{dot, times};

/// Where a function is lowest.
#[derive(Debug, Clone, PartialEq)]
pub struct Lowest {
    /// The point.
    pub at: Vec<f64>,
    /// The value there.
    pub value: f64,
    /// Whether the search came to rest; if not, it ran out of rounds.
    pub settled: bool,
}

/// The step of a difference, against a number of size 1.
const STEP: f64 = 1e-4;
/// Slopes below which a point is the lowest, against a value of size 1; and those near it.
const FLAT: f64 = 1e-9;
const NEARLY_FLAT: f64 = 1e-4;
const MOST_ROUNDS: usize = 200;

/// Searches from `start`, keeping each number at or above its bound. The function must be finite
/// at the start; where it is not a number elsewhere, the search stays away.
pub fn minimise(of: impl Fn(&[f64]) -> f64, start: &[f64], bounds: &[f64]) -> Lowest {
    minimise_until(of, start, bounds, FLAT)
}

/// The same, ended sooner: good enough to begin another search from.
pub fn minimise_roughly(of: impl Fn(&[f64]) -> f64, start: &[f64], bounds: &[f64]) -> Lowest {
    minimise_until(of, start, bounds, NEARLY_FLAT)
}

fn minimise_until(of: impl Fn(&[f64]) -> f64, start: &[f64], bounds: &[f64], flat: f64) -> Lowest {
    let n = start.len();
    let value = |x: &[f64]| {
        let value = of(x);
        if value.is_nan() { f64::INFINITY } else { value }
    };
    let within = |x: &mut [f64]| {
        for (x, &bound) in x.iter_mut().zip(bounds) {
            *x = x.max(bound);
        }
    };
    let mut at = start.to_vec();
    within(&mut at);
    let mut here = value(&at);
    let mut slopes = slopes_at(&value, &at, bounds);
    // The inverse of the curvature, as far as it is known.
    let mut curve = unit(n);
    let mut is_fresh = true;
    for _ in 0..MOST_ROUNDS {
        let is_held = |i: usize| at[i] <= bounds[i] && slopes[i] > 0.0;
        let free: Vec<f64> = (0..n).map(|i| if is_held(i) { 0.0 } else { slopes[i] }).collect();
        let steepest = free.iter().fold(0.0_f64, |most, slope| most.max(slope.abs()));
        if steepest < flat * (1.0 + here.abs()) {
            return Lowest { at, value: here, settled: true };
        }
        let mut way: Vec<f64> = times(&curve, &free).iter().map(|step| -step).collect();
        for (i, step) in way.iter_mut().enumerate() {
            if is_held(i) {
                *step = 0.0;
            }
        }
        if dot(&way, &free) >= 0.0 {
            (curve, is_fresh) = (unit(n), true);
            way = free.iter().map(|slope| -slope).collect();
        }
        let Some((next, lower)) = descend(&value, &at, here, &way, &free, &within) else {
            if is_fresh {
                return Lowest { at, value: here, settled: true };
            }
            (curve, is_fresh) = (unit(n), true);
            continue;
        };
        let next_slopes = slopes_at(&value, &next, bounds);
        let moved: Vec<f64> = next.iter().zip(&at).map(|(new, old)| new - old).collect();
        let turned: Vec<f64> =
            next_slopes.iter().zip(&slopes).map(|(new, old)| new - old).collect();
        bend(&mut curve, &moved, &turned, is_fresh);
        is_fresh = false;
        (at, here, slopes) = (next, lower, next_slopes);
    }
    Lowest { at, value: here, settled: false }
}

fn unit(n: usize) -> Vec<f64> {
    (0..n * n).map(|i| f64::from(u8::from(i % (n + 1) == 0))).collect()
}

/// A step along `way`, halved until it goes down by enough. None where no step does.
fn descend(
    value: &impl Fn(&[f64]) -> f64,
    at: &[f64],
    here: f64,
    way: &[f64],
    slopes: &[f64],
    within: &impl Fn(&mut [f64]),
) -> Option<(Vec<f64>, f64)> {
    const ENOUGH: f64 = 1e-4;
    // A first step has no scale of its own.
    let longest = way.iter().fold(0.0_f64, |most, step| most.max(step.abs()));
    let mut share = (1.0_f64).min(4.0 / longest);
    for _ in 0..50 {
        let mut next: Vec<f64> = at.iter().zip(way).map(|(x, step)| x + share * step).collect();
        within(&mut next);
        let moved: Vec<f64> = next.iter().zip(at).map(|(new, old)| new - old).collect();
        let there = value(&next);
        let promised = dot(&moved, slopes);
        if there < here && there <= here + ENOUGH * promised {
            return Some((next, there));
        }
        share *= 0.5;
    }
    None
}

/// The BFGS update of the inverse curvature, left out where the function does not curve upwards.
fn bend(curve: &mut Vec<f64>, moved: &[f64], turned: &[f64], is_fresh: bool) {
    let n = moved.len();
    let along = dot(moved, turned);
    if along <= 1e-12 * dot(moved, moved).sqrt() * dot(turned, turned).sqrt() {
        return;
    }
    if is_fresh {
        let scale = along / dot(turned, turned);
        *curve = unit(n).into_iter().map(|x| x * scale).collect();
    }
    let through = times(curve, turned);
    let gain = 1.0 + dot(turned, &through) / along;
    for i in 0..n {
        for j in 0..n {
            let change = gain * moved[i] * moved[j] - through[i] * moved[j] - moved[i] * through[j];
            curve[i * n + j] += change / along;
        }
    }
}

fn step_of(x: f64) -> f64 {
    STEP * x.abs().max(1.0)
}

/// The slopes at a point: by central differences, or from this side alone next to a bound.
fn slopes_at(value: &impl Fn(&[f64]) -> f64, at: &[f64], bounds: &[f64]) -> Vec<f64> {
    let mut x = at.to_vec();
    let mut slope = |i: usize| {
        let step = step_of(at[i]);
        let mut move_to = |by: f64| {
            x[i] = at[i] + by;
            let there = value(&x);
            x[i] = at[i];
            there
        };
        if at[i] - step >= bounds[i] {
            (move_to(step) - move_to(-step)) / (2.0 * step)
        } else {
            (4.0 * move_to(step) - move_to(2.0 * step) - 3.0 * move_to(0.0)) / (2.0 * step)
        }
    };
    (0..at.len()).map(&mut slope).collect()
}

/// The second derivatives of a function at a point, by rows, by central differences.
pub fn curvature(of: impl Fn(&[f64]) -> f64, at: &[f64]) -> Vec<f64> {
    /// Errors of rounding grow with the square of the step's inverse, so it is wider here.
    const WIDER: f64 = 20.0;
    let n = at.len();
    let steps: Vec<f64> = at.iter().map(|&x| WIDER * step_of(x)).collect();
    let there = |moves: &[(usize, f64)]| {
        let mut x = at.to_vec();
        for &(i, by) in moves {
            x[i] += by * steps[i];
        }
        of(&x)
    };
    let here = there(&[]);
    let mut second = vec![0.0; n * n];
    for i in 0..n {
        // Fourth order on the diagonal.
        let sides = |by: f64| there(&[(i, by)]) + there(&[(i, -by)]);
        second[i * n + i] =
            (16.0 * sides(1.0) - sides(2.0) - 30.0 * here) / (12.0 * steps[i] * steps[i]);
        for j in 0..i {
            let corner = |a: f64, b: f64| there(&[(i, a), (j, b)]);
            let mixed =
                corner(1.0, 1.0) - corner(1.0, -1.0) - corner(-1.0, 1.0) + corner(-1.0, -1.0);
            second[i * n + j] = mixed / (4.0 * steps[i] * steps[j]);
            second[j * n + i] = second[i * n + j];
        }
    }
    second
}

#[cfg(test)]
mod tests {
    use super::*;

    const FREE: f64 = f64::NEG_INFINITY;

    #[test]
    fn the_bottom_of_a_bent_valley_is_found() {
        let valley = |x: &[f64]| (1.0 - x[0]).powi(2) + 100.0 * (x[1] - x[0] * x[0]).powi(2);
        let lowest = minimise(valley, &[-1.2, 1.0], &[FREE, FREE]);
        assert!((lowest.at[0] - 1.0).abs() < 1e-5 && (lowest.at[1] - 1.0).abs() < 1e-5);
    }

    #[test]
    fn a_bound_holds_and_the_rest_is_still_found() {
        let bowl = |x: &[f64]| (x[0] + 1.0).powi(2) + (x[1] - 3.0 + x[0]).powi(2);
        let lowest = minimise(bowl, &[2.0, 0.0], &[0.0, FREE]);
        assert!(lowest.at[0].abs() < 1e-12 && (lowest.at[1] - 3.0).abs() < 1e-6);
        assert!(lowest.settled);
    }

    #[test]
    fn a_function_of_nothing_is_where_it_is() {
        assert_eq!(minimise(|_| 7.0, &[], &[]).at, Vec::<f64>::new());
    }

    #[test]
    fn the_curvature_of_a_bowl_is_its_matrix() {
        let bowl = |x: &[f64]| 3.0 * x[0] * x[0] + 2.0 * x[0] * x[1] + x[1] * x[1];
        for (got, wanted) in curvature(bowl, &[0.5, -0.2]).into_iter().zip([6.0, 2.0, 2.0, 2.0]) {
            assert!((got - wanted).abs() < 1e-6);
        }
    }
}
