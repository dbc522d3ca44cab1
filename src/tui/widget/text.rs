//! Text measured and cut by what the eye sees: graphemes and cells, never bytes.

use std::borrow::Cow;

use ratatui::buffer::CellWidth as _;
use unicode_segmentation::UnicodeSegmentation as _;

/// Whether a grapheme may reach the terminal: nothing that steers it, and nothing that turns
/// the direction of writing.
pub fn is_fit(grapheme: &str) -> bool {
    !grapheme.chars().any(|c| {
        c.is_control()
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    })
}

/// The graphemes that are drawn, each with its width in cells.
pub fn cells(text: &str) -> impl Iterator<Item = (&str, usize)> {
    text.graphemes(true)
        .filter(|g| is_fit(g))
        .map(|g| (g, usize::from(g.cell_width())))
        .filter(|(_, w)| *w > 0)
}

/// How many cells a text takes.
pub fn width(text: &str) -> usize {
    if text.bytes().all(|b| (b' '..=b'~').contains(&b)) {
        return text.len();
    }
    cells(text).map(|(_, w)| w).sum()
}

/// The text, cut to at most `most` cells; what is missing at the end is shown by `ellipsis`.
pub fn cut<'a>(text: &'a str, most: usize, ellipsis: &str) -> Cow<'a, str> {
    if width(text) <= most {
        return Cow::Borrowed(text);
    }
    let room = most.saturating_sub(width(ellipsis));
    let mut kept = String::new();
    let mut used = 0;
    for (grapheme, wide) in cells(text) {
        if used + wide > room {
            break;
        }
        used += wide;
        kept.push_str(grapheme);
    }
    let kept_len = kept.trim_end().len();
    kept.truncate(kept_len);
    if width(ellipsis) <= most {
        kept.push_str(ellipsis);
    }
    Cow::Owned(kept)
}

/// The text, cut at its beginning.
pub fn cut_front<'a>(text: &'a str, most: usize, ellipsis: &str) -> Cow<'a, str> {
    if width(text) <= most {
        return Cow::Borrowed(text);
    }
    let room = most.saturating_sub(width(ellipsis));
    let all: Vec<(&str, usize)> = cells(text).collect();
    let mut used = 0;
    let mut first = all.len();
    while first > 0 && used + all[first - 1].1 <= room {
        first -= 1;
        used += all[first].1;
    }
    let rest: String = all[first..].iter().map(|(g, _)| *g).collect();
    if width(ellipsis) > most {
        return Cow::Owned(String::new());
    }
    Cow::Owned(format!("{ellipsis}{}", rest.trim_start()))
}

/// A text broken at spaces into lines of at most `most` cells; words longer than a line are cut.
pub fn wrap(text: &str, most: usize, ellipsis: &str) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut used = 0;
    for word in text.split_whitespace() {
        let word = cut(word, most, ellipsis);
        let wide = width(&word);
        if used > 0 && used + 1 + wide > most {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        line.push_str(&word);
        used += wide;
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_text_is_never_wider_than_its_room() {
        let texts = [
            "Saltmarsh",
            "Rosée d’Été",
            "Ro\u{301}se\u{301}e",
            "朝の霧 dahlia",
            "a\u{1b}[31mb",
            "👩‍🌾 plot",
            "\u{202e}desrever",
            "",
        ];
        for text in texts {
            for most in 0..14 {
                for ellipsis in ["…", "~"] {
                    let end = cut(text, most, ellipsis);
                    let front = cut_front(text, most, ellipsis);
                    assert!(width(&end) <= most, "{text:?} cut to {most}: {end:?}");
                    assert!(width(&front) <= most, "{text:?} cut to {most}: {front:?}");
                }
            }
        }
    }

    #[test]
    fn a_cut_falls_between_graphemes_and_is_marked() {
        assert_eq!(cut("Saltmarsh", 5, "…"), "Salt…");
        assert_eq!(cut("朝の霧", 4, "…"), "朝…");
        assert_eq!(cut("e\u{301}e\u{301}e\u{301}", 2, "…"), "e\u{301}…");
        assert_eq!(cut("Salt marsh", 6, "…"), "Salt…", "no blank before the mark");
        assert_eq!(cut_front("Evening › 26-104", 8, "…"), "…26-104");
        assert_eq!(cut("any", 0, "…"), "");
    }

    #[test]
    fn what_steers_a_terminal_takes_no_room() {
        assert_eq!(width("a\u{1b}b"), 2);
        assert_eq!(width("\u{202e}ab"), 2);
    }

    #[test]
    fn lines_break_at_spaces() {
        assert_eq!(wrap("stem may firm up", 8, "…"), ["stem may", "firm up"]);
        assert_eq!(wrap("incomparably", 5, "…"), ["inco…"]);
        assert!(wrap("anything", 0, "…").iter().all(String::is_empty));
    }
}
