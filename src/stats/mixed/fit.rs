//! What comes out of a mixed model: variances, effects and their errors.

use thiserror::Error;

use super::{
    super::sparse,
    Likelihood, Model,
    equations::{Equations, Solved},
    search,
};

/// A figure with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// Its standard error; absent where the records do not give one.
    pub se: Option<f64>,
}

/// One unknown of a model.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// A fixed effect.
    Fixed(usize),
    /// An effect of a random term.
    Random {
        /// The number of the term.
        term: usize,
        /// The number of the effect; 0 where a level has but one.
        effect: usize,
        /// The level.
        level: usize,
    },
}

/// Variances, given or estimated.
#[derive(Debug, Clone, PartialEq)]
pub struct Variances {
    /// σ², of the residuals.
    pub residual: f64,
    /// For each term the covariance G of the effects of one level, by rows; a single variance
    /// where there is but one effect.
    pub terms: Vec<Vec<f64>>,
}

/// Why a model could not be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NotFitted {
    /// No more records than fixed effects.
    #[error("There are too few records to tell anything from.")]
    TooFewRecords,
    /// The fixed effects explain every record, or the terms do.
    #[error("The records do not vary, so there is no variation to share out.")]
    NoVariation,
    /// The search for the variances did not come to rest.
    #[error("The records do not settle how much of the variation is due to what.")]
    NotSettled,
    /// A variance that was given is no variance.
    #[error(
        "A variance must be a number, above 0 for what is left over and not below 0 elsewhere."
    )]
    NoVariance,
}

/// A fitted model.
#[derive(Debug, Clone)]
pub struct Fit {
    equations: Equations,
    solved: Solved,
    inverse: sparse::Inverse,
    /// The lower triangles of Λ.
    theta: Vec<f64>,
    variances: Variances,
    which: Likelihood,
    deviance: f64,
    is_estimated: bool,
}

impl Model {
    /// Estimates the variances, then everything else.
    pub fn fit(&self, which: Likelihood) -> Result<Fit, NotFitted> {
        let equations = self.equations();
        check(&equations)?;
        let deviance = |theta: &[f64]| match equations.solve(theta) {
            Some(solved) => equations.deviance(&solved, which),
            None => f64::INFINITY,
        };
        let (start, bounds) = start(&equations);
        let theta = search::lowest(deviance, &start, &bounds)?;
        let solved = equations.solve(&theta).ok_or(NotFitted::NotSettled)?;
        let residual = solved.squares / equations.n_for(which);
        if residual <= 1e-14 * equations.squares() {
            return Err(NotFitted::NoVariation);
        }
        Ok(Fit::new(equations, solved, theta, residual, which, true))
    }

    /// Solves for everything else where the variances are known.
    pub fn solve(&self, variances: &Variances) -> Result<Fit, NotFitted> {
        let equations = self.equations();
        if equations.freedom() == 0 && equations.n_records == 0 {
            return Err(NotFitted::TooFewRecords);
        }
        let residual = variances.residual;
        if !(residual.is_finite() && residual > 0.0) {
            return Err(NotFitted::NoVariance);
        }
        let mut theta = Vec::new();
        for (layout, covariance) in equations.terms.iter().zip(&variances.terms) {
            let factor = cholesky(covariance, layout.effects).ok_or(NotFitted::NoVariance)?;
            theta.extend(factor.into_iter().map(|x| x / residual.sqrt()));
        }
        let solved = equations.solve(&theta).ok_or(NotFitted::NotSettled)?;
        Ok(Fit::new(equations, solved, theta, residual, Likelihood::Restricted, false))
    }
}

fn check(equations: &Equations) -> Result<(), NotFitted> {
    if equations.freedom() == 0 {
        Err(NotFitted::TooFewRecords)
    } else if equations.squares() <= 0.0 || equations.squares().is_nan() {
        Err(NotFitted::NoVariation)
    } else {
        Ok(())
    }
}

