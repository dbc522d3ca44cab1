//! How long until something happens, when it is only known to have happened between two looks.
//!
//! Source: B. W. Turnbull 1976, J. R. Stat. Soc. B 38:290–295. The likeliest curve falls only
//! within certain intervals between looks; how it runs inside one of them nobody can know.

/// Between which two looks it happened: after `after` and no later than `by`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// The last look at which it had not happened.
    pub after: f64,
    /// The first look at which it had; +∞ where it never was seen to. The same as `after` where
    /// the very time is known.
    pub by: f64,
}

/// One interval within which the curve falls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fall {
    /// Where it begins (itself not part of it, unless it is also the end).
    pub after: f64,
    /// Where it ends; +∞ for those to whom it has not happened.
    pub by: f64,
    /// The share of all to whom it happens within it.
    pub mass: f64,
}

/// The likeliest curve.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curve {
    falls: Vec<Fall>,
    /// Its log-likelihood; 0 where nobody was watched.
    pub ln_likelihood: f64,
}

impl Between {
    /// It happened after one look and by another.
    pub fn looks(after: f64, by: f64) -> Self {
        Self { after, by }
    }

    /// It happened just then.
    pub fn at(time: f64) -> Self {
        Self { after: time, by: time }
    }

    /// It had not happened when last looked at.
    pub fn not_by(time: f64) -> Self {
        Self { after: time, by: f64::INFINITY }
    }
}

impl Curve {
    /// The likeliest curve of all those watched. Intervals that end before they begin, or begin
    /// nowhere, are left out.
    pub fn of(watched: impl IntoIterator<Item = Between>) -> Self {
        let watched: Vec<Between> =
            watched.into_iter().filter(|b| b.after.is_finite() && b.by >= b.after).collect();
        let mut falls = innermost(&watched);
        let spans = spans(&watched, &falls);
        let ln_likelihood = fit(&mut falls, &spans);
        Self { falls, ln_likelihood }
    }

    /// The intervals within which it falls, earliest first; some may have no mass.
    pub fn falls(&self) -> &[Fall] {
        &self.falls
    }

    /// The lowest and highest that S(t) can be: the same between falls, apart within one.
    pub fn share(&self, time: f64) -> Option<(f64, f64)> {
        if self.falls.is_empty() {
            return None;
        }
        let over = |gone: &dyn Fn(&Fall) -> bool| {
            let mass: f64 = self.falls.iter().filter(|fall| gone(fall)).map(|fall| fall.mass).sum();
            (1.0 - mass).clamp(0.0, 1.0)
        };
        let started = |fall: &Fall| fall.after < time || fall.by <= time;
        Some((over(&started), over(&|fall| fall.by <= time)))
    }
}

/// The kinds of ends of an interval, in the order in which they fall at one and the same time.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    /// The beginning of an interval that is a single time.
    At,
    /// The end of any interval.
    By,
    /// The beginning of any other interval.
    After,
}

impl Between {
    fn beginning(&self) -> (f64, End) {
        (self.after, if self.after < self.by { End::After } else { End::At })
    }

    fn end(&self) -> (f64, End) {
        (self.by, End::By)
    }
}

fn order(a: &(f64, End), b: &(f64, End)) -> std::cmp::Ordering {
    a.0.total_cmp(&b.0).then(a.1.cmp(&b.1))
}

/// Every interval from the beginning of one to the end of one with no end in between: nowhere
/// else can the likeliest curve fall.
fn innermost(watched: &[Between]) -> Vec<Fall> {
    let mut ends: Vec<(f64, End)> = watched.iter().flat_map(|b| [b.beginning(), b.end()]).collect();
    ends.sort_by(order);
    ends.windows(2)
        .filter(|pair| pair[0].1 != End::By && pair[1].1 == End::By)
        .map(|pair| Fall { after: pair[0].0, by: pair[1].0, mass: 0.0 })
        .collect()
}

/// A kind of record: the run of falls that it allows, and how many such records there are.
struct Span {
    first: usize,
    past: usize,
    n: f64,
}

fn spans(watched: &[Between], falls: &[Fall]) -> Vec<Span> {
    let ends: Vec<Between> =
        falls.iter().map(|fall| Between { after: fall.after, by: fall.by }).collect();
    let mut all: Vec<(usize, usize)> = watched
        .iter()
        .map(|b| {
            let first = ends.partition_point(|d| order(&d.beginning(), &b.beginning()).is_lt());
            let past = ends.partition_point(|d| order(&d.end(), &b.end()).is_le());
            (first, past)
        })
        .collect();
    all.sort_unstable();
    all.chunk_by(|a, b| a == b)
        .map(|same| Span { first: same[0].0, past: same[0].1, n: same.len() as f64 })
        .collect()
}

/// One round of self-consistency (the EM algorithm): each record spreads itself over the falls
/// that it allows.
struct Round {
    mass: Vec<f64>,
    /// Of the mass before this round.
    ln_likelihood: f64,
    /// The most by which the log-likelihood can still rise: the largest slope towards a single
    /// fall, less what is there already.
    to_gain: f64,
}

