//! Who or what a person means by a word: a key, a number or a name, as loosely as people write.

use unicode_normalization::{UnicodeNormalization, char::is_combining_mark};

use super::{Book, CrossId, PlantId, PlantRecord};

/// Words suggested at most for being spelt nearly so.
const MOST_NEAR: usize = 3;
/// Names suggested at most for having the word in them.
const MOST_WITHIN: usize = 3;
/// A word of fewer letters stands in too many names to suggest them.
const LEAST_WITHIN: usize = 3;

/// Who answers to a word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found<Id = PlantId> {
    /// One does.
    One(Id),
    /// Several do, in the order of the book.
    Several(Vec<Id>),
    /// Nobody does.
    None {
        /// What stands in the book and may have been meant: names of which it is a part, in the
        /// order of the book, then those spelt nearly so, the nearest first; a few of each.
        near: Vec<String>,
    },
}

/// The plants that a word may mean: those whose key, number or name it is, letter for letter or,
/// failing that, [when folded](fold).
///
/// A number that was used twice means both its bearers, although to one of them it is the key. So
/// that each can be named for certain, a key after `id:` means its bearer and no other.
pub fn find(book: &Book, text: &str) -> Found {
    if let Some(id) = text.strip_prefix("id:").and_then(|key| book.by_key(key)) {
        return Found::One(id);
    }
    let all = || book.plants().map(|id| (id, words_of(book.plant(id))));
    if book.by_key(text).is_none() {
        return search(text, all);
    }
    let bears = |words: [Option<&str>; 3]| words.contains(&Some(text));
    found(all().filter(|(_, words)| bears(*words)).map(|(id, _)| id).collect(), Vec::new)
}

/// The crosses that a word may mean: by code, letter for letter or else folded.
pub fn find_cross(book: &Book, text: &str) -> Found<CrossId> {
    if let Some(id) = book.cross_by_code(text) {
        return Found::One(id);
    }
    search(text, || book.cross_ids().map(|id| (id, [Some(&*book.cross(id).code), None, None])))
}

/// A word as it is compared: small letters without accents, one blank between words and none
/// around them, straight quotes and short dashes.
///
/// Letters that are no letter with an accent to Unicode (`ß`, `ø`, `æ` …) are spelt out, so that
/// they can be typed on any keyboard.
pub fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    fold_into(text, &mut folded);
    folded
}

fn fold_into(text: &str, folded: &mut String) {
    folded.clear();
    let mut blank = false;
    let mut take = |c: char| {
        if c.is_whitespace() {
            blank = true;
            return;
        }
        if std::mem::take(&mut blank) && !folded.is_empty() {
            folded.push(' ');
        }
        match c {
            '‘' | '’' | '‛' | 'ʼ' | '′' => folded.push('\''),
            '“' | '”' | '„' => folded.push('"'),
            '‐' | '‑' | '‒' | '–' | '—' | '−' => folded.push('-'),
            'ß' => folded.push_str("ss"),
            'æ' => folded.push_str("ae"),
            'œ' => folded.push_str("oe"),
            'þ' => folded.push_str("th"),
            'ø' => folded.push('o'),
            'ł' => folded.push('l'),
            'đ' | 'ð' => folded.push('d'),
            'ı' => folded.push('i'),
            c => folded.push(c),
        }
    };
    if text.is_ascii() {
        text.chars().for_each(|c| take(c.to_ascii_lowercase()));
    } else {
        let letters = text.nfkd().filter(|&c| !is_combining_mark(c));
        letters.flat_map(char::to_lowercase).for_each(take);
    }
}

/// What a plant answers to, first what it is called.
fn words_of(plant: PlantRecord<'_>) -> [Option<&str>; 3] {
    let name = match plant {
        PlantRecord::Variety(v) => Some(&*v.name),
        PlantRecord::Seedling(_, s) => s.name(),
    };
    [name, plant.number(), Some(plant.key())]
}

