//! Inbreeding, coancestry, the inverse relationship matrix and loops.

use std::collections::{BTreeMap, BTreeSet};

use trug::{
    book::{Candidate, Cross, Father, Lot, Parent, PlantId, Pollen, Seedling, Variety},
    kinship::{Descent, Inheritance},
    stats::dense::Factor,
};

use super::{
    Row, close, figures,
    garden::{Garden, parent},
    table,
};

/// The inverse as a whole matrix, by rows.
fn inverse(descent: &Descent) -> Vec<f64> {
    let n = descent.plants().len();
    let mut whole = vec![0.0; n * n];
    for (row, column, value) in descent.inverse() {
        whole[row * n + column] += value;
        if row != column {
            whole[column * n + row] += value;
        }
    }
    whole
}

fn trace(matrix: &[f64], n: usize) -> f64 {
    (0..n).map(|i| matrix[i * n + i]).sum()
}

#[test]
fn a_small_pedigree_and_its_inverse() {
    let garden = Garden::of(&table("a01", "data.csv"), 2, 0.0);
    for row in table("a01", "expected_F.csv") {
        let id = row.text("id");
        close(garden.inbreeding(id), row.number("F"), 1e-9, id);
        let sampling = garden.kinship.sampling(garden.at(id));
        close(sampling, row.number("D_mendelian"), 1e-9, id);
    }
    let descent = garden.everybody();
    let whole = inverse(&descent);
    for row in table("a01", "expected.csv") {
        let (a, b) = (row.text("row"), row.text("col"));
        close(garden.relationship(a, b), row.number("A"), 1e-9, &format!("{a} {b}"));
        let place = |key| descent.place(garden.at(key)).unwrap();
        let got = whole[place(a) * descent.plants().len() + place(b)];
        close(got, row.number("Ainv"), 1e-9, &format!("inverse at {a} {b}"));
    }
}

#[test]
fn regular_systems_of_mating() {
    let rows = table("a02", "data.csv");
    let expected = table("a02", "expected.csv");
    let mut seen = 0;
    for system in ["selfing", "full_sib", "backcross_noninbred", "offspring_x_younger_parent"] {
        let of = |row: &&Row| row.text("system") == system;
        let varieties = rows.iter().filter(of).map(|row| Variety {
            id: row.text("pedigree_id").into(),
            seed: parent(row.text("parent1")),
            pollen: parent(row.text("parent2")),
            ..Variety::default()
        });
        let garden = Garden::new(varieties.collect(), 2, 0.0);
        for row in rows.iter().filter(of) {
            if let Some(t) = row.some("is_monitored_generation") {
                let wanted = expected.iter().find(|e| e.text("t").parse() == Ok(t)).unwrap();
                let what = format!("{system} {t}");
                close(
                    garden.inbreeding(row.text("pedigree_id")),
                    wanted.number(system),
                    1e-10,
                    &what,
                );
                seen += 1;
            }
        }
    }
    assert!(seen > 60);
}

/// The two systems of mating whose pedigrees are too long to be listed with the others: (name,
/// parents) of every plant, and for each generation watched its number and the plant.
pub(crate) struct System {
    pub(crate) column: &'static str,
    pub(crate) plants: Vec<[String; 3]>,
    pub(crate) watched: Vec<(u32, String)>,
}

const GENERATIONS: u32 = 20;

/// Half sibs: one sire a generation, and dams that are half sisters of each other and of him. Each
/// of a generation has a dam of its own, so that every generation is smaller by one.
fn half_sibs() -> System {
    let first = GENERATIONS + 2;
    let name = |t: u32, i: u32| format!("s{t}-{i}");
    let mut plants: Vec<[String; 3]> =
        (0..first).map(|i| [name(0, i), String::new(), String::new()]).collect();
    for t in 1..first {
        plants.extend((0..first - t).map(|i| [name(t, i), name(t - 1, i + 1), name(t - 1, 0)]));
    }
    let watched = (0..=GENERATIONS).map(|t| (t, name(t + 1, 0))).collect();
    System { column: "half_sib", plants, watched }
}

