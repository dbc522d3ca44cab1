//! Lineage questions against SQLite's recursive common table expressions, in memory.

use std::{error::Error, hint::black_box};

use rusqlite::{Connection, params};
use trug::{
    book::{Book, PlantId},
    lineage::{Pedigree, Scratch},
};

use crate::measure::{best, faster};

const ANCESTORS: &str = "WITH RECURSIVE up(id) AS (
    SELECT parent FROM link WHERE child = ?1
    UNION SELECT parent FROM up JOIN link ON link.child = up.id
) SELECT count(*) FROM up";

const DESCENDANTS: &str = "WITH RECURSIVE down(id) AS (
    SELECT child FROM link WHERE parent = ?1
    UNION SELECT link.child FROM down JOIN link ON link.parent = down.id
) SELECT count(*) FROM down";

/// The same pedigree as an ordinary database would hold it: a row a plant and parent, indexed
/// both ways.
fn database(book: &Book, pedigree: &Pedigree) -> rusqlite::Result<Connection> {
    let mut db = Connection::open_in_memory()?;
    db.execute_batch("CREATE TABLE link(child INTEGER, parent INTEGER);")?;
    let filling = db.transaction()?;
    {
        let mut link = filling.prepare("INSERT INTO link VALUES(?1, ?2)")?;
        for id in book.plants() {
            for parent in pedigree.parents(id).all() {
                link.execute(params![id.0, parent.plant.0])?;
            }
        }
    }
    filling.commit()?;
    db.execute_batch(
        "CREATE INDEX by_child ON link(child, parent);
         CREATE INDEX by_parent ON link(parent, child); ANALYZE;",
    )?;
    Ok(db)
}

/// Asks for the ancestors of the plant with most of them, and the descendants of the plant with
/// most of those.
pub fn measure(book: &Book, n_seedlings: usize) -> Result<(), Box<dyn Error>> {
    let pedigree = Pedigree::of(book);
    let db = database(book, &pedigree)?;
    let mut scratch = Scratch::default();
    let deep = book
        .cross_ids()
        .filter_map(|cross| book.family(cross).next())
        .max_by_key(|&plant| pedigree.ancestors(plant, None).len())
        .unwrap_or(PlantId(0));
    let wide = pedigree
        .used()
        .iter()
        .copied()
        .max_by_key(|&plant| pedigree.descendants(plant, None).len())
        .unwrap_or(PlantId(0));
    let n_up = pedigree.ancestors(deep, None).len();
    let n_down = pedigree.descendants(wide, None).len();

    let mut up = db.prepare(ANCESTORS)?;
    let mut down = db.prepare(DESCENDANTS)?;
    let ask = |statement: &mut rusqlite::Statement<'_>, plant: PlantId| -> i64 {
        statement.query_row([plant.0], |row| row.get(0)).unwrap_or(-1)
    };
    assert_eq!(ask(&mut up, deep), i64::try_from(n_up)?, "the peers must agree");
    let found = ask(&mut down, wide);
    assert!(found == i64::try_from(n_down)?, "the peers must agree: {found} and {n_down}");

    let ours = best(15, || {
        black_box(pedigree.ancestors_in(black_box(deep), None, &mut scratch).len());
    });
    let theirs = best(15, || {
        black_box(ask(&mut up, deep));
    });
    faster(&format!("{n_up} ancestors, SQLite"), n_seedlings, [ours, theirs], 100.0);

    let ours = best(9, || {
        black_box(pedigree.descendants(black_box(wide), None).len());
    });
    let theirs = best(9, || {
        black_box(ask(&mut down, wide));
    });
    faster(
        &format!("{n_down} descendants, each listed, SQLite"),
        n_seedlings,
        [ours, theirs],
        100.0,
    );
    Ok(())
}