fn search<'a, Id, All>(text: &str, all: impl Fn() -> All) -> Found<Id>
where
    All: Iterator<Item = (Id, [Option<&'a str>; 3])>,
{
    let wanted = fold(text);
    if wanted.is_empty() {
        return Found::None { near: Vec::new() };
    }
    let mut folded = String::new();
    let fit = all().filter(|(_, words)| {
        words.iter().flatten().any(|word| {
            fold_into(word, &mut folded);
            folded == wanted
        })
    });
    let fit = fit.map(|(id, _)| id).collect();
    found(fit, || suggested(&wanted, || all().map(|(_, words)| words)))
}

/// What may have been meant by `wanted`, which is folded.
fn suggested<'a, All>(wanted: &str, all: impl Fn() -> All) -> Vec<String>
where
    All: Iterator<Item = [Option<&'a str>; 3]>,
{
    let mut folded = String::new();
    let mut has_part = |word: &&str| {
        fold_into(word, &mut folded);
        folded.contains(wanted)
    };
    let mut suggested: Vec<&str> = Vec::new();
    if wanted.chars().count() >= LEAST_WITHIN {
        for word in all().filter_map(|words| words.into_iter().flatten().find(&mut has_part)) {
            if !suggested.contains(&word) {
                suggested.push(word);
            }
            if suggested.len() == MOST_WITHIN {
                break;
            }
        }
    }
    let mut suggested: Vec<String> = suggested.into_iter().map(str::to_owned).collect();
    for word in near(wanted, all()) {
        if !suggested.contains(&word) {
            suggested.push(word);
        }
    }
    suggested
}

fn found<Id>(mut fit: Vec<Id>, near: impl FnOnce() -> Vec<String>) -> Found<Id> {
    match (fit.pop(), fit.is_empty()) {
        (None, _) => Found::None { near: near() },
        (Some(only), true) => Found::One(only),
        (Some(last), false) => {
            fit.push(last);
            Found::Several(fit)
        }
    }
}

/// The words spelt most nearly like `word`, the nearest first; at most three.
pub fn near_words<'a>(word: &str, all: impl Iterator<Item = &'a str>) -> Vec<String> {
    near(&fold(word), all.map(|word| [Some(word), None, None]))
}

/// The words spelt most nearly like `wanted`, which is folded; one word for each that bears
/// several.
fn near<'a>(wanted: &str, all: impl Iterator<Item = [Option<&'a str>; 3]>) -> Vec<String> {
    let wanted: Vec<char> = wanted.chars().collect();
    let mut folded = String::new();
    let mut letters = Vec::new();
    let mut best: Vec<(usize, &str)> = Vec::new();
    for words in all {
        // The worst that would still be taken: one slip in three letters, and better than the
        // last of those already found.
        let last = best.get(MOST_NEAR - 1);
        let most = last.map_or(wanted.len() / 3, |(slips, _)| slips.saturating_sub(1));
        let nearest = words.into_iter().flatten().filter_map(|word| {
            fold_into(word, &mut folded);
            letters.clear();
            letters.extend(folded.chars());
            Some((slips(&wanted, &letters, most)?, word))
        });
        if let Some((slips, word)) = nearest.min_by_key(|(slips, _)| *slips)
            && best.iter().all(|(_, known)| *known != word)
        {
            let at = best.partition_point(|(known, _)| *known <= slips);
            best.insert(at, (slips, word));
            best.truncate(MOST_NEAR);
        }
    }
    best.into_iter().map(|(_, word)| word.to_owned()).collect()
}

