//! Mixed models: variances by likelihood, and breeding values with known variances.

use std::collections::BTreeMap;

use trug::stats::mixed::{Fit, Likelihood, Model, Term, Unknown, Variances};

use super::{Row, close, figures, garden::Garden, levels, table};

fn numbers(rows: &[Row], column: &str) -> Vec<f64> {
    rows.iter().map(|row| row.number(column)).collect()
}

/// A model with an intercept and one effect a level of each factor.
fn crossed(check: &str, response: &str, factors: &[&str]) -> (Model, Vec<Vec<String>>) {
    let rows = table(check, "data.csv");
    let mut model = Model::of(numbers(&rows, response));
    let mut names = Vec::new();
    for factor in factors {
        let (these, of_record) = levels(&rows, factor);
        model = model.random(Term::of_levels(these.len(), &of_record));
        names.push(these);
    }
    (model, names)
}

#[track_caller]
fn relative(got: f64, wanted: f64, within: f64, what: &str) {
    close(got, wanted, within * wanted.abs().max(1e-2), what);
}

/// Predictions and their standard deviations given the fixed effects.
fn check_effects(fit: &Fit, check: &str, factors: &[&str], names: &[Vec<String>]) {
    for row in table(check, "expected_ranef.csv") {
        let term = factors.iter().position(|f| *f == row.text("group")).unwrap();
        let level = names[term].iter().position(|n| n == row.text("level")).unwrap();
        let effect = usize::from(row.text("term") != "(Intercept)");
        let what = format!("{check} {} {}", row.text("level"), row.text("term"));
        let got = fit.random_effect(term, effect, level);
        relative(got, row.number("ranef"), 1e-4, &what);
        let got = fit.conditional_variances(term, effect)[level].max(0.0).sqrt();
        relative(got, row.number("condSD"), 1e-4, &what);
    }
}

fn check_crossed(check: &str, response: &str, factors: &[&str]) -> Fit {
    let (model, names) = crossed(check, response, factors);
    let fit = model.fit(Likelihood::Restricted).unwrap();
    let wanted = figures(check, "expected.csv");
    for (term, factor) in factors.iter().enumerate() {
        let variance = wanted[&format!("var:{factor}:(Intercept)")];
        close(fit.variance(term), variance, 1e-4 * variance + 1e-6, factor);
    }
    relative(fit.variances().residual, wanted["var:Residual"], 1e-4, "residual");
    let mean = fit.fixed(0).unwrap();
    relative(mean.value, wanted["beta:(Intercept)"], 1e-6, "mean");
    relative(mean.se.unwrap(), wanted["se:(Intercept)"], 1e-4, "its error");
    close(fit.ln_likelihood(), wanted["logLik"], 1e-6, "log-likelihood");
    check_effects(&fit, check, factors, &names);
    fit
}

#[test]
fn one_random_factor() {
    let fit = check_crossed("e01", "Yield", &["Batch"]);
    let share = fit.ratio(&[1.0, 0.0], &[1.0, 1.0]).unwrap();
    close(share.value, 1764.05 / (1764.05 + 2451.25), 1e-5, "share of the batches");
    assert!(share.se.is_some_and(|se| se > 0.15 && se < 0.4));

    let (model, _) = crossed("e01", "Yield", &["Batch"]);
    let full = model.fit(Likelihood::Full).unwrap();
    let wanted = figures("e01", "expected_ML.csv");
    relative(full.variance(0), wanted["var:Batch"], 1e-4, "variance");
    relative(full.variances().residual, wanted["var:Residual"], 1e-4, "residual");
    close(full.ln_likelihood(), wanted["logLik"], 1e-6, "log-likelihood");
}

#[test]
fn a_variance_of_nothing_is_an_answer() {
    let fit = check_crossed("e02", "Yield", &["Batch"]);
    assert!(fit.variance(0) < 1e-6);
    let share = fit.ratio(&[1.0, 0.0], &[1.0, 1.0]).unwrap();
    assert!(share.value < 1e-6 && share.se.is_none());
}

#[test]
fn two_crossed_random_factors() {
    check_crossed("e04", "diameter", &["plate", "sample"]);
}