/// Crossed back again and again to a line selfed until nothing in it differs any more.
fn backcross_to_a_line() -> System {
    let line = |t: u32| format!("l{t}");
    let mut plants = vec![[line(0), String::new(), String::new()]];
    plants.extend((1..=60).map(|t| [line(t), line(t - 1), line(t - 1)]));
    plants.push(["other".to_owned(), String::new(), String::new()]);
    plants.push(["b0".to_owned(), line(60), "other".to_owned()]);
    plants.extend((1..=GENERATIONS).map(|t| [format!("b{t}"), line(60), format!("b{}", t - 1)]));
    let watched = (0..=GENERATIONS).map(|t| (t, format!("b{t}"))).collect();
    System { column: "backcross_inbred_line", plants, watched }
}

pub(crate) fn long_systems() -> [System; 2] {
    [half_sibs(), backcross_to_a_line()]
}

#[test]
fn half_sibs_and_backcrosses_to_an_inbred_line() {
    let expected = table("a02", "expected.csv");
    for System { column, plants, watched } in long_systems() {
        let varieties = plants.iter().map(|[id, seed, pollen]| Variety {
            id: (&**id).into(),
            seed: parent(seed),
            pollen: parent(pollen),
            ..Variety::default()
        });
        let garden = Garden::new(varieties.collect(), 2, 0.0);
        for (t, plant) in watched {
            let wanted = expected.iter().find(|e| e.text("t").parse() == Ok(t)).unwrap();
            close(
                garden.inbreeding(&plant),
                wanted.number(column),
                1e-10,
                &format!("{column} {t}"),
            );
        }
    }
}

#[test]
fn the_loops_of_roan_gauntlet() {
    let garden = Garden::of(&table("a03", "data.csv"), 2, 0.0);
    for row in table("a03", "expected_F.csv") {
        close(garden.inbreeding(row.text("id")), row.number("F"), 1e-12, row.text("id"));
    }
    for row in table("a03", "expected.csv") {
        let (a, b) = (row.text("row"), row.text("col"));
        close(garden.relationship(a, b), row.number("A"), 1e-12, &format!("{a} {b}"));
    }
    close(garden.coancestry("Mimulus", "Carmine"), 1.0 / 32.0, 1e-12, "Mimulus and Carmine");

    let name = |plant: &Option<PlantId>| garden.book.plant(plant.unwrap()).key().to_owned();
    let [sire, dam] = ["Royal Duke of Gloster", "Princess Royal"].map(|key| garden.at(key));
    let ways = garden.kinship.ways(sire, dam, 50);
    let got: BTreeSet<String> = ways
        .listed
        .iter()
        .map(|way| {
            let mut up: Vec<String> = way.plants[..=way.top].iter().map(name).collect();
            up.reverse();
            let down: Vec<String> = way.plants[way.top..].iter().map(name).collect();
            format!("{} | {} = {}", up.join(" > "), down.join(" > "), way.contribution)
        })
        .collect();
    let wanted: BTreeSet<String> = table("a03", "expected_paths.csv")
        .iter()
        .map(|row| format!("{} = {}", row.text("path"), row.number("contribution")))
        .collect();
    assert_eq!(got, wanted);
    assert_eq!((ways.count, ways.complete), (4, true));
    close(ways.total, 9.0 / 64.0, 1e-12, "all loops together");
}

#[test]
fn a_shuffled_pedigree_of_eighty() {
    let garden = Garden::of(&table("a06", "data.csv"), 2, 0.0);
    for row in table("a06", "expected.csv") {
        let id = row.text("id");
        close(garden.inbreeding(id), row.number("F"), 1e-10, id);
        let sampling = garden.kinship.sampling(garden.at(id));
        close(sampling, row.number("mendelian_D"), 1e-10, id);
    }
    for row in table("a06", "expected_coancestry.csv") {
        let (a, b) = (row.text("id1"), row.text("id2"));
        close(garden.coancestry(a, b), row.number("coancestry"), 1e-10, &format!("{a} {b}"));
    }
    let wanted = figures("a06", "expected_summary.csv");
    let near = |got: f64, name: &str| close(got, wanted[name], 1e-7, name);
    near(garden.mean_inbreeding(), "mean_F");
    let descent = garden.everybody();
    let whole = inverse(&descent);
    near(descent.ln_det(), "log_det_A");
    near(trace(&whole, 80), "trace_Ainv");
    near(whole.iter().sum(), "sum_Ainv");
    let set: Vec<(PlantId, f64)> = garden.book.plants().map(|plant| (plant, 1.0)).collect();
    let mean = garden.kinship.mean_coancestry(&set).unwrap();
    close(mean, wanted["mean_coancestry_all_pairs_incl_self"], 1e-10, "mean coancestry");
}

