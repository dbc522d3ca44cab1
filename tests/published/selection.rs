//! Intensity of selection, the expected best of n, the selection index, response and usefulness.

use std::collections::BTreeMap;

use trug::stats::selection::{
    correlated_response, expected_rank, index, intensity, intensity_burrows, response, truncation,
    usefulness,
};

use super::{close, figures, table};

#[test]
fn intensity_in_an_endless_population() {
    for row in table("j01", "expected.csv") {
        let p = row.number("p");
        let got = truncation(p);
        if let Some(point) = row.some("truncation_x").filter(|x| x.is_finite()) {
            close(got.point, point, 1e-8, &format!("point at {p}"));
        }
        close(got.intensity, row.number("i"), 1e-8, &format!("intensity at {p}"));
        close(got.variance_lost, row.number("k_variance_reduction"), 1e-8, &format!("at {p}"));
    }
}

#[test]
fn the_expected_best_of_n() {
    for row in table("j02", "expected.csv") {
        let (n, rank) = (row.count("n"), row.count("rank_from_top"));
        let got = expected_rank(rank, n).unwrap();
        close(got, row.number("expected_value"), 1e-7, &format!("{rank} of {n}"));
    }
}

#[test]
fn intensity_in_a_small_population() {
    for row in table("j03", "expected.csv") {
        let (n, chosen) = (row.count("N"), row.count("n_selected"));
        let what = format!("{chosen} of {n}");
        close(intensity(chosen, n), row.number("i_exact"), 1e-6, &what);
        let all = truncation(f64::from(chosen) / f64::from(n)).intensity;
        close(all, row.number("i_infinite"), 1e-6, &what);
        close(intensity_burrows(chosen, n), row.number("i_burrows"), 1e-6, &what);
    }
}

#[test]
fn an_index_of_two_traits() {
    let rows = table("j05", "data.csv");
    let matrix = |name: &str| -> Vec<f64> {
        let rows = rows.iter().filter(|row| row.text("matrix") == name);
        rows.flat_map(|row| [row.number("ADG"), row.number("LP")]).collect()
    };
    let (p, g, weights) = (matrix("P"), matrix("G"), matrix("economic_weight"));
    let wanted = figures("j05", "expected.csv");
    let near = |got: f64, name: &str| close(got, wanted[name], 1e-8, name);

    let both = index(&p, &g, &g, &weights);
    near(both.factors[0], "ex17_b_ADG");
    near(both.factors[1], "ex17_b_LP");
    near(both.accuracy, "ex17_accuracy_r_IH");
    near(both.sd, "ex17_sd_index");
    near(both.responses[0], "response_ADG_i1");
    near(both.responses[1], "response_LP_i1");
    near(both.responses[0] * weights[0] + both.responses[1] * weights[1], "response_H_i1");

    let gain_only = index(&p, &[g[0], g[2]], &[g[0]], &[1.0]);
    near(gain_only.factors[0], "ex16_b_ADG");
    near(gain_only.factors[1], "ex16_b_LP");
    near(gain_only.accuracy, "ex16_accuracy_for_ADG");

    let lean_only = index(&p, &[g[1], g[3]], &[g[3]], &[1.0]);
    near(lean_only.factors[0], "subindex_LP_b_ADG");
    near(lean_only.factors[1], "subindex_LP_b_LP");
}

#[test]
fn response_and_usefulness() {
    let rows: BTreeMap<String, f64> = table("j06", "expected.csv")
        .iter()
        .map(|row| (row.text("case").to_owned(), row.number("value")))
        .collect();
    let near = |got: f64, case: &str| close(got, rows[case], 1e-6, case);
    near(response(truncation(0.1).intensity, 0.4, 34.0), "response_infinite_10pct");
    near(response(truncation(0.2).intensity, 0.4, 34.0), "response_infinite_20pct");
    near(response(intensity(3, 50), 0.4, 34.0), "response_best_3_of_50");
    near(
        correlated_response(1.4, [0.6, 0.5], 0.3, 10.0),
        "correlated_response_h_x0.6_h_y0.5_rA0.3_sigmaPy10_i1.4",
    );
    for (mean, sd, h, n) in [
        (50.0, 4.0, 0.8, 30),
        (55.0, 2.0, 0.8, 30),
        (50.0, 4.0, 0.8, 300),
        (55.0, 2.0, 0.8, 300),
        (52.0, 3.0, 0.5, 100),
    ] {
        let best = expected_rank(1, n).unwrap();
        near(usefulness(mean, best, h, sd), &format!("usefulness_mu{mean}_sg{sd}_h{h}_N{n}"));
    }
}