#[test]
fn correlated_intercepts_and_slopes() {
    let rows = table("e03", "data.csv");
    let days = numbers(&rows, "Days");
    let (names, subject) = levels(&rows, "Subject");
    let fixed = days.iter().map(|&day| vec![(0, 1.0), (1, day)]).collect();
    let fit = Model::of(numbers(&rows, "Reaction"))
        .fixed(2, fixed)
        .random(Term::with_slopes(names.len(), &subject, &days))
        .fit(Likelihood::Restricted)
        .unwrap();
    let wanted = figures("e03", "expected.csv");
    let covariance = &fit.variances().terms[0];
    relative(covariance[0], wanted["var:Subject:(Intercept)"], 1e-4, "intercepts");
    relative(covariance[1], wanted["cov:Subject:(Intercept):Days"], 1e-4, "covariance");
    relative(covariance[3], wanted["var:Subject:Days"], 1e-4, "slopes");
    relative(fit.variances().residual, wanted["var:Residual"], 1e-4, "residual");
    for (effect, name) in ["(Intercept)", "Days"].into_iter().enumerate() {
        let got = fit.fixed(effect).unwrap();
        relative(got.value, wanted[&format!("beta:{name}")], 1e-6, name);
        relative(got.se.unwrap(), wanted[&format!("se:{name}")], 1e-4, name);
    }
    close(fit.ln_likelihood(), wanted["logLik"], 1e-6, "log-likelihood");
    check_effects(&fit, "e03", &["Subject"], &[names]);
}

/// A model of plants over a pedigree, by their own additive effects.
fn over_pedigree(
    garden: &Garden,
    rows: &[Row],
    [plant, factor, response]: [&str; 3],
) -> (Model, Vec<String>, trug::kinship::Descent) {
    let descent = garden.everybody();
    let of_record: Vec<usize> =
        rows.iter().map(|row| descent.place(garden.at(row.text(plant))).unwrap()).collect();
    let (names, of_factor) = levels(rows, factor);
    let model =
        Model::of(numbers(rows, response)).fixed_factors(&[(names.len(), &of_factor)]).random(
            Term::of_levels(descent.plants().len(), &of_record)
                .related(descent.inverse(), descent.ln_det()),
        );
    (model, names, descent)
}

#[test]
fn breeding_values_of_calves() {
    let pedigree: Vec<Row> = table("d01", "pedigree.csv")
        .into_iter()
        .map(|row| {
            let [id, sire, dam] = ["id", "sire", "dam"].map(|column| row.text(column).to_owned());
            let cells = [("id", id), ("parent1", sire), ("parent2", dam)];
            Row(cells.map(|(name, text)| (name.to_owned(), text)).into())
        })
        .collect();
    let garden = Garden::of(&pedigree, 2, 0.0);
    let rows = table("d01", "data.csv");
    let (model, sexes, descent) = over_pedigree(&garden, &rows, ["animal", "sex", "wwg"]);
    let fit = model.solve(&Variances { residual: 40.0, terms: vec![vec![20.0]] }).unwrap();
    for row in table("d01", "expected.csv") {
        let (level, wanted) = (row.text("level"), row.number("solution"));
        if row.text("effect") == "sex" {
            let sex = sexes.iter().position(|s| s == level).unwrap();
            let got = fit.fixed(sex).unwrap();
            close(got.value, wanted, 1e-6, level);
            close(got.se.unwrap(), row.number("SE"), 1e-6, level);
        } else {
            let at = descent.place(garden.at(level)).unwrap();
            close(fit.random(0, at), wanted, 1e-6, level);
            close(fit.error_variance(0, at), row.number("PEV"), 1e-6, level);
            close(fit.reliability(0, at, 1.0), row.number("reliability"), 1e-6, level);
        }
    }
}

