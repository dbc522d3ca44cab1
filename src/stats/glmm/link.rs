//! From the linear scale to a chance and back.

use super::super::normal;

/// How a chance depends on the linear scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Link {
    /// Φ(η): whatever lies above a threshold on a normal scale.
    Probit,
    /// 1/(1 + exp(−η)): log-odds.
    Logit,
}

/// ln of a chance and of its opposite, with slopes and curvatures.
#[derive(Debug, Clone, Copy)]
pub(super) struct LnChance {
    /// ln p and ln (1 − p).
    pub(super) values: [f64; 2],
    /// Their first derivatives by η.
    pub(super) slopes: [f64; 2],
    /// Their second derivatives; never above 0.
    pub(super) curves: [f64; 2],
}

impl Link {
    /// The chance at η.
    pub fn chance(self, eta: f64) -> f64 {
        match self {
            Self::Probit => normal::below(eta),
            Self::Logit => 1.0 / (1.0 + (-eta).exp()),
        }
    }

    /// The η of a chance; infinite for 0 and 1.
    pub fn eta(self, chance: f64) -> f64 {
        match self {
            Self::Probit => normal::quantile(chance),
            Self::Logit => (chance / (1.0 - chance)).ln(),
        }
    }

    /// The slope and the second derivative of the chance at η.
    pub(super) fn slope(self, eta: f64) -> (f64, f64) {
        match self {
            Self::Probit => {
                let density = normal::density(eta);
                (density, -eta * density)
            }
            Self::Logit => {
                let p = self.chance(eta);
                let slope = p * (1.0 - p);
                (slope, slope * (1.0 - 2.0 * p))
            }
        }
    }

    pub(super) fn ln_chance(self, eta: f64) -> LnChance {
        match self {
            Self::Probit => {
                let (ln_p, up) = normal::ln_below_and_slope(eta);
                let (ln_q, down) = normal::ln_below_and_slope(-eta);
                LnChance {
                    values: [ln_p, ln_q],
                    slopes: [up, -down],
                    curves: [-up * (up + eta), -down * (down - eta)],
                }
            }
            Self::Logit => {
                let p = self.chance(eta);
                // ln(1 + exp(−|η|)), without overflow.
                let rest = (-eta.abs()).exp().ln_1p();
                let curve = -p * (1.0 - p);
                LnChance {
                    values: [eta.min(0.0) - rest, -eta.max(0.0) - rest],
                    slopes: [1.0 - p, -p],
                    curves: [curve, curve],
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn derivatives_are_those_of_the_logarithms() {
        for link in [Link::Probit, Link::Logit] {
            for eta in [-8.0, -5.6, -1.0, 0.0, 0.4, 3.0, 7.0] {
                let step = 1e-5;
                let (up, down) = (link.ln_chance(eta + step), link.ln_chance(eta - step));
                let here = link.ln_chance(eta);
                for side in 0..2 {
                    let slope = (up.values[side] - down.values[side]) / (2.0 * step);
                    let curve = (up.slopes[side] - down.slopes[side]) / (2.0 * step);
                    assert!((slope - here.slopes[side]).abs() < 1e-6, "{link:?} at {eta}");
                    assert!((curve - here.curves[side]).abs() < 1e-6, "{link:?} at {eta}");
                }
                assert!((link.chance(eta).ln() - here.values[0]).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn far_out_nothing_overflows() {
        for link in [Link::Probit, Link::Logit] {
            for eta in [-800.0, 800.0] {
                let here = link.ln_chance(eta);
                let all = [here.values, here.slopes, here.curves].concat();
                assert!(all.iter().all(|x| x.is_finite()), "{link:?} at {eta}: {here:?}");
            }
        }
    }
}
