//! Variance components from mean squares, regression on parents, combining ability.

use std::collections::BTreeMap;

use trug::stats::{
    anova::{self, MeanSquare, Nested},
    diallel::Combining,
    regression::line,
};

use super::{Row, close, figures, levels, table};

#[test]
fn half_sibs_and_full_sibs() {
    let rows = table("k01", "data.csv");
    let (_, male) = levels(&rows, "male");
    let (_, female) = levels(&rows, "female");
    let records: Vec<(usize, usize, f64)> =
        (0..rows.len()).map(|i| (male[i], female[i], rows[i].number("weight"))).collect();
    let nested = Nested::of(&records).unwrap();
    let wanted = figures("k01", "expected.csv");
    let near = |got: f64, name: &str| close(got, wanted[name], 1e-6, name);
    for (square, name) in nested.squares().into_iter().zip(["male", "female", "within"]) {
        near(square.value, &format!("MS_{name}"));
    }
    near(nested.groups.value * nested.groups.freedom, "SS_male");
    near(nested.families.value * nested.families.freedom, "SS_female_in_male");
    near(nested.within.value * nested.within.freedom, "SS_within");
    let components = nested.components();
    let squares = nested.squares();
    let mut total = [0.0; 3];
    for (factors, name) in components.iter().zip(["male", "female", "within"]) {
        let parts: Vec<(f64, MeanSquare)> = factors.iter().copied().zip(squares).collect();
        near(anova::combination(&parts).value, &format!("var_{name}"));
        for (sum, factor) in total.iter_mut().zip(factors) {
            *sum += factor;
        }
    }
    for (component, name) in components.iter().zip(["male", "female"]) {
        let h2 = anova::ratio(&squares, &component.map(|x| 4.0 * x), &total).unwrap();
        near(h2.value, &format!("h2_{name}"));
        near(h2.se.unwrap(), &format!("SE_h2_{name}_delta_df_plus_2"));
    }
    let both: Vec<f64> = (0..3).map(|i| 2.0 * (components[0][i] + components[1][i])).collect();
    near(anova::ratio(&squares, &both, &total).unwrap().value, "h2_fullsib_pooled");
}

#[test]
fn components_of_a_factorial_and_a_half_diallel() {
    let squares: BTreeMap<String, MeanSquare> = table("k06", "data.csv")
        .iter()
        .map(|row| {
            let name = format!("{} {}", row.text("design"), row.text("source"));
            (name, MeanSquare { value: row.number("MS"), freedom: row.number("df") })
        })
        .collect();
    let wanted: BTreeMap<String, Row> = table("k06", "expected.csv")
        .into_iter()
        .map(|row| (row.text("quantity").to_owned(), row))
        .collect();
    let near = |got: f64, name: &str, printed: f64| {
        close(got, wanted[name].number("value"), 1e-7, name);
        close(got, wanted[name].number("published"), printed, name);
    };
    let beetle = |source: &str| squares[&format!("tribolium_2x2_factorials {source}")];
    let error = beetle("error");
    for (name, square, minus, n) in [
        ("sire", beetle("sire"), beetle("interaction"), 16.0),
        ("dam", beetle("dam"), beetle("interaction"), 16.0),
        ("interaction", beetle("interaction"), error, 8.0),
    ] {
        let variance = anova::combination(&[(1.0 / n, square), (-1.0 / n, minus)]);
        near(variance.value, &format!("var_{name}"), 0.001);
        near(variance.se.unwrap(), &format!("SE_var_{name}"), 0.001);
        near(square.value / minus.value, &format!("F_{name}"), 0.001);
    }
    near(anova::combination(&[(1.0, error)]).se.unwrap(), "SE_var_error", 0.001);
    let oyster = |source: &str| squares[&format!("oyster_half_diallel_6 {source}")];
    let part = |x: &str, y: &str, n: f64| {
        anova::combination(&[(1.0 / n, oyster(x)), (-1.0 / n, oyster(y))]).value
    };
    let general = part("GCA", "SCA", 9.0 * 4.0);
    near(general, "oyster_var_GCA", 0.02);
    near(part("SCA", "error", 9.0), "oyster_var_SCA", 0.02);
    near(4.0 * general / 1.375, "oyster_sigma2A_f_0.375", 0.02);
}

