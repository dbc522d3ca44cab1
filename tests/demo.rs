//! The demo garden: kept in step with its generator, free of faults, and as advertised.
//!
//! After a change to the generator, `TRUG_BLESS=1 cargo test --test all demo::the_files` writes it
//! anew; `touch src/shelf/demo.rs` then makes the library carry it.

use std::{
    collections::{BTreeMap, BTreeSet},
    env, fs,
    path::{Path, PathBuf},
    sync::{Arc, LazyLock},
};

use trug::{
    book::{
        Book, By, Counts, Crop, Cross, Grain, Life, Lot, LotDeed, Parent, PlantDeed, PlantRecord,
        Pollen, Seedling, Variety,
    },
    shelf::{self, LaidOut, SaveError, lay_out},
    sim,
};

pub(crate) fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo")
}

fn crop() -> Arc<Crop> {
    Arc::new(shelf::crop_file::builtin("dahlia").unwrap())
}

/// The generator's book, made once for all tests.
static MADE: LazyLock<Book> = LazyLock::new(|| sim::quillet(crop(), sim::SEED).0);

/// Everything in a folder, by path.
fn laid_out(dir: &Path) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut folders = vec![dir.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(dir).unwrap().to_str().unwrap().replace('\\', "/");
                found.insert(name, fs::read_to_string(&path).unwrap());
            }
        }
    }
    found
}

#[test]
fn the_files_are_what_the_generator_makes() {
    let texts = shelf::texts(&MADE);
    if env::var_os("TRUG_BLESS").is_some() {
        if folder().exists() {
            fs::remove_dir_all(folder()).unwrap();
        }
        for (file, text) in &texts {
            let path = folder().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
    }
    let files = laid_out(&folder());
    assert!(
        files.keys().eq(texts.keys()),
        "other files than the generator makes: see the head of tests/demo.rs"
    );
    for (file, text) in &texts {
        assert!(
            files[file] == *text,
            "demo/{file} has fallen behind: see the head of tests/demo.rs"
        );
    }
    let size: usize = files.values().map(String::len).sum();
    assert!(size <= 1_000_000, "{size} bytes");
}

#[test]
fn the_files_hold_no_fault() {
    let opened = shelf::open(&folder(), None).unwrap();
    assert!(opened.problems.is_empty(), "{:#?}", opened.problems);
    assert_eq!(opened.book.varieties(), MADE.varieties());
    assert_eq!(opened.book.crosses(), MADE.crosses());
}

#[test]
fn the_garden_is_as_large_as_it_is_said_to_be() {
    assert_eq!(MADE.varieties().len(), 25);
    assert_eq!(MADE.crosses().len(), 80);
    assert_eq!(MADE.n_plants(), 1525);
}

#[test]
fn no_two_plants_stand_in_one_place_in_one_season() {
    let mut taken = BTreeMap::new();
    for id in MADE.plants() {
        let PlantRecord::Seedling(_, plant) = MADE.plant(id) else { continue };
        for entry in &plant.diary {
            if let PlantDeed::Planted(Some(place)) = &entry.did
                && let Some(other) = taken.insert((entry.on.season(), place.clone()), &plant.number)
            {
                panic!("{} and {other} at {place} in {}", plant.number, entry.on.season());
            }
        }
    }
}

/// If this fails after the demo was written anew, the library holds the old one: build it again
/// after `touch src/shelf/demo.rs`.
#[test]
fn the_program_carries_the_whole_demo() {
    let dir = tempfile::tempdir().unwrap();
    let demo = dir.path().join("some/where");
    assert_eq!(lay_out(&demo).unwrap(), LaidOut::Now);
    assert!(laid_out(&demo) == laid_out(&folder()), "the demo carried is not the one in demo/");
}

#[test]
fn a_demo_laid_out_before_keeps_its_changes() {
    let dir = tempfile::tempdir().unwrap();
    lay_out(dir.path()).unwrap();
    fs::remove_file(dir.path().join("varieties/dunlin.ron")).unwrap();
    fs::write(dir.path().join("varieties/saltmarsh.ron"), "mine").unwrap();
    let before = laid_out(dir.path());
    assert_eq!(lay_out(dir.path()).unwrap(), LaidOut::Before);
    assert!(laid_out(dir.path()) == before);
}

#[test]
fn a_demo_cut_short_is_completed() {
    let dir = tempfile::tempdir().unwrap();
    lay_out(dir.path()).unwrap();
    fs::remove_file(dir.path().join("book.ron")).unwrap();
    fs::remove_dir_all(dir.path().join("crosses/2019")).unwrap();
    assert_eq!(lay_out(dir.path()).unwrap(), LaidOut::Now);
    assert!(laid_out(dir.path()) == laid_out(&folder()));
}

#[test]
fn the_demo_is_never_laid_over_anything_else() {
    let dir = tempfile::tempdir().unwrap();
    let book = dir.path().join("book");
    fs::create_dir(&book).unwrap();
    fs::write(book.join("book.ron"), "(format: 1, garden: \"Ours\", crop: \"dahlia\")").unwrap();
    assert!(matches!(lay_out(&book), Err(SaveError::BookThere(_))));
    let photos = dir.path().join("photos");
    fs::create_dir_all(photos.join("crosses")).unwrap();
    fs::write(photos.join("crosses/1.jpg"), "").unwrap();
    assert!(matches!(lay_out(&photos), Err(SaveError::SomethingThere(_))));
    assert_eq!(laid_out(dir.path()).len(), 2);
}

fn plants() -> impl Iterator<Item = (&'static Cross, &'static Seedling)> {
    MADE.crosses().iter().flat_map(|c| c.seedlings.iter().map(move |s| (&**c, s)))
}

fn variety(id: &str) -> &'static Variety {
    MADE.varieties().iter().find(|v| &*v.id == id).unwrap()
}

