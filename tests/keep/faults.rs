//! Every step of every write fails, is killed or loses its power, in turn: afterwards the book is
//! as it was before the change or as it is after it, and no change is missing that was confirmed.

use std::{
    collections::BTreeMap,
    sync::{
        Arc,
        atomic::{AtomicUsize, Ordering},
    },
};

use trug::{
    book::{Book, Change, Cross, Season, Spot, Step, Variety, Verdict, enter},
    shelf::{Keeper, Kept, NotKept, open},
};

use super::{
    Garden, at,
    frail::{Blow, Frail},
    letters, moved, note, today, verdict,
};

/// What is done first, whole, and what is done then, with a blow in it.
type Doing = fn(&Garden, &mut Keeper, &mut Book) -> Result<(), NotKept>;

fn kept(kept: Result<Kept, NotKept>) -> Result<(), NotKept> {
    kept.map(drop)
}

fn undone(keeper: &mut Keeper, book: &mut Book) -> Result<(), NotKept> {
    match keeper.undo(book) {
        Ok(_) => Ok(()),
        Err(trug::shelf::NotUndone::NotKept(not_kept)) => Err(*not_kept),
        Err(other) => panic!("{other}"),
    }
}

fn lamp(book: &Book) -> Change {
    let variety = Variety { id: "tin-lamp".into(), name: "Tin Lamp".into(), ..Variety::default() };
    enter::new_variety(book, variety, today()).unwrap().change
}

const NOTHING: Doing = |_, _, _| Ok(());

/// The changes that are tried, and what is done before each.
const DOINGS: [(&str, Doing, Doing); 9] = [
    ("a remark, the first thing in the journal", NOTHING, |_, keeper, book| {
        let change = note(book, "26-012", "x");
        kept(keeper.keep(book, change))
    }),
    (
        "a verdict after another",
        |_, keeper, book| {
            let change = note(book, "26-012", "x");
            kept(keeper.keep(book, change))
        },
        |_, keeper, book| {
            let change = verdict(book, "26-012", Verdict::Discard);
            kept(keeper.keep(book, change))
        },
    ),
    ("a plant moved between families", NOTHING, |_, keeper, book| {
        let change = moved(book, "26-012", "24X02");
        kept(keeper.keep(book, change))
    }),
    ("a new cross in a new folder, and the first page", NOTHING, |_, keeper, book| {
        let cross = Cross { code: "31X01".into(), season: Some(Season(2026)), ..Cross::default() };
        let mut change = enter::new_cross(book, cross, today()).unwrap().change;
        let mut about = book.about().clone();
        about.note = Some("windy".into());
        change.steps.push(Step::between_pages(book.about(), &about));
        kept(keeper.keep(book, change))
    }),
    ("a new variety", NOTHING, |_, keeper, book| {
        let change = lamp(book);
        kept(keeper.keep(book, change))
    }),
    (
        "a variety taken out again",
        |_, keeper, book| {
            let change = lamp(book);
            kept(keeper.keep(book, change))
        },
        |_, keeper, book| undone(keeper, book),
    ),
    (
        "a move taken back",
        |_, keeper, book| {
            let change = moved(book, "26-012", "24X02");
            kept(keeper.keep(book, change))
        },
        |_, keeper, book| undone(keeper, book),
    ),
    (
        "a change beside an editor's",
        |garden, _, _| {
            garden.edit("crosses/2025/25X01.ron", "\"the cat\"", "\"the neighbour's cat\"");
            Ok(())
        },
        |_, keeper, book| {
            let change = moved(book, "26-012", "24X02");
            kept(keeper.keep(book, change))
        },
    ),
    ("a head before another", NOTHING, |_, keeper, book| {
        let spot = Spot::Head("25X01".into(), 0);
        let after = book.part(&spot);
        let change = Change::new("a twin", vec![Step { spot, before: None, after }]);
        kept(keeper.keep(book, change))
    }),
];

struct Outcome {
    before: BTreeMap<String, String>,
    after: BTreeMap<String, String>,
    n_steps: usize,
}

/// What a doing makes of the book when nothing goes wrong, and in how many steps.
fn untroubled(first: Doing, then: Doing) -> Outcome {
    let garden = Garden::small();
    let frail = Arc::new(Frail::default());
    let (opened, mut keeper) = garden.open_with(frail.clone(), at(0));
    let mut book = opened.book;
    first(&garden, &mut keeper, &mut book).unwrap();
    let before = letters(&open(garden.root(), None).unwrap().book);
    frail.arm(None);
    then(&garden, &mut keeper, &mut book).unwrap();
    Outcome { before, after: letters(&book), n_steps: frail.n_steps() }
}

fn seen(garden: &Garden) -> BTreeMap<String, String> {
    let opened = open(garden.root(), None).unwrap();
    assert_eq!(opened.problems, []);
    letters(&opened.book)
}