/// Slips of the pen between two words: a letter wrong, missing, too many, or two neighbours
/// swapped (optimal string alignment distance). `None` above `most`.
fn slips(a: &[char], b: &[char], most: usize) -> Option<usize> {
    if a.len().abs_diff(b.len()) > most {
        return None;
    }
    let mut older: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, &x) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        row.push(i + 1);
        for (j, &y) in b.iter().enumerate() {
            let mut least = (above[j] + usize::from(x != y)).min(above[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && x == b[j - 1] && a[i - 1] == y {
                least = least.min(older[j - 1] + 1);
            }
            row.push(least);
        }
        if row.iter().all(|&d| d > most) {
            return None;
        }
        older = std::mem::replace(&mut above, row);
    }
    above.last().copied().filter(|&d| d <= most)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::book::{About, Crop, Cross, Entry, PlantDeed, Seedling, Variety, When};

    fn variety(id: &str, name: &str) -> Variety {
        Variety { id: id.into(), name: name.into(), ..Variety::default() }
    }

    fn seedling(number: &str, id: Option<&str>, name: Option<&str>) -> Seedling {
        let diary = name
            .map(|n| Entry { on: When::parse("2026").unwrap(), did: PlantDeed::Named(n.into()) })
            .into_iter()
            .collect();
        Seedling { number: number.into(), id: id.map(Into::into), lot: None, diary }
    }

    fn book() -> Book {
        let varieties = vec![
            variety("ferry-lantern", "Ferry Lantern"),
            variety("heron-s-reach", "Heron’s Reach"),
            variety("soeur-agnes", "Sœur Agnès"),
            variety("tide-pool", "Tide Pool"),
        ];
        let cross =
            |code: &str, seedlings| Cross { code: code.into(), seedlings, ..Cross::default() };
        let crosses = vec![
            cross(
                "24X01",
                vec![seedling("A-1", Some("A-1/24"), None), seedling("A-2", None, None)],
            ),
            cross(
                "25X07",
                vec![
                    seedling("A-1", Some("A-1/25"), Some("Gull Blæst")),
                    seedling("tide pool", None, None),
                ],
            ),
        ];
        Book::new(About::default(), Arc::new(Crop::default()), varieties, crosses)
    }

    fn keys(book: &Book, text: &str) -> Vec<String> {
        let key = |id| book.plant(id).key().to_owned();
        match find(book, text) {
            Found::One(id) => vec![key(id)],
            Found::Several(ids) => ids.into_iter().map(key).collect(),
            Found::None { .. } => Vec::new(),
        }
    }

    #[test]
    fn a_plant_is_found_by_key_number_and_name_however_it_is_written() {
        let book = book();
        for text in ["ferry-lantern", "Ferry Lantern", "  FERRY   lantern ", "Férry Lantern"] {
            assert_eq!(keys(&book, text), ["ferry-lantern"], "{text}");
        }
        assert_eq!(keys(&book, "heron's reach"), ["heron-s-reach"]);
        assert_eq!(keys(&book, "soeur agnes"), ["soeur-agnes"]);
        assert_eq!(keys(&book, "a-2"), ["A-2"]);
        assert_eq!(keys(&book, "gull blaest"), ["A-1/25"]);
    }

    #[test]
    fn a_number_borne_twice_finds_both_and_a_key_only_its_bearer() {
        let book = book();
        assert_eq!(keys(&book, "A-1"), ["A-1/24", "A-1/25"]);
        assert_eq!(keys(&book, "A-1/25"), ["A-1/25"]);
        assert_eq!(keys(&book, "tide pool"), ["tide pool"], "letter for letter");
        assert_eq!(keys(&book, "Tide  Pool"), ["tide-pool", "tide pool"], "both, when folded");
    }

    /// The first plant of a number may have it for its key; it is not meant more than the second.
    #[test]
    fn a_key_that_is_another_plants_number_means_both_unless_it_is_said_to_be_the_key() {
        let first = seedling("A-1", None, None);
        let second = seedling("A-1", Some("A-1/25"), None);
        let cross = |seedling| Cross { seedlings: vec![seedling], ..Cross::default() };
        let crosses = vec![cross(first), cross(second)];
        let book = Book::new(About::default(), Arc::new(Crop::default()), vec![], crosses);
        assert_eq!(keys(&book, "A-1"), ["A-1", "A-1/25"]);
        assert_eq!(keys(&book, "id:A-1"), ["A-1"]);
        assert_eq!(keys(&book, "A-1/25"), ["A-1/25"]);
        assert_eq!(keys(&book, "id:A-2"), [""; 0]);
    }

    #[test]
    fn where_nobody_answers_the_nearest_names_are_offered() {
        let book = book();
        let near = |text: &str| match find(&book, text) {
            Found::None { near } => near,
            other => vec![format!("{other:?}")],
        };
        assert_eq!(near("Fery Lantern"), ["Ferry Lantern"]);
        assert_eq!(near("Tide Polo")[0], "Tide Pool");
        assert_eq!(near("lantern"), ["Ferry Lantern"], "a part of it");
        assert_eq!(near("antern L"), [""; 0]);
        assert_eq!(near("Poo"), ["Tide Pool", "tide pool"], "both, for they are two");
        assert_eq!(near("oo"), [""; 0], "too little to go by");
        assert_eq!(near("Wholly Other"), [""; 0]);
        assert_eq!(near(""), [""; 0]);
        assert_eq!(near(" \u{301} "), [""; 0]);
    }

    #[test]
    fn a_cross_is_found_by_its_code() {
        let book = book();
        assert_eq!(find_cross(&book, "25X07"), Found::One(CrossId(1)));
        assert_eq!(find_cross(&book, " 25x07"), Found::One(CrossId(1)));
        assert_eq!(find_cross(&book, "25X70"), Found::None { near: vec!["25X07".to_owned()] });
    }

    #[test]
    fn folding_a_folded_word_changes_nothing() {
        for c in (0..0x1_0000).chain(0x1_D400..0x1_D800).filter_map(char::from_u32) {
            let once = fold(&format!("a{c}b"));
            assert_eq!(fold(&once), once, "U+{:04X}", u32::from(c));
        }
    }

    #[test]
    fn slips_are_counted_as_a_writer_makes_them() {
        let of = |a: &str, b: &str| {
            slips(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>(), 9)
        };
        assert_eq!(of("lantern", "lantern"), Some(0));
        assert_eq!(of("lantern", "lantren"), Some(1), "neighbours swapped");
        assert_eq!(of("lantern", "lanter"), Some(1));
        assert_eq!(of("lantern", "lanterns"), Some(1));
        assert_eq!(of("", "abc"), Some(3));
        assert_eq!(of("kitten", "sitting"), Some(3));
    }
}
