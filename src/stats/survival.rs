//! How long until something happens, when for some it never did while anybody looked.
//!
//! The curve S(t) is the share to whom it has not happened by t. Source: E. L. Kaplan & P. Meier
//! 1958, J. Am. Stat. Assoc. 53:457–481. One looked at for the last time at t is still at risk
//! at t.

use super::{Interval, normal, wilson};

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
    /// How long each was watched, the shortest first.
    times: Vec<f64>,
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
        let mut at_risk = u32::try_from(all.len()).unwrap_or(u32::MAX);
        let times = all.iter().map(|one| one.time).collect();
        let mut curve = Self { steps: Vec::new(), times };
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
        u32::try_from(self.times.len()).unwrap_or(u32::MAX)
    }

    /// How many were watched for longer than this.
    pub fn watched_beyond(&self, time: f64) -> u32 {
        let over = self.times.partition_point(|&watched| watched <= time);
        u32::try_from(self.times.len() - over).unwrap_or(u32::MAX)
    }

    /// To how many it happened.
    pub fn events(&self) -> u32 {
        self.steps.iter().map(|step| step.events).sum()
    }

    /// The last time at which anybody was watched; absent where nobody was.
    pub fn last(&self) -> Option<f64> {
        self.times.last().copied()
    }

    /// The step that holds at a time; absent before the first event.
    pub fn step_at(&self, time: f64) -> Option<&Step> {
        let after = self.steps.partition_point(|step| step.time <= time);
        self.steps[..after].last()
    }

    /// S(t). Not known beyond the last time watched, unless by then it had happened to all.
    pub fn share(&self, time: f64) -> Option<f64> {
        let share = self.step_at(time).map_or(1.0, |step| step.share);
        (share == 0.0 || self.last().is_some_and(|last| time <= last)).then_some(share)
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

    /// The same with its range, from those alone that were watched for longer than `now`.
    ///
    /// With G the sum of Greenwood's formula from now to an end, and R the share left at it, the
    /// variance of the mean of R over the ends is that of the mean of `R R′ G(the earlier of the
    /// two)`; the range is that of the log-log transformation. Where it happened to none or to
    /// all of them on the way, the range is Wilson's for a count.
    pub fn chance_before_with(&self, now: f64, ends: &[f64], level: f64) -> Option<Interval> {
        let p = self.chance_before(now, ends)?;
        let n = self.watched_beyond(now);
        let left: Vec<(f64, f64)> = ends.iter().map(|&end| self.left_at(now, end)).collect();
        let mut variance = 0.0;
        for &(share, greenwood) in &left {
            for &(other, theirs) in &left {
                variance += share * other * greenwood.min(theirs);
            }
        }
        let se = variance.sqrt() / ends.len() as f64;
        let share = 1.0 - p;
        if share <= 0.0 || share >= 1.0 || se <= 0.0 {
            let none_or_all = if p < 0.5 { 0 } else { n };
            return wilson(none_or_all, n, level).map(|range| Interval { p, ..range });
        }
        let width = normal::quantile(0.5 + 0.5 * level) * se / (share * share.ln()).abs();
        let (low, high) = (share.powf(width.exp()), share.powf((-width).exp()));
        Some(Interval { p, low: 1.0 - high, high: 1.0 - low, level })
    }

    /// The share left at an end of those left now, and the sum of Greenwood's formula between.
    fn left_at(&self, now: f64, end: f64) -> (f64, f64) {
        let between = self.steps.iter().filter(|step| step.time > now && step.time <= end);
        between.fold((1.0, 0.0), |(share, greenwood), step| {
            let (n, d) = (f64::from(step.at_risk), f64::from(step.events));
            // Where nobody is left the share is 0, and its error falls out.
            let more = if d < n { d / (n * (n - d)) } else { 0.0 };
            (share * (n - d) / n, greenwood + more)
        })
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

    /// From 14 at risk: 4 events, none censored, so that the chance is a plain share and its
    /// variance by Greenwood the binomial one.
    #[test]
    fn the_range_of_a_chance_is_that_of_those_still_waiting() {
        let early = (0..6).map(|_| Watched::event(2.0));
        let later = [5.0, 5.0, 6.0, 7.0].map(Watched::event);
        let waiting = (0..10).map(|_| Watched::not_by(9.0));
        let curve = Curve::of(early.chain(later).chain(waiting));
        let chance = curve.chance_before_with(3.0, &[8.0], 0.9).unwrap_or_else(|| unreachable!());
        assert!((chance.p - 4.0 / 14.0).abs() < 1e-12);
        let alone = Curve::of(later.into_iter().chain((0..10).map(|_| Watched::not_by(9.0))));
        let (low, high) = alone.step_at(8.0).and_then(|s| s.interval(0.9)).unwrap_or_default();
        assert!((chance.low - (1.0 - high)).abs() < 1e-12);
        assert!((chance.high - (1.0 - low)).abs() < 1e-12);
        let none = curve.chance_before_with(7.5, &[8.0], 0.9).unwrap_or_else(|| unreachable!());
        assert!(none.p.abs() < 1e-12 && none.high > 0.1 && none.high < 0.3);
        assert_eq!(curve.chance_before_with(7.5, &[9.5], 0.9), None);
    }

    #[test]
    fn an_end_that_has_passed_leaves_no_chance() {
        let curve = Curve::of([Watched::event(3.0), Watched::event(5.0), Watched::not_by(9.0)]);
        let half = curve.chance_before(4.0, &[2.0, 6.0]);
        assert!((half.unwrap_or(f64::NAN) - 0.25).abs() < 1e-12);
    }
}