/// Spreads as large as that of the residuals, without correlation; diagonals not below 0.
fn start(equations: &Equations) -> (Vec<f64>, Vec<f64>) {
    let n = equations.n_parameters();
    let (mut start, mut bounds) = (vec![0.0; n], vec![f64::NEG_INFINITY; n]);
    for layout in &equations.terms {
        for effect in 0..layout.effects {
            start[layout.parameter(effect, effect)] = 1.0;
            bounds[layout.parameter(effect, effect)] = 0.0;
        }
    }
    (start, bounds)
}

/// The lower triangle Λ, by rows, of a small covariance ΛΛ′. None where it is no covariance.
fn cholesky(covariance: &[f64], n: usize) -> Option<Vec<f64>> {
    if covariance.len() != n * n || covariance.iter().any(|x| !x.is_finite()) {
        return None;
    }
    let at = |i: usize, j: usize| i * (i + 1) / 2 + j;
    let mut lower = vec![0.0; n * (n + 1) / 2];
    for i in 0..n {
        for j in 0..=i {
            let known: f64 = (0..j).map(|k| lower[at(i, k)] * lower[at(j, k)]).sum();
            let left = covariance[i * n + j] - known;
            lower[at(i, j)] = match (i == j, lower[at(j, j)]) {
                (true, _) if left < -1e-12 * covariance[i * n + i].abs() => return None,
                (true, _) => left.max(0.0).sqrt(),
                (false, 0.0) => 0.0,
                (false, pivot) => left / pivot,
            };
        }
    }
    Some(lower)
}

impl Fit {
    fn new(
        equations: Equations,
        solved: Solved,
        theta: Vec<f64>,
        residual: f64,
        which: Likelihood,
        is_estimated: bool,
    ) -> Self {
        let terms = equations.terms.iter().map(|layout| {
            let entry = |i: usize, j: usize| -> f64 {
                (0..=i.min(j))
                    .map(|k| theta[layout.parameter(i, k)] * theta[layout.parameter(j, k)])
                    .sum()
            };
            let n = layout.effects;
            (0..n * n).map(|at| residual * entry(at / n, at % n)).collect()
        });
        let variances = Variances { residual, terms: terms.collect() };
        let deviance = equations.deviance_at(&solved, which, residual);
        let inverse = solved.ldl.inverse();
        Self { equations, solved, inverse, theta, variances, which, deviance, is_estimated }
    }

    /// The variances.
    pub fn variances(&self) -> &Variances {
        &self.variances
    }

    /// The variance of a term with one effect a level.
    pub fn variance(&self, term: usize) -> f64 {
        self.variances.terms[term][0]
    }

    /// ln of the likelihood, with all its constants.
    pub fn ln_likelihood(&self) -> f64 {
        -0.5 * self.deviance
    }

    /// A fixed effect; none where it is a combination of others. Its standard error takes the
    /// variances for known.
    pub fn fixed(&self, effect: usize) -> Option<Estimate> {
        let unknown = self.equations.fixed[effect]?;
        let value = self.equations.taken_off[effect] + self.solved.solution[unknown];
        let variance = self.error_covariance(Unknown::Fixed(effect), Unknown::Fixed(effect));
        Some(Estimate { value, se: Some(variance.max(0.0).sqrt()) })
    }

    /// The prediction (BLUP) of the effect of a level, where a level has one.
    pub fn random(&self, term: usize, level: usize) -> f64 {
        self.random_effect(term, 0, level)
    }

    /// The prediction of one of the effects of a level.
    pub fn random_effect(&self, term: usize, effect: usize, level: usize) -> f64 {
        let made_of = self.made_of(Unknown::Random { term, effect, level });
        made_of.iter().map(|&(unknown, share)| share * self.solved.solution[unknown]).sum()
    }

    /// The variance of the error of that prediction, with the uncertainty of the fixed effects.
    pub fn error_variance(&self, term: usize, level: usize) -> f64 {
        let unknown = Unknown::Random { term, effect: 0, level };
        self.error_covariance(unknown, unknown).max(0.0)
    }

