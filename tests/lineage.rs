//! The lineage: against networkx on a real pedigree, against a naive model on invented ones.

use std::{
    collections::{BTreeMap, BTreeSet},
    fmt::Write as _,
    sync::Arc,
};

use proptest::prelude::*;
use trug::{
    book::{
        About, Book, By, Candidate, Crop, Cross, Father, Lot, Parent, Place, PlantId, Pollen,
        Seedling, Severity, Variety,
    },
    lineage::{
        Kin, Link, Pedigree, Scratch, Side,
        draw::{Cell, Role, Room, Toward, What},
        loop_faults,
    },
    shelf,
};

/// A parent as a test writes it: a key, `A|B` for candidates, nothing for nobody known.
fn parent(text: &str) -> Parent {
    let keys: Vec<&str> = text.split('|').filter(|key| !key.is_empty()).collect();
    match keys[..] {
        [] => Parent::Unknown,
        [key] => Parent::Known(key.into()),
        _ => Parent::OneOf(
            keys.iter()
                .map(|&key| Candidate { key: key.into(), weight: 1.0 / keys.len() as f64 })
                .collect(),
        ),
    }
}

fn variety(id: &str, seed: &str, pollen: &str) -> Variety {
    Variety {
        id: id.into(),
        name: id.into(),
        seed: parent(seed),
        pollen: parent(pollen),
        ..Variety::default()
    }
}

/// A cross; `self` as the pollen parent is a selfing.
fn cross(code: &str, seed: &str, pollen: &str, numbers: &[&str]) -> Cross {
    Cross {
        code: code.into(),
        seed: parent(seed),
        pollen: if pollen == "self" { Pollen::Selfed } else { Pollen::From(parent(pollen)) },
        seedlings: numbers
            .iter()
            .map(|&number| Seedling { number: number.into(), ..Seedling::default() })
            .collect(),
        ..Cross::default()
    }
}

fn book(varieties: Vec<Variety>, crosses: Vec<Cross>) -> Book {
    Book::new(About::default(), Arc::new(Crop::default()), varieties, crosses)
}

fn at(book: &Book, key: &str) -> PlantId {
    book.by_key(key).unwrap_or_else(|| panic!("{key} is not in the book"))
}

fn key(book: &Book, plant: PlantId) -> &str {
    book.plant(plant).key()
}

/// `A 1 seed, B 2 both?`: plant, generation, side, and a question mark where not certain.
fn ancestors(book: &Book, of: &str) -> String {
    let pedigree = Pedigree::of(book);
    let mut text = String::new();
    for a in pedigree.ancestors(at(book, of), None) {
        let side = match a.side {
            Side::Seed => "seed",
            Side::Pollen => "pollen",
            Side::Both => "both",
        };
        let doubt = if a.certain { "" } else { "?" };
        write!(text, "{} {} {side}{doubt}, ", key(book, a.plant), a.generation).unwrap();
    }
    text.trim_end_matches(", ").to_owned()
}

fn descendants(book: &Book, of: &str) -> String {
    let pedigree = Pedigree::of(book);
    let mut text = String::new();
    for d in pedigree.descendants(at(book, of), None) {
        let doubt = if d.certain { "" } else { "?" };
        write!(text, "{} {}{doubt}, ", key(book, d.plant), d.generation).unwrap();
    }
    text.trim_end_matches(", ").to_owned()
}

/// Two generations with a backcross, a selfing, sib mating and a bee cross.
fn tangle() -> Book {
    book(
        vec![
            variety("A", "", ""),
            variety("B", "", ""),
            variety("C", "", ""),
            variety("D", "", ""),
        ],
        vec![
            cross("X1", "A", "B", &["1", "2"]),
            cross("X2", "1", "A", &["3"]),
            cross("X3", "1", "2", &["4"]),
            cross("X4", "3", "self", &["5", "6"]),
            cross("X5", "4", "C|D", &["7"]),
            cross("X6", "B", "A", &["8"]),
        ],
    )
}

