//! A one-line field to type in.

use ratatui::layout::Rect;
use unicode_segmentation::UnicodeSegmentation as _;

use super::{Canvas, text};
use crate::tui::{keys::Key, theme::Role};
use ratatui::crossterm::event::KeyCode;

/// A line of text being typed, as graphemes, with the cursor before one of them or at the end.
#[derive(Debug, Clone, Default)]
pub struct Field {
    letters: Vec<String>,
    cursor: usize,
}

impl Field {
    /// A field that holds a text, with the cursor at its end.
    pub fn holding(content: &str) -> Self {
        let mut field = Self::default();
        field.paste(content);
        field
    }

    /// What has been typed.
    pub fn content(&self) -> String {
        self.letters.concat()
    }

    /// Whether nothing has been typed.
    pub fn is_empty(&self) -> bool {
        self.letters.is_empty()
    }

    /// Takes a key. Returns whether the text has changed.
    pub fn take(&mut self, key: Key) -> bool {
        if let Some(letter) = key.typed() {
            self.paste(letter.encode_utf8(&mut [0; 4]));
            return true;
        }
        let n_before = self.letters.len();
        match (key.code, key.ctrl) {
            (KeyCode::Backspace, _) if self.cursor > 0 => {
                self.cursor -= 1;
                self.letters.remove(self.cursor);
            }
            (KeyCode::Delete, _) if self.cursor < n_before => {
                self.letters.remove(self.cursor);
            }
            (KeyCode::Left, _) => self.cursor = self.cursor.saturating_sub(1),
            (KeyCode::Right, _) => self.cursor = (self.cursor + 1).min(n_before),
            (KeyCode::Char('a'), true) => self.cursor = 0,
            (KeyCode::Char('e'), true) => self.cursor = n_before,
            (KeyCode::Char('k'), true) => self.letters.truncate(self.cursor),
            (KeyCode::Char('w'), true) => self.erase_word(),
            (KeyCode::Char('x'), true) => {
                self.letters.clear();
                self.cursor = 0;
            }
            _ => {}
        }
        self.letters.len() != n_before
    }

    fn erase_word(&mut self) {
        let is_blank = |letter: &String| letter.trim().is_empty();
        let mut from = self.cursor;
        while from > 0 && is_blank(&self.letters[from - 1]) {
            from -= 1;
        }
        while from > 0 && !is_blank(&self.letters[from - 1]) {
            from -= 1;
        }
        self.letters.drain(from..self.cursor);
        self.cursor = from;
    }

    /// Puts a text in at the cursor, ends of lines as blanks and nothing that steers a terminal.
    pub fn paste(&mut self, content: &str) {
        let line = content.replace(['\r', '\n', '\t'], " ");
        let before = self.letters[..self.cursor].concat();
        let after = self.letters[self.cursor..].concat();
        let kept: String = line.graphemes(true).filter(|g| text::is_fit(g)).collect();
        let head = before + &kept;
        // Together, so that a combining mark joins the letter it was typed after.
        self.cursor = head.graphemes(true).count();
        self.letters = (head + &after).graphemes(true).map(str::to_owned).collect();
        self.cursor = self.cursor.min(self.letters.len());
    }

    /// Draws the text with its cursor in the first row of `area`, as much of it as fits around
    /// the cursor.
    pub fn draw(&self, canvas: &mut Canvas<'_>, area: Rect) {
        let mut canvas = canvas.within(area);
        let wide = usize::from(canvas.area().width);
        let n_cells = |letters: &[String]| letters.iter().map(|l| text::width(l)).sum::<usize>();
        let mut first = 0;
        while first < self.cursor && n_cells(&self.letters[first..self.cursor]) + 1 > wide {
            first += 1;
        }
        let style = canvas.theme().style(Role::Text);
        let mut x = 0;
        for (i, letter) in self.letters.iter().enumerate().skip(first) {
            if i == self.cursor {
                let at = x;
                x = canvas.put(x, 0, wide, letter, style);
                canvas.tint(at, 0, x - at, canvas.theme().selected());
            } else {
                x = canvas.put(x, 0, wide, letter, style);
            }
        }
        if self.cursor == self.letters.len() {
            canvas.put(x, 0, 1, " ", style);
            canvas.tint(x, 0, 1, canvas.theme().selected());
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::tui::keys;

    fn typed(script: &str) -> Field {
        let mut field = Field::default();
        for key in keys::script(script).unwrap() {
            field.take(key);
        }
        field
    }

    #[test]
    fn what_is_typed_and_taken_back_is_whole_letters() {
        assert_eq!(typed("abc<backspace>").content(), "ab");
        assert_eq!(typed("ac<left>b").content(), "abc");
        assert_eq!(typed("one two<ctrl-w>").content(), "one ");
        assert_eq!(typed("abc<ctrl-a><delete>").content(), "bc");
        assert_eq!(typed("abc<left><ctrl-k>").content(), "ab");
        assert_eq!(typed("e\u{301}<backspace>").content(), "", "one letter, two code points");
    }

    #[test]
    fn a_paste_is_one_line_and_steers_nothing() {
        let mut field = typed("a<left>");
        field.paste("x\r\ny\u{1b}[31m");
        assert_eq!(field.content(), "x  y[31ma");
    }
}