#[test]
fn children_on_the_mean_of_their_parents() {
    let points: Vec<(f64, f64)> = table("k03", "data.csv")
        .iter()
        .map(|row| (row.number("parent"), row.number("child")))
        .collect();
    let line = line(&points).unwrap();
    let wanted = figures("k03", "expected.csv");
    let near = |got: f64, name: &str| close(got, wanted[name], 1e-8, name);
    near(line.n as f64, "n");
    near(line.intercept, "intercept");
    near(line.slope.value, "slope_h2");
    near(line.slope.se.unwrap(), "SE_slope");
    near(line.correlation, "correlation");
}

/// The means of crosses over whatever else a table has, with the parents' names.
fn means(rows: &[Row], columns: [&str; 3]) -> (Vec<String>, Vec<(usize, usize, f64)>) {
    let [one, other, value] = columns;
    let mut sums: BTreeMap<(&str, &str), (f64, f64)> = BTreeMap::new();
    for row in rows {
        let sum = sums.entry((row.text(one), row.text(other))).or_default();
        *sum = (sum.0 + row.number(value), sum.1 + 1.0);
    }
    let mut names: Vec<String> = sums.keys().flat_map(|&(a, b)| [a.into(), b.into()]).collect();
    names.sort();
    names.dedup();
    let at = |name: &str| names.iter().position(|other| other == name).unwrap();
    let crosses = sums.iter().map(|(&(a, b), (sum, n))| (at(a), at(b), sum / n)).collect();
    (names, crosses)
}

/// Compares every effect of a table that the abilities have.
fn check(found: &Combining, names: &[String], check: &str, file: &str, within: f64) {
    let at = |name: &str| names.iter().position(|other| other == name).unwrap();
    for row in table(check, file) {
        let pair = || {
            let parents = ["parent_i", "parent_j"].map(|column| at(row.text(column)));
            let sorted = [parents[0].min(parents[1]), parents[0].max(parents[1])];
            let pair = found.pairs.iter().find(|pair| pair.parents == sorted).unwrap();
            (*pair, if parents[0] > parents[1] { -1.0 } else { 1.0 })
        };
        let got = match row.text("what") {
            "mean" => found.mean,
            "gca" => found.general[at(row.text("parent_i"))],
            "sca" | "residual_sca" => pair().0.specific,
            "reciprocal" => pair().1 * pair().0.reciprocal.unwrap(),
            _ => continue,
        };
        let what = ["what", "parent_i", "parent_j"].map(|column| row.text(column)).join(" ");
        close(got, row.number("value"), within, &what);
    }
}

#[test]
fn a_full_diallel() {
    let rows = table("f01", "data.csv");
    let (names, crosses) = means(&rows, ["parent1", "parent2", "yield"]);
    let found = Combining::of(names.len(), &crosses).unwrap();
    check(&found, &names, "f01", "expected.csv", 1e-6);
    let wanted: BTreeMap<String, f64> = table("f01", "expected.csv")
        .iter()
        .map(|row| (row.text("what").to_owned(), row.number("value")))
        .collect();
    let variance = wanted["SS_error"] / wanted["df_error"] / 4.0;
    close(found.general_se(0, variance), wanted["SE_gca"], 1e-6, "error of a general ability");
    close(found.general_se(5, variance), wanted["SE_gca"], 1e-6, "error of a general ability");
    let squares: f64 = found.general.iter().map(|g| g * g).sum();
    close(4.0 * 2.0 * 6.0 * squares, wanted["SS_gca"], 1e-6, "squares of the general abilities");
}

#[test]
fn a_half_diallel_complete_and_with_crosses_missing() {
    let columns = ["male", "female", "yield"];
    let (names, crosses) = means(&table("f02", "data.csv"), columns);
    let found = Combining::of(names.len(), &crosses).unwrap();
    check(&found, &names, "f02", "expected.csv", 1e-8);
    let columns = ["male", "female", "mean_yield"];
    let (names, crosses) = means(&table("f02", "data_missing.csv"), columns);
    let found = Combining::of(names.len(), &crosses).unwrap();
    check(&found, &names, "f02", "expected_missing.csv", 1e-8);
}
