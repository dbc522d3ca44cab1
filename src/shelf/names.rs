//! File names for codes: any text can be a code, not every text can be a file name.
//!
//! Letters, digits and a few signs stand for themselves; everything else is written as the
//! hexadecimal of its bytes after a `%`, so that `12/01` lies in `12%2F01.ron` on every system.

use std::fmt::Write;

use unicode_normalization::UnicodeNormalization;

/// Bytes that a name may have at most; file systems allow 255, and the ending needs room.
const LONGEST: usize = 200;

/// The file name, without its ending, for a code. `taken` says whether a name is in use; two
/// codes that differ only in their case would share a file on many systems, so the second to
/// come has its letters spelled out.
pub(super) fn free_name(code: &str, taken: impl Fn(&str) -> bool) -> String {
    let plain = name(code);
    if taken(&plain) { shortened(escape(code, |_, _| false)) } else { plain }
}

/// The usual file name, without its ending, for a code.
pub(super) fn name(code: &str) -> String {
    let stem = code.split('.').next().unwrap_or_default();
    let device = is_device(stem);
    shortened(escape(code, |at, c| match c {
        _ if at == 0 && device => false,
        '.' | '-' | ' ' => at > 0,
        '_' | '+' | ',' | '=' | '@' | '\'' | '(' | ')' => true,
        _ => c.is_alphanumeric() && std::iter::once(c).nfc().eq([c]),
    }))
}

/// The code that a file name, without its ending, stands for, if it is one of ours and was not
/// shortened.
pub(super) fn code_of(name: &str) -> Option<String> {
    if name == "%" {
        return Some(String::new());
    }
    let mut pieces = name.split('%');
    let mut bytes = pieces.next()?.as_bytes().to_vec();
    for piece in pieces {
        let (hex, rest) = piece.split_at_checked(2)?;
        bytes.push(u8::from_str_radix(hex, 16).ok()?);
        bytes.extend(rest.bytes());
    }
    String::from_utf8(bytes).ok()
}

/// Two names that are the same here are the same file on some system.
pub(super) fn folded(name: &str) -> String {
    name.nfc().flat_map(char::to_lowercase).collect()
}

fn escape(code: &str, keeps: impl Fn(usize, char) -> bool) -> String {
    let mut name = String::with_capacity(code.len());
    for (at, c) in code.char_indices() {
        if keeps(at, c) {
            name.push(c);
        } else {
            for byte in c.encode_utf8(&mut [0; 4]).bytes() {
                write!(name, "%{byte:02X}").ok();
            }
        }
    }
    if name.is_empty() { "%".to_owned() } else { name }
}

/// Names that some systems keep for devices, whatever the ending.
fn is_device(stem: &str) -> bool {
    let stem = stem.trim_end().to_ascii_uppercase();
    let numbered = |kind: &str| {
        stem.strip_prefix(kind)
            .is_some_and(|n| n.len() == 1 && n.bytes().all(|b| b.is_ascii_digit()))
    };
    matches!(&*stem, "CON" | "PRN" | "AUX" | "NUL") || numbered("COM") || numbered("LPT")
}

/// A name of bearable length. Of a very long one the rest becomes a number worked out of it; the
/// code itself is safe inside the file.
fn shortened(name: String) -> String {
    if name.len() <= LONGEST {
        return name;
    }
    let end = (0..=LONGEST - 20).rev().find(|&at| name.is_char_boundary(at)).unwrap_or_default();
    let (front, rest) = name.split_at(end);
    // FNV-1a: fixed for ever, unlike the hashers of the standard library.
    let hash = rest.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{front}%~{hash:016X}")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn labels_in_use_become_names_that_every_system_takes() {
        for (code, expected) in [
            ("25X07", "25X07"),
            ("12/01", "12%2F01"),
            ("R 30-5", "R 30-5"),
            ("père-mathieu", "père-mathieu"),
            ("pe\u{300}re", "pe%CC%80re"),
            ("..", "%2E."),
            (".hidden", "%2Ehidden"),
            ("-rf", "%2Drf"),
            ("50%", "50%25"),
            ("a:b*?\"<>|\\", "a%3Ab%2A%3F%22%3C%3E%7C%5C"),
            ("con", "%63on"),
            ("COM1.x", "%43OM1.x"),
            ("Const", "Const"),
            ("", "%"),
        ] {
            assert_eq!(name(code), expected, "{code}");
        }
    }

    #[test]
    fn codes_that_differ_in_case_only_get_files_of_their_own() {
        let first = name("25x07");
        let second = free_name("25X07", |name| folded(name) == folded(&first));
        assert_eq!((&*first, &*second), ("25x07", "%32%35%58%30%37"));
    }

    #[test]
    fn a_very_long_code_still_has_a_name_of_its_own() {
        let (a, b) = (name(&"é/".repeat(300)), name(&"é/".repeat(301)));
        assert!(a.len() <= LONGEST && b.len() <= LONGEST && a != b);
    }

    proptest! {
        #[test]
        fn the_code_can_be_read_back_from_its_name(code in "\\PC{0,20}") {
            prop_assert_eq!(code_of(&name(&code)), Some(code.clone()));
            prop_assert_eq!(code_of(&free_name(&code, |_| true)), Some(code));
        }

        #[test]
        fn no_name_leaves_its_folder(code in any::<String>()) {
            let name = name(&code);
            let parts: Vec<_> = std::path::Path::new(&name).components().collect();
            prop_assert!(matches!(parts[..], [std::path::Component::Normal(_)]));
        }
    }
}
