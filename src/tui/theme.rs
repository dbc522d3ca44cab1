//! Colours and signs by role. Nothing else in this room names a colour.
//!
//! The ground of the terminal is never painted over, the cursor's row is reversed, and whatever
//! a colour says a word or a sign says too.

use ratatui::style::{Color, Modifier, Style};

use super::{
    glyphs::{self, Glyphs},
    settings::{Depth, Ground, Settings},
};

/// What a piece of text is, from which follows how it looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Role {
    /// Plain text.
    #[default]
    Text,
    /// What may be overlooked: units, rules, scales.
    Quiet,
    /// What is looked for first.
    Strong,
    /// Headings and the dot of an estimate: the one colour of our own.
    Accent,
    /// A keeper.
    Good,
    /// Waiting for a word.
    Warn,
    /// Lost, or wrong.
    Bad,
}

/// The look of everything.
#[derive(Debug, Clone, Copy)]
pub struct Theme {
    depth: Depth,
    ground: Ground,
    glyphs: &'static Glyphs,
}

impl Theme {
    /// The look that fits the settings.
    pub fn new(settings: Settings) -> Self {
        let glyphs = if settings.ascii { &glyphs::PLAIN } else { &glyphs::FINE };
        Self { depth: settings.depth, ground: settings.ground, glyphs }
    }

    /// The signs.
    pub fn glyphs(&self) -> &'static Glyphs {
        self.glyphs
    }

    /// How a role looks.
    pub fn style(&self, role: Role) -> Style {
        let plain = Style::new();
        match role {
            Role::Text => plain,
            Role::Quiet => plain.add_modifier(Modifier::DIM),
            Role::Strong => plain.add_modifier(Modifier::BOLD),
            Role::Accent => {
                self.coloured(Color::Magenta, Color::LightMagenta).add_modifier(Modifier::BOLD)
            }
            Role::Good => self.coloured(Color::Green, Color::LightGreen),
            // Yellow cannot be read on a light ground.
            Role::Warn => match self.ground {
                Ground::Dark => self.coloured(Color::Yellow, Color::LightYellow),
                Ground::Light | Ground::Either => plain.add_modifier(Modifier::BOLD),
            },
            Role::Bad => self.coloured(Color::Red, Color::LightRed),
        }
    }

    fn coloured(&self, either: Color, on_dark: Color) -> Style {
        match (self.depth, self.ground) {
            (Depth::None, _) => Style::new(),
            (_, Ground::Dark) => Style::new().fg(on_dark),
            (_, Ground::Light | Ground::Either) => Style::new().fg(either),
        }
    }

    /// The cursor's row, on top of how its text looks.
    pub fn selected(&self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED).remove_modifier(Modifier::DIM)
    }

    /// The screen one is on, on top of how its name looks.
    pub fn current(&self) -> Style {
        Style::new().add_modifier(Modifier::UNDERLINED)
    }

    /// Whether to keep to signs that every terminal has.
    pub fn is_ascii(&self) -> bool {
        std::ptr::eq(self.glyphs, &raw const glyphs::PLAIN)
    }

    /// The bloom's colour, as near as the terminal comes to it; `None` where it has no colours.
    pub fn swatch(&self, rgb: [u8; 3]) -> Option<Style> {
        let colour = match self.depth {
            Depth::None => return None,
            Depth::Sixteen => nearest_named(rgb),
            Depth::Palette => nearest_of_palette(rgb),
            Depth::Full => Color::Rgb(rgb[0], rgb[1], rgb[2]),
        };
        Some(Style::new().fg(colour))
    }
}

fn distance(a: [u8; 3], b: [u8; 3]) -> u32 {
    // The eye tells greens apart better than reds, and reds better than blues.
    [3, 4, 2]
        .iter()
        .zip(a.iter().zip(b))
        .map(|(weight, (&a, b))| weight * u32::from(a.abs_diff(b)).pow(2))
        .sum()
}

/// The named colours as most terminals mix them.
const NAMED: [(Color, [u8; 3]); 16] = [
    (Color::Black, [0, 0, 0]),
    (Color::Red, [205, 0, 0]),
    (Color::Green, [0, 205, 0]),
    (Color::Yellow, [205, 205, 0]),
    (Color::Blue, [0, 0, 238]),
    (Color::Magenta, [205, 0, 205]),
    (Color::Cyan, [0, 205, 205]),
    (Color::Gray, [229, 229, 229]),
    (Color::DarkGray, [127, 127, 127]),
    (Color::LightRed, [255, 0, 0]),
    (Color::LightGreen, [0, 255, 0]),
    (Color::LightYellow, [255, 255, 0]),
    (Color::LightBlue, [92, 92, 255]),
    (Color::LightMagenta, [255, 0, 255]),
    (Color::LightCyan, [0, 255, 255]),
    (Color::White, [255, 255, 255]),
];

fn nearest_named(rgb: [u8; 3]) -> Color {
    NAMED
        .iter()
        .min_by_key(|(_, named)| distance(*named, rgb))
        .map_or(Color::Reset, |(colour, _)| *colour)
}

/// The nearest of the 6 × 6 × 6 cube and the greys, which unlike the first sixteen are the same
/// everywhere.
fn nearest_of_palette(rgb: [u8; 3]) -> Color {
    const STEPS: [u8; 6] = [0, 95, 135, 175, 215, 255];
    let nearest = |value: u8| {
        (0..6_u8).min_by_key(|&i| STEPS[usize::from(i)].abs_diff(value)).unwrap_or_default()
    };
    let at = rgb.map(nearest);
    let cube = at.map(|i| STEPS[usize::from(i)]);
    let grey_step = (0..24_u8).min_by_key(|&i| distance([8 + 10 * i; 3], rgb)).unwrap_or_default();
    if distance([8 + 10 * grey_step; 3], rgb) < distance(cube, rgb) {
        Color::Indexed(232 + grey_step)
    } else {
        Color::Indexed(16 + 36 * at[0] + 6 * at[1] + at[2])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROLES: [Role; 7] =
        [Role::Text, Role::Quiet, Role::Strong, Role::Accent, Role::Good, Role::Warn, Role::Bad];

    #[test]
    fn without_colours_no_role_has_one_and_the_cursor_is_still_seen() {
        let theme = Theme::new(Settings { depth: Depth::None, ..Settings::default() });
        for role in ROLES {
            assert_eq!((theme.style(role).fg, theme.style(role).bg), (None, None), "{role:?}");
        }
        assert_eq!(theme.swatch([200, 10, 10]), None);
        assert!(theme.selected().add_modifier.contains(Modifier::REVERSED));
    }

    #[test]
    fn no_role_paints_the_ground_and_words_keep_to_the_named_colours() {
        for ground in [Ground::Either, Ground::Dark, Ground::Light] {
            let theme = Theme::new(Settings { depth: Depth::Full, ground, ..Settings::default() });
            for role in ROLES {
                let style = theme.style(role);
                assert_eq!(style.bg, None, "{role:?}");
                assert!(!matches!(style.fg, Some(Color::Rgb(..) | Color::Indexed(_))), "{role:?}");
            }
        }
    }

    #[test]
    fn a_bloom_gets_the_nearest_colour_that_there_is() {
        assert_eq!(nearest_named([250, 10, 10]), Color::LightRed);
        assert_eq!(nearest_of_palette([255, 0, 0]), Color::Indexed(196));
        assert_eq!(nearest_of_palette([128, 128, 128]), Color::Indexed(244));
    }
}
