//! What must hold for every garden.

use proptest::prelude::*;
use trug::{
    book::{Book, Parent, PlantId, Variety},
    lineage::Pedigree,
    stats::dense::{Factor, dot, times},
};

use super::{book, kinship, lay_out, plans};

fn ploidies() -> impl Strategy<Value = (u8, f64)> {
    prop_oneof![
        Just((2, 0.0)),
        Just((4, 0.0)),
        Just((4, 0.1)),
        Just((6, 0.0)),
        Just((8, 0.0)),
        Just((8, 1.0 / 15.0))
    ]
}

fn everybody(book: &Book) -> Vec<PlantId> {
    book.plants().collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn coancestry_is_symmetric_within_bounds_and_semi_definite(
        plans in plans(), (v, alpha) in ploidies(), weights in proptest::collection::vec(-1.0..1.0, 40)
    ) {
        let (varieties, crosses) = lay_out(&plans);
        let book = book(varieties, crosses);
        let kinship = kinship(&book, v, alpha);
        let all = everybody(&book);
        let n = all.len();
        let theta = kinship.matrix(&all);
        for (i, &a) in all.iter().enumerate() {
            let inbreeding = kinship.inbreeding(a);
            prop_assert!((-1e-12..=1.0 + 1e-12).contains(&inbreeding));
            prop_assert!(theta[i * n + i] >= 1.0 / f64::from(v) - 1e-12);
            prop_assert!(kinship.sampling(a) >= 0.0);
            for (j, &b) in all.iter().enumerate() {
                let here = theta[i * n + j];
                prop_assert!((here - theta[j * n + i]).abs() < 1e-12);
                prop_assert!((here - kinship.coancestry(a, b)).abs() < 1e-12);
                prop_assert!(here >= 0.0);
                prop_assert!(here <= (theta[i * n + i] * theta[j * n + j]).sqrt() + 1e-12);
            }
        }
        let x: Vec<f64> = (0..n).map(|i| weights[i % weights.len()]).collect();
        prop_assert!(dot(&x, &times(&theta, &x)) > -1e-12);
    }

    #[test]
    fn the_loops_behind_a_plant_and_what_its_parents_were_add_up_to_its_f(
        plans in plans(), (v, alpha) in ploidies()
    ) {
        let (varieties, crosses) = lay_out(&plans);
        let book = book(varieties, crosses);
        let pedigree = Pedigree::of(&book);
        let kinship = kinship(&book, v, alpha);
        let e = kinship.rules().share_of_coancestry();
        for plant in book.plants() {
            let loops = kinship.loops(plant);
            let through: f64 = loops.through.iter().map(|(_, adds)| adds).sum();
            prop_assert!((through + loops.in_parents - kinship.inbreeding(plant)).abs() < 1e-12);
            prop_assert!(loops.through.iter().all(|&(_, adds)| adds > 0.0));
            let parents = pedigree.parents(plant);
            for &(child, parent) in &loops.steps {
                prop_assert!(pedigree.parents(child).all().any(|link| link.plant == parent));
            }
            let (Some(seed), Some(pollen)) = (parents.known_seed(), parents.known_pollen()) else {
                continue;
            };
            // What the ways between its parents add, listed one by one.
            let ways = kinship.ways(seed, pollen, usize::MAX);
            for &(through, adds) in &loops.through {
                let same = ways.listed.iter().filter(|way| way.through() == through);
                let listed: f64 = same.map(|way| e * way.contribution).sum();
                prop_assert!((listed - adds).abs() < 1e-12);
            }
            let own = |plant| kinship.inbreeding(plant);
            let unrelated = kinship.rules().offspring([own(seed), own(pollen)], 0.0);
            prop_assert!((loops.in_parents - unrelated).abs() < 1e-12);
        }
    }

    #[test]
    fn the_inverse_written_from_the_pedigree_is_the_inverse(plans in plans(), (v, alpha) in ploidies()) {
        let (varieties, crosses) = lay_out(&plans);
        let book = book(varieties, crosses);
        let kinship = kinship(&book, v, alpha);
        let descent = kinship.descent(book.plants());
        let n = descent.plants().len();
        let mut inverse = vec![0.0; n * n];
        for (row, column, value) in descent.inverse() {
            inverse[row * n + column] += value;
            if row != column {
                inverse[column * n + row] += value;
            }
        }
        let factor = Factor::of(&inverse, n);
        prop_assert!((factor.ln_det() + descent.ln_det()).abs() < 1e-6);
        let back = factor.inverse();
        for a in book.plants() {
            for b in book.plants() {
                let at = descent.place(a).unwrap() * n + descent.place(b).unwrap();
                prop_assert!((back[at] - kinship.relationship(a, b)).abs() < 1e-7);
            }
        }
    }

    #[test]
    fn neither_the_order_of_the_records_nor_a_stranger_changes_anything(plans in plans()) {
        let (mut varieties, mut crosses) = lay_out(&plans);
        let one = book(varieties.clone(), crosses.clone());
        crosses.reverse();
        varieties.push(Variety { id: "stranger".into(), ..Variety::default() });
        varieties.reverse();
        let other = book(varieties, crosses);
        let (here, there) = (kinship(&one, 8, 0.0), kinship(&other, 8, 0.0));
        let also = |plant| other.by_key(one.plant(plant).key()).unwrap();
        for a in one.plants() {
            prop_assert!((here.inbreeding(a) - there.inbreeding(also(a))).abs() < 1e-12);
            for b in one.plants() {
                let (x, y) = (here.coancestry(a, b), there.coancestry(also(a), also(b)));
                prop_assert!((x - y).abs() < 1e-12);
            }
            let stranger = other.by_key("stranger").unwrap();
            prop_assert!(there.coancestry(stranger, also(a)).abs() < 1e-15);
        }
    }

    #[test]
    fn the_ways_between_two_plants_sum_to_their_coancestry(plans in plans(), (v, alpha) in ploidies()) {
        let (varieties, crosses) = lay_out(&plans);
        let book = book(varieties, crosses);
        let kinship = kinship(&book, v, alpha);
        let all = everybody(&book);
        for &a in all.iter().rev().take(4) {
            for &b in &all {
                let ways = kinship.ways(a, b, 5_000);
                prop_assert!(ways.complete);
                let sum: f64 = ways.listed.iter().map(|way| way.contribution).sum();
                if ways.count <= 5_000 {
                    prop_assert_eq!(ways.listed.len() as u64, ways.count);
                    prop_assert!((sum - ways.total).abs() < 1e-12);
                }
                for pair in ways.listed.windows(2) {
                    prop_assert!(pair[0].contribution >= pair[1].contribution - 1e-15);
                }
                for way in &ways.listed {
                    prop_assert_eq!(way.plants.first(), Some(&Some(a)));
                    prop_assert_eq!(way.plants.last(), Some(&Some(b)));
                }
            }
        }
    }

    #[test]
    fn everything_comes_from_founders(plans in plans()) {
        let (varieties, crosses) = lay_out(&plans);
        let book = book(varieties, crosses);
        let kinship = kinship(&book, 4, 0.0);
        for plant in book.plants() {
            let shares = kinship.founders(plant);
            let sum: f64 = shares.iter().map(|share| share.share).sum();
            prop_assert!((sum - 1.0).abs() < 1e-9);
            prop_assert!(shares.iter().all(|share| share.share > 0.0));
        }
        let set: Vec<(PlantId, f64)> = book.plants().map(|plant| (plant, 2.0)).collect();
        let founders = kinship.effective_founders(&set).unwrap();
        prop_assert!(founders >= 1.0 - 1e-12 && founders <= 1.0 + set.len() as f64 * 2.0);
    }

    #[test]
    fn the_mean_of_a_set_is_the_mean_of_its_matrix(plans in plans()) {
        let (varieties, crosses) = lay_out(&plans);
        let book = book(varieties, crosses);
        let kinship = kinship(&book, 8, 0.0);
        let all = everybody(&book);
        let set: Vec<(PlantId, f64)> = all.iter().map(|&p| (p, 1.0 + f64::from(p.0))).collect();
        let theta = kinship.matrix(&all);
        let weights: Vec<f64> = set.iter().map(|(_, weight)| *weight).collect();
        let whole: f64 = weights.iter().sum();
        let wanted = dot(&weights, &times(&theta, &weights)) / (whole * whole);
        let got = kinship.mean_coancestry(&set).unwrap();
        prop_assert!((got - wanted).abs() < 1e-12);
    }

    #[test]
    fn a_pairing_foretells_its_offspring(plans in plans(), (v, alpha) in ploidies(), s in any::<u8>(), p in any::<u8>()) {
        let (varieties, mut crosses) = lay_out(&plans);
        let before = book(varieties.clone(), crosses.clone());
        let all = everybody(&before);
        let (s, p) = (all[usize::from(s) % all.len()], all[usize::from(p) % all.len()]);
        let column = kinship(&before, v, alpha);
        let column = column.column(s);
        let key = |plant| Parent::Known(before.plant(plant).key().into());
        crosses.push(trug::book::Cross {
            code: "next".into(),
            seed: key(s),
            pollen: trug::book::Pollen::From(key(p)),
            seedlings: vec![trug::book::Seedling { number: "new".into(), ..Default::default() }],
            ..Default::default()
        });
        let after = book(varieties, crosses);
        let then = kinship(&after, v, alpha);
        let new = after.by_key("new").unwrap();
        prop_assert!((column.inbreeding_of_offspring(p) - then.inbreeding(new)).abs() < 1e-12);
        prop_assert!((column.sampling_of_offspring(p) - then.sampling(new)).abs() < 1e-12);
    }
}

