//! How long until something happens, when for some it never did while anybody looked.
//!
//! The curve S(t) is the share to whom it has not happened by t. Source: E. L. Kaplan & P. Meier
//! 1958, J. Am. Stat. Assoc. 53:457–481. One looked at for the last time at t is still at risk
//! at t.

use super::normal;

/// One subject: until when it was watched, and whether it happened then.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Watched {
    /// The time of the event or of the last look, in any unit, counted from the start.
    pub time: f64,
    /// Whether it happened; if not, watching stopped.
    pub happened: bool,
}

/// One time at which something happened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// When.
    pub time: f64,
    /// Subjects watched until this time or longer.
    pub at_risk: u32,
    /// Those to whom it happened now.
    pub events: u32,
    /// The share to whom it has not happened yet, just after this time.
    pub share: f64,
    /// Its standard error by Greenwood's formula, S √Σ d/(n(n − d)); absent where nobody is left.
    pub se: Option<f64>,
}

/// A Kaplan–Meier curve.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curve {
    steps: Vec<Step>,
    watched: u32,
    last: f64,
}

impl Watched {
    /// It happened at this time.
    pub fn event(time: f64) -> Self {
        Self { time, happened: true }
    }

    /// It had not happened when last looked at.
    pub fn not_by(time: f64) -> Self {
        Self { time, happened: false }
    }
}

impl Step {
    /// The interval of the log-log transformation, S^exp(±z·se/(S·ln S)), which stays between 0
    /// and 1; `level` is 0.95 for 95 %. Absent where nobody is left.
    pub fn interval(&self, level: f64) -> Option<(f64, f64)> {
        let z = normal::quantile(0.5 + 0.5 * level);
        let width = z * self.se? / (self.share * self.share.ln()).abs();
        Some((self.share.powf(width.exp()), self.share.powf((-width).exp())))
    }
}

impl Curve {
    /// The curve of all those watched. Times that are no numbers are left out.
    pub fn of(watched: impl IntoIterator<Item = Watched>) -> Self {
        let mut all: Vec<Watched> =
            watched.into_iter().filter(|one| one.time.is_finite()).collect();
        all.sort_by(|a, b| a.time.total_cmp(&b.time));
        let Some(last) = all.last().map(|one| one.time) else { return Self::default() };
        let mut at_risk = u32::try_from(all.len()).unwrap_or(u32::MAX);
        let mut curve = Self { steps: Vec::new(), watched: at_risk, last };
        let (mut share, mut greenwood) = (1.0, 0.0);
        for tied in all.chunk_by(|a, b| a.time.total_cmp(&b.time).is_eq()) {
            let n_tied = u32::try_from(tied.len()).unwrap_or(u32::MAX);
            let events = tied.iter().map(|one| u32::from(one.happened)).sum();
            if events > 0 {
                let left = at_risk - events;
                share *= f64::from(left) / f64::from(at_risk);
                greenwood += f64::from(events) / (f64::from(at_risk) * f64::from(left));
                let se = (left > 0).then(|| share * greenwood.sqrt());
                curve.steps.push(Step { time: tied[0].time, at_risk, events, share, se });
            }
            at_risk = at_risk.saturating_sub(n_tied);
        }
        curve
    }

    /// Every time at which something happened, earliest first.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// How many were watched.
    pub fn watched(&self) -> u32 {
        self.watched
    }

    /// To how many it happened.
    pub fn events(&self) -> u32 {
        self.steps.iter().map(|step| step.events).sum()
    }

    /// The last time at which anybody was watched; absent where nobody was.
    pub fn last(&self) -> Option<f64> {
        (self.watched > 0).then_some(self.last)
    }

    /// The step that holds at a time; absent before the first event.
    pub fn step_at(&self, time: f64) -> Option<&Step> {
        let after = self.steps.partition_point(|step| step.time <= time);
        self.steps[..after].last()
    }

    /// S(t). Not known beyond the last time watched, unless by then it had happened to all.
    pub fn share(&self, time: f64) -> Option<f64> {
        let share = self.step_at(time).map_or(1.0, |step| step.share);
        (share == 0.0 || (self.watched > 0 && time <= self.last)).then_some(share)
    }

    /// The smallest time at which S(t) ≤ ½; absent where it was never reached.
    pub fn median(&self) -> Option<f64> {
        self.time_of(0.5)
    }

