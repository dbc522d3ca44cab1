//! Binomial mixed models.

use trug::stats::{
    glmm::{BinomialModel, Link},
    mixed::Term,
};

use super::{close, figures, levels, table};

#[test]
fn herds_with_a_random_effect() {
    let rows = table("e06", "data.csv");
    let (herds, herd) = levels(&rows, "herd");
    let counts = rows.iter().map(|row| (row.count("incidence"), row.count("size"))).collect();
    let fixed = rows
        .iter()
        .map(|row| match row.text("period").parse().unwrap() {
            1_usize => vec![(0, 1.0)],
            period => vec![(0, 1.0), (period - 1, 1.0)],
        })
        .collect();
    let fit = BinomialModel::of(Link::Logit, counts)
        .fixed(4, fixed)
        .random(Term::of_levels(herds.len(), &herd))
        .fit()
        .unwrap();
    let wanted = figures("e06", "expected.csv");
    let near = |got: f64, name: &str| close(got, wanted[name], 1e-3 * wanted[name].abs(), name);
    near(fit.variances[0], "var:herd:(Intercept)");
    for (effect, name) in ["(Intercept)", "period2", "period3", "period4"].iter().enumerate() {
        near(fit.fixed[effect].value, &format!("beta:{name}"));
        near(fit.fixed[effect].se.unwrap(), &format!("se:{name}"));
    }
    close(fit.ln_likelihood, wanted["logLik"], 1e-5, "log-likelihood");
    let variances = fit.random_variances(0);
    for row in table("e06", "expected_ranef.csv") {
        let level = herds.iter().position(|name| name == row.text("level")).unwrap();
        let effect = row.number("ranef");
        close(fit.random(0, level), effect, 1e-3 * effect.abs(), row.text("level"));
        let sd = row.number("condSD");
        close(variances[level].sqrt(), sd, 1e-3 * sd, row.text("level"));
    }
}

#[test]
fn herds_that_do_not_differ_have_a_spread_of_nothing() {
    let (counts, herd): (Vec<(u32, u32)>, Vec<usize>) =
        (0..24).map(|i| ((8 + u32::try_from(i % 2).unwrap(), 20), i / 2)).unzip();
    for link in [Link::Logit, Link::Probit] {
        let fit = BinomialModel::of(link, counts.clone())
            .random(Term::of_levels(12, &herd))
            .fit()
            .unwrap();
        assert!(fit.variances[0] < 1e-12, "{}", fit.variances[0]);
        assert!((link.chance(fit.fixed[0].value) - 8.5 / 20.0).abs() < 1e-6);
        assert!(fit.random(0, 3).abs() < 1e-12 && fit.fixed[0].se.is_some());
    }
}

#[test]
fn of_two_crossed_terms_each_has_its_own_spread_whichever_comes_first() {
    let cells = (0..48_usize).map(|cell| (cell % 6, cell / 6));
    // Rows differ by much and columns by little.
    let counts: Vec<(u32, u32)> = cells
        .clone()
        .map(|(row, column)| {
            let kept = 4 + 2 * row + column % 3;
            (u32::try_from(kept).unwrap(), 20)
        })
        .collect();
    let (rows, columns): (Vec<usize>, Vec<usize>) = cells.unzip();
    let term = |n, levels: &[usize]| Term::of_levels(n, levels);
    let fit = |terms: [Term; 2]| {
        let model = BinomialModel::of(Link::Logit, counts.clone());
        terms.into_iter().fold(model, BinomialModel::random).fit().unwrap()
    };
    let one = fit([term(6, &rows), term(8, &columns)]);
    let other = fit([term(8, &columns), term(6, &rows)]);
    assert!(one.variances[0] > 0.3 && one.variances[1] < 0.1, "{:?}", one.variances);
    close(one.variances[0], other.variances[1], 1e-4, "rows");
    close(one.variances[1], other.variances[0], 1e-4, "columns");
    close(one.ln_likelihood, other.ln_likelihood, 1e-5, "log-likelihood");
}
