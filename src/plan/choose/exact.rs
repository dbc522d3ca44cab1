//! The best plan, by mixed integer programming. The limit on kinship is convex: it is put in by
//! planes that touch it, wherever a plan goes beyond.
//!
//! With n places in all, kinship keeps its limit K where √(Σ over pairs of plants) ≤ √(K n² − d n),
//! d what a plant has with itself alone. The left side is convex in the places (J. E. Kelley 1960,
//! J. SIAM 8:703–712, on cutting planes), the right side concave in n. Pairs differ a little in d;
//! the planes take the least of them, so that they cut off nothing that may be, and a plan that
//! slips through is met by a limit as much lower.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, SolveOptions, Variable};

use super::{
    Dealt, Question, SAME,
    kin::{Kin, Load, ROUNDING},
};

/// Rounds of planes before the places have to be whole, and afterwards.
const ROUNDS_OF_SHARES: usize = 60;
const ROUNDS: usize = 40;
/// A branch with planes through everything costs about so many without.
const DEARER_WITH_KIN: u64 = 40;

/// A plane: Σ weight × places ≤ right.
#[derive(Debug, Clone)]
struct Plane {
    weights: Vec<f64>,
    right: f64,
}

/// Whole places, what none can exceed, and the branches it took.
struct Whole {
    places: Vec<u32>,
    bound: f64,
    n_nodes: u64,
}

struct Variables {
    places: Vec<Variable>,
    chosen: Vec<Variable>,
}

/// The best plan found and the bound on any; either may be missing.
pub(super) fn solve(
    question: &Question,
    hint: Option<&Dealt>,
    effort: u64,
) -> (Option<Dealt>, Option<f64>) {
    let mut planes = Vec::new();
    let Some(kin) = &question.kin else {
        return match whole(question, &planes, hint, effort) {
            Some(Whole { places, bound, .. }) => (Some(question.dealt(places)), Some(bound)),
            None => (None, None),
        };
    };
    let mut most = kin.most;
    touch(question, kin, &mut planes);
    let mut best: Option<Dealt> = None;
    let mut bound: Option<f64> = None;
    let mut left = effort / DEARER_WITH_KIN;
    for _ in 0..ROUNDS {
        let Some(Whole { places, bound: above, n_nodes }) = whole(question, &planes, hint, left)
        else {
            break;
        };
        left = left.saturating_sub(n_nodes);
        // Later planes may stand for a lower limit: only the first bounds hold for this one.
        if most >= kin.most {
            bound = Some(above);
        }
        let load = Load::of(question, &places);
        if load.total <= 0.0 {
            break;
        }
        let excess = kin.excess(&load);
        if excess <= 0.0 {
            best = Some(question.dealt(places));
            break;
        }
        let shares: Vec<f64> = places.iter().map(|&n| f64::from(n)).collect();
        if left == 0 {
            break;
        }
        if let Some(plane) = plane(question, kin, most, &shares) {
            planes.push(plane);
        } else {
            most -= excess + ROUNDING;
            planes.extend(plane(question, kin, most, &shares));
        }
        if most <= 0.0 {
            break;
        }
    }
    (best, bound)
}

/// A bound without any search: the best choices filled up, without heed to parents or kinship.
pub(super) fn loose_bound(question: &Question) -> f64 {
    let mut order: Vec<_> = question.choices.iter().filter(|c| c.worth > 0.0).collect();
    order.sort_by(|a, b| b.worth.total_cmp(&a.worth));
    let mut left = question.limits.places;
    let mut sum = 0.0;
    for choice in order.into_iter().take(question.limits.pairs as usize) {
        let n = choice.most.min(left);
        sum += choice.worth * f64::from(n);
        left -= n;
    }
    sum
}

/// Planes around the best plan of shares that need not be whole.
fn touch(question: &Question, kin: &Kin, planes: &mut Vec<Plane>) {
    let (problem, variables) = model(question, planes, false);
    let mut solution = problem.solve().ok().and_then(|outcome| outcome.into_solution().ok());
    for _ in 0..ROUNDS_OF_SHARES {
        let Some(now) = solution else { return };
        let shares = values(&now, &variables.places);
        let Some(plane) = plane(question, kin, kin.most, &shares) else { return };
        let terms: Vec<(Variable, f64)> =
            variables.places.iter().copied().zip(plane.weights.iter().copied()).collect();
        solution = now
            .add_constraint(&terms[..], ComparisonOp::Le, plane.right)
            .ok()
            .and_then(|outcome| outcome.into_solution().ok());
        planes.push(plane);
    }
}

fn values(solution: &Solution, variables: &[Variable]) -> Vec<f64> {
    variables.iter().map(|&variable| solution.var_value(variable).max(0.0)).collect()
}

