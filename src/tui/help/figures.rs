//! What each figure means: a list with a plain reading each, and behind every line how it is
//! worked out and where that comes from.

use crate::tui::{
    action::Action,
    place::Kind,
    theme::Role,
    widget::{Canvas, Target, text},
};
use crate::views::figures::{self, Figure};

/// Cells for the name of a figure, and for the name of a part of what is told.
const NAME: u16 = 28;
const PART: u16 = 12;

/// The page.
#[derive(Debug)]
pub(in crate::tui) struct Figures {
    rows: Vec<&'static Figure>,
    /// How many of them stand on the page one came from.
    n_here: usize,
    at: usize,
    /// Whether everything is told of the one at the cursor.
    open: bool,
}

impl Figures {
    /// All figures, those of one sort of page first.
    pub(in crate::tui) fn new(kind: Kind) -> Self {
        let is_here = |figure: &&Figure| figure.shown.contains(words_of(kind));
        let (mut rows, others): (Vec<_>, Vec<_>) = figures::all().partition(is_here);
        let n_here = rows.len();
        rows.extend(others);
        Self { rows, n_here, at: 0, open: false }
    }

    pub(in crate::tui) fn says(&self) -> String {
        match self.rows.get(self.at).filter(|_| self.open) {
            Some(figure) => format!("{}: what it says, how, and who says so.", figure.name),
            None => "What each figure says; enter tells how it is worked out.".to_owned(),
        }
    }

    pub(in crate::tui) fn act(&mut self, action: Action, height: u16) {
        let page = isize::try_from(height / 3).unwrap_or(1).max(1);
        match action {
            Action::Open => self.open = !self.open,
            Action::Up => self.turn(-1),
            Action::Down => self.turn(1),
            Action::PageUp => self.turn(-page),
            Action::PageDown => self.turn(page),
            Action::First => self.at = 0,
            Action::Last => self.at = self.rows.len().saturating_sub(1),
            _ => {}
        }
    }

    /// Goes back from one figure to the list. Returns whether there was anything to go back from.
    pub(in crate::tui) fn step_back(&mut self) -> bool {
        std::mem::take(&mut self.open)
    }

    pub(in crate::tui) fn press(&mut self, line: usize) {
        if line < self.rows.len() {
            (self.at, self.open) = (line, true);
        }
    }

    pub(in crate::tui) fn turn(&mut self, by: isize) {
        let most = self.rows.len().saturating_sub(1);
        self.at = self.at.saturating_add_signed(by).min(most);
    }

    pub(in crate::tui) fn view(&self, canvas: &mut Canvas<'_>) {
        match self.rows.get(self.at).filter(|_| self.open) {
            Some(figure) => tell(figure, canvas),
            None => self.list(canvas),
        }
    }

    fn list(&self, canvas: &mut Canvas<'_>) {
        let (wide, high) = (canvas.area().width, canvas.area().height);
        let name = NAME.min(wide / 2);
        let room = usize::from(wide.saturating_sub(name + 4)).max(1);
        let ellipsis = canvas.theme().glyphs().ellipsis;
        // Each line of the page: which figure, and what of its reading.
        let mut lines: Vec<(Option<usize>, String)> = Vec::new();
        let mut first = 0;
        for (i, figure) in self.rows.iter().enumerate() {
            if i == self.n_here && i > 0 {
                lines.push((None, String::new()));
            }
            if i == self.at {
                first = lines.len();
            }
            let reading = written(figure.reading, canvas);
            let wrapped = text::wrap(&reading, room, ellipsis);
            lines.extend(wrapped.into_iter().map(|line| (Some(i), line)));
        }
        let most = lines.len().saturating_sub(usize::from(high));
        let top = first.saturating_sub(usize::from(high) / 3).min(most);
        let mut before = None;
        for (y, (figure, reading)) in (0..high).zip(lines.iter().skip(top)) {
            if let Some(i) = *figure {
                let area = canvas.area();
                let row = ratatui::layout::Rect { y: area.y + y, height: 1, ..area };
                canvas.hit(row, Target::Line { list: 0, line: i });
                if before != *figure {
                    let content = written(self.rows[i].name, canvas);
                    let style = canvas.theme().style(Role::Strong);
                    let end = canvas.put(2, y, usize::from(name), &content, style);
                    if i == self.at {
                        let selected = canvas.theme().selected();
                        canvas.tint(2, y, end.saturating_sub(2), selected);
                    }
                }
                canvas.say(name + 3, y, reading, Role::Text);
            }
            before = *figure;
        }
    }
}

/// Everything about one figure.
fn tell(figure: &Figure, canvas: &mut Canvas<'_>) {
    let room = usize::from(canvas.area().width.saturating_sub(PART + 3)).clamp(1, 90);
    let ellipsis = canvas.theme().glyphs().ellipsis;
    let heads = figure.heads.join(", ");
    let parts = [
        ("says", figure.reading),
        ("worked out", figure.formula),
        ("source", figure.source),
        ("shown on", figure.shown),
        ("as", &heads),
    ];
    let mut y = 0;
    let high = canvas.area().height;
    canvas.say(2, y, &written(figure.name, canvas), Role::Accent);
    y += 1;
    for (name, content) in parts {
        // A low screen has no room for air.
        y += u16::from(high > 16);
        canvas.say(2, y, name, Role::Quiet);
        for line in text::wrap(&written(content, canvas), room, ellipsis) {
            canvas.say(PART + 2, y, &line, Role::Text);
            y += 1;
        }
    }
}

/// The words by which a figure says that it is shown on a sort of page.
fn words_of(kind: Kind) -> &'static str {
    match kind {
        Kind::Plant => "a plant",
        Kind::Cross => "a cross",
        Kind::Pairing => "a pairing",
        Kind::Parent => "as a parent",
        other => other.title(),
    }
}

/// A text in the letters of the screen.
fn written(content: &str, canvas: &Canvas<'_>) -> String {
    if !canvas.theme().is_ascii() {
        return content.to_owned();
    }
    content.chars().map(plain).collect()
}

/// A letter as a terminal without Unicode writes it.
fn plain(letter: char) -> String {
    let plain = match letter {
        '×' => "x",
        '÷' => "/",
        '−' | '–' => "-",
        '½' => "1/2",
        '²' => "^2",
        '√' => "root of ",
        '∏' => "product of ",
        '±' => "+/-",
        '≥' => ">=",
        'θ' => "theta",
        'σ' => "sigma",
        'Φ' => "Phi",
        'η' => "eta",
        'λ' => "lambda",
        '’' => "'",
        '“' | '”' => "\"",
        'é' => "e",
        other if other.is_ascii() => return other.to_string(),
        _ => "?",
    };
    plain.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_has_a_plain_form() {
        for Figure { name, shown, reading, formula, source, .. } in figures::all() {
            for part in [name, shown, reading, formula, source] {
                for letter in part.chars() {
                    assert_ne!(plain(letter), "?", "{letter} in {part}");
                }
            }
        }
    }
}
