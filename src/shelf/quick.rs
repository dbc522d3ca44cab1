//! A quick reader for files as we write them.
//!
//! `ron` takes every liberty of the format into account, and opening a book spent most of its
//! time there. This reader knows the plain forms that [`super::write`] uses and gives up at
//! anything else: a comment, a name before a bracket, `Some`, a number in hexadecimal. Then `ron`
//! reads the file, and it alone says what is wrong with one. Whatever is read here, `ron` reads
//! to the same effect; the tests below hold the two together.

use std::fmt::{self, Display};

use serde::{
    Deserialize,
    de::{self, DeserializeSeed, Visitor},
    forward_to_deserialize_any,
};

/// Reads a text, if it holds nothing but the plain forms.
pub(super) fn quickly<'de, T: Deserialize<'de>>(text: &'de str) -> Option<T> {
    let mut quick = Quick { text, at: 0 };
    let read = T::deserialize(&mut quick).ok()?;
    quick.peek().is_none().then_some(read)
}

/// Something that is not a plain form, or not right.
#[derive(Debug)]
struct NotPlain;

impl Display for NotPlain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("not in a plain form")
    }
}

impl std::error::Error for NotPlain {}

impl de::Error for NotPlain {
    fn custom<T: Display>(_: T) -> Self {
        Self
    }
}

type Read<T> = Result<T, NotPlain>;

struct Quick<'de> {
    text: &'de str,
    at: usize,
}

impl<'de> Quick<'de> {
    fn here(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    /// The next byte that is not white space.
    fn peek(&mut self) -> Option<u8> {
        while let Some(b' ' | b'\n' | b'\r' | b'\t') = self.here() {
            self.at += 1;
        }
        self.here()
    }

    fn takes(&mut self, byte: u8) -> bool {
        let is_there = self.peek() == Some(byte);
        self.at += usize::from(is_there);
        is_there
    }

    fn expect(&mut self, byte: u8) -> Read<()> {
        if self.takes(byte) { Ok(()) } else { Err(NotPlain) }
    }

    /// Takes the bytes that pass.
    fn take(&mut self, passes: impl Fn(u8) -> bool) -> Read<&'de str> {
        let start = self.at;
        while self.here().is_some_and(&passes) {
            self.at += 1;
        }
        self.since(start)
    }

    fn since(&self, start: usize) -> Read<&'de str> {
        self.text.get(start..self.at).ok_or(NotPlain)
    }

    fn word(&mut self) -> Read<&'de str> {
        match self.peek() {
            Some(b'a'..=b'z' | b'A'..=b'Z') => {
                self.take(|b| b.is_ascii_alphanumeric() || b == b'_')
            }
            _ => Err(NotPlain),
        }
    }

    /// A whole number without sign, in one of the ways that it is written by everybody.
    fn digits(&mut self) -> Read<&'de str> {
        let digits = self.take(|b| b.is_ascii_digit())?;
        if digits.is_empty() || (digits.len() > 1 && digits.starts_with('0')) {
            return Err(NotPlain);
        }
        Ok(digits)
    }

    fn unsigned(&mut self) -> Read<u64> {
        self.peek();
        let number = self.digits()?.parse().map_err(|_too_large| NotPlain)?;
        self.ends_value()?;
        Ok(number)
    }

    fn signed(&mut self) -> Read<i64> {
        let is_negative = self.takes(b'-');
        let number: i64 = self.digits()?.parse().map_err(|_too_large| NotPlain)?;
        self.ends_value()?;
        Ok(if is_negative { -number } else { number })
    }

    fn float(&mut self) -> Read<f64> {
        self.peek();
        let start = self.at;
        self.at += usize::from(self.here() == Some(b'-'));
        self.digits()?;
        if self.here() == Some(b'.') {
            self.at += 1;
            if self.take(|b| b.is_ascii_digit())?.is_empty() {
                return Err(NotPlain);
            }
        }
        self.ends_value()?;
        self.since(start)?.parse().map_err(|_not_a_number| NotPlain)
    }

    /// A number ends where a sign or white space follows.
    fn ends_value(&self) -> Read<()> {
        match self.here() {
            None | Some(b' ' | b'\n' | b'\r' | b'\t' | b',' | b')' | b']' | b'}') => Ok(()),
            Some(_) => Err(NotPlain),
        }
    }

    fn string<V: Visitor<'de>>(&mut self, visitor: V) -> Read<V::Value> {
        self.expect(b'"')?;
        let start = self.at;
        let plain = self.take(|b| b != b'"' && b != b'\\')?;
        if self.here() == Some(b'"') {
            self.at += 1;
            return visitor.visit_borrowed_str(plain);
        }
        while let Some(byte) = self.here() {
            self.at += if byte == b'\\' { 2 } else { 1 };
            if byte == b'"' {
                let quoted = self.since(start - 1)?;
                let meant = ron::from_str(quoted).map_err(|_wrong_escape| NotPlain)?;
                return visitor.visit_string(meant);
            }
        }
        Err(NotPlain)
    }
}

