//! Keys by name: `j`, `enter`, `ctrl-l`. The names are those of the help page, the settings and
//! the tests.

use std::fmt;

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

/// A key press as the action table knows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Key {
    /// Which key; a letter with Shift is its capital.
    pub code: KeyCode,
    /// Whether Ctrl was held.
    pub ctrl: bool,
    /// Whether Alt was held.
    pub alt: bool,
}

/// Names of the keys that are no character of their own.
const NAMES: &[(&str, KeyCode)] = &[
    ("enter", KeyCode::Enter),
    ("backspace", KeyCode::Backspace),
    ("esc", KeyCode::Esc),
    ("tab", KeyCode::Tab),
    ("shift-tab", KeyCode::BackTab),
    ("up", KeyCode::Up),
    ("down", KeyCode::Down),
    ("left", KeyCode::Left),
    ("right", KeyCode::Right),
    ("home", KeyCode::Home),
    ("end", KeyCode::End),
    ("page-up", KeyCode::PageUp),
    ("page-down", KeyCode::PageDown),
    ("delete", KeyCode::Delete),
    ("space", KeyCode::Char(' ')),
];

impl Key {
    /// A key without Ctrl or Alt.
    pub fn plain(code: KeyCode) -> Self {
        Self { code, ctrl: false, alt: false }
    }

    /// Reads a key by name; `None` where no key is called that.
    pub fn parse(name: &str) -> Option<Self> {
        if let Some(rest) = name.strip_prefix("ctrl-").filter(|rest| !rest.is_empty()) {
            return Self::parse(rest).map(|key| Self { ctrl: true, ..key });
        }
        if let Some(rest) = name.strip_prefix("alt-").filter(|rest| !rest.is_empty()) {
            return Self::parse(rest).map(|key| Self { alt: true, ..key });
        }
        if let Some((_, code)) = NAMES.iter().find(|(known, _)| *known == name) {
            return Some(Self::plain(*code));
        }
        let mut letters = name.chars();
        match (letters.next(), letters.next()) {
            (Some(letter), None) if !letter.is_control() => {
                Some(Self::plain(KeyCode::Char(letter)))
            }
            _ => None,
        }
    }

    /// The character typed, where the key types one.
    pub fn typed(self) -> Option<char> {
        match self.code {
            KeyCode::Char(letter) if !self.ctrl && !self.alt => Some(letter),
            _ => None,
        }
    }

    /// The name for a narrow place: arrows as signs where the terminal has them.
    pub fn short(self, ascii: bool) -> String {
        let sign = match (self.code, ascii) {
            (KeyCode::Up, false) => "↑",
            (KeyCode::Down, false) => "↓",
            (KeyCode::Left, false) => "←",
            (KeyCode::Right, false) => "→",
            _ => return self.to_string(),
        };
        sign.to_owned()
    }
}

impl From<KeyEvent> for Key {
    fn from(event: KeyEvent) -> Self {
        Self {
            code: event.code,
            ctrl: event.modifiers.contains(KeyModifiers::CONTROL),
            alt: event.modifiers.contains(KeyModifiers::ALT),
        }
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.ctrl {
            f.write_str("ctrl-")?;
        }
        if self.alt {
            f.write_str("alt-")?;
        }
        match (NAMES.iter().find(|(_, code)| *code == self.code), self.code) {
            (Some((name, _)), _) => f.write_str(name),
            (None, KeyCode::Char(letter)) => write!(f, "{letter}"),
            (None, other) => write!(f, "{other}"),
        }
    }
}

/// Reads a script of keys as the tests write it: characters as they stand, other keys by name
/// between `<` and `>`, `<lt>` for the sign itself. `None` where a name is unknown.
pub fn script(text: &str) -> Option<Vec<Key>> {
    let mut keys = Vec::new();
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        if let Some(named) = rest.strip_prefix('<') {
            let (name, after) = named.split_once('>')?;
            keys.push(if name == "lt" {
                Key::plain(KeyCode::Char('<'))
            } else {
                Key::parse(name)?
            });
            rest = after;
        } else {
            keys.push(Key::plain(KeyCode::Char(letter)));
            rest = rest.get(letter.len_utf8()..)?;
        }
    }
    Some(keys)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn a_key_reads_back_as_it_is_called() {
        for name in ["j", "J", "é", "/", "enter", "shift-tab", "ctrl-l", "alt-x", "space", "-"] {
            assert_eq!(Key::parse(name).unwrap().to_string(), name);
        }
        for name in ["", "ctrl-", "f99", "enterr"] {
            assert_eq!(Key::parse(name), None, "{name}");
        }
    }

    #[test]
    fn a_script_of_keys_mixes_letters_and_names() {
        let names: Vec<String> =
            script("jj<enter>/an<ctrl-l><lt>").unwrap().iter().map(Key::to_string).collect();
        assert_eq!(names, ["j", "j", "enter", "/", "a", "n", "ctrl-l", "<"]);
        assert_eq!(script("<nobody>"), None);
        assert_eq!(script("<enter"), None);
    }
}