#[test]
fn an_ancestor_stands_once_by_its_shortest_way_and_on_its_side() {
    let book = tangle();
    assert_eq!(ancestors(&book, "3"), "1 1 seed, A 1 both, B 2 seed");
    assert_eq!(ancestors(&book, "4"), "1 1 seed, 2 1 pollen, A 2 both, B 2 both");
    assert_eq!(ancestors(&book, "5"), "3 1 both, A 2 both, 1 2 both, B 3 both");
    assert_eq!(ancestors(&book, "A"), "");
}

#[test]
fn candidates_are_ancestors_that_are_not_certain() {
    let book = tangle();
    assert_eq!(
        ancestors(&book, "7"),
        "4 1 seed, C 1 pollen?, D 1 pollen?, 1 2 seed, 2 2 seed, A 3 seed, B 3 seed"
    );
    assert_eq!(descendants(&book, "C"), "7 1?");
    assert_eq!(descendants(&book, "B"), "1 1, 2 1, 8 1, 3 2, 4 2, 5 3, 6 3, 7 3");
}

#[test]
fn a_sure_way_found_later_makes_certain_what_a_shorter_guess_had_met() {
    let book = book(
        vec![variety("A", "", ""), variety("B", "", "")],
        vec![
            cross("X1", "A", "", &["1"]),
            cross("X2", "1", "", &["2"]),
            cross("X3", "2", "A|B", &["3"]),
        ],
    );
    assert_eq!(ancestors(&book, "3"), "2 1 seed, B 1 pollen?, A 1 both, 1 2 seed");
    assert_eq!(descendants(&book, "A"), "1 1, 3 1, 2 2");
}

#[test]
fn a_limit_stops_at_that_generation() {
    let book = tangle();
    let pedigree = Pedigree::of(&book);
    let reach = |limit| {
        let found = pedigree.ancestors(at(&book, "7"), Some(limit));
        found.iter().map(|a| key(&book, a.plant).to_owned()).collect::<Vec<_>>().join(" ")
    };
    assert_eq!(reach(0), "");
    assert_eq!(reach(1), "4 C D");
    assert_eq!(reach(2), "4 C D 1 2");
    assert_eq!(pedigree.descendants(at(&book, "B"), Some(1)).len(), 3);
    assert_eq!(pedigree.descendants(at(&book, "B"), Some(0)).len(), 0);
}

#[test]
fn sibs_are_full_in_both_directions_of_a_pairing_and_half_by_one_parent() {
    let book = tangle();
    let pedigree = Pedigree::of(&book);
    let sibs = |of: &str| {
        let found = pedigree.sibs(&book, at(&book, of));
        let text = found.iter().map(|sib| {
            let kin = match sib.kin {
                Kin::Full => "full".to_owned(),
                Kin::Half(by) => format!("half by {}", key(&book, by)),
            };
            format!("{} {kin}{}", key(&book, sib.plant), if sib.certain { "" } else { "?" })
        });
        text.collect::<Vec<_>>().join(", ")
    };
    assert_eq!(sibs("1"), "2 full, 8 full, 3 half by A");
    assert_eq!(sibs("3"), "1 half by A, 2 half by A, 8 half by A, 4 half by 1");
    assert_eq!(sibs("6"), "5 full");
    assert_eq!(sibs("7"), "");
}

#[test]
fn seedlings_of_a_bee_cross_share_a_father_for_certain_only_if_one_stands_behind_the_lot() {
    let mut bees = cross("X1", "A", "B|C", &["1", "2", "3", "4"]);
    bees.by = By::Bees;
    let lot = |code: &str, father| Lot { code: code.into(), father, seeds: None, diary: vec![] };
    bees.lots = vec![lot("each", None), lot("one", Some(Father::One))];
    for (seedling, lot) in bees.seedlings.iter_mut().zip(["each", "each", "one", "one"]) {
        seedling.lot = Some(lot.into());
    }
    let varieties = ["A", "B", "C"].map(|id| variety(id, "", "")).to_vec();
    let book = book(varieties, vec![bees, cross("X2", "D", "C", &["5"])]);
    let pedigree = Pedigree::of(&book);
    let certain = |of, other| {
        let sibs = pedigree.sibs(&book, at(&book, of));
        sibs.iter().find(|sib| sib.plant == at(&book, other)).map(|sib| (sib.kin, sib.certain))
    };
    assert_eq!(certain("1", "2"), Some((Kin::Full, false)));
    assert_eq!(certain("2", "3"), Some((Kin::Full, false)));
    assert_eq!(certain("3", "4"), Some((Kin::Full, true)));
    assert_eq!(certain("4", "5"), Some((Kin::Half(at(&book, "C")), false)));
}

