//! What was taken in is kept: laid on the shelf and taken down again, it is the same book.

use trug::{
    exchange::import::TEMPLATES,
    shelf::{Opened, Saved, create, open},
};

use super::*;

/// A new book of dahlias in a folder.
fn new_book(root: &std::path::Path) -> Opened {
    let about =
        About { garden: "Quillet Garden".into(), crop: "dahlia".into(), ..About::default() };
    create(root, &about).unwrap();
    open(root, None).unwrap()
}

fn keep(opened: Opened, import: &Import) -> Opened {
    let Opened { mut shelf, .. } = opened;
    let (book, changed) = (&import.book, &import.changed);
    let mut saved = Saved::default();
    let varieties = book.varieties().iter().filter(|v| changed.varieties.contains(&v.id));
    let crosses = book.crosses().iter().map(|cross| &**cross);
    let crosses = crosses.filter(|cross| changed.crosses.contains(&cross.code));
    shelf.write_records(varieties, crosses, &mut saved).unwrap();
    for id in &changed.varieties_gone {
        shelf.drop_variety(id).unwrap();
    }
    let again = open(shelf.root(), None).unwrap();
    assert!(again.problems.is_empty(), "{:?}", again.problems);
    assert_eq!(tale(&again.book), tale(book));
    again
}

#[test]
fn the_templates_are_kept_as_they_were_taken() {
    let dir = tempfile::tempdir().unwrap();
    let opened = new_book(&dir.path().join("garden"));
    let files: Vec<(&str, &str)> = TEMPLATES.iter().map(|t| (t.kind.word(), t.csv)).collect();
    let import = taken_into(&opened.book, &files, Options::default());
    let opened = keep(opened, &import);
    let again = taken_into(&opened.book, &files, Options::default());
    assert!(again.report.changes_nothing(), "{:?}", again.report);
}

#[test]
fn a_variety_that_turned_out_a_seedling_leaves_the_shelf() {
    let dir = tempfile::tempdir().unwrap();
    let root = dir.path().join("garden");
    let opened = new_book(&root);
    let first = "seedling,season,seed_parent\n25-1,2024,24-031\n";
    let import = taken_into(&opened.book, &[("s.csv", first)], Options::default());
    let opened = keep(opened, &import);
    assert!(root.join("varieties/24-031.ron").exists());
    let then = "seedling,season\n24-031,2023\n";
    let import = taken_into(&opened.book, &[("s.csv", then)], Options::default());
    keep(opened, &import);
    assert!(!root.join("varieties/24-031.ron").exists());
    assert!(root.join(".trug/earlier/varieties/24-031~1.ron").exists());
}