fn round(mass: &[f64], spans: &[Span]) -> Round {
    let n: f64 = spans.iter().map(|s| s.n).sum();
    let mut up_to = vec![0.0; mass.len() + 1];
    for (j, mass) in mass.iter().enumerate() {
        up_to[j + 1] = up_to[j] + mass;
    }
    let mut slope = vec![0.0; mass.len() + 1];
    let mut ln_likelihood = 0.0;
    for span in spans {
        let chance = (up_to[span.past] - up_to[span.first]).max(f64::MIN_POSITIVE);
        ln_likelihood += span.n * chance.ln();
        slope[span.first] += span.n / chance;
        slope[span.past] -= span.n / chance;
    }
    let (mut sum, mut steepest) = (0.0, 0.0_f64);
    let next = mass.iter().zip(&slope).map(|(mass, slope)| {
        sum += slope;
        steepest = steepest.max(sum);
        mass * sum / n
    });
    Round { mass: next.collect(), ln_likelihood, to_gain: steepest - n }
}

/// Spreads the mass until the log-likelihood is provably within 1e-9 of its maximum, which it
/// gives back. Between rounds the step of two rounds is stretched (R. Varadhan & C. Roland 2008,
/// Scand. J. Stat. 35:335–353), and kept only where that does not lower the likelihood.
fn fit(falls: &mut [Fall], spans: &[Span]) -> f64 {
    const ENOUGH: f64 = 1e-9;
    const MOST_ROUNDS: usize = 20_000;
    let mut at = vec![1.0 / falls.len().max(1) as f64; falls.len()];
    let mut first = round(&at, spans);
    for _ in 0..MOST_ROUNDS {
        if first.to_gain < ENOUGH {
            break;
        }
        let second = round(&first.mass, spans);
        let far = stretched(&at, &first.mass, &second.mass);
        let leap = round(&far, spans);
        let safe = round(&second.mass, spans);
        (at, first) = if leap.ln_likelihood >= safe.ln_likelihood {
            (far, leap)
        } else {
            (second.mass, safe)
        };
    }
    for (fall, mass) in falls.iter_mut().zip(&at) {
        fall.mass = *mass;
    }
    first.ln_likelihood
}

/// Where two steps from `a` over `b` to `c` seem to lead. No mass falls below a tenth of `c`:
/// what is gone would not come back.
fn stretched(a: &[f64], b: &[f64], c: &[f64]) -> Vec<f64> {
    let step = |j: usize| b[j] - a[j];
    let bend = |j: usize| c[j] - b[j] - step(j);
    let length =
        |of: &dyn Fn(usize) -> f64| (0..a.len()).map(|j| of(j).powi(2)).sum::<f64>().sqrt();
    let (steps, bends) = (length(&step), length(&bend));
    let by = if bends > 0.0 { (steps / bends).max(1.0) } else { 1.0 };
    let far: Vec<f64> = (0..a.len())
        .map(|j| (a[j] + 2.0 * by * step(j) + by * by * bend(j)).max(0.1 * c[j]))
        .collect();
    let sum: f64 = far.iter().sum();
    far.into_iter().map(|mass| mass / sum).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{super::survival, *};

    proptest! {
        #[test]
        fn with_exact_times_it_is_the_kaplan_meier_curve(
            all in proptest::collection::vec((0_u8..20, any::<bool>()), 1..30)
        ) {
            let time = |t: u8| f64::from(t);
            let here = Curve::of(all.iter().map(|&(t, happened)| {
                if happened { Between::at(time(t)) } else { Between::not_by(time(t)) }
            }));
            let there = survival::Curve::of(all.iter().map(|&(t, happened)| {
                survival::Watched { time: time(t), happened }
            }));
            for step in there.steps() {
                let (low, high) = here.share(step.time).unwrap_or((f64::NAN, f64::NAN));
                prop_assert!((high - step.share).abs() < 1e-4, "{high} {}", step.share);
                prop_assert!(low <= high);
            }
        }

        #[test]
        fn masses_are_shares_of_one(
            all in proptest::collection::vec((0_u8..20, 0_u8..9), 1..30)
        ) {
            let curve = Curve::of(all.iter().map(|&(from, wide)| match wide {
                8 => Between::not_by(f64::from(from)),
                _ => Between::looks(f64::from(from), f64::from(from + wide)),
            }));
            let sum: f64 = curve.falls().iter().map(|fall| fall.mass).sum();
            prop_assert!((sum - 1.0).abs() < 1e-9);
            prop_assert!(curve.falls().iter().all(|fall| fall.mass >= 0.0));
            let mut before = 1.0;
            for t in 0_u8..30 {
                let (_, high) = curve.share(f64::from(t)).unwrap_or((f64::NAN, f64::NAN));
                prop_assert!(high <= before + 1e-12);
                before = high;
            }
        }
    }

    #[test]
    fn nobody_watched_is_not_known() {
        let none = Curve::of([]);
        assert_eq!((none.falls().len(), none.share(3.0)), (0, None));
        assert!(none.ln_likelihood.abs() < 1e-15);
        assert!(Curve::of([Between::looks(f64::NAN, 2.0)]).falls().is_empty());
    }

    #[test]
    fn within_a_drop_the_curve_is_not_known() {
        let curve = Curve::of([Between::looks(7.0, 14.0), Between::not_by(14.0)]);
        assert_eq!(curve.share(7.0), Some((1.0, 1.0)));
        assert_eq!(curve.share(10.0), Some((0.5, 1.0)));
        assert_eq!(curve.share(14.0), Some((0.5, 0.5)));
    }
}