#[test]
fn three_thousand_real_people() {
    let rows = table("a08", "data.csv");
    let garden = Garden::of(&rows, 2, 0.0);
    let inbred: BTreeMap<String, f64> = table("a08", "expected.csv")
        .iter()
        .map(|row| (row.text("id").to_owned(), row.number("F")))
        .collect();
    for row in &rows {
        let id = row.text("id");
        close(garden.inbreeding(id), inbred.get(id).copied().unwrap_or_default(), 1e-12, id);
    }
    let wanted = figures("a08", "expected_summary.csv");
    close(garden.book.n_plants() as f64, wanted["n"], 0.0, "people");
    close(garden.mean_inbreeding(), wanted["mean_F"], 1e-12, "mean F");
    close(garden.everybody().ln_det(), wanted["sum_log_D"], 1e-6, "ln det A");
    let set: Vec<(PlantId, f64)> = garden.book.plants().map(|plant| (plant, 1.0)).collect();
    let mean = garden.kinship.mean_coancestry(&set).unwrap();
    close(2.0 * mean, wanted["mean_A"], 1e-10, "mean A");
}

#[test]
fn selfing_and_full_sib_mating_at_every_ploidy() {
    for ploidy in [2, 4, 6, 8] {
        let selfed = Garden::of(&table("b01", "data_selfing.csv"), ploidy, 0.0);
        for row in table("b01", "expected_selfing.csv") {
            let t = row.text("t");
            let wanted = row.number(&format!("F_ploidy{ploidy}"));
            close(selfed.inbreeding(&format!("g{t}")), wanted, 1e-10, &format!("{ploidy}x {t}"));
        }
        let sibs = Garden::of(&table("b01", "data_fullsib.csv"), ploidy, 0.0);
        for row in table("b01", "expected_fullsib.csv") {
            let t = row.text("t");
            let [m, f] = ["m", "f"].map(|side| format!("{side}{t}"));
            let wanted = row.number(&format!("F_ploidy{ploidy}"));
            close(sibs.inbreeding(&m), wanted, 1e-10, &format!("{ploidy}x {t}"));
            let wanted = row.number(&format!("coancestry_sibs_ploidy{ploidy}"));
            close(sibs.coancestry(&m, &f), wanted, 1e-10, &format!("{ploidy}x sibs {t}"));
        }
        let rules = Inheritance::new(ploidy, 0.0).unwrap();
        close(rules.full_sib_mating(), sibs.inbreeding("m1"), 1e-12, "full-sib mating");
    }
}

fn fraction(text: &str) -> f64 {
    let number = |t: &str| t.parse::<f64>().unwrap();
    text.split_once('/').map_or_else(|| number(text), |(over, under)| number(over) / number(under))
}

#[test]
fn double_reduction_at_every_ploidy() {
    let rows = table("b03", "data.csv");
    let garden_of = |row: &Row| {
        let ploidy = row.text("ploidy").parse().unwrap();
        Garden::of(&rows, ploidy, fraction(row.text("alpha")))
    };
    for row in table("b03", "expected_F.csv") {
        close(garden_of(&row).inbreeding(row.text("id")), row.number("F"), 1e-10, "F");
    }
    for row in table("b03", "expected_kinship.csv") {
        let (a, b) = (row.text("id1"), row.text("id2"));
        close(garden_of(&row).coancestry(a, b), row.number("coancestry"), 1e-10, "coancestry");
    }
    for row in table("b03", "expected_series.csv") {
        let alpha = fraction(row.text("alpha"));
        let ploidy = row.text("ploidy").parse().unwrap();
        let t = row.text("t");
        let selfed = Garden::of(&table("b01", "data_selfing.csv"), ploidy, alpha);
        close(selfed.inbreeding(&format!("g{t}")), row.number("F_selfing"), 1e-10, "selfing");
        let sibs = Garden::of(&table("b01", "data_fullsib.csv"), ploidy, alpha);
        close(sibs.inbreeding(&format!("m{t}")), row.number("F_fullsib"), 1e-10, "full sibs");
    }
}