    /// How much of the variance of a level's true effect the prediction accounts for, 1 −
    /// PEV/(a σ²), where a is the relationship of the level to itself.
    pub fn reliability(&self, term: usize, level: usize, own_relationship: f64) -> f64 {
        let whole = own_relationship * self.variance(term);
        if whole <= 0.0 {
            return 0.0;
        }
        (1.0 - self.error_variance(term, level) / whole).clamp(0.0, 1.0)
    }

    /// The covariance of the errors of two unknowns.
    pub fn error_covariance(&self, a: Unknown, b: Unknown) -> f64 {
        let (a, b) = (self.made_of(a), self.made_of(b));
        let mut sum = 0.0;
        for &(i, x) in &a {
            for &(j, y) in &b {
                sum += x * y * self.inverse.at(i, j).unwrap_or_else(|| self.far_entry(i, j));
            }
        }
        self.variances.residual * sum
    }

    /// The variance of the error of one effect of each level of a term as if the fixed effects
    /// were known.
    pub fn conditional_variances(&self, term: usize, effect: usize) -> Vec<f64> {
        let inverse = self.solved.ldl.inverse_without_last();
        let levels = self.equations.terms[term].levels;
        (0..levels)
            .map(|level| {
                let made_of = self.made_of(Unknown::Random { term, effect, level });
                let pairs = made_of.iter().flat_map(|x| made_of.iter().map(move |y| (x, y)));
                let sum: f64 =
                    pairs.map(|(x, y)| x.1 * y.1 * inverse.at(x.0, y.0).unwrap_or_default()).sum();
                self.variances.residual * sum
            })
            .collect()
    }

    /// The unknowns of the equations that an unknown of the model is made of.
    fn made_of(&self, unknown: Unknown) -> Vec<(usize, f64)> {
        match unknown {
            Unknown::Fixed(effect) => {
                self.equations.fixed[effect].map(|at| (at, 1.0)).into_iter().collect()
            }
            Unknown::Random { term, effect, level } => {
                let layout = &self.equations.terms[term];
                let share = |column| self.theta[layout.parameter(effect, column)];
                (0..=effect).map(|c| (layout.unknown(c, level), share(c))).collect()
            }
        }
    }

    /// An entry of the inverse that no equation asked for.
    fn far_entry(&self, row: usize, column: usize) -> f64 {
        let mut unit = vec![0.0; self.equations.n_unknowns];
        unit[column] = 1.0;
        self.solved.ldl.solve(&unit)[row]
    }

