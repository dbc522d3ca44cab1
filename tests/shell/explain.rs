//! `trug explain`.

use super::Home;

#[test]
fn a_figure_is_explained_without_any_book() {
    let home = Home::new();
    let all = home.json(&["explain"]);
    let all = all.as_array().unwrap();
    assert!(all.len() > 30);
    let parts = ["figure", "reading", "formula", "source", "shown"];
    let has_all = |row: &serde_json::Value| parts.iter().all(|part| row[part].is_string());
    assert!(all.iter().all(has_all));
    let one = home.json(&["explain", "F"]);
    assert_eq!(one[0]["figure"], "inbreeding");
    assert_eq!(one.as_array().unwrap().len(), 1);
    let sheet = home.out(&["explain", "kept", "of", "judged"]);
    assert!(sheet.contains("worked out: kept ÷ judged"), "{sheet}");
    let (status, said) = home.fails(&["explain", "zebra"]);
    assert_eq!(status, 2);
    assert!(said.contains("zebra"), "{said}");
}