/// One blow: what is found afterwards by whoever reads, by whoever writes, and by whoever goes on.
fn strike(name: &str, first: Doing, then: Doing, known: &Outcome, n: usize, blow: Blow) {
    let told = format!("{name}: {blow:?} at step {n}");
    let garden = Garden::small();
    let frail = Arc::new(Frail::default());
    let (opened, mut keeper) = garden.open_with(frail.clone(), at(0));
    let mut book = opened.book;
    first(&garden, &mut keeper, &mut book).unwrap();
    frail.arm(Some((n, blow)));
    let outcome = then(&garden, &mut keeper, &mut book);
    if !frail.is_dead() {
        frail.arm(None);
        if let Err(not_kept) = &outcome {
            assert!(not_kept.is_waiting, "{told}: {not_kept}");
            assert_eq!(letters(&book), known.after, "{told}: it stands in the book and waits");
            let before = seen(&garden);
            assert!(before == known.before || before == known.after, "{told}: between");
            keeper.retry(&mut book).unwrap();
        }
        assert_eq!(seen(&garden), known.after, "{told}: it is kept in the end");
        assert_eq!(keeper.unsaved().len(), 0);
    }
    drop(keeper);
    let found = seen(&garden);
    if outcome.is_ok() {
        assert_eq!(found, known.after, "{told}: what was confirmed is missing");
    }
    assert!(found == known.before || found == known.after, "{told}: between");
    let (opened, mut keeper) = garden.open_with(Arc::new(Frail::default()), at(0));
    assert!(keeper.interrupted().is_none() && keeper.unsaved().len() == 0, "{told}");
    let mut book = opened.book;
    assert_eq!(letters(&book), found, "{told}: it is finished as it was read");
    assert_eq!(garden.files(), found, "{told}: nothing is left lying about");
    let change = note(&book, "26-015", "life goes on");
    keeper.keep(&mut book, change).unwrap();
    keeper.undo(&mut book).unwrap();
    assert_eq!(garden.files(), found, "{told}");
}

#[test]
fn no_blow_leaves_a_change_by_half_or_loses_what_was_confirmed() {
    let seeds = (0..super::more(1)).map(Blow::Power);
    let blows: Vec<Blow> = [Blow::Fault, Blow::Full, Blow::Kill].into_iter().chain(seeds).collect();
    let n_runs = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for (name, first, then) in DOINGS {
            let (blows, n_runs) = (&blows, &n_runs);
            scope.spawn(move || {
                let known = untroubled(first, then);
                assert_ne!(known.before, known.after);
                for n in 0..known.n_steps {
                    for blow in blows {
                        strike(name, first, then, &known, n, *blow);
                        n_runs.fetch_add(1, Ordering::Relaxed);
                    }
                }
            });
        }
    });
    let n_runs = n_runs.into_inner();
    assert!(n_runs > 500, "{n_runs} blows were dealt");
}

#[test]
fn what_could_not_be_written_is_let_go_without_a_trace() {
    for (name, first, then) in DOINGS {
        let known = untroubled(first, then);
        for n in 0..known.n_steps {
            let garden = Garden::small();
            let frail = Arc::new(Frail::default());
            let (opened, mut keeper) = garden.open_with(frail.clone(), at(0));
            let mut book = opened.book;
            first(&garden, &mut keeper, &mut book).unwrap();
            frail.arm(Some((n, Blow::Fault)));
            let outcome = then(&garden, &mut keeper, &mut book);
            frail.arm(None);
            if outcome.is_ok() {
                continue;
            }
            assert_eq!(keeper.let_go(&mut book).unwrap().len(), 1, "{name} at {n}");
            assert_eq!(letters(&book), known.before, "{name} at {n}");
            drop(keeper);
            assert_eq!(
                letters(&garden.open_with(Arc::new(Frail::default()), at(0)).0.book),
                known.before,
                "{name} at {n}"
            );
        }
    }
}

#[test]
fn finishing_a_change_that_was_cut_short_may_be_cut_short_too() {
    let (name, first, then) = DOINGS[2];
    let known = untroubled(first, then);
    for n in 0..known.n_steps {
        for again in 0..known.n_steps {
            let garden = Garden::small();
            let frail = Arc::new(Frail::default());
            let (opened, mut keeper) = garden.open_with(frail.clone(), at(0));
            let mut book = opened.book;
            first(&garden, &mut keeper, &mut book).unwrap();
            frail.arm(Some((n, Blow::Kill)));
            let outcome = then(&garden, &mut keeper, &mut book);
            drop(keeper);
            let found = seen(&garden);
            frail.arm(Some((again, Blow::Kill)));
            drop(garden.open_with(frail.clone(), at(0)));
            let told = format!("{name}: {n}, then {again}");
            assert_eq!(seen(&garden), found, "{told}");
            assert!(outcome.is_err() || found == known.after, "{told}");
            assert_eq!(
                letters(&garden.open_with(Arc::new(Frail::default()), at(0)).0.book),
                found,
                "{told}"
            );
            if !frail.is_dead() {
                break;
            }
        }
    }
}