#[test]
fn a_shuffled_pedigree_of_sixty_at_ploidy_eight() {
    let garden = Garden::of(&table("b04", "data.csv"), 8, 0.0);
    for row in table("b04", "expected.csv") {
        let id = row.text("id");
        close(garden.inbreeding(id), row.number("F"), 1e-10, id);
        close(garden.relationship(id, id), row.number("A_diag"), 1e-10, id);
    }
    for row in table("b04", "expected_coancestry.csv") {
        let (a, b) = (row.text("id1"), row.text("id2"));
        close(garden.coancestry(a, b), row.number("coancestry"), 1e-10, &format!("{a} {b}"));
    }
    let wanted = figures("b04", "expected_summary.csv");
    let near = |got: f64, name: &str| close(got, wanted[name], 1e-7, name);
    near(garden.mean_inbreeding(), "mean_F");
    let descent = garden.everybody();
    let whole = inverse(&descent);
    near(descent.ln_det(), "log_det_A");
    near(trace(&whole, 60), "trace_Ainv");
    near(whole.iter().sum(), "sum_Ainv");
}

/// The varieties of the check on uncertain parents, candidate by candidate.
fn with_candidates() -> Vec<Variety> {
    let mut varieties: BTreeMap<String, Variety> = BTreeMap::new();
    for row in table("c01", "data.csv") {
        let id = row.text("id");
        let variety = varieties.entry(id.to_owned()).or_default();
        variety.id = id.into();
        let key = row.text("candidate_parent");
        if key.is_empty() {
            continue;
        }
        let weight = fraction(row.text("probability"));
        let side = if row.text("side") == "1" { &mut variety.seed } else { &mut variety.pollen };
        let candidate = Candidate { key: key.into(), weight };
        match side {
            Parent::OneOf(list) => list.push(candidate),
            _ => *side = Parent::OneOf(vec![candidate]),
        }
    }
    varieties.into_values().collect()
}

#[test]
fn uncertain_parents_average_the_relationship() {
    for ploidy in [2, 4, 8] {
        let garden = Garden::new(with_candidates(), ploidy, 0.0);
        let descent = garden.everybody();
        let n = descent.plants().len();
        let whole = inverse(&descent);
        let of = |row: &&Row| row.text("ploidy").parse() == Ok(ploidy);
        for row in table("c01", "expected_F.csv").iter().filter(of) {
            close(garden.inbreeding(row.text("id")), row.number("F"), 1e-10, row.text("id"));
        }
        for row in table("c01", "expected.csv").iter().filter(of) {
            let (a, b) = (row.text("id1"), row.text("id2"));
            let what = format!("{ploidy}x {a} {b}");
            close(garden.coancestry(a, b), row.number("coancestry"), 1e-10, &what);
            close(garden.relationship(a, b), row.number("A_average"), 1e-10, &what);
            let place = |key| descent.place(garden.at(key)).unwrap();
            let got = whole[place(a) * n + place(b)];
            close(got, row.number("A_average_inverse"), 1e-10, &what);
        }
        assert_eq!(Factor::of(&whole, n).rank(), n);
    }
}

#[test]
fn one_unnamed_father_makes_full_sibs_and_each_his_own_does_not() {
    for row in table("c03", "expected.csv") {
        let ploidy = row.text("ploidy").parse().unwrap();
        for (father, column) in [(Father::One, "A_same"), (Father::Each, "A_independent")] {
            let founders = ["M", "P", "Q"];
            let varieties = founders.map(|id| Variety { id: id.into(), ..Variety::default() });
            let candidate = |key: &str| Candidate { key: key.into(), weight: 0.5 };
            let seedling = |number: &str| Seedling {
                number: number.into(),
                lot: Some("lot".into()),
                ..Seedling::default()
            };
            let lot =
                Lot { code: "lot".into(), father: Some(father), seeds: None, diary: Vec::new() };
            let cross = Cross {
                seed: Parent::Known("M".into()),
                pollen: Pollen::From(Parent::OneOf(vec![candidate("P"), candidate("Q")])),
                lots: vec![lot],
                seedlings: vec![seedling("1"), seedling("2")],
                ..Cross::default()
            };
            let garden = Garden::with_crosses(varieties.into(), vec![cross], ploidy, 0.0);
            close(garden.relationship("1", "2"), row.number(column), 1e-12, column);
            close(garden.relationship("1", "P"), 0.25, 1e-12, "to a candidate");
            close(garden.inbreeding("1"), 0.0, 1e-12, "F");
        }
    }
}