fn n_with(is: impl Fn(&PlantDeed) -> bool) -> usize {
    plants().filter(|(_, s)| s.diary.iter().any(|e| is(&e.did))).count()
}

#[test]
fn parents_are_of_every_kind() {
    let crosses = MADE.crosses();
    let count = |is: &dyn Fn(&Cross) -> bool| crosses.iter().filter(|c| is(c)).count();
    let candidates = |c: &Cross| matches!(c.pollen, Pollen::From(Parent::OneOf(_)));
    assert!(count(&|c| c.by == By::Bees && candidates(c)) >= 8, "bees with likely fathers");
    assert!(count(&|c| c.by == By::Hand && candidates(c)) >= 1, "mixed pollen");
    assert!(count(&|c| c.pollen == Pollen::Selfed) >= 3, "selfings");
    assert!(count(&|c| c.from.is_some() && c.seed == Parent::Unknown) >= 3, "bought-in seed");
    assert!(count(&|c| c.totals.is_some() && c.seedlings.is_empty()) >= 2, "known by totals");
    let bred = |c: &Cross| c.seed.known().is_some_and(|key| plants().any(|(_, s)| s.key() == key));
    assert!(count(&bred) >= 15, "keepers as seed parents");
}

#[test]
fn the_mess_of_real_records_is_there() {
    let twice = plants().filter(|(_, s)| s.id.is_some()).count();
    assert!(twice > 5, "numbers used twice");
    for (_, again) in plants().filter(|(_, s)| s.id.is_some()) {
        assert!(plants().any(|(_, s)| s.id.is_none() && s.number == again.number));
    }
    let sowings = |lot: &Lot| {
        let sown = lot.diary.iter().filter(|e| matches!(e.did, LotDeed::Sown { .. }));
        sown.map(|e| e.on.season()).collect::<BTreeSet<_>>().len()
    };
    assert!(MADE.crosses().iter().flat_map(|c| &c.lots).any(|lot| sowings(lot) == 2));
    assert!(n_with(|d| matches!(d, PlantDeed::MovedFrom { .. })) == 3, "a mix-up put right");
    assert!(n_with(|d| matches!(d, PlantDeed::TagLost)) >= 3, "tags lost");
    assert!(n_with(|d| matches!(d, PlantDeed::Numbered)) >= 5, "lost before planting");
    assert!(n_with(|d| matches!(d, PlantDeed::SeenUnbloomed)) >= 100, "late or never in flower");
    assert!(n_with(|d| matches!(d, PlantDeed::Named(_))) == 2, "two named");
    let by_tom = |d: &PlantDeed| matches!(d, PlantDeed::Look(l) if l.who.is_some());
    assert!(n_with(by_tom) >= 20, "second opinions");
    let grains: BTreeSet<Grain> =
        plants().flat_map(|(_, s)| &s.diary).map(|e| e.on.grain()).collect();
    assert_eq!(grains.len(), 3, "dates to the day, the month and the year");
    let got_again = variety("plumstone");
    assert_eq!(
        got_again.diary.iter().filter(|e| matches!(e.did, PlantDeed::Acquired { .. })).count(),
        2
    );
    assert!(Life::of(&got_again.diary).is_alive());
    assert_eq!(variety("bellwether").gives_seed, Some(false));
    assert_eq!(variety("tin-chapel").gives_pollen, Some(false));
}

#[test]
fn one_seedling_in_three_is_kept_and_pairings_differ() {
    let of_pair = |a: &str, b: &str| {
        let mut sum = Counts::default();
        for cross in MADE.crosses() {
            let pair = [cross.seed.known(), cross.pollen_parent().known()];
            if pair == [Some(a), Some(b)] || pair == [Some(b), Some(a)] {
                sum += cross.counts();
            }
        }
        f64::from(sum.kept) / f64::from(sum.judged)
    };
    assert!(of_pair("ferry-lantern", "saltmarsh") > 0.45);
    assert!(of_pair("mrs-aberys-shawl", "tollgate-rose") < 0.15, "beloved, and not good");
    let mut sum = Counts::default();
    for cross in MADE.crosses() {
        sum += cross.counts();
    }
    let kept = f64::from(sum.kept) / f64::from(sum.judged);
    let bloomed = f64::from(sum.bloomed) / f64::from(sum.planted);
    assert!((0.25..0.36).contains(&kept), "{kept} kept");
    assert!((0.77..0.87).contains(&bloomed), "{bloomed} bloomed");
}