#[test]
fn common_ancestors_include_the_plants_themselves() {
    let book = tangle();
    let pedigree = Pedigree::of(&book);
    let common = |a: &str, b: &str| {
        let found = pedigree.common_ancestors(at(&book, a), at(&book, b));
        let text =
            found.iter().map(|c| format!("{} {}+{}", key(&book, c.plant), c.from_a, c.from_b));
        text.collect::<Vec<_>>().join(", ")
    };
    assert_eq!(common("3", "4"), "1 1+1, A 1+2, B 2+2");
    assert_eq!(common("5", "3"), "3 1+0, A 2+1, 1 2+1, B 3+2");
    assert_eq!(common("C", "D"), "");
}

#[test]
fn paths_go_up_to_a_common_ancestor_and_down_again() {
    let book = tangle();
    let pedigree = Pedigree::of(&book);
    let paths = |a: &str, b: &str, most| {
        let found = pedigree.paths(at(&book, a), at(&book, b), most);
        let text = found.listed.iter().map(|path| {
            let mut plants: Vec<String> =
                path.plants.iter().map(|&plant| key(&book, plant).to_owned()).collect();
            plants[path.top] = format!("({})", plants[path.top]);
            plants.join(" ")
        });
        format!("{}: {}", found.total, text.collect::<Vec<_>>().join(", "))
    };
    assert_eq!(paths("3", "4", 9), "5: 3 (1) 4, 3 (A) 1 4, 3 (A) 2 4, 3 1 (A) 2 4, 3 1 (B) 2 4");
    assert_eq!(paths("3", "4", 2), "5: 3 (1) 4, 3 (A) 1 4");
    assert_eq!(paths("5", "A", 9), "4: 5 3 (A), 5 3 (A), 5 3 1 (A), 5 3 1 (A)");
    assert_eq!(paths("A", "5", 1), "4: (A) 3 5");
    assert_eq!(paths("4", "4", 9), "1: (4)");
    assert_eq!(paths("A", "B", 9), "0: ");
    let by_bees = &pedigree.paths(at(&book, "7"), at(&book, "C"), 9).listed[0];
    assert!((by_bees.weight - 0.5).abs() < 1e-12);
}

#[test]
fn paths_too_many_to_walk_are_still_counted() {
    let pair = |n: u32| {
        let code = format!("X{n}");
        let (old_a, old_b) = (format!("a{}", n - 1), format!("b{}", n - 1));
        cross(&code, &old_a, &old_b, &[&format!("a{n}"), &format!("b{n}")])
    };
    let varieties = vec![variety("a0", "", ""), variety("b0", "", "")];
    let book = book(varieties, (1..=80).map(pair).collect());
    let pedigree = Pedigree::of(&book);
    let found = pedigree.paths(at(&book, "a30"), at(&book, "b30"), 50);
    assert_eq!((found.total, found.complete), ((1 << 31) - 2, true));
    assert_eq!(found.listed.len(), 50);
    assert!(found.listed.is_sorted_by_key(trug::lineage::Path::steps));
    assert_eq!(pedigree.paths(at(&book, "a80"), at(&book, "b80"), 1).total, u64::MAX);
}

#[test]
fn generations_are_counted_from_the_founders_and_parents_come_first() {
    let book = tangle();
    let pedigree = Pedigree::of(&book);
    let depth = |of| pedigree.depth(at(&book, of));
    assert_eq!(["A", "1", "3", "5", "7", "8"].map(depth), [0, 1, 2, 3, 3, 1]);
    let order: Vec<&str> = pedigree.used().iter().map(|&plant| key(&book, plant)).collect();
    assert_eq!(order, ["A", "B", "C", "D", "1", "2", "3", "4"]);
}