#[test]
fn effects_of_unrelated_sires() {
    let rows = table("d04", "data.csv");
    let (sires, sire) = levels(&rows, "sire");
    let (environments, environment) = levels(&rows, "environment");
    let fit = Model::of(numbers(&rows, "y"))
        .fixed_factors(&[(environments.len(), &environment)])
        .random(Term::of_levels(sires.len(), &sire))
        .solve(&Variances { residual: 6.0, terms: vec![vec![2.0]] })
        .unwrap();
    let number = |names: &[String], level: &str| names.iter().position(|n| n == level).unwrap();
    for row in table("d04", "expected.csv") {
        let level = row.text("level");
        let got = match row.text("effect") {
            "sire" => fit.random(0, number(&sires, level)),
            _ => fit.fixed(number(&environments, level)).unwrap().value,
        };
        close(got, row.number("solution"), 1e-10, level);
    }
    let unknown = |name: &str| match name.split_at(1) {
        ("b", level) => Unknown::Fixed(number(&environments, level)),
        (_, level) => Unknown::Random { term: 0, effect: 0, level: number(&sires, level) },
    };
    for row in table("d04", "expected_Cinv_times_270.csv") {
        for column in ["b1", "b2", "u1", "u2", "u3"] {
            let got = fit.error_covariance(unknown(row.text("row")), unknown(column));
            close(got, row.number(column) * 6.0 / 270.0, 1e-10, column);
        }
    }
}

#[test]
fn breeding_values_at_ploidy_two_and_eight() {
    let rows = table("d06", "data.csv");
    for ploidy in [2, 8] {
        let garden = Garden::of(&table("d06", "pedigree.csv"), ploidy, 0.0);
        let (model, years, descent) = over_pedigree(&garden, &rows, ["id", "year", "y"]);
        let fit = model.solve(&Variances { residual: 3.0, terms: vec![vec![2.0]] }).unwrap();
        let expected = table("d06", "expected.csv");
        for row in expected.iter().filter(|row| row.text("ploidy").parse() == Ok(ploidy)) {
            let (level, wanted) = (row.text("level"), row.number("solution"));
            if row.text("effect") == "year" {
                let year = years.iter().position(|y| y == level).unwrap();
                close(fit.fixed(year).unwrap().value, wanted, 1e-7, level);
            } else {
                let at = descent.place(garden.at(level)).unwrap();
                close(fit.random(0, at), wanted, 1e-7, level);
                close(fit.error_variance(0, at), row.number("PEV"), 1e-7, level);
                let own = garden.relationship(level, level);
                close(fit.reliability(0, at, own), row.number("reliability"), 1e-7, level);
            }
        }
    }
}

/// Two crossed factors once as two terms, once as one term of two related blocks: the same
/// model, and so the same answer, wherever the relationship is used.
#[test]
fn a_relationship_does_what_two_terms_do() {
    let (model, names) = crossed("e04", "diameter", &["plate", "sample"]);
    let variances = Variances { residual: 0.3, terms: vec![vec![0.7], vec![3.5]] };
    let two = model.solve(&variances).unwrap();
    let rows = table("e04", "data.csv");
    let (plates, plate) = levels(&rows, "plate");
    let (_, sample) = levels(&rows, "sample");
    let shares = plate.iter().zip(&sample).map(|(&p, &s)| vec![(p, 1.0), (24 + s, 1.0)]).collect();
    let precision = |level: usize| -> f64 { if level < 24 { 1.0 } else { 0.7 / 3.5 } };
    let inverse: Vec<(usize, usize, f64)> =
        (0..30).map(|level| (level, level, precision(level))).collect();
    let ln_det: f64 = inverse.iter().map(|(_, _, x)| -x.ln()).sum();
    let one = Model::of(numbers(&rows, "diameter"))
        .random(Term::of_shares(30, shares).related(inverse, ln_det))
        .solve(&Variances { residual: 0.3, terms: vec![vec![0.7]] })
        .unwrap();
    close(one.ln_likelihood(), two.ln_likelihood(), 1e-9, "log-likelihood");
    let by_name: BTreeMap<&String, usize> = plates.iter().zip(0..).collect();
    for (level, name) in names[0].iter().enumerate() {
        close(one.random(0, by_name[name]), two.random(0, level), 1e-10, name);
        close(one.error_variance(0, by_name[name]), two.error_variance(0, level), 1e-10, name);
    }
}
