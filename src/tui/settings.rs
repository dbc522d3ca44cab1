//! How the screen is to look and behave, and what can be sensed of the terminal it is on.

use ratatui::crossterm::terminal;

/// How many colours the terminal shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Depth {
    /// None: weight and reversal only.
    None,
    /// The sixteen named ones.
    Sixteen,
    /// The palette of 256.
    Palette,
    /// Any red, green and blue.
    Full,
}

/// Whether the terminal writes light on dark or dark on light.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Ground {
    /// Nobody knows: colours that can be read on either.
    #[default]
    Either,
    /// A dark ground.
    Dark,
    /// A light ground.
    Light,
}

/// The settings of the full screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// Colours.
    pub depth: Depth,
    /// The ground.
    pub ground: Ground,
    /// Whether to keep to signs that every terminal has.
    pub ascii: bool,
    /// Whether the mouse is ours.
    pub mouse: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self { depth: Depth::Sixteen, ground: Ground::Either, ascii: false, mouse: true }
    }
}

impl Settings {
    /// What the environment tells of the terminal. `get` looks a variable up.
    pub fn sensed(get: impl Fn(&str) -> Option<String>) -> Self {
        let get = |name: &str| get(name).filter(|value| !value.is_empty());
        let is = |name: &str, value: &str| get(name).as_deref() == Some(value);
        let depth = if get("NO_COLOR").is_some() || is("TERM", "dumb") {
            Depth::None
        } else if is("COLORTERM", "truecolor") || is("COLORTERM", "24bit") {
            Depth::Full
        } else if get("TERM").is_some_and(|term| term.contains("256color")) {
            Depth::Palette
        } else {
            Depth::Sixteen
        };
        // `COLORFGBG` is "text;ground" by number of the sixteen; 7 and 15 are the white ones.
        let ground = match get("COLORFGBG").as_deref().and_then(|v| v.rsplit(';').next()) {
            Some("7" | "15") => Ground::Light,
            Some("0" | "8") => Ground::Dark,
            _ => Ground::Either,
        };
        let ascii = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| get(name)).is_some_and(
            |locale| {
                let locale = locale.to_ascii_lowercase();
                !locale.contains("utf-8") && !locale.contains("utf8")
            },
        );
        Self { depth, ground, ascii, mouse: true }
    }
}

/// How many columns the terminal has, if it tells.
pub fn columns() -> Option<u16> {
    terminal::size().ok().map(|(columns, _)| columns)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(vars: &[(&str, &str)]) -> Settings {
        Settings::sensed(|name| {
            vars.iter().find(|(known, _)| *known == name).map(|(_, v)| (*v).to_owned())
        })
    }

    #[test]
    fn no_color_wins_over_everything_and_counts_only_when_it_is_not_empty() {
        assert_eq!(with(&[("NO_COLOR", "1"), ("COLORTERM", "truecolor")]).depth, Depth::None);
        assert_eq!(with(&[("NO_COLOR", ""), ("COLORTERM", "truecolor")]).depth, Depth::Full);
        assert_eq!(with(&[("TERM", "xterm-256color")]).depth, Depth::Palette);
        assert_eq!(with(&[("TERM", "linux")]).depth, Depth::Sixteen);
    }

    #[test]
    fn a_locale_that_cannot_write_signs_gets_plain_letters() {
        assert!(with(&[("LC_ALL", "C"), ("LANG", "en_GB.UTF-8")]).ascii);
        assert!(!with(&[("LANG", "en_GB.UTF-8")]).ascii);
        assert!(!with(&[]).ascii);
    }

    #[test]
    fn a_light_ground_is_told_from_the_number_of_its_colour() {
        assert_eq!(with(&[("COLORFGBG", "0;default;15")]).ground, Ground::Light);
        assert_eq!(with(&[("COLORFGBG", "15;0")]).ground, Ground::Dark);
        assert_eq!(with(&[("COLORFGBG", "12;3")]).ground, Ground::Either);
    }
}