#[test]
fn parents_say_how_much_is_unknown() {
    let mut bees = cross("X1", "A", "", &["1"]);
    bees.pollen = Pollen::From(Parent::OneOf(vec![
        Candidate { key: "B".into(), weight: 0.5 },
        Candidate { key: "nobody".into(), weight: 0.2 },
        Candidate { key: "B".into(), weight: 0.1 },
        Candidate { key: "C".into(), weight: f64::NAN },
    ]));
    let book = book(["A", "B", "C"].map(|id| variety(id, "", "")).to_vec(), vec![bees]);
    let pedigree = Pedigree::of(&book);
    let parents = pedigree.parents(at(&book, "1"));
    assert_eq!(parents.known_seed(), Some(at(&book, "A")));
    assert_eq!(parents.known_pollen(), None);
    assert_eq!(parents.pollen.len(), 1);
    assert!((parents.unknown_pollen() - 0.4).abs() < 1e-12);
    assert!(parents.unknown_seed().abs() < f64::EPSILON);
    assert!(pedigree.is_founder(at(&book, "A")));
    assert!((pedigree.parents(at(&book, "A")).unknown_seed() - 1.0).abs() < f64::EPSILON);
}

#[test]
fn a_loop_is_named_and_the_rest_is_still_traced() {
    let book = book(
        vec![variety("A", "", ""), variety("B", "B", "A")],
        vec![
            cross("X1", "A", "26-2", &["26-1", "26-3"]),
            cross("X2", "26-1", "A", &["26-2"]),
            cross("X3", "26-2", "", &["26-4"]),
            cross("X4", "A", "26-6|A", &["26-5"]),
            cross("X5", "26-5", "A", &["26-6"]),
        ],
    );
    let faults = loop_faults(&book);
    let messages: Vec<&str> = faults.iter().map(|fault| &*fault.message).collect();
    assert_eq!(
        messages,
        [
            "B is its own parent: B came from B itself, which cannot be.",
            "26-1 is its own grandparent: 26-1 came from 26-2, and 26-2 came from 26-1 again, \
             which cannot be.",
            "26-5 would be its own grandparent: 26-5 may have come from 26-6, and 26-6 came from \
             26-5 again, which cannot be.",
        ]
    );
    assert!(faults.iter().all(|fault| fault.severity == Severity::Error));
    let places: Vec<&Place> = faults.iter().map(|fault| &fault.at).collect();
    assert_eq!(
        places,
        [
            &Place::Variety("B".into(), None).field("seed"),
            &Place::Cross("X2".into()).field("seed"),
            &Place::Cross("X5".into()).field("seed"),
        ],
        "where the last of each ring names the first"
    );
    assert_eq!(ancestors(&book, "26-4"), "26-2 1 seed, A 2 seed, 26-1 2 seed");
    assert_eq!(ancestors(&book, "26-1"), "26-2 1 pollen, A 1 both");
    assert_eq!(descendants(&book, "26-1"), "26-2 1, 26-3 2, 26-4 2");
    assert!(loop_faults(&tangle()).is_empty());
}

#[test]
fn a_pedigree_a_hundred_thousand_generations_deep_is_walked_to_the_end() {
    let n = 100_000;
    let chain = |ring: bool| {
        let first = if ring { n.to_string() } else { String::new() };
        let older = |i: u32| if i == 1 { first.clone() } else { (i - 1).to_string() };
        let varieties = (1..=n).map(|i| variety(&i.to_string(), &older(i), "")).collect();
        book(varieties, vec![])
    };
    let line = chain(false);
    let pedigree = Pedigree::of(&line);
    let youngest = at(&line, &n.to_string());
    assert_eq!(pedigree.ancestors(youngest, None).len(), n as usize - 1);
    assert_eq!(pedigree.descendants(at(&line, "1"), None).len(), n as usize - 1);
    assert_eq!(pedigree.depth(youngest), n - 1);
    let ring = chain(true);
    assert_eq!(Pedigree::of(&ring).ancestors(at(&ring, "1"), None).len(), n as usize - 1);
    let faults = loop_faults(&ring);
    assert_eq!(faults.len(), 1);
    assert!(faults[0].message.starts_with("1 is its own ancestor 100000 generations back: "));
    assert!(faults[0].message.len() < 400, "{}", faults[0].message);
}