#[test]
fn plants_that_are_their_own_ancestors_count_as_founders_and_are_named() {
    let variety = |id: &str, seed: &str, pollen: &str| Variety {
        id: id.into(),
        seed: Parent::Known(seed.into()),
        pollen: Parent::Known(pollen.into()),
        ..Variety::default()
    };
    // A and B are each other's parents, C is its own; D is a proper offspring of two of them.
    let rows = vec![
        variety("A", "B", "F"),
        variety("B", "A", "F"),
        variety("C", "C", "F"),
        variety("D", "A", "C"),
        Variety { id: "F".into(), ..Variety::default() },
    ];
    let book = book(rows, Vec::new());
    let kinship = kinship(&book, 2, 0.0);
    let at = |key| book.by_key(key).unwrap();
    assert_eq!(kinship.in_loops(), [at("A"), at("B"), at("C")]);
    assert!(kinship.inbreeding(at("A")).abs() < 1e-15);
    assert!((kinship.relationship(at("D"), at("A")) - 0.5).abs() < 1e-15);
    assert!(kinship.relationship(at("A"), at("F")).abs() < 1e-15, "its parents count for nothing");
    let ways = kinship.ways(at("D"), at("A"), 50);
    assert_eq!(ways.count, 1);
    assert_eq!(kinship.founders(at("D")).len(), 2);
    assert_eq!(kinship.descent(book.plants()).plants().len(), 5);
}

#[test]
fn a_book_of_nobody_has_no_kinship() {
    let book = book(Vec::new(), Vec::new());
    let kinship = kinship(&book, 8, 0.0);
    assert!(kinship.matrix(&[]).is_empty());
    assert_eq!(kinship.mean_coancestry(&[]), None);
    assert_eq!(kinship.effective_founders(&[]), None);
    assert!(kinship.descent([]).plants().is_empty());
}
