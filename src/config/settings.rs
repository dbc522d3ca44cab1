//! The raiser's settings: one small RON file, every field optional.

use std::{fs, io, path::Path};

use ron::extensions::Extensions;
use serde::Deserialize;
use thiserror::Error;

/// Which colours the full screen uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Theme {
    /// Those that suit the terminal, as far as it tells.
    #[default]
    Auto,
    /// For a dark ground.
    Dark,
    /// For a light ground.
    Light,
    /// None.
    None,
}

/// The settings, for example `(theme: light, mouse: false)`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Settings {
    /// Colours: `auto`, `dark`, `light` or `none`. `NO_COLOR` in the environment wins.
    pub theme: Theme,
    /// Whether the full screen listens to the mouse.
    pub mouse: bool,
    /// Whether to draw with plain letters instead of line-drawing signs.
    pub ascii: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self { theme: Theme::Auto, mouse: true, ascii: false }
    }
}

/// Why the settings could not be read.
#[derive(Debug, Error)]
pub enum Amiss {
    /// The file is there and cannot be read.
    #[error("{path}: the settings cannot be read: {source}.")]
    Read {
        /// The file.
        path: String,
        /// What the system said.
        source: io::Error,
    },
    /// It says something that is no setting.
    #[error("{path}:{line}:{column}: the settings are not understood: {what}.")]
    Form {
        /// The file.
        path: String,
        /// The line, from 1.
        line: usize,
        /// The column, from 1.
        column: usize,
        /// What is wrong.
        what: String,
    },
}

impl Settings {
    /// Reads the settings file. Where there is none, or it cannot be understood, the usual
    /// settings hold, and the second value says what is amiss.
    pub fn load(file: &Path) -> (Self, Option<Amiss>) {
        let path = || file.display().to_string();
        let text = match fs::read_to_string(file) {
            Ok(text) => text,
            Err(err) if err.kind() == io::ErrorKind::NotFound => return (Self::default(), None),
            Err(source) => {
                return (Self::default(), Some(Amiss::Read { path: path(), source }));
            }
        };
        match Self::parse(&text) {
            Ok(settings) => (settings, None),
            Err(err) => {
                let at = err.span.start;
                let what = err.code.to_string();
                let amiss = Amiss::Form { path: path(), line: at.line, column: at.col, what };
                (Self::default(), Some(amiss))
            }
        }
    }

    fn parse(text: &str) -> Result<Self, ron::error::SpannedError> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME).from_str(text)
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_set_stays_as_usual() {
        assert_eq!(Settings::parse("()").unwrap(), Settings::default());
        let set = Settings::parse("// my eyes\n(theme: light, mouse: false)").unwrap();
        assert_eq!(set, Settings { theme: Theme::Light, mouse: false, ascii: false });
    }

    #[test]
    fn a_slip_is_told_with_its_place_and_the_usual_settings_hold() {
        let dir = tempfile::tempdir().unwrap();
        let file = dir.path().join("settings.ron");
        assert!(matches!(Settings::load(&file), (_, None)), "no file is no slip");
        fs::write(&file, "(\n    them: dark,\n)").unwrap();
        let (settings, amiss) = Settings::load(&file);
        assert_eq!(settings, Settings::default());
        let told = amiss.unwrap().to_string();
        assert!(told.contains("settings.ron:2:"), "{told}");
        assert!(told.contains("them"), "{told}");
    }
}
