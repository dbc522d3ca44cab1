//! What comes out: variances, what everybody has by descent, and the errors.

use super::{
    super::{super::sparse, Estimate, NotFitted, search},
    Model, Shares,
    batch::{Kind, Theta},
    equations::Solved,
};

/// A fitted model.
#[derive(Debug, Clone)]
pub struct Fit {
    model: Model,
    solved: Solved,
    inverse: sparse::Inverse,
    theta: Theta,
    shares: Shares,
    is_estimated: bool,
}

/// A sum of effects, with its error.
#[derive(Debug, Clone)]
pub struct Sum {
    value: f64,
    variance: f64,
    /// The covariance of its error with that of each unknown, for a residual variance of 1.
    with: Vec<f64>,
}

/// Who is asked about, in terms of the unknowns: the factor of each, and what its own part adds
/// to the variance of the error, for a residual variance of 1.
struct Made {
    of: Vec<(usize, f64)>,
    own: f64,
}

/// Where the likelihood leaves nothing to the residuals, no spread is taken for more than this
/// many times theirs: at least one hundredth of the variance of a record is chance, for no ruler
/// and no eye is better.
const MOST: f64 = 10.0;

impl Model {
    /// Estimates the variances by restricted maximum likelihood, then everything else.
    pub fn fit(self) -> Result<Fit, NotFitted> {
        if self.freedom() == 0 {
            return Err(NotFitted::TooFewRecords);
        }
        if self.squares.is_nan() || self.squares <= 0.0 {
            return Err(NotFitted::NoVariation);
        }
        let n = 1 + usize::from(self.with.groups) + usize::from(self.with.lasting);
        let bounds = vec![0.0; n];
        let theta = search::lowest(self.criterion(), &vec![1.0; n], &bounds)
            .or_else(|_| search::lowest_below(self.criterion(), n, MOST))?;
        let theta = self.theta(&theta);
        let solved = self.factored(&theta).ok_or(NotFitted::NotSettled)?;
        let (_, residual) = self.best_deviance(&solved);
        if residual <= 1e-14 * self.squares {
            return Err(NotFitted::NoVariation);
        }
        Ok(Fit::new(self, solved, theta, residual, true))
    }

    /// Solves for everything else where the variances are known.
    pub fn solve(self, shares: &Shares) -> Result<Fit, NotFitted> {
        let theta = shares.theta().ok_or(NotFitted::NoVariance)?;
        let solved = self.factored(&theta).ok_or(NotFitted::NotSettled)?;
        Ok(Fit::new(self, solved, theta, shares.residual, false))
    }

    /// The spreads that are searched for, out of a list of them.
    fn theta(&self, list: &[f64]) -> Theta {
        let mut rest = list.iter().copied();
        let mut next = |is_in: bool| if is_in { rest.next().unwrap_or_default() } else { 0.0 };
        Theta {
            descent: next(true),
            group: next(self.with.groups),
            lasting: next(self.with.lasting),
        }
    }

    fn list(&self, theta: &Theta) -> Vec<f64> {
        let all = [(true, theta.descent), (self.with.groups, theta.group)];
        let last = (self.with.lasting, theta.lasting);
        all.into_iter().chain([last]).filter(|(is_in, _)| *is_in).map(|(_, x)| x).collect()
    }

    fn criterion(&self) -> impl Fn(&[f64]) -> f64 + '_ {
        |list| match self.factored(&self.theta(list)) {
            Some(solved) => self.best_deviance(&solved).0,
            None => f64::INFINITY,
        }
    }
}

fn shares(theta: &Theta, residual: f64) -> Shares {
    Shares {
        descent: residual * theta.descent.powi(2),
        group: residual * theta.group.powi(2),
        lasting: residual * theta.lasting.powi(2),
        residual,
    }
}

impl Fit {
    fn new(model: Model, solved: Solved, theta: Theta, residual: f64, is_estimated: bool) -> Self {
        let inverse = solved.ldl.inverse();
        let shares = shares(&theta, residual);
        Self { model, solved, inverse, theta, shares, is_estimated }
    }

    /// The variances.
    pub fn shares(&self) -> &Shares {
        &self.shares
    }

    /// ln of the restricted likelihood, with all its constants.
    pub fn ln_likelihood(&self) -> f64 {
        -0.5 * self.model.deviance(&self.solved, self.shares.residual)
    }

    /// A ratio of the variances, such as a heritability, with its error by the curvature of the
    /// likelihood. It has none where the variances were given, or the records say nothing of it.
    pub fn ratio(&self, of: impl Fn(&Shares) -> f64) -> Estimate {
        let ratio = |list: &[f64]| of(&shares(&self.model.theta(list), 1.0));
        let here = self.model.list(&self.theta);
        let error = || search::error_of(ratio, &here, self.model.criterion());
        Estimate { value: ratio(&here), se: self.is_estimated.then(error).flatten() }
    }

