//! Which texts are fit to be shown.
//!
//! A control character in a name could drive the terminal that shows it, and a mark that turns
//! the direction of writing could make one name look like another. Neither belongs in a record.

/// Stands in memory for a character that is not fit to be shown.
const STAND_IN: char = '\u{FFFD}';

fn is_unfit(c: char) -> bool {
    c.is_control() || matches!(c, '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Whether a text is one line that can be shown as it is.
pub fn is_fit_line(text: &str) -> bool {
    // Nearly every text is plain ASCII: the bytes settle it.
    text.bytes().all(|b| (0x20..0x7f).contains(&b)) || !text.contains(is_unfit)
}

/// Whether a text can be shown as it is. A remark may have several lines, and tabs.
pub fn is_fit_note(text: &str) -> bool {
    is_fit_line(text) || first_unfit(text, true).is_none()
}

/// The first character of a text that is not fit for a line; for a remark, `is_note`.
pub fn first_unfit(text: &str, is_note: bool) -> Option<char> {
    text.chars().find(|&c| is_unfit(c) && !(is_note && (c == '\n' || c == '\t')))
}

/// The text with a stand-in for each character that is not fit for a line.
pub fn fit_line(text: &str) -> Box<str> {
    text.chars().map(|c| if is_unfit(c) { STAND_IN } else { c }).collect::<String>().into()
}

/// The text without the characters that are not fit for a line.
pub fn without_unfit(text: &str) -> Box<str> {
    text.chars().filter(|&c| !is_unfit(c)).collect::<String>().into()
}

/// The text with a stand-in for each character that is not fit for a remark.
pub fn fit_note(text: &str) -> Box<str> {
    let keep = |c| !is_unfit(c) || c == '\n' || c == '\t';
    text.chars().map(|c| if keep(c) { c } else { STAND_IN }).collect::<String>().into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_could_drive_a_terminal_is_not_fit() {
        for text in ["Ferry Lantern", "Père Mathieu", "渡し場", "n° 3 – ‘late’", ""] {
            assert!(is_fit_line(text) && is_fit_note(text), "{text}");
        }
        for text in ["a\u{1b}[2Jb", "a\u{7f}", "a\u{9b}b", "a\0", "a\r", "a\u{202e}b", "a\u{2067}"]
        {
            assert!(!is_fit_line(text) && !is_fit_note(text), "{text:?}");
            assert!(is_fit_line(&fit_line(text)) && is_fit_note(&fit_note(text)));
        }
        assert!(!is_fit_line("two\nlines") && is_fit_note("two\nlines,\ta tab"));
        assert_eq!(&*fit_line("a\u{1b}[2Jb\n"), "a\u{FFFD}[2Jb\u{FFFD}");
        assert_eq!(&*without_unfit("a\u{1b}b\n"), "ab");
        assert_eq!(&*fit_note("a\u{1b}b\n"), "a\u{FFFD}b\n");
    }
}
