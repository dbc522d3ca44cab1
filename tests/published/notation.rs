//! Pedigrees in one line.

use proptest::prelude::*;
use trug::lineage::Notation;

use super::{Row, table};

fn tree(of: &Notation) -> String {
    match of {
        Notation::Plant(name) => name.to_string(),
        Notation::Cross(seed, pollen) => format!("({} x {})", tree(seed), tree(pollen)),
    }
}

#[test]
fn lines_are_read_and_written_as_the_rules_have_it() {
    for row in table("m01", "expected.csv") {
        let text = row.text("string");
        let found = Notation::parse(text).unwrap();
        assert_eq!(tree(&found), row.text("tree_female_x_male"), "{text}");
        let line = found.to_string();
        assert_eq!(line, row.text("canonical_string_without_backcross_shorthand"), "{text}");
        assert_eq!(Notation::parse(&line).unwrap(), found, "{text}");
    }
}

#[test]
fn lines_that_say_two_things_or_nothing_are_refused_with_a_sentence() {
    let rows = table("m01", "expected_rejected.csv");
    let more =
        ["A*2", "A*2/B*2", "A/", "A//", "////", "A*900/B", "*2/B", "A/99999999999999999999/B"];
    let texts = rows.iter().map(|row: &Row| row.text("string")).chain(more);
    for text in texts {
        let why = Notation::parse(text).unwrap_err().to_string();
        assert!(why.ends_with('.'), "{text}: {why}");
    }
}

fn any_tree() -> impl Strategy<Value = Notation> {
    let plant = "[A-Z][a-z]{0,5}( [A-Z][a-z]{1,4})?";
    let leaf = plant.prop_map(|name| Notation::Plant(name.into()));
    leaf.prop_recursive(6, 40, 2, |inner| {
        (inner.clone(), inner)
            .prop_map(|(seed, pollen)| Notation::Cross(Box::new(seed), Box::new(pollen)))
    })
}

proptest! {
    #[test]
    fn whatever_is_written_reads_back_as_the_same(of in any_tree()) {
        prop_assert_eq!(Notation::parse(&of.to_string()).unwrap(), of);
    }

    #[test]
    fn any_text_is_read_or_refused(text in "[A-C/*0-9 ]{0,30}") {
        if let Ok(found) = Notation::parse(&text) {
            prop_assert_eq!(Notation::parse(&found.to_string()).unwrap(), found);
        }
    }
}