    /// What a level has by descent (BLUP).
    pub fn value(&self, level: usize) -> f64 {
        let model = &self.model;
        if let Some(node) = model.node_of_level[level] {
            return self.theta.descent * self.solved.solution[node];
        }
        let batch = &model.batches[model.batch_of_level[level]];
        let (mut from_parents, mut expected) = (0.0, 0.0);
        for part in &batch.parts {
            let effect = self.theta.of(part.kind) * self.solved.solution[part.unknown];
            from_parents += part.share * effect;
            expected += part.sum * effect;
        }
        from_parents + batch.own_factor(&self.theta) * (model.total_of_level[level] - expected)
    }

    /// The variance of the error of that.
    pub fn error_variance(&self, level: usize) -> f64 {
        let made = self.made(level);
        let mut variance = made.own;
        for &(i, x) in &made.of {
            for &(j, y) in &made.of {
                variance += x * y * self.inverse.at(i, j).unwrap_or_else(|| self.far(i, j));
            }
        }
        self.shares.residual * variance.max(0.0)
    }

    fn made(&self, level: usize) -> Made {
        let model = &self.model;
        if let Some(node) = model.node_of_level[level] {
            return Made { of: vec![(node, self.theta.descent)], own: 0.0 };
        }
        let batch = &model.batches[model.batch_of_level[level]];
        let factor = batch.own_factor(&self.theta);
        let of = batch.parts.iter().map(|part| {
            (part.unknown, self.theta.of(part.kind) * (part.share - factor * part.sum))
        });
        let own = batch.own * self.theta.descent.powi(2);
        Made { of: of.collect(), own: own * (1.0 - factor * batch.looks) }
    }

    /// An entry of the inverse that no record asked for.
    fn far(&self, row: usize, column: usize) -> f64 {
        let mut unit = vec![0.0; self.model.n_unknowns];
        unit[column] = 1.0;
        self.solved.ldl.solve(&unit)[row]
    }

    /// What a group has in common beyond descent, where it has records and the model has such
    /// effects.
    pub fn group(&self, group: usize) -> Option<Estimate> {
        let unknown = (*self.model.group_unknown.get(group)?)?;
        let scale = self.theta.of(Kind::Group);
        let variance = self.shares.residual * scale.powi(2) * self.inverse.at(unknown, unknown)?;
        let value = scale * self.solved.solution[unknown];
        Some(Estimate { value, se: Some(variance.max(0.0).sqrt()) })
    }

    /// A fixed effect; 0 where it is a combination of others.
    pub fn fixed(&self, effect: usize) -> f64 {
        let left = self.model.fixed[effect].map_or(0.0, |at| self.solved.solution[at]);
        self.model.taken_off[effect] + left
    }

    /// A sum of what levels have by descent and of fixed effects, each times a factor.
    pub fn sum(&self, levels: &[(usize, f64)], fixed: &[(usize, f64)]) -> Sum {
        let mut weights = vec![0.0; self.model.n_unknowns];
        let (mut value, mut own) = (0.0, 0.0);
        for &(level, factor) in levels {
            value += factor * self.value(level);
            let made = self.made(level);
            own += factor * factor * made.own;
            for (unknown, x) in made.of {
                weights[unknown] += factor * x;
            }
        }
        for &(effect, factor) in fixed {
            value += factor * self.fixed(effect);
            if let Some(unknown) = self.model.fixed[effect] {
                weights[unknown] += factor;
            }
        }
        let with = self.solved.ldl.solve(&weights);
        let variance: f64 = with.iter().zip(&weights).map(|(x, y)| x * y).sum();
        Sum { value, variance: variance + own, with }
    }

    /// A share of what a level has by descent on top of a sum that does not hold the level
    /// itself, unless it is a parent.
    pub fn beside(&self, level: usize, share: f64, sum: &Sum) -> Estimate {
        let made = self.made(level);
        let between: f64 = made.of.iter().map(|&(i, x)| x * sum.with[i]).sum();
        let variance = share * share * self.error_variance(level)
            + self.shares.residual * (2.0 * share * between + sum.variance);
        Estimate {
            value: share * self.value(level) + sum.value,
            se: Some(variance.max(0.0).sqrt()),
        }
    }

    /// A sum by itself.
    pub fn estimate(&self, sum: &Sum) -> Estimate {
        let variance = self.shares.residual * sum.variance;
        Estimate { value: sum.value, se: Some(variance.max(0.0).sqrt()) }
    }
}
