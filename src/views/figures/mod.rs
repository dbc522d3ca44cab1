//! Every figure that is shown anywhere: what it says in one plain line, how it is worked out, and
//! where that comes from.
//!
//! A figure is found by the words under which it stands on a screen or a sheet; a test reads those
//! words off the sources, so that none can be added without its row here.

mod bloom;
mod counts;
mod kin;
mod rates;
mod traits;

/// One figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Figure {
    /// What it is called.
    pub name: &'static str,
    /// The words under which it stands: heads of columns, names of facts, words in a picture.
    pub heads: &'static [&'static str],
    /// Where it is shown.
    pub shown: &'static str,
    /// What it says, in one line.
    pub reading: &'static str,
    /// How it is worked out.
    pub formula: &'static str,
    /// Who says so: author, year and title; or common practice.
    pub source: &'static str,
}

/// What a count rests on: nobody's formula.
const COUNTED: &str = "counted; common practice";

/// Every figure, in the order in which a season brings them.
pub fn all() -> impl Iterator<Item = &'static Figure> {
    [counts::ALL, rates::ALL, bloom::ALL, kin::ALL, traits::ALL].into_iter().flatten()
}

/// The figures of which a word speaks: those with that name or head or, where there are none,
/// those with the letters anywhere in name, head or reading.
pub fn named(word: &str) -> Vec<&'static Figure> {
    let word = word.trim().to_lowercase();
    let is = |text: &str| text.to_lowercase() == word;
    let has = |text: &str| text.to_lowercase().contains(&word);
    let exact: Vec<_> = all()
        .filter(|figure| is(figure.name) || figure.heads.iter().any(|head| is(head)))
        .collect();
    if !exact.is_empty() {
        return exact;
    }
    let near = |figure: &&Figure| {
        has(figure.name) || has(figure.reading) || figure.heads.iter().any(|head| has(head))
    };
    all().filter(near).collect()
}

#[cfg(test)]
mod tests {
    use std::{collections::BTreeSet, fs, path::Path};

    use super::*;

    #[test]
    fn every_figure_has_all_its_parts_each_in_a_line() {
        let mut names = BTreeSet::new();
        for figure in all() {
            let Figure { name, heads, shown, reading, formula, source } = figure;
            assert!(names.insert(name), "{name} stands twice");
            assert!(!heads.is_empty() && heads.iter().all(|head| !head.is_empty()), "{name}");
            for part in [name, shown, reading, formula, source] {
                assert!(part.len() > 2 && part.trim() == *part, "{name}: {part:?}");
                assert!(!part.contains('\n') && !part.contains("  "), "{name}: {part:?}");
            }
            assert!(reading.ends_with('.') && reading.len() <= 120, "{name}: {}", reading.len());
            let is_published = source.chars().any(|c| c.is_ascii_digit());
            assert!(is_published || source.contains("common practice"), "{name}: {source}");
        }
    }

    /// Numbers that only say where or which something is, and columns whose cells have no figures.
    const NO_FIGURES: &[&str] = &["", "line", "column", "row", "place", "change"];
    /// Facts in words.
    const NO_FACTS: &[&str] = &["stands", "gives", "note", "seed from", "known"];

    /// The texts between quotes that follow `before` in the files of a folder.
    fn quoted(dir: &Path, before: &str, found: &mut BTreeSet<String>) {
        for entry in fs::read_dir(dir).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                quoted(&path, before, found);
            }
            let Ok(source) = fs::read_to_string(&path) else { continue };
            let source = source.split("#[cfg(test)]").next().unwrap_or_default();
            let texts = source.split(before).skip(1).filter_map(|rest| rest.split('"').next());
            found.extend(texts.map(str::to_owned));
        }
    }

    #[test]
    fn no_figure_on_a_screen_or_a_sheet_lacks_its_row() {
        let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut heads = BTreeSet::new();
        for before in ["Column::figures(\"", "Column::figures(\n    \""] {
            quoted(&src.join("tui"), before, &mut heads);
        }
        for before in [".number(\"", ".spare(\""] {
            quoted(&src.join("cli"), before, &mut heads);
        }
        let mut facts = BTreeSet::new();
        for page in ["plant", "cross", "parent"] {
            for before in ["say(\"", "say(\n        \"", "Fact::Words(\""] {
                quoted(&src.join("tui").join(page), before, &mut facts);
            }
        }
        assert!(heads.len() > 30 && facts.len() > 10, "the words were not found");
        heads.extend(facts.into_iter().filter(|fact| !NO_FACTS.contains(&&**fact)));
        let known: BTreeSet<&str> = all().flat_map(|figure| figure.heads).copied().collect();
        let lacking: Vec<&String> = heads
            .iter()
            .filter(|head| !NO_FIGURES.contains(&&***head) && !known.contains(&***head))
            .collect();
        assert!(lacking.is_empty(), "nothing is said of {lacking:?}");
    }

    #[test]
    fn a_word_finds_its_figure() {
        let names = |word| named(word).iter().map(|figure| figure.name).collect::<Vec<_>>();
        assert_eq!(names("F"), ["inbreeding"]);
        assert_eq!(names("ever"), ["kept"]);
        assert!(names("brother").contains(&"inbreeding"));
        assert!(names("no such thing").is_empty());
    }
}