/// The plane that cuts off these places; none where they keep the limit.
fn plane(question: &Question, kin: &Kin, most: f64, places: &[f64]) -> Option<Plane> {
    let load = Load::of_shares(question, places);
    let own = least_own(kin);
    let total = load.total;
    if total <= 0.0 {
        return None;
    }
    let with_all = kin.with_all(&load);
    let among = Kin::among_sibs(&load, &with_all);
    let right = most * total * total - own * total;
    if right <= 0.0 {
        // So few plants are near of kin whatever they are: each with itself.
        let weights = vec![-1.0; places.len()];
        return Some(Plane { weights, right: -(own / most) });
    }
    if among <= right * (1.0 + 1e-9) {
        return None;
    }
    let (among, right) = (among.sqrt(), right.sqrt());
    let slope = (2.0 * most * total - own) / (2.0 * right);
    let weights = question
        .choices
        .iter()
        .map(|choice| {
            let [a, b] = choice.parents;
            0.5 * (with_all[a] + with_all[b]) / among - slope
        })
        .collect();
    Some(Plane { weights, right: right - slope * total })
}

fn least_own(kin: &Kin) -> f64 {
    kin.own.iter().copied().fold(f64::INFINITY, f64::min).clamp(0.0, 1.0)
}

/// The best places under these planes, whole, and the bound on any.
fn whole(
    question: &Question,
    planes: &[Plane],
    hint: Option<&Dealt>,
    effort: u64,
) -> Option<Whole> {
    let (problem, variables) = model(question, planes, true);
    let warm_start = hint.map(|hint| {
        let numbers = variables.places.iter().zip(&hint.places);
        let chosen = variables.chosen.iter().zip(&hint.places);
        numbers
            .map(|(&variable, &n)| (variable, f64::from(n)))
            .chain(chosen.map(|(&variable, &n)| (variable, f64::from(u8::from(n > 0)))))
            .collect()
    });
    let mut options = SolveOptions::default();
    options.node_limit = Some(effort);
    options.mip_gap = SAME / 10.0;
    options.warm_start = warm_start;
    let outcome = problem.solve_with(options).ok()?;
    let stats = outcome.stats();
    let solution = outcome.into_solution().ok()?;
    let bound = stats.best_bound.unwrap_or_else(|| solution.objective());
    Some(Whole {
        places: values(&solution, &variables.places).into_iter().map(rounded).collect(),
        bound,
        n_nodes: stats.nodes_solved,
    })
}

fn rounded(share: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a number of places, whole but for rounding, and never below 0"
    )]
    let whole = share.round() as u32;
    whole
}

/// The model: places and a yes or no for each choice.
///
/// Given the yes and no, the places are whole by themselves unless kinship is limited: then they
/// have to be asked to be.
fn model(question: &Question, planes: &[Plane], is_whole: bool) -> (Problem, Variables) {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let limits = &question.limits;
    let whole_places = is_whole && question.kin.is_some();
    let mut variables = Variables { places: Vec::new(), chosen: Vec::new() };
    for choice in &question.choices {
        let most = choice.most.min(limits.places);
        let place = if whole_places {
            problem.add_integer_var(choice.worth, (0, i32::try_from(most).unwrap_or(i32::MAX)))
        } else {
            problem.add_var(choice.worth, (0.0, f64::from(most)))
        };
        let least = i32::from(choice.must);
        let chosen = if is_whole {
            problem.add_integer_var(0.0, (least, 1))
        } else {
            problem.add_var(0.0, (f64::from(least), 1.0))
        };
        problem.add_constraint([(place, 1.0), (chosen, -f64::from(most))], ComparisonOp::Le, 0.0);
        problem.add_constraint(
            [(place, 1.0), (chosen, -f64::from(choice.least))],
            ComparisonOp::Ge,
            0.0,
        );
        variables.places.push(place);
        variables.chosen.push(chosen);
    }
    let sum = |of: &[Variable]| of.iter().map(|&variable| (variable, 1.0)).collect::<Vec<_>>();
    problem.add_constraint(&sum(&variables.places)[..], ComparisonOp::Le, f64::from(limits.places));
    problem.add_constraint(&sum(&variables.chosen)[..], ComparisonOp::Le, f64::from(limits.pairs));
    let mut of_parent: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); question.n_parents];
    for (choice, &chosen) in question.choices.iter().zip(&variables.chosen) {
        let [a, b] = choice.parents;
        for parent in [Some(a), Some(b).filter(|_| a != b)].into_iter().flatten() {
            of_parent[parent].push((chosen, 1.0));
        }
    }
    for terms in of_parent.iter().filter(|terms| terms.len() > limits.per_parent as usize) {
        problem.add_constraint(&terms[..], ComparisonOp::Le, f64::from(limits.per_parent));
    }
    for plane in planes {
        let terms: Vec<_> =
            variables.places.iter().copied().zip(plane.weights.iter().copied()).collect();
        problem.add_constraint(&terms[..], ComparisonOp::Le, plane.right);
    }
    (problem, variables)
}