    /// The smallest time by which it has happened to at least this share of all.
    pub fn time_of(&self, happened: f64) -> Option<f64> {
        // S is a product of fractions, so a share met exactly may come out a hair above.
        const HAIR: f64 = 1e-12;
        self.steps.iter().find(|step| step.share <= 1.0 - happened + HAIR).map(|step| step.time)
    }

    /// The mean time spent waiting, of the time up to `until`: the area under the curve. Not
    /// known beyond the last time watched.
    pub fn mean_wait(&self, until: f64) -> Option<f64> {
        self.share(until)?;
        let (mut area, mut share, mut from) = (0.0, 1.0, 0.0);
        for step in self.steps.iter().take_while(|step| step.time < until) {
            area += share * (step.time - from);
            (share, from) = (step.share, step.time);
        }
        Some(area + share * (until - from))
    }

    /// For one to whom it has not happened by `now`: the chance that it happens before an end
    /// that is one of `ends` with equal chances, 1 − E[S(end)]/S(now). Ends that have passed
    /// already leave no chance. Not known where an end lies beyond the last time watched, or
    /// where nobody ever waited as long as this.
    pub fn chance_before(&self, now: f64, ends: &[f64]) -> Option<f64> {
        let waiting = self.share(now).filter(|&share| share > 0.0)?;
        if ends.is_empty() {
            return None;
        }
        let mut left = 0.0;
        for &end in ends {
            left += if end <= now { waiting } else { self.share(end)? };
        }
        Some(1.0 - left / ends.len() as f64 / waiting)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn some_watched() -> impl Strategy<Value = Vec<Watched>> {
        proptest::collection::vec((0_u8..40, any::<bool>()), 0..60).prop_map(|all| {
            let one = |(time, happened)| Watched { time: f64::from(time), happened };
            all.into_iter().map(one).collect()
        })
    }

    proptest! {
        #[test]
        fn the_curve_never_rises_and_stays_a_share(watched in some_watched()) {
            let curve = Curve::of(watched);
            let mut before = 1.0;
            for step in curve.steps() {
                prop_assert!(step.share <= before && step.share >= 0.0);
                before = step.share;
                if let Some((low, high)) = step.interval(0.9) {
                    prop_assert!(0.0 <= low && low <= step.share + 1e-12);
                    prop_assert!(step.share <= high + 1e-12 && high <= 1.0);
                }
            }
        }

        #[test]
        fn without_stopped_watching_it_is_the_plain_share(times in proptest::collection::vec(0_u8..40, 1..60)) {
            let curve = Curve::of(times.iter().map(|&t| Watched::event(f64::from(t))));
            for at in 0_u8..40 {
                let later = times.iter().filter(|&&t| t > at).count();
                let wanted = later as f64 / times.len() as f64;
                let got = curve.share(f64::from(at)).unwrap_or(f64::NAN);
                prop_assert!((got - wanted).abs() < 1e-12);
            }
        }

        #[test]
        fn the_order_of_the_records_does_not_matter(watched in some_watched()) {
            let mut backwards = watched.clone();
            backwards.reverse();
            prop_assert_eq!(Curve::of(watched), Curve::of(backwards));
        }
    }

    #[test]
    fn nobody_watched_is_not_known() {
        let none = Curve::of([]);
        assert_eq!((none.share(1.0), none.median(), none.last()), (None, None, None));
        assert_eq!(none.chance_before(1.0, &[5.0]), None);
        assert_eq!(none.mean_wait(1.0), None);
    }

    #[test]
    fn beyond_the_last_look_is_not_known() {
        let curve = Curve::of([Watched::event(3.0), Watched::not_by(8.0)]);
        assert_eq!(curve.share(8.0), Some(0.5));
        assert_eq!(curve.share(8.5), None);
        assert_eq!(curve.chance_before(1.0, &[8.0]), Some(0.5));
        assert_eq!(curve.chance_before(4.0, &[8.0]), Some(0.0));
        assert_eq!(curve.chance_before(1.0, &[8.0, 9.0]), None);
        let all = Curve::of([Watched::event(3.0)]);
        assert_eq!(all.share(100.0), Some(0.0), "nobody was left to wait");
    }

    #[test]
    fn an_end_that_has_passed_leaves_no_chance() {
        let curve = Curve::of([Watched::event(3.0), Watched::event(5.0), Watched::not_by(9.0)]);
        let half = curve.chance_before(4.0, &[2.0, 6.0]);
        assert!((half.unwrap_or(f64::NAN) - 0.25).abs() < 1e-12);
    }
}