    /// A ratio of sums of variances, such as a heritability: `over` and `under` have a factor
    /// for each term (its first effect) and a last one for the residuals. The standard error is
    /// that of the likelihood's curvature; a variance of 0 has none, and where the curvature
    /// tells nothing neither has the ratio.
    pub fn ratio(&self, over: &[f64], under: &[f64]) -> Option<Estimate> {
        let firsts: Vec<usize> = self.equations.terms.iter().map(|t| t.parameter(0, 0)).collect();
        let value = |theta: &[f64]| {
            let sum = |factors: &[f64]| {
                let squares = firsts.iter().map(|&i| theta[i] * theta[i]).chain([1.0]);
                squares.zip(factors).map(|(x, factor)| x * factor).sum::<f64>()
            };
            let whole = sum(under);
            (whole > 0.0).then(|| sum(over) / whole)
        };
        let here = value(&self.theta)?;
        let deviance = |theta: &[f64]| {
            let solved = self.equations.solve(theta);
            solved.map_or(f64::NAN, |solved| self.equations.deviance(&solved, self.which))
        };
        let near = |theta: &[f64]| value(theta).unwrap_or(here);
        let se = self.is_estimated.then(|| search::error_of(near, &self.theta, deviance));
        Some(Estimate { value: here, se: se.flatten() })
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::{super::Term, *};

    fn of_groups(y: &[f64], groups: &[usize]) -> Model {
        let levels = groups.iter().max().map_or(0, |last| last + 1);
        Model::of(y.to_vec()).random(Term::of_levels(levels, groups))
    }

    fn error(model: &Model) -> Option<NotFitted> {
        model.fit(Likelihood::Restricted).err()
    }

    #[test]
    fn what_cannot_be_told_is_said() {
        assert_eq!(error(&of_groups(&[], &[])), Some(NotFitted::TooFewRecords));
        assert_eq!(error(&of_groups(&[3.0], &[0])), Some(NotFitted::TooFewRecords));
        assert_eq!(error(&of_groups(&[3.0; 4], &[0, 0, 1, 1])), Some(NotFitted::NoVariation));
        // Alike within groups and unlike between: nothing is left for the residuals.
        let perfect = error(&of_groups(&[1.0, 1.0, 5.0, 5.0, 2.0, 2.0], &[0, 0, 1, 1, 2, 2]));
        assert!(matches!(perfect, Some(NotFitted::NotSettled | NotFitted::NoVariation)));
        let model = of_groups(&[1.0, 2.0, 4.0], &[0, 0, 1]);
        for (residual, variance) in [(0.0, 1.0), (f64::NAN, 1.0), (1.0, -1.0), (1.0, f64::NAN)] {
            let variances = Variances { residual, terms: vec![vec![variance]] };
            assert_eq!(model.solve(&variances).err(), Some(NotFitted::NoVariance));
        }
    }

    #[test]
    fn one_record_a_level_cannot_tell_levels_from_residuals() {
        let model = of_groups(&[1.0, 4.0, 2.0, 7.0, 3.0], &[0, 1, 2, 3, 4]);
        if let Ok(fit) = model.fit(Likelihood::Restricted) {
            let share = fit.ratio(&[1.0, 0.0], &[1.0, 1.0]);
            let se = share.and_then(|share| share.se);
            assert!(se.is_none_or(|se| se > 1.0), "{se:?}");
        }
    }

    #[test]
    fn a_fixed_effect_that_others_make_up_has_no_estimate() {
        // An intercept besides both levels of a factor.
        let rows = [0, 0, 1, 1].map(|level| vec![(0, 1.0), (1 + level, 1.0)]);
        let model = Model::of(vec![1.0, 2.0, 4.0, 5.0]).fixed(3, rows.to_vec());
        let fit = model.solve(&Variances { residual: 1.0, terms: Vec::new() }).unwrap();
        let value = |effect| fit.fixed(effect).map(|estimate| (estimate.value * 1e6).round() / 1e6);
        assert_eq!([value(0), value(1), value(2)], [Some(4.5), Some(-3.0), None]);
    }

    #[test]
    fn a_mean_with_its_weight_says_what_its_records_say() {
        let each = of_groups(&[1.0, 3.0, 5.0, 6.0], &[0, 0, 1, 1]);
        let means =
            Model::of(vec![2.0, 5.5]).weights(vec![2.0, 2.0]).random(Term::of_levels(2, &[0, 1]));
        let variances = Variances { residual: 2.0, terms: vec![vec![1.5]] };
        let [each, means] = [each, means].map(|model| model.solve(&variances).unwrap());
        for level in 0..2 {
            assert!((each.random(0, level) - means.random(0, level)).abs() < 1e-12);
            let (one, other) = (each.error_variance(0, level), means.error_variance(0, level));
            assert!((one - other).abs() < 1e-12);
        }
    }

    #[test]
    fn a_spread_of_nothing_predicts_nothing_without_doubt() {
        let model = of_groups(&[1.0, 2.0, 4.0, 9.0], &[0, 0, 1, 1]);
        let fit = model.solve(&Variances { residual: 1.0, terms: vec![vec![0.0]] }).unwrap();
        assert!(fit.random(0, 0).abs() < 1e-15 && fit.error_variance(0, 0).abs() < 1e-15);
        assert!(fit.reliability(0, 0, 1.0).abs() < 1e-15);
    }
}
