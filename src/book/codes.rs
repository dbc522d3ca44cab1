//! Codes and keys for what has none yet: the next code of a pattern, a name as a key.

use std::collections::{BTreeMap, BTreeSet};

use super::{Season, fold};

/// Codes in use, and the next free one of each season.
#[derive(Debug)]
pub struct Codes {
    pattern: Box<str>,
    taken: BTreeSet<Box<str>>,
    last: BTreeMap<Option<Season>, u64>,
}

impl Codes {
    /// Codes of a pattern, with those in use.
    pub fn new(pattern: &str, taken: BTreeSet<Box<str>>) -> Self {
        Self { pattern: pattern.into(), taken, last: BTreeMap::new() }
    }

    /// Takes the next code of a season: one past the highest in use.
    pub fn take(&mut self, season: Option<Season>) -> Box<str> {
        let shape = Shape::of(&self.pattern, season);
        let mut n = match self.last.get(&season) {
            Some(last) => *last,
            None => self.taken.iter().filter_map(|code| shape.count_in(code)).max().unwrap_or(0),
        };
        loop {
            n = n.saturating_add(1);
            let code = shape.code(n);
            if self.taken.insert(code.clone()) {
                self.last.insert(season, n);
                return code;
            }
        }
    }
}

/// A pattern with its year filled in: a running count between two texts.
struct Shape {
    before: String,
    wide: usize,
    after: String,
}

impl Shape {
    fn of(pattern: &str, season: Option<Season>) -> Self {
        let (before, rest) = pattern.split_once('#').unwrap_or((pattern, ""));
        let after = rest.trim_start_matches('#');
        let wide = 1 + rest.len() - after.len();
        let year = |text: &str| match season {
            Some(Season(year)) => text
                .replace("YYYY", &format!("{year:04}"))
                .replace("YY", &format!("{:02}", year.rem_euclid(100))),
            // Where the season is not known, the code has no year either.
            None => text.replace("YYYY", "").replace("YY", ""),
        };
        let mut before = year(before);
        if season.is_none() {
            let head = before.trim_start_matches(|c: char| !c.is_alphanumeric()).len();
            before = before.split_off(before.len() - head);
        }
        Self { before, wide, after: year(after) }
    }

    fn code(&self, n: u64) -> Box<str> {
        format!("{}{n:0wide$}{}", self.before, self.after, wide = self.wide).into()
    }

    fn count_in(&self, code: &str) -> Option<u64> {
        let count = code.strip_prefix(&*self.before)?.strip_suffix(&*self.after)?;
        count.bytes().all(|b| b.is_ascii_digit()).then(|| count.parse().ok())?
    }
}

/// The letters after the code of a cross that make the code of its `n`th lot, from 0: `a` to
/// `z`, then `aa`.
pub fn lot_letters(mut n: usize) -> String {
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(b'a' + u8::try_from(n % 26).unwrap_or_default()));
        if n < 26 {
            break;
        }
        n = n / 26 - 1;
    }
    letters.iter().rev().collect()
}

/// A name as a key: small letters and digits of the plainest kind, words joined by hyphens.
pub fn slug(name: &str) -> String {
    let mut slug = String::new();
    for c in fold(name).chars() {
        if c.is_ascii_alphanumeric() {
            slug.push(c);
        } else if c != '\'' && !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() { "variety".to_owned() } else { slug.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(pattern: &str, taken: &[&str]) -> Codes {
        Codes::new(pattern, taken.iter().map(|&code| code.into()).collect())
    }

    #[test]
    fn a_code_goes_on_from_the_highest_of_its_season() {
        let mut codes = codes("YYX##", &["25X03", "25X01", "24X17", "25Xold", "25X"]);
        assert_eq!(&*codes.take(Some(Season(2025))), "25X04");
        assert_eq!(&*codes.take(Some(Season(2024))), "24X18");
        assert_eq!(&*codes.take(Some(Season(2025))), "25X05");
        assert_eq!(&*codes.take(None), "X01");
    }

    #[test]
    fn patterns_of_other_shapes_give_codes_too() {
        assert_eq!(&*codes("YYYY/#", &["2025/9"]).take(Some(Season(2025))), "2025/10");
        assert_eq!(&*codes("C", &[]).take(Some(Season(2025))), "C1");
        assert_eq!(&*codes("#-YY", &[]).take(Some(Season(1999))), "1-99");
        assert_eq!(&*codes("YY-###", &[]).take(None), "001");
        assert_eq!(&*codes("##", &["99"]).take(None), "100");
    }

    #[test]
    fn lots_are_lettered_without_end() {
        let letters: Vec<String> = [0, 25, 26, 51, 52, 701, 702].map(lot_letters).into();
        assert_eq!(letters, ["a", "z", "aa", "az", "ba", "zz", "aaa"]);
    }
}
