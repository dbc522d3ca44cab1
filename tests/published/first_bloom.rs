//! Survival curves, the log-rank test, and blooms known only between two visits.

use std::collections::BTreeMap;

use trug::stats::{
    log_rank::log_rank,
    survival::{Curve, Watched},
    turnbull,
};

use super::{Row, close, figures, table};

fn groups(rows: &[Row], by: &str) -> BTreeMap<String, Vec<Watched>> {
    let mut groups: BTreeMap<String, Vec<Watched>> = BTreeMap::new();
    for row in rows {
        let one = Watched { time: row.number("time"), happened: row.count("event") == 1 };
        groups.entry(row.text(by).to_owned()).or_default().push(one);
    }
    groups
}

#[test]
fn the_curves_of_a_clinical_trial() {
    let groups = groups(&table("h01", "data.csv"), "treat");
    let curves: BTreeMap<&str, Curve> =
        groups.iter().map(|(name, all)| (&**name, Curve::of(all.iter().copied()))).collect();
    let rows = table("h01", "expected_km.csv");
    for row in &rows {
        let (group, time) = (row.text("group"), row.number("time"));
        let step = curves[group].step_at(time).unwrap();
        let what = format!("{group} at {time}");
        close(step.time, time, 0.0, &what);
        assert_eq!((step.at_risk, step.events), (row.count("n_risk"), row.count("n_event")));
        close(step.share, row.number("surv"), 1e-8, &what);
        match step.se {
            None => assert!(row.number("surv").abs() < 1e-12, "{what} has no error"),
            Some(se) => {
                close(se, row.number("greenwood_se"), 1e-8, &what);
                let (low, high) = step.interval(0.95).unwrap();
                close(low, row.number("loglog_lo"), 1e-8, &what);
                close(high, row.number("loglog_hi"), 1e-8, &what);
            }
        }
    }
    assert_eq!(curves.values().map(|c| c.steps().len()).sum::<usize>(), rows.len());
    let wanted = figures("h01", "expected.csv");
    assert_eq!(curves["6-MP"].median(), Some(wanted["median_6MP"]));
    assert_eq!(curves["control"].median(), Some(wanted["median_control"]));
    let mean = curves["control"].mean_wait(23.0).unwrap();
    close(mean, wanted["rmst_control_to_23"], 1e-8, "mean wait");
}

#[test]
fn the_log_rank_test_of_a_clinical_trial() {
    let groups = groups(&table("h01", "data.csv"), "treat");
    let test = log_rank(&[&groups["6-MP"], &groups["control"]]).unwrap();
    let wanted = figures("h01", "expected.csv");
    close(test.chi_square, wanted["logrank_chisq"], 1e-6, "chi-square");
    close(test.seen[0], wanted["obs_6MP"], 0.0, "seen");
    close(test.seen[1], wanted["obs_control"], 0.0, "seen");
    close(test.expected[0], wanted["exp_6MP"], 1e-8, "expected");
    close(test.expected[1], wanted["exp_control"], 1e-8, "expected");
    close(test.variance[0], wanted["var_O_minus_E"], 1e-8, "variance");
    assert_eq!(test.freedom, 1);
    assert!(test.p < 1e-4 && test.p > 1e-5);
}

#[test]
fn curves_in_awkward_cases() {
    let groups = groups(&table("h04", "data.csv"), "case");
    for row in table("h04", "expected.csv") {
        let case = row.text("case");
        let curve = Curve::of(groups[case].iter().copied());
        match row.text("time") {
            "MEDIAN" => {
                let wanted = Some(row.number("surv")).filter(|time| time.is_finite());
                assert_eq!(curve.median(), wanted, "{case}: median");
            }
            "" => assert_eq!(curve.share(curve.last().unwrap()), Some(1.0), "{case}: no events"),
            _ => {
                let step = curve.step_at(row.number("time")).unwrap();
                close(step.time, row.number("time"), 0.0, case);
                assert_eq!(
                    (step.at_risk, step.events),
                    (row.count("n_risk"), row.count("n_event"))
                );
                close(step.share, row.number("surv"), 1e-10, case);
                match (step.se, row.some("greenwood_se")) {
                    (Some(got), Some(wanted)) => close(got, wanted, 1e-10, case),
                    (got, wanted) => assert_eq!(got, wanted, "{case}"),
                }
            }
        }
    }
}

#[test]
fn blooms_known_only_between_two_visits() {
    let curve = turnbull::Curve::of(table("h05", "data.csv").iter().map(|row| {
        let after = row.number("last_seen_without_bloom");
        row.some("first_seen_in_bloom")
            .map_or(turnbull::Between::not_by(after), |by| turnbull::Between::looks(after, by))
    }));
    let wanted = figures("h05", "expected.csv");
    close(curve.ln_likelihood, wanted["npmle_loglik"], 1e-6, "log-likelihood");
    for row in table("h05", "expected_npmle.csv") {
        let (after, by) = (row.number("interval_left"), row.number("interval_right"));
        let mass: f64 =
            curve.falls().iter().filter(|f| f.after >= after && f.by <= by).map(|f| f.mass).sum();
        close(mass, row.number("mass"), 1e-4, &format!("({after}, {by}]"));
        let (low, high) = curve.share(by).unwrap();
        close(low, row.number("S_at_right"), 1e-4, &format!("by {by}"));
        close(high, row.number("S_at_right"), 1e-4, &format!("by {by}"));
    }
}
