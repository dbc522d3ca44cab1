//! How far the shares of several groups lie apart, beyond what chance alone would do.
//!
//! Each group has a share of its own, drawn from one beta distribution, and k of its n are
//! binomial. Fitted by maximum likelihood in the mean μ = α/(α+β) and the dispersion
//! γ = 1/(α+β), with the likelihood written as products of rising factorials,
//!
//! Π (μ + iγ) over i < k · Π (1 − μ + iγ) over i < n − k / Π (1 + iγ) over i < n,
//!
//! which is exact down to γ = 0, the plain binomial. (J. E. Griffiths 1973, Biometrics
//! 29:637–648, in this form.) For a given γ it is concave in μ, so the inner search cannot miss;
//! the outer one is over a single number.

/// How the shares of groups are spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// As a beta distribution with these shapes.
    Beta {
        /// The shape that counts what was kept.
        alpha: f64,
        /// The shape that counts the rest.
        beta: f64,
        /// Logarithm of the likelihood, binomial coefficients left out.
        log_likelihood: f64,
    },
    /// No further apart than chance puts them: the likelihood is highest at one common share.
    Alike {
        /// That share.
        p: f64,
    },
    /// Every group is all or nothing: the likelihood rises without end as the shares move
    /// to 0 and 1.
    AllOrNothing {
        /// The share of groups that are all, near enough.
        p: f64,
    },
    /// Nothing can be said: no two trials in any group.
    Unknown,
}

/// Dispersions searched: precision α+β from a million down to a ten-thousandth.
const GAMMA: (f64, f64) = (1e-6, 1e4);
/// Steps in which the range is gone through, equal in log γ.
const STEPS: u32 = 60;

/// Trials counted of one group at most; a larger one is scaled down, for beyond this its share
/// is as good as known.
const MOST_TRIALS: u32 = 20_000;

/// The spread of the shares of groups, each given as (k, n).
pub fn spread(groups: impl IntoIterator<Item = (u32, u32)>) -> Spread {
    let counted = Counted::of(groups);
    if counted.trials.len() < 2 {
        return Spread::Unknown;
    }
    let mut mean = counted.share();
    let at_zero = counted.log_likelihood(mean, 0.0);
    let grid = |step: u32| {
        let (from, to) = (GAMMA.0.ln(), GAMMA.1.ln());
        (from + (to - from) * f64::from(step) / f64::from(STEPS)).exp()
    };
    let mut best = (at_zero, None);
    for step in 0..=STEPS {
        mean = counted.best_mean(grid(step), mean);
        let l = counted.log_likelihood(mean, grid(step));
        if l > best.0 {
            best = (l, Some(step));
        }
    }
    let Some(step) = best.1 else { return Spread::Alike { p: counted.share() } };
    let uphill = |gamma: f64| counted.slope(counted.best_mean(gamma, mean), gamma) > 0.0;
    let (mut low, mut high) = if uphill(grid(step)) {
        if step == STEPS {
            return Spread::AllOrNothing { p: counted.best_mean(grid(step), mean) };
        }
        (grid(step), grid(step + 1))
    } else {
        (if step == 0 { 0.0 } else { grid(step - 1) }, grid(step))
    };
    while high - low > 1e-13 * high {
        let middle = f64::midpoint(low, high);
        if uphill(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    let gamma = f64::midpoint(low, high);
    if gamma <= GAMMA.0 {
        return Spread::Alike { p: counted.share() };
    }
    let mean = counted.best_mean(gamma, mean);
    Spread::Beta {
        alpha: mean / gamma,
        beta: (1.0 - mean) / gamma,
        log_likelihood: counted.log_likelihood(mean, gamma),
    }
}

/// The groups as the likelihood sees them: entry i is how many groups have more than i.
struct Counted {
    kept: Vec<f64>,
    rest: Vec<f64>,
    trials: Vec<f64>,
}

impl Counted {
    fn of(groups: impl IntoIterator<Item = (u32, u32)>) -> Self {
        let mut counted = Self { kept: Vec::new(), rest: Vec::new(), trials: Vec::new() };
        for (k, n) in groups {
            let (k, n) = scaled(k.min(n), n);
            tally(&mut counted.kept, k);
            tally(&mut counted.rest, n - k);
            tally(&mut counted.trials, n);
        }
        for list in [&mut counted.kept, &mut counted.rest, &mut counted.trials] {
            let mut more = 0.0;
            for entry in list.iter_mut().rev() {
                more += *entry;
                *entry = more;
            }
        }
        counted
    }

    /// The share over all groups together.
    fn share(&self) -> f64 {
        let (kept, trials): (f64, f64) = (self.kept.iter().sum(), self.trials.iter().sum());
        if trials > 0.0 { kept / trials } else { 0.5 }
    }

    fn log_likelihood(&self, mean: f64, gamma: f64) -> f64 {
        let product = |list: &[f64], from: f64| -> f64 {
            list.iter().zip(0_u32..).map(|(n, i)| n * (from + f64::from(i) * gamma).ln()).sum()
        };
        product(&self.kept, mean) + product(&self.rest, 1.0 - mean) - product(&self.trials, 1.0)
    }

    /// The derivative by γ.
    fn slope(&self, mean: f64, gamma: f64) -> f64 {
        let part = |list: &[f64], from: f64| -> f64 {
            list.iter()
                .zip(0_u32..)
                .skip(1)
                .map(|(n, i)| n * f64::from(i) / (from + f64::from(i) * gamma))
                .sum()
        };
        part(&self.kept, mean) + part(&self.rest, 1.0 - mean) - part(&self.trials, 1.0)
    }

    /// The mean at which the likelihood is highest for this γ, by Newton's steps on its concave
    /// logarithm within a bracket.
    fn best_mean(&self, gamma: f64, start: f64) -> f64 {
        if self.kept.is_empty() {
            return 0.0;
        }
        if self.rest.is_empty() {
            return 1.0;
        }
        let sums = |list: &[f64], from: f64| {
            list.iter().zip(0_u32..).fold((0.0, 0.0), |(first, second), (n, i)| {
                let inverse = 1.0 / (from + f64::from(i) * gamma);
                (first + n * inverse, second + n * inverse * inverse)
            })
        };
        let (mut low, mut high) = (0.0, 1.0);
        let mut mean = start.clamp(1e-6, 1.0 - 1e-6);
        for _ in 0..200 {
            let (up, up_bends) = sums(&self.kept, mean);
            let (down, down_bends) = sums(&self.rest, 1.0 - mean);
            if up > down {
                low = mean;
            } else {
                high = mean;
            }
            let newton = mean + (up - down) / (up_bends + down_bends);
            let next =
                if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
            let settled = (next - mean).abs() <= 1e-15 * next;
            mean = next;
            if settled {
                break;
            }
        }
        mean
    }
}

fn scaled(k: u32, n: u32) -> (u32, u32) {
    if n <= MOST_TRIALS {
        return (k, n);
    }
    let k = u64::from(k) * u64::from(MOST_TRIALS) / u64::from(n);
    (u32::try_from(k).unwrap_or(MOST_TRIALS), MOST_TRIALS)
}

/// Counts a group of size `n` at its last entry; the sums from the end are taken later.
fn tally(list: &mut Vec<f64>, n: u32) {
    let n = n as usize;
    if list.len() < n {
        list.resize(n, 0.0);
    }
    if let Some(last) = n.checked_sub(1) {
        list[last] += 1.0;
    }
}