/// The forms that are plain, by the method that asks for them.
macro_rules! plain {
    ($($method:ident => $visit:ident($read:ident);)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
            visitor.$visit(self.$read()?)
        }
    )*};
}

impl<'de> de::Deserializer<'de> for &mut Quick<'de> {
    type Error = NotPlain;

    plain! {
        deserialize_u8 => visit_u64(unsigned);
        deserialize_u16 => visit_u64(unsigned);
        deserialize_u32 => visit_u64(unsigned);
        deserialize_u64 => visit_u64(unsigned);
        deserialize_i16 => visit_i64(signed);
        deserialize_f64 => visit_f64(float);
        deserialize_identifier => visit_borrowed_str(word);
    }

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Read<V::Value> {
        Err(NotPlain)
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        match self.word()? {
            "true" => visitor.visit_bool(true),
            "false" => visitor.visit_bool(false),
            _ => Err(NotPlain),
        }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.string(visitor)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.string(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        match self.peek() {
            // `None` and `Some(…)` are never written.
            Some(b'N' | b'S') => Err(NotPlain),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.expect(b'[')?;
        visitor.visit_seq(Inside { quick: self, close: b']', is_first: true })
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Read<V::Value> {
        self.expect(b'(')?;
        let mut inside = Inside { quick: self, close: b')', is_first: true };
        let taken = visitor.visit_seq(&mut inside)?;
        if inside.goes_on()? { Err(NotPlain) } else { Ok(taken) }
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.expect(b'{')?;
        visitor.visit_map(Inside { quick: self, close: b'}', is_first: true })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Read<V::Value> {
        self.expect(b'(')?;
        visitor.visit_map(Inside { quick: self, close: b')', is_first: true })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Read<V::Value> {
        visitor.visit_enum(self)
    }

    forward_to_deserialize_any! {
        i8 i32 i64 i128 u128 f32 char bytes byte_buf unit unit_struct newtype_struct tuple_struct
        ignored_any
    }
}

/// What stands in a bracket, item by item.
struct Inside<'q, 'de> {
    quick: &'q mut Quick<'de>,
    close: u8,
    is_first: bool,
}

impl Inside<'_, '_> {
    /// Whether another item follows; if not, the bracket is closed.
    fn goes_on(&mut self) -> Read<bool> {
        let is_first = std::mem::take(&mut self.is_first);
        let may_go_on = is_first || self.quick.takes(b',');
        match (self.quick.takes(self.close), may_go_on) {
            (true, _) => Ok(false),
            (false, true) => Ok(true),
            (false, false) => Err(NotPlain),
        }
    }
}

impl<'de> de::SeqAccess<'de> for Inside<'_, 'de> {
    type Error = NotPlain;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Read<Option<S::Value>> {
        if self.goes_on()? { seed.deserialize(&mut *self.quick).map(Some) } else { Ok(None) }
    }
}

impl<'de> de::MapAccess<'de> for Inside<'_, 'de> {
    type Error = NotPlain;

    fn next_key_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Read<Option<S::Value>> {
        if self.goes_on()? { seed.deserialize(&mut *self.quick).map(Some) } else { Ok(None) }
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Read<S::Value> {
        self.quick.expect(b':')?;
        seed.deserialize(&mut *self.quick)
    }
}

impl<'de> de::EnumAccess<'de> for &mut Quick<'de> {
    type Error = NotPlain;
    type Variant = Self;

    fn variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Read<(S::Value, Self)> {
        Ok((seed.deserialize(&mut *self)?, self))
    }
}

impl<'de> de::VariantAccess<'de> for &mut Quick<'de> {
    type Error = NotPlain;

    fn unit_variant(self) -> Read<()> {
        Ok(())
    }

    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Read<S::Value> {
        self.expect(b'(')?;
        let value = seed.deserialize(&mut *self)?;
        self.takes(b',');
        self.expect(b')')?;
        Ok(value)
    }

    fn tuple_variant<V: Visitor<'de>>(self, len: usize, visitor: V) -> Read<V::Value> {
        de::Deserializer::deserialize_tuple(self, len, visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Read<V::Value> {
        de::Deserializer::deserialize_struct(self, "", fields, visitor)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop at the first surprise")]
mod tests {
    use std::path::Path;

    use proptest::{collection::vec, prelude::*, sample::Index};

    use super::{
        super::{
            amiss::Amiss,
            demo::pages,
            disk::{About, Cross, Disk, Variety},
            read::options,
        },
        *,
    };

    /// Whether a text is read here. If it is, `ron` must find the same in it.
    #[track_caller]
    fn is_plain<D: Disk<Record: PartialEq>>(text: &str) -> bool {
        let Some(quick) = quickly::<D>(text) else { return false };
        let Ok(slow) = options().from_str::<D>(text) else {
            panic!("ron does not read this:\n{text}");
        };
        assert_eq!(quick.format(), slow.format(), "{text}");
        let (mut here, mut there) = (Amiss::default(), Amiss::default());
        assert!(quick.take(&mut here) == slow.take(&mut there), "{text}");
        assert_eq!(here.into_found(), there.into_found(), "{text}");
        true
    }

    fn is_plain_file(path: &Path, text: &str) -> bool {
        if path.starts_with("crosses") {
            is_plain::<Cross>(text)
        } else if path.starts_with("varieties") {
            is_plain::<Variety>(text)
        } else {
            is_plain::<About>(text)
        }
    }

    #[test]
    fn files_of_our_own_are_plain() {
        for (path, text) in pages() {
            let text = str::from_utf8(text).unwrap();
            assert!(is_plain_file(&path, text), "{}", path.display());
        }
    }

    #[test]
    fn what_is_not_plain_is_left_to_ron() {
        let plain = "(format: 1, code: \"1\", season: 2025, lots: [(code: \"a\", seeds: 3)])";
        assert!(is_plain::<Cross>(plain));
        for (a, b) in [
            ("2025", "0x7E9"),
            ("2025", "2_025"),
            ("2025", "02025"),
            ("2025", "2025i16"),
            ("2025", "Some(2025)"),
            ("2025", "None"),
            ("2025", "2025.0"),
            ("2025", "99999"),
            ("(format", "Cross(format"),
            ("(format", "#![enable(implicit_some)] (format"),
            ("\"1\"", "r\"1\""),
            ("\"1\"", "\"\\q\""),
            (", season", ", /* when */ season"),
            ("season", "r#season"),
            ("season", "seasons"),
            ("season", "season: 2024, season"),
            ("season:", "season"),
            (", season", " season"),
            (", season", ",, season"),
            (")]", ")])"),
            (")])", ")]"),
        ] {
            assert!(plain.contains(a));
            assert!(!is_plain::<Cross>(&plain.replacen(a, b, 1)), "{a} as {b}");
        }
    }

    /// Pieces that mean something to one reader or the other.
    const PIECES: &str = "( ) [ ] { } , : \" \\ ' . - + _ / # 0 9 e // /* */ r#\" \"# Some( None \
         NaN inf -inf 1e999 -0 0x 0b1 1_0 007 .5 5. u16 true () (,) \\u{41} \\n \\\" \u{b} \u{85} \
         \u{feff} \u{1b} é format: Look( Unknown Selfed Known( OneOf([( 0.5 9999999999";

    proptest! {
        #[test]
        fn struck_files_that_are_still_plain_mean_the_same_to_ron(
            file in any::<Index>(),
            blows in vec((any::<Index>(), 0..4_usize, any::<Index>(), any::<bool>()), 1..3),
        ) {
            let files = pages();
            let (path, text) = file.get(&files);
            let text = String::from_utf8_lossy(text);
            let pieces: Vec<&str> = PIECES.split(' ').collect();
            let mut struck: Vec<char> = text.chars().take(2000).collect();
            for (at, n_lost, piece, is_again) in blows {
                let at = at.index(struck.len() + 1);
                let end = (at + n_lost).min(struck.len());
                let lost: String = struck.drain(at..end).collect();
                let new = if is_again { lost.repeat(2) } else { (*piece.get(&pieces)).to_owned() };
                struck.splice(at..at, new.chars());
            }
            is_plain_file(path, &struck.into_iter().collect::<String>());
        }
    }
}
