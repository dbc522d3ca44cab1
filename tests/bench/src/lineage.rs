//! Lineage questions against SQLite's recursive common table expressions, in memory.

use std::{error::Error, hint::black_box};

use rusqlite::{Connection, Statement, params};
use trug::{
    book::{Book, PlantId},
    lineage::{Pedigree, Scratch},
};

use crate::measure::{best_busy, faster};

const ANCESTORS: &str = "WITH RECURSIVE up(id) AS (
    SELECT parent FROM link WHERE child = ?1
    UNION SELECT parent FROM up JOIN link ON link.child = up.id
) SELECT count(*) FROM up";

/// The answer that we give to the same question: how many generations back at least, and behind
/// which parents.
const ANCESTORS_BY_GENERATION: &str = "WITH RECURSIVE up(id, generation, side) AS (
    SELECT parent, 1, side FROM link WHERE child = ?1
    UNION SELECT link.parent, generation + 1, up.side FROM up JOIN link ON link.child = up.id
) SELECT count(*) FROM (
    SELECT id, min(generation) AS nearest, min(side) + max(side) AS sides FROM up GROUP BY id
    ORDER BY nearest, sides, id)";

const COMMON: &str = "WITH RECURSIVE one(id) AS (
    SELECT ?1 UNION SELECT parent FROM one JOIN link ON link.child = one.id
), two(id) AS (
    SELECT ?2 UNION SELECT parent FROM two JOIN link ON link.child = two.id
) SELECT count(*) FROM (SELECT id FROM one INTERSECT SELECT id FROM two)";

const DESCENDANTS: &str = "WITH RECURSIVE down(id) AS (
    SELECT child FROM link WHERE parent = ?1
    UNION SELECT link.child FROM down JOIN link ON link.parent = down.id
) SELECT count(*) FROM down";

/// The same pedigree as an ordinary database would hold it: a row a plant and parent, indexed
/// both ways.
fn database(book: &Book, pedigree: &Pedigree) -> rusqlite::Result<Connection> {
    let mut db = Connection::open_in_memory()?;
    db.execute_batch("CREATE TABLE link(child INTEGER, parent INTEGER, side INTEGER);")?;
    let filling = db.transaction()?;
    {
        let mut link = filling.prepare("INSERT INTO link VALUES(?1, ?2, ?3)")?;
        for id in book.plants() {
            let parents = pedigree.parents(id);
            for (side, links) in [(0, parents.seed), (1, parents.pollen)] {
                for parent in links {
                    link.execute(params![id.0, parent.plant.0, side])?;
                }
            }
        }
    }
    filling.commit()?;
    db.execute_batch(
        "CREATE INDEX by_child ON link(child, parent, side);
         CREATE INDEX by_parent ON link(parent, child); ANALYZE;",
    )?;
    Ok(db)
}

fn ask(statement: &mut Statement<'_>, about: impl rusqlite::Params) -> i64 {
    statement.query_row(about, |row| row.get(0)).unwrap_or(-1)
}

/// Puts one question to both, which must find as many plants.
fn compare(
    what: &str,
    n: usize,
    rounds: usize,
    mut ours: impl FnMut() -> usize,
    mut theirs: impl FnMut() -> i64,
) -> Result<(), Box<dyn Error>> {
    let (found, peer) = (ours(), theirs());
    assert!(i64::try_from(found)? == peer, "the peers must agree: {found} and {peer}");
    let ours = best_busy(rounds, || {
        black_box(ours());
    });
    let theirs = best_busy(rounds, || {
        black_box(theirs());
    });
    faster(&format!("{found} {what}, SQLite"), n, [ours, theirs], 100.0);
    Ok(())
}

/// Asks about the plants with most ancestors, and the plant with most descendants.
pub fn measure(book: &Book, n: usize) -> Result<(), Box<dyn Error>> {
    let pedigree = Pedigree::of(book);
    let db = database(book, &pedigree)?;
    let mut scratch = Scratch::default();
    let mut by_depth: Vec<PlantId> =
        book.cross_ids().filter_map(|cross| book.family(cross).next()).collect();
    by_depth.sort_by_cached_key(|&plant| pedigree.ancestors(plant, None).len());
    let [.., other, deep] = by_depth[..] else { return Err("there are no two plants".into()) };
    let used = pedigree.used().iter().copied();
    let wide = used.max_by_key(|&plant| pedigree.descendants(plant, None).len());
    let wide = wide.ok_or("there are no parents")?;

    let mut up = db.prepare(ANCESTORS)?;
    let mut by_generation = db.prepare(ANCESTORS_BY_GENERATION)?;
    let mut both = db.prepare(COMMON)?;
    let mut down = db.prepare(DESCENDANTS)?;
    compare(
        "ancestors, each with its generation",
        n,
        15,
        || pedigree.ancestors_in(black_box(deep), None, &mut scratch).len(),
        || ask(&mut by_generation, [deep.0]),
    )?;
    compare(
        "ancestors; theirs only counted",
        n,
        15,
        || pedigree.ancestors_in(black_box(deep), None, &mut scratch).len(),
        || ask(&mut up, [deep.0]),
    )?;
    compare(
        "ancestors in common",
        n,
        15,
        || pedigree.common_ancestors(black_box(deep), other).len(),
        || ask(&mut both, [deep.0, other.0]),
    )?;
    compare(
        "descendants, each listed",
        n,
        9,
        || pedigree.descendants(black_box(wide), None).len(),
        || ask(&mut down, [wide.0]),
    )
}