fn fnv1a(text: &str) -> String {
    let hash = text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, byte| {
        (h ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("{hash:016x}")
}

/// A set as `expected.py` writes it: sorted lines of id and generation.
fn lines(book: &Book, found: impl Iterator<Item = (PlantId, u32)>) -> Vec<String> {
    let mut lines: Vec<String> =
        found.map(|(plant, generation)| format!("{} {generation}", key(book, plant))).collect();
    lines.sort();
    lines
}

/// Holds the sets of a book against those of `expected.py`: how many plants agree, and how many
/// of them in full rather than by hash.
fn agreeing(book: &Book, expected: &str) -> (usize, usize) {
    let pedigree = Pedigree::of(book);
    assert!(pedigree.loops().is_empty());
    let mut scratch = Scratch::default();
    let mut n_checked = 0;
    let mut n_in_full = 0;
    for row in csv::Reader::from_reader(expected.as_bytes()).records() {
        let row = row.expect("a row");
        let who = at(book, &row[0]);
        let up = pedigree.ancestors_in(who, None, &mut scratch);
        let up = lines(book, up.iter().map(|a| (a.plant, a.generation)));
        let down = pedigree.descendants(who, None);
        let down = lines(book, down.iter().map(|d| (d.plant, d.generation)));
        if !row[5].is_empty() {
            assert_eq!(format!("{} / {}", up.join(";"), down.join(";")), row[5], "{}", &row[0]);
            n_in_full += 1;
        }
        for (found, count, hash) in [(&up, &row[1], &row[2]), (&down, &row[3], &row[4])] {
            assert_eq!(found.len().to_string(), count, "{}", &row[0]);
            let text: String = found.iter().flat_map(|line| [line, "\n"]).collect();
            assert_eq!(fnv1a(&text), hash, "{}", &row[0]);
        }
        n_checked += 1;
    }
    (n_checked, n_in_full)
}

#[test]
fn three_thousand_royal_ancestries_agree_with_networkx() {
    let people = include_str!("data/pedigrees/royal_families.csv");
    let varieties = csv::Reader::from_reader(people.as_bytes())
        .records()
        .map(|row| {
            let row = row.expect("a row");
            variety(&row[0], &row[1], &row[2])
        })
        .collect();
    let book = book(varieties, vec![]);
    let expected = include_str!("data/pedigrees/royal_families_expected.csv");
    assert_eq!(agreeing(&book, expected), (3010, 21));
}

#[test]
fn every_ancestry_of_the_demo_garden_agrees_with_networkx() {
    let book = shelf::open(&crate::demo::folder(), None).unwrap().book;
    let expected = include_str!("data/pedigrees/demo_expected.csv");
    assert_eq!(agreeing(&book, expected), (1525, 11));
}

/// A book of invented crosses. Parents are plants that stand anywhere before or, where `wild`,
/// anywhere at all.
pub(crate) fn any_book(wild: bool) -> impl Strategy<Value = Book> {
    let one = (any::<u16>(), any::<u16>(), any::<u16>(), 0_u8..8, 0_usize..4);
    (1_usize..6, prop::collection::vec(one, 0..14)).prop_map(move |(n_varieties, plans)| {
        let mut keys: Vec<String> = (0..n_varieties).map(|i| format!("v{i}")).collect();
        let n_all = n_varieties + plans.iter().map(|plan| plan.4).sum::<usize>();
        let mut crosses = Vec::new();
        for (seed, pollen, third, kind, size) in plans {
            let pick = |n: u16| {
                let i = usize::from(n) % if wild { n_all } else { keys.len() };
                if i < n_varieties { format!("v{i}") } else { format!("s{i}") }
            };
            let (seed, pollen) = match kind {
                0 => (pick(seed), String::new()),
                1 => (String::new(), String::new()),
                2 => (pick(seed), "self".to_owned()),
                3 => (pick(seed), format!("{}|{}", pick(pollen), pick(third))),
                _ => (pick(seed), pick(pollen)),
            };
            let numbers: Vec<String> =
                (keys.len()..keys.len() + size).map(|i| format!("s{i}")).collect();
            let code = format!("X{}", crosses.len());
            let borrowed: Vec<&str> = numbers.iter().map(String::as_str).collect();
            crosses.push(cross(&code, &seed, &pollen, &borrowed));
            keys.extend(numbers);
        }
        let varieties = (0..n_varieties).map(|i| variety(&format!("v{i}"), "", "")).collect();
        book(varieties, crosses)
    })
}

/// Everybody's possible parents and whether they are certain, by key, straight from the records.
fn naive_parents(book: &Book) -> BTreeMap<String, Vec<(String, bool)>> {
    book.plants()
        .map(|id| {
            let plant = book.plant(id);
            let mut parents = Vec::new();
            for side in [plant.seed_parent(), plant.pollen_parent()] {
                let mut weights = BTreeMap::new();
                for (key, weight) in side.candidates() {
                    *weights.entry(key.to_owned()).or_insert(0.0) += weight;
                }
                parents.extend(weights.into_iter().map(|(key, weight)| (key, weight > 0.99)));
            }
            (plant.key().to_owned(), parents)
        })
        .collect()
}

/// Generation by the shortest way, from parents to parents, one wave after the other.
fn naive_ancestors(
    parents: &BTreeMap<String, Vec<(String, bool)>>,
    of: &str,
    only_certain: bool,
) -> BTreeMap<String, u32> {
    let mut found = BTreeMap::new();
    let mut wave = BTreeSet::from([of.to_owned()]);
    for generation in 1.. {
        let next = wave.iter().flat_map(|who| &parents[who]);
        let next = next.filter(|(_, certain)| *certain || !only_certain).map(|(key, _)| key);
        wave = next.filter(|key| !found.contains_key(*key)).cloned().collect();
        if wave.is_empty() {
            break;
        }
        found.extend(wave.iter().map(|key| (key.clone(), generation)));
    }
    found.remove(of);
    found
}

/// Coancestry of diploid plants by its definition, from the younger plant to its parents.
fn coancestry(
    pedigree: &Pedigree,
    a: PlantId,
    b: PlantId,
    known: &mut BTreeMap<(PlantId, PlantId), f64>,
) -> f64 {
    let (younger, older) =
        if (pedigree.depth(a), a) < (pedigree.depth(b), b) { (b, a) } else { (a, b) };
    if let Some(&found) = known.get(&(younger, older)) {
        return found;
    }
    let parents = pedigree.parents(younger);
    let mut sum = 0.0;
    if younger == older {
        for seed in parents.seed {
            for pollen in parents.pollen {
                sum += seed.weight
                    * pollen.weight
                    * coancestry(pedigree, seed.plant, pollen.plant, known);
            }
        }
        sum += 1.0;
    } else {
        for link in parents.all() {
            sum += link.weight * coancestry(pedigree, link.plant, older, known);
        }
    }
    known.insert((younger, older), sum / 2.0);
    sum / 2.0
}

proptest! {
    #[test]
    fn walks_agree_with_a_naive_one_loops_or_not(book in any_book(true)) {
        let parents = naive_parents(&book);
        let pedigree = Pedigree::of(&book);
        let mut scratch = Scratch::default();
        let mut down_again = BTreeSet::new();
        let mut up_again = BTreeSet::new();
        for id in book.plants() {
            let naive = naive_ancestors(&parents, key(&book, id), false);
            let sure = naive_ancestors(&parents, key(&book, id), true);
            let found = pedigree.ancestors_in(id, None, &mut scratch);
            let generations: BTreeMap<String, u32> =
                found.iter().map(|a| (key(&book, a.plant).to_owned(), a.generation)).collect();
            prop_assert_eq!(found.len(), generations.len());
            prop_assert_eq!(generations, naive);
            for a in found {
                prop_assert_eq!(a.certain, sure.contains_key(key(&book, a.plant)));
                up_again.insert((a.plant, id, a.generation, a.certain));
            }
            for d in pedigree.descendants(id, None) {
                prop_assert!(down_again.insert((id, d.plant, d.generation, d.certain)));
            }
        }
        prop_assert_eq!(up_again, down_again);
    }

    #[test]
    fn the_paths_between_two_plants_sum_to_their_coancestry(book in any_book(false)) {
        let pedigree = Pedigree::of(&book);
        let mut known = BTreeMap::new();
        for a in book.plants() {
            for b in book.plants().filter(|&b| b != a) {
                let paths = pedigree.paths(a, b, 500);
                prop_assert!(paths.complete);
                if paths.total > 500 {
                    continue;
                }
                prop_assert_eq!(paths.listed.len() as u64, paths.total);
                prop_assert!(paths.listed.is_sorted_by_key(trug::lineage::Path::steps));
                let mut sum = 0.0;
                for path in &paths.listed {
                    prop_assert_eq!((path.plants[0], path.plants[path.steps()]), (a, b));
                    let met: BTreeSet<PlantId> = path.plants.iter().copied().collect();
                    prop_assert_eq!(met.len(), path.plants.len());
                    let through = path.through().expect("a path has a top");
                    let own = coancestry(&pedigree, through, through, &mut known);
                    sum += path.weight * own * 0.5_f64.powi(i32::try_from(path.steps()).unwrap());
                }
                let direct = coancestry(&pedigree, a, b, &mut known);
                prop_assert!((sum - direct).abs() < 1e-9, "{} and {}", sum, direct);
            }
        }
    }

    #[test]
    fn sides_are_what_stands_behind_each_parent(book in any_book(false)) {
        let pedigree = Pedigree::of(&book);
        for id in book.plants() {
            let parents = pedigree.parents(id);
            let behind = |links: &[trug::lineage::Link]| -> BTreeSet<PlantId> {
                let ways = links.iter().flat_map(|link| {
                    let more = pedigree.ancestors(link.plant, None).into_iter();
                    more.map(|a| a.plant).chain([link.plant])
                });
                ways.collect()
            };
            let (seed, pollen) = (behind(parents.seed), behind(parents.pollen));
            for a in pedigree.ancestors(id, None) {
                let side = match (seed.contains(&a.plant), pollen.contains(&a.plant)) {
                    (true, true) => Side::Both,
                    (true, false) => Side::Seed,
                    _ => Side::Pollen,
                };
                prop_assert_eq!(a.side, side);
            }
        }
    }

    #[test]
    fn the_order_of_records_changes_nothing(book in any_book(false), turn in any::<prop::sample::Index>()) {
        let (about, crop, mut varieties, mut crosses) = book.clone().into_parts();
        varieties.reverse();
        if !crosses.is_empty() {
            let by = turn.index(crosses.len());
            crosses.rotate_left(by);
        }
        let turned = Book::new(about, crop, varieties, crosses);
        let (one, two) = (Pedigree::of(&book), Pedigree::of(&turned));
        for id in book.plants() {
            let other = at(&turned, key(&book, id));
            prop_assert_eq!(one.depth(id), two.depth(other));
            let lines = |book: &Book, found: Vec<trug::lineage::Ancestor>| {
                let mut lines: Vec<String> = found
                    .iter()
                    .map(|a| {
                        format!("{} {} {:?} {}", key(book, a.plant), a.generation, a.side, a.certain)
                    })
                    .collect();
                lines.sort();
                lines
            };
            prop_assert_eq!(
                lines(&book, one.ancestors(id, None)),
                lines(&turned, two.ancestors(other, None))
            );
        }
    }

    #[test]
    fn without_loops_parents_come_first_and_lie_one_generation_back(book in any_book(false)) {
        let pedigree = Pedigree::of(&book);
        prop_assert!(pedigree.loops().is_empty());
        let place: BTreeMap<PlantId, usize> =
            pedigree.used().iter().enumerate().map(|(n, &plant)| (plant, n)).collect();
        for id in book.plants() {
            let depths = pedigree.parents(id).all().map(|link| pedigree.depth(link.plant) + 1);
            prop_assert_eq!(pedigree.depth(id), depths.max().unwrap_or(0));
            for link in pedigree.parents(id).all() {
                if let Some(own) = place.get(&id) {
                    prop_assert!(place[&link.plant] < *own);
                }
            }
        }
    }

    #[test]
    fn a_picture_fits_its_room_and_draws_everything_once(
        book in any_book(true),
        rows in 1_usize..40,
        back in 0_usize..6,
        on in 0_usize..4,
    ) {
        let pedigree = Pedigree::of(&book);
        for id in book.plants() {
            let room = Room { rows, back, on };
            let picture = pedigree.picture(id, room, |plant| plant.0 % 2 == 0);
            prop_assert_eq!(&picture, &pedigree.picture(id, room, |plant| plant.0 % 2 == 0));
            prop_assert_eq!(picture.cells[0].what, What::Plant(id));
            prop_assert!(picture.rows <= rows && picture.back <= back && picture.on <= on);
            let halves: [Vec<&Cell>; 2] = [
                picture.cells.iter().filter(|cell| cell.column <= 0).collect(),
                picture.cells.iter().filter(|cell| cell.column > 0).collect(),
            ];
            for half in halves {
                let taken: BTreeSet<usize> = half.iter().map(|cell| cell.row).collect();
                prop_assert_eq!(taken.len(), half.len(), "two cells in a row");
                prop_assert!(taken.iter().all(|row| *row < picture.rows));
            }
            let in_full = picture.cells.iter().filter(|cell| {
                cell.mark.is_none_or(|mark| mark.drawn == Toward::Here)
            });
            let mut drawn = BTreeSet::new();
            for cell in in_full {
                if let What::Plant(plant) = cell.what {
                    prop_assert!(drawn.insert(plant), "a plant is drawn twice");
                }
            }
            for rail in picture.rails.iter().filter(|rail| rail.role.is_some()) {
                let (from, to) = (picture.cells[rail.from], picture.cells[rail.to]);
                let What::Plant(parent) = from.what else { continue };
                let parents = match to.what {
                    What::Plant(child) => pedigree.parents(child),
                    What::Cross(family) => pedigree.parents_of(family),
                    _ => continue,
                };
                let is_among = |links: &[Link]| links.iter().any(|link| link.plant == parent);
                let is_so = match rail.role {
                    Some(Role::Seed) => is_among(parents.seed),
                    Some(Role::Pollen) => is_among(parents.pollen),
                    _ => parents.known_seed() == Some(parent) && is_among(parents.pollen),
                };
                prop_assert!(is_so);
                if to.column <= 0 {
                    prop_assert_eq!(rail.role == Some(Role::Pollen), from.row > to.row);
                }
            }
        }
    }

    #[test]
    fn offspring_are_shown_or_counted(book in any_book(false), rows in 1_usize..60) {
        let pedigree = Pedigree::of(&book);
        for id in book.plants() {
            let picture = pedigree.picture(id, Room { rows, back: 0, on: 1 }, |_| false);
            let mut n_crosses = picture.cells[0].beyond;
            for (at, cell) in picture.cells.iter().enumerate() {
                match cell.what {
                    What::MoreCrosses(n) => n_crosses += n,
                    What::Cross(family) => {
                        n_crosses += 1;
                        let below = picture.from(at).map(|rail| picture.cells[rail.to].what);
                        let counted: usize = below
                            .map(|what| match what {
                                What::MoreSeedlings(n) => n,
                                _ => 1,
                            })
                            .sum();
                        prop_assert!(counted == 0 || counted == pedigree.plants(family).len());
                    }
                    _ => {}
                }
            }
            prop_assert_eq!(n_crosses, pedigree.offspring(id).len());
        }
    }

    #[test]
    fn every_loop_goes_round_by_parents(book in any_book(true)) {
        let pedigree = Pedigree::of(&book);
        let rings = pedigree.loops();
        let parents = naive_parents(&book);
        for ring in &rings {
            for (child, parent) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                prop_assert!(pedigree.parents(*child).all().any(|link| link.plant == *parent));
            }
        }
        let own_ancestor = book.plants().any(|id| {
            let own = key(&book, id);
            parents[own].iter().any(|(parent, _)| {
                parent == own || naive_ancestors(&parents, parent, false).contains_key(own)
            })
        });
        prop_assert_eq!(own_ancestor, !rings.is_empty());
        prop_assert_eq!(loop_faults(&book).len(), rings.len());
    }
}
